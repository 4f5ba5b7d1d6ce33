"""Each English text of the pages for family and aides has its Spanish one in the same place: the table that a qualified
translator signs, as `docgen new --language es` writes it."""

from __future__ import annotations

from babel.messages.pofile import read_po

from docgen.languages.checks import faults, names_in
from docgen.languages.folder import start_language
from docgen.languages.texts import english_templates, texts, translations_in

SPANISH = translations_in("es")
OF_BOTH = ("unsigned",)  # the notice stands in the Spanish pages in words of its own


def test_every_english_text_has_its_spanish_one():
    lacking = [text for text in texts() if (text.file, text.english) not in SPANISH and text.place not in OF_BOTH]
    assert lacking == []
    assert len({(text.file, text.english) for text in texts()}) > 800


def test_no_spanish_text_lost_a_tag_a_number_or_a_mark():
    names = {name: names_in(body) for name, body in english_templates().items()}
    wrong = [
        (text.file, text.place, fault)
        for text in texts()
        if (spanish := SPANISH.get((text.file, text.english)))
        for fault in faults(text.english, spanish, names.get(text.file, frozenset()), 2, text.file.endswith(".md"))
    ]
    assert wrong == []


def test_a_translator_gets_both_side_by_side_and_nobody_has_signed(tmp_path):
    with start_language("es", tmp_path).open("rb") as file:
        catalog = read_po(file)
    assert {(message.context, message.id): message.string for message in catalog if message.id and message.string} == {
        pair: spanish for pair, spanish in SPANISH.items() if pair[1]
    }
    assert "FULL NAME" in catalog.last_translator
