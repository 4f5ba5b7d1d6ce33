"""A numbered step stands in one column and on one page, in the PDF and in the DOCX: the last act of "turn the key on"
stood alone at the head of the next column, beside another list."""

from __future__ import annotations

import re
from io import BytesIO
from zipfile import ZipFile

import pypdfium2
import pytest
from support import ASSESSED

from docgen.packet.languages import in_language
from docgen.packet.render import render

MARISOL = ASSESSED["marisol-quenneville-tran"]


def emergency(lang: str, form: str) -> bytes:
    if lang == "en":
        return render(MARISOL, [form], ["emergency"])[f"emergency.{form}"]
    return in_language(MARISOL, lang, ["emergency"]).render([form])[f"emergency.{lang}.{form}"]


@pytest.mark.parametrize(("lang", "first", "last"), [("en", "Turn F left", "key B on"), ("es", "Gire F a", "llave B.")])
def test_a_step_stands_in_one_column_of_the_pdf(lang, first, last):
    with pypdfium2.PdfDocument(emergency(lang, "pdf")) as pdf:
        text = pdf[0].get_textpage()
        places = [text.get_charbox(text.search(words).get_next()[0]) for words in (first, last)]
    assert abs(places[0][0] - places[1][0]) < 100 and places[0][1] > places[1][1]


@pytest.mark.parametrize("lang", ["en", "es"])
def test_the_steps_of_both_columns_stand_below_their_heads_with_a_word_at_the_head_of_each_row(lang):
    with pypdfium2.PdfDocument(emergency(lang, "pdf")) as pdf:
        pages = [page.get_textpage().get_text_range() for page in pdf]
    first, second = ([head for head, _ in re.findall(r"\b([34][a-f])\. (\w+)", page)] for page in pages)
    assert [*first, *second] == ["3a", "3b", "4a", "4b", "4c", "4d", "4e", "4f"]
    # whole Spanish sentences are longer: the last rows stand on side two, below the heads of both columns again
    assert second == {"en": [], "es": ["4e", "4f"]}[lang]
    assert not second or pages[1].index("ROJA: ") < pages[1].index("4e. ")


def test_a_paragraph_of_a_step_stays_with_the_next_one_in_the_docx():
    body = ZipFile(BytesIO(emergency("en", "docx"))).read("word/document.xml").decode()
    paragraphs = re.findall(r"<w:p>.*?</w:p>", body, re.S)
    at = next(i for i, one in enumerate(paragraphs) if "Not shown this" in one)
    step = paragraphs[at : at + 5]
    assert "key" in step[-1] and all("<w:keepLines/>" in one for one in step)
    assert all('<w:keepNext w:val="1"/>' in one for one in step[:-1]) and "keepNext" not in step[-1]
