"""A language begun as a PO file and made of what comes back: nothing lost, nothing half made, either way of reading."""

from __future__ import annotations

import io
import re
import shutil
import zipfile
from importlib import import_module

import docx
import pytest
from accessibility.browser import seen
from babel import Locale
from babel.messages.catalog import Catalog
from chromium import CHROMIUM
from languages.invented import LONG, TO_LEFT, TURNS, translate
from lxml import html as lxml_html
from support import DEMO_FOLDERS, run

from docgen.documents.plural import plural_rule
from docgen.languages.checks import faults
from docgen.languages.folder import direction_of, start_language, take_language
from docgen.languages.texts import has_words, texts
from docgen.packet.assess import assess
from docgen.packet.languages import in_language
from docgen.packet.wording import _own_wording as wording_of
from docgen.packet.wording import wording
from docgen.resources import folder

SOURCE = next(folder for folder in DEMO_FOLDERS if folder.name == "marisol-quenneville-tran")
PAGES = ("card", "guide", "emergency", "log")


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """The folder of each invented language, from its PO file."""
    parent = tmp_path_factory.mktemp("languages")
    for tag, turn in TURNS.items():
        translate(start_language(tag, parent), turn)
        taken = take_language(parent / tag)
        assert taken.left_out == {} and taken.n_translated == taken.n_texts == len(texts())
    return parent


@pytest.fixture(scope="module")
def spoken(made, tmp_path_factory):
    """The pages of a case in each invented language, as files by name."""
    templates = tmp_path_factory.mktemp("program") / "templates"
    shutil.copytree(folder("templates"), templates)
    for tag in TURNS:
        shutil.copytree(made / tag, templates / tag, ignore=shutil.ignore_patterns("*.po"))
    module, wording_module = pytest.MonkeyPatch(), import_module("docgen.packet.wording")
    module.setattr(wording_module, "folder", lambda name: templates if name == "templates" else folder(name))
    wording_of.cache_clear()
    yield {tag: in_language(assess(SOURCE), tag).render(["html", "docx"], large_print=False) for tag in TURNS}
    module.undo()
    wording_of.cache_clear()


def _words(page: bytes) -> str:
    tree = lxml_html.document_fromstring(page)
    for element in tree.xpath("//style|//title|//svg"):
        element.drop_tree()
    return " ".join(tree.text_content().split())


@pytest.mark.parametrize("tag", TURNS)
def test_each_page_is_made_and_says_what_the_english_one_says(spoken, tag):
    turned = TURNS[tag]
    for name, phrase in (
        ("card", "Stop the chair"),
        ("card", "No one drives it"),
        ("guide", "Set up in the morning"),
        ("emergency", "Who to call"),
        ("log", "One line a check"),
    ):
        assert turned(phrase) in _words(spoken[tag][f"{name}.{tag}.html"]), (name, phrase)
    for name in PAGES:
        assert "A qualified translator must review this." in _words(spoken[tag][f"{name}.{tag}.html"])


def test_a_page_from_right_to_left_says_so_and_reads_back_in_the_order_in_which_it_is_read(spoken):
    for name in PAGES:
        page = spoken[TO_LEFT][f"{name}.{TO_LEFT}.html"].decode()
        assert f'<html lang="{TO_LEFT}" dir="rtl">' in page
        assert not re.search(r"(?:text-align|float):(?:left|right)|padding-left|border-left", page), name
        file = spoken[TO_LEFT][f"{name}.{TO_LEFT}.docx"]
        with zipfile.ZipFile(io.BytesIO(file)) as parts:
            styles, body = parts.read("word/styles.xml").decode(), parts.read("word/document.xml").decode()
        normal = styles.partition('w:styleId="Normal"')[2].partition("</w:style>")[0]
        assert "<w:bidi/>" in normal and body.count("<w:tbl>") == body.count("<w:bidiVisual/>") and "<w:bidi/>" in body
        document = docx.Document(io.BytesIO(file))
        assert any(TURNS[TO_LEFT](title_of(name)) in paragraph.text for paragraph in document.paragraphs), name
    assert 'dir="rtl"' not in spoken[LONG][f"card.{LONG}.html"].decode()[:200]


def title_of(name: str) -> str:
    return {"card": "Stop the chair", "guide": "Daily guide for", "emergency": "Emergency", "log": "Log for"}[name]


@pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")
def test_long_words_and_either_way_of_reading_fit_a_phone(spoken, tmp_path):
    pages = {(tag, name): spoken[tag][f"{name}.{tag}.html"] for tag in TURNS for name in ("card", "guide")}
    for name, look in seen(pages, tmp_path).items():
        assert (name, look.sticking_out, look.width_px, look.violations) == (name, [], 320, [])


# ---- what comes back ------------------------------------------------------------------------------------


def test_a_page_with_a_text_that_is_not_translated_is_not_made(tmp_path):
    path = start_language(LONG, tmp_path)
    left = next(text.english for text in texts() if text.file == "log.md" and text.english.startswith("## "))
    translate(path, TURNS[LONG], but=(left,))
    taken = take_language(path.parent)
    assert taken.left_out == {"log.md": 1} and taken.signed_by == ""
    assert {file.name for file in taken.files} >= {"card.md", "guide.md"} and not (path.parent / "log.md").exists()


def test_whoever_signs_is_named_and_a_fuzzy_text_is_not_taken(tmp_path):
    path = start_language(LONG, tmp_path)
    translate(path, TURNS[LONG])
    text = path.read_text(encoding="utf-8").replace("FULL NAME <EMAIL@ADDRESS>", "Jo Example <jo@example.org>")
    path.write_text(text.replace("#. log: its title", "#. log: its title\n#, fuzzy"), encoding="utf-8")
    taken = take_language(path.parent)
    assert taken.signed_by.startswith("Jo Example") and taken.left_out == {"log.md": 1}


LINE = "1. **Call {{ call.number }}** in {{ n|spoken }} {{ n|plural('minute', 'minutes') }}, at most 10."
NAMES = frozenset(("call.number", "n"))


@pytest.mark.parametrize(
    ("english", "said", "fault"),
    [
        (LINE, LINE, ""),
        ("# Stop {{ who.called }}", "# Alto", ""),
        (LINE, LINE.replace("{{ call.number }}", "911"), "lacks {{ call.number }}"),
        (LINE, LINE.replace("call.number", "call.phone"), "asks for call.phone"),
        (LINE, LINE.replace("10", "20"), "lacks the number 10"),
        (LINE, LINE.replace("10", "10 or 20"), "has the number 20"),
        (LINE, LINE.replace("**", ""), "lacks **"),
        (LINE, LINE.replace("1. ", ""), "begins with '' and not with '1.'"),
        (LINE, LINE.replace("'minute', ", ""), "has 1 forms in plural"),
        ('{{ n|plural("a", "b") }}', '{{ n|plural("a", "b", "c") }}', "has 3 forms in plural"),
        ("{% if n %}Stop.{% endif %}", "{% if n %}Alto.", "opens or closes other tags"),
        ("{% if n %}Stop.", "{% if n %}Alto.{% endif %}", "opens or closes other tags"),
        ("Stop {{ n }}.", "Alto {{ n .", "has a tag that cannot be read"),
        ("| a | b |", "| a |", "has 2 bars of a table and not 3"),
        ("not recorded: {label}", "sin anotar", "lacks {label}"),
        ("not recorded: {label}", "sin {n}: {label}", "has {n}, which"),
        ("> **Warning.** Stop.", "**Aviso.** Alto.", "begins with ''"),
    ],
)
def test_a_text_that_lost_or_made_up_something_is_told(english, said, fault):
    told = "; ".join(faults(english, said, NAMES, 2))
    assert fault in told and bool(told) == bool(fault)


def test_what_is_wrong_with_a_text_is_told_by_its_line_and_nothing_is_written(tmp_path):
    path = start_language(LONG, tmp_path)
    translate(path, TURNS[LONG])
    lines = path.read_text(encoding="utf-8").split("\n")
    at = next(
        n
        for n, line in enumerate(lines)
        if line.startswith("msgid") and "{{ who.object }}" not in line and "{{ place." in line
    )
    lines[at + 1] = 'msgstr "{{ place.made_up }}"'
    path.write_text("\n".join(lines), encoding="utf-8")
    status, _, err = run("new", "--language", path.parent)
    assert status == 2 or "is no tag" in err
    with pytest.raises(Exception, match=rf"{LONG}\.po:\d+: the translation (?:asks for place.made_up|lacks)"):
        take_language(path.parent)
    assert [file.name for file in path.parent.iterdir()] == [path.name]


# ---- the command ----------------------------------------------------------------------------------------


def test_the_command_begins_a_language_and_takes_it_back(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    status, out, _ = run("new", "--language", "pl")
    assert status == 0 and out.startswith("Made pl/pl.po.")
    assert "nplurals=3" in (tmp_path / "pl" / "pl.po").read_text(encoding="utf-8")
    translate(tmp_path / "pl" / "pl.po", lambda text: text, but=("x",))
    status, out, err = run("new", "--language", "pl")
    assert (status, out) == (2, "") and "forms in plural(...), and the language has 3" in err


@pytest.mark.parametrize("tag", ["polish", "../pl", "p", "pl_PL", ""])
def test_what_is_no_tag_is_refused(tmp_path, monkeypatch, tag):
    monkeypatch.chdir(tmp_path)
    status, _, err = run("new", "--language", tag)
    assert status == 2 and not list(tmp_path.iterdir())
    assert "is no tag of a language" in err or not tag


def test_without_the_library_it_says_what_to_install(tmp_path, monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "babel", None)
    monkeypatch.chdir(tmp_path)
    status, _, err = run("new", "--language", "pl")
    assert status == 2 and "pip install 'docgen[languages]'" in err and not list(tmp_path.iterdir())


# ---- rules of other tables ------------------------------------------------------------------------------


@pytest.mark.parametrize("tag", ["en", "es", "pl", "ar", "ja", "ru", "cy"])
def test_a_number_of_things_takes_the_form_that_the_cldr_gives_it(tag):
    """Source: Unicode CLDR, plural rules, as Babel has them: two numbers share a form if and only if they share a
    category."""
    rule, category = plural_rule(Catalog(Locale.parse(tag)).plural_forms), Locale.parse(tag).plural_form
    by_form: dict[int, set[str]] = {}
    for n in range(205):
        by_form.setdefault(rule(n), set()).add(category(n))
    assert all(len(categories) == 1 for categories in by_form.values())
    assert len(by_form) == len(set().union(*by_form.values()))


def test_polish_forms_are_those_of_the_manual():
    """Source: GNU gettext manual, 11.2.6: 1 plik, 2, 3, 4 pliki, 5 to 21 plików, 22 to 24 pliki, 25 to 31 plików."""
    rule = plural_rule(Catalog(Locale("pl")).plural_forms)
    forms = ("plik", "pliki", "plików")
    told = [forms[rule(n)] for n in (1, 2, 4, 5, 21, 22, 24, 25, 31)]
    assert told == ["plik", "pliki", "pliki", "plików", "plików", "pliki", "pliki", "plików", "plików"]


def test_english_needs_no_rule_and_half_a_thing_takes_the_last_form():
    assert [plural_rule("")(n) for n in (0, 1, 1.5, 2)] == [1, 0, 1, 1]
    assert plural_rule("nplurals=3; plural=(n==1 ? 0 : n==2 ? 1 : 2);")(1.5) == 2
    with pytest.raises(ValueError, match="no rule of gettext"):
        plural_rule("plural=n")


@pytest.mark.parametrize("tag", ["ar", "he", "fa", "ur", "yi", "en", "es", "pl", "ja", "vi", "so", "zh-Hant"])
def test_the_way_a_script_runs_is_that_of_the_cldr(tag):
    """Source: Unicode CLDR, as Babel has it."""
    assert direction_of(tag) == Locale.parse(tag, sep="-").text_direction


@pytest.mark.parametrize(
    ("line", "holds"),
    [
        ("{% if place.needs %}", False),
        ("# {{ who.called }}", False),
        ("{# A note to whoever edits this. #}", False),
        ("{{ gap('taught') }}", False),
        ('{{ gap("taught", "who was taught") }}', True),
        ('{{ n|plural("foot", "feet") }}', True),
        ('{% set stopper = "power switch" if control.no_switch else "stop switch" %}', True),
        ('{% set seizure = cautions|selectattr("about", "equalto", "seizure")|list %}', False),
        ("> [!WARNING]", False),
        ("![](page:break)", False),
        ("Stop.", True),
    ],
)
def test_a_line_has_words_or_tags_alone(line, holds):
    assert has_words(line) is holds


def test_every_word_of_the_english_pages_is_a_text():
    """No letter of a template's body stands outside a text or a tag."""
    known = {(text.file, text.english) for text in texts()}
    for name in PAGES:
        for line in wording().documents[name].body.split("\n"):
            bare = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}|\]\([^)]*\)|\[!\w+\]", "", line)
            assert (f"{name}.md", line) in known or not re.search(r"[^\W\d_]", bare), line
