"""What a row of a table is: told once in the Markdown, shaded in each format, and never read as a word."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import date

import pikepdf
import pytest

from docgen.rendering.formats import to_docx, to_html, to_pdf
from docgen.rendering.page import Page
from docgen.rendering.style import REGULAR
from docgen.rendering.tree import ROLES, DialectError, outline, parse

PAGE = Page("Title", "head", date(2026, 11, 25))
TABLE = "| Control | Done |\n|:--|:--|\n| [](row:{role})pads | 32 |\n| stick | 12 |\n"


def rows(role: str) -> list[tuple[str, str]]:
    return [(row.role, row.plain()) for row in parse(TABLE.format(role=role)).children[0].children]


@pytest.mark.parametrize("role", ROLES)
def test_a_row_is_what_its_first_cell_says_and_the_mark_is_no_word(role):
    assert rows(role) == [("", "ControlDone"), (role, "pads32"), ("", "stick12")]


def test_a_plain_row_is_the_same_with_and_without_the_mark():
    assert outline(parse(TABLE.format(role=""))) == outline(parse(TABLE.replace("[](row:{role})", "")))


@pytest.mark.parametrize(
    "text, said",
    [
        (TABLE.format(role="best"), "a row is chosen, total, gap or plain, not .best."),
        ("[](row:chosen)alone", "a link must be fact:"),
    ],
)
def test_another_role_and_a_role_outside_a_table_are_refused_with_the_line(text, said):
    with pytest.raises(DialectError, match=said):
        parse(text)


def test_a_role_in_a_later_cell_is_refused():
    with pytest.raises(DialectError, match="a link must be fact:"):
        parse("| a | b |\n|:--|:--|\n| c | [](row:chosen)d |\n")


def test_each_shade_is_light_and_lighter_than_that_of_a_gap_in_it():
    assert set(REGULAR.row_fill) == set(ROLES) - {""}
    assert all(REGULAR.gap_fill < fill < 1 for fill in REGULAR.row_fill.values())


def made(form, role: str) -> bytes:
    return form.render(parse(TABLE.format(role=role)), PAGE, {}, REGULAR)


def test_html_marks_the_row_and_shades_it():
    text = made(to_html, "chosen").decode()
    assert text.count('<tr class="row-chosen">') == 1 and "tr.row-chosen td{background:#f0f0f0;" in text
    assert "<tr class" not in made(to_html, "").decode()


def test_docx_shades_each_cell_of_the_row():
    def fills(role: str) -> list[str]:
        document = zipfile.ZipFile(io.BytesIO(made(to_docx, role))).read("word/document.xml").decode()
        return re.findall(r'w:fill="([0-9A-Fa-f]{6})"', document)

    assert [fill.lower() for fill in fills("chosen")] == ["f0f0f0"] * 2 and fills("") == []


def test_pdf_paints_one_ground_as_an_artifact():
    def grounds(role: str) -> int:
        with pikepdf.open(io.BytesIO(made(to_pdf, role))) as pdf:
            code = b"".join(bytes(page.Contents.read_bytes()) for page in pdf.pages).decode("latin-1")
        return len(re.findall(r"/Artifact[^\n]*\n(?:q\s)?0\.94 g [\d. -]+re", code))

    assert grounds("chosen") == 1 and grounds("") == 0
