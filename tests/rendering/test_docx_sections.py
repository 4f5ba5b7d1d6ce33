"""The sections of a DOCX: columns where the PDF has them, on the same page and in the same order."""

from __future__ import annotations

import pytest
from docx.enum.section import WD_SECTION
from docx_read import PREFIXES, body_of, opened, part_of, qualified, values_of, words_of
from gathered import of_each
from msgspec.structs import replace

from docgen.rendering.flow import runs
from docgen.rendering.formats import to_docx
from docgen.rendering.labels import ENGLISH
from docgen.rendering.letterhead import Letterhead
from docgen.rendering.paper import SHEETS, status_place
from docgen.rendering.style import BOOKLET, CARD, COMPACT, LARGE, REGULAR, STYLES
from docgen.rendering.tree import parse
from docgen.scene import Rect, Scene, Text

TABLE = "| a | b | c |\n| --- | --- | --- |\n| d | e | f |"
SMALL = "| g | h |\n| --- | --- |\n| i | j |"
SHEET = (
    f"# Stop\n\n> **Warning.** Far.\n\n1. One\n2. Two\n\n## Who\n\n{TABLE}\n\nLeft.\n\n"
    f"![](page:break)\n\n## Drive\n\nGo.\n\n{SMALL}"
)
COLUMN_PT = (SHEETS["letter"][0] - 2 * CARD.margin_side - CARD.gutter) / 2


def _sections(body):
    return list(body.iter(qualified("w:sectPr")))


def _n_columns(section):
    return [int(n) for n in values_of(section, "w:cols", "w:num")] or [1]


def _parts(body):
    """The words of each section and its number of columns."""
    parts, words = [], ""
    for block in body:
        words += words_of(block)
        if block.tag == qualified("w:sectPr") or block.find("w:pPr/w:sectPr", PREFIXES) is not None:
            section = block if block.tag == qualified("w:sectPr") else block.find("w:pPr/w:sectPr", PREFIXES)
            parts.append((words, *_n_columns(section)))
            words = ""
    assert not words
    return parts


def test_title_box_wide_table_and_page_break_go_across_and_all_else_stands_in_two_columns(page):
    body = body_of(SHEET, page, style=CARD)
    assert _parts(body) == [
        ("StopWarning. Far.", 1),
        ("OneTwo", 2),
        ("Whoabcdef", 1),
        ("Left.", 2),
        ("", 1),
        ("DriveGo.ghij", 2),
    ]
    breaks = [block for block in body if block.find("w:pPr/w:pageBreakBefore", PREFIXES) is not None]
    assert len(breaks) == 1 and _n_columns(breaks[0]) == [1]


def test_a_section_begins_on_the_page_of_the_one_before_with_the_same_head_and_sheet(page):
    file = to_docx.render(parse(SHEET), page, {}, CARD)
    first, *others = opened(file).sections
    assert first.start_type == WD_SECTION.NEW_PAGE
    assert {section.start_type for section in others} == {WD_SECTION.CONTINUOUS}
    assert {section.page_width for section in (first, *others)} == {first.page_width}
    assert {section.left_margin for section in (first, *others)} == {first.left_margin}
    assert not first.header.is_linked_to_previous
    assert all(section.header.is_linked_to_previous and section.footer.is_linked_to_previous for section in others)
    gutters = {
        space for s in _sections(part_of(file, "word/document.xml")) for space in values_of(s, "w:cols", "w:space")
    }
    assert gutters == {str(round(CARD.gutter * 20))}


def test_the_words_stand_in_the_order_they_have_in_one_column(page):
    one = body_of(SHEET, page, style=replace(CARD, columns=1))
    assert words_of(body_of(SHEET, page, style=CARD)) == words_of(one)
    assert len(_sections(one)) == 1 and _n_columns(_sections(one)[0]) == [1]


def test_a_section_that_ends_with_a_table_ends_in_a_paragraph_of_its_own_and_no_other_has_one(page):
    body = body_of(SHEET, page, style=CARD)
    ends = [p for p in body.iterfind("w:p", PREFIXES) if p.find("w:pPr/w:sectPr", PREFIXES) is not None]
    styles = [values_of(end, "w:pPr/w:pStyle")[0] for end in ends]
    assert styles == ["Break", "ListNumber", "Break", "Normal", "Break"]


def test_a_table_and_a_drawing_in_a_column_are_no_wider_than_it(page):
    scene = Scene(COLUMN_PT * 1.4, 100, "a chair", (Rect(0, 0, 50, 50),))
    body = body_of(f"# T\n\n{SMALL}\n\n![](fig:chair)", page, {"chair": scene}, style=CARD)
    assert [n for _, n in _parts(body)] == [1, 2]
    widths = [int(width) for width in values_of(body, ".//w:gridCol", "w:w")]
    assert 0 < sum(widths) / 20 <= COLUMN_PT + 0.1
    (extent,) = body.iterfind(".//wp:extent", PREFIXES)
    assert int(extent.get("cx")) / 12700 == pytest.approx(COLUMN_PT, abs=0.1)


def test_a_letterhead_stands_across_above_the_columns(page):
    headed = replace(page, letterhead=Letterhead(name="Fern Clinic", contact="1 Elm Street"))
    assert _parts(body_of("Go.\n\n1. Turn.", headed, style=CARD)) == [("Fern Clinic1 Elm StreetGo.", 1), ("Turn.", 2)]
    assert _parts(body_of("1. Turn.", headed, style=CARD)) == [("Fern Clinic1 Elm Street", 1), ("Turn.", 2)]


@of_each("name", sorted(STYLES))
def test_columns_of_the_docx_are_those_of_the_style(name, page):
    body = body_of(SHEET, page, style=STYLES[name])
    assert {n for _, n in _parts(body)} == ({1} if STYLES[name].columns == 1 else {1, STYLES[name].columns})


def test_every_node_is_in_one_run_and_runs_differ_from_their_neighbors():
    nodes = parse(SHEET).children
    by_columns = runs(nodes, {}, BOOKLET, 540.0)
    assert [node for run in by_columns for node in run.nodes] == list(nodes)
    assert all(a.n_columns != b.n_columns for a, b in zip(by_columns, by_columns[1:], strict=False))
    assert {(run.n_columns, run.width) for run in by_columns} == {(1, 540.0), (2, (540.0 - BOOKLET.gutter) / 2)}
    assert runs(nodes, {}, LARGE, 540.0) == runs(nodes, {}, REGULAR, 540.0)
    assert len(runs(nodes, {}, LARGE, 540.0)) == 1


@of_each(
    ("head", "status", "style", "place"),
    [
        ("Robin, card", "Draft", CARD, "head"),
        ("Robin, card " + "x" * 60, "Draft", CARD, "foot"),
        ("Robin, card", "Draft " + "x" * 90, CARD, "below"),
        ("Robin, card", "Draft", COMPACT, "below"),
        ("Robin, card", "", CARD, "below"),
    ],
)
def test_the_status_takes_no_line_of_its_own_where_head_or_foot_of_a_sheet_has_room(head, status, style, place, page):
    named = replace(page, running_head=head, status=status)
    size = style.furniture.size
    assert status_place(named, style, ENGLISH, lambda text, bold: 0.5 * size * len(text)) == place


def test_the_status_of_a_sheet_stands_in_the_line_of_the_head_or_of_the_foot(page):
    short = opened(to_docx.render(parse("a"), replace(page, status="Draft"), {}, CARD)).sections[0]
    assert [p.text.split() for p in short.header.paragraphs] == [
        "Robin Example, letter Draft November 25, 2026".split()
    ]
    assert [run.text for run in short.header.paragraphs[0].runs if run.bold] == ["Draft"]
    long = replace(page, status="Draft", running_head="Robin Example, " + "letter " * 10)
    section = opened(to_docx.render(parse("a"), long, {}, CARD)).sections[0]
    assert len(section.header.paragraphs) == 1 and "Draft" not in section.header.paragraphs[0].text
    assert section.footer.paragraphs[0].text == "Draft\tPage 1 of 1"


def test_a_letter_that_hangs_below_its_drawing_is_not_cut_off(page):
    """The picture is as high as the lowest letter; one with no such letter is as it was."""
    hanging = Scene(100, 50, "rolls", (Text(5, 49, "stopping", size=12),))
    level = Scene(100, 50, "stands", (Text(5, 40, "stopping", size=12),))
    body = body_of("![](fig:a)\n\n![](fig:b)", page, {"a": hanging, "b": level})
    heights = [int(extent.get("cy")) / 12700 for extent in body.iterfind(".//wp:extent", PREFIXES)]
    assert heights == pytest.approx([49 + 0.212 * 12, 50], abs=0.01)


def test_each_row_of_panels_is_a_paragraph_and_rows_at_true_size_stay_together(page):
    def figure(true_size):
        panels = tuple(Scene(150, 40, f"part {n}", (Rect(0, 0, 9, 9),), true_size=true_size) for n in range(3))
        return Scene(460, 40, "parts", (), panels)

    for true_size, keeps in ((False, [False, True]), (True, [True, True])):
        body = body_of(
            "![A part](fig:parts)", page, {"parts": figure(true_size)}, style=replace(REGULAR, margin_side=120.0)
        )
        rows = [p for p in body.iterfind("w:p", PREFIXES) if p.find(".//w:drawing", PREFIXES) is not None]
        assert [len(list(row.iter(qualified("w:drawing")))) for row in rows] == [2, 1]
        assert [row.find("w:pPr/w:keepNext", PREFIXES) is not None for row in rows] == keeps
