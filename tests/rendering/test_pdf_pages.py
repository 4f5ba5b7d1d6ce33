"""Pages of the PDF: what is kept together, what is split and how, and that nothing leaves its place."""

from __future__ import annotations

import re
import unicodedata

import pypdfium2
import pytest
from gathered import of_each
from hypothesis import example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from tagged import Tagged

from docgen.rendering.fonts import printed
from docgen.rendering.formats.to_pdf import laid_out, render
from docgen.rendering.paper import SHEETS
from docgen.rendering.pdf.boxes import Figure, Panels
from docgen.rendering.pdf.lines import Run, broken, ems, line_width
from docgen.rendering.style import BOOKLET, COMPACT, REGULAR
from docgen.rendering.tree import parse
from docgen.scene import Rect, Scene

_SENTENCE = "The chair stopped where it should and the driver looked around before the next turn. "
_TALL = {
    "tall": Scene(200, 3000, "very tall", (Rect(0, 0, 200, 3000),)),
    "low": Scene(900, 100, "wide", (Rect(0, 0, 900, 100),)),
}


def _read(markdown, page, scenes=_TALL):
    return Tagged(render(parse(markdown), page, scenes))


def _filler(n_lines):
    """Paragraphs of one line each."""
    return "".join(f"Line {at}.\n\n" for at in range(n_lines))


def _table(n_rows, cell="cell"):
    rows = "".join(f"| {at} | {cell} {at} |\n" for at in range(n_rows))
    return f"Table: Many rows\n\n| No | What |\n|--:|:--|\n{rows}"


@of_each("paper", ["letter", "a4"])
@of_each("n_pages", [1, 2, 11])
def test_every_page_says_which_of_how_many_it_is(n_pages, paper, page):
    tagged = _read("\n\n![](page:break)\n\n".join(f"Page {at}" for at in range(n_pages)), replace(page, paper=paper))
    assert [tagged.furniture(at, "Footer") for at in range(n_pages)] == [
        f"Page {at} of {n_pages}" for at in range(1, n_pages + 1)
    ]
    assert len(tagged.marks) == n_pages
    assert tuple(map(float, tagged.pdf.pages[0].MediaBox[2:])) == pytest.approx(SHEETS[paper], abs=0.01)


def test_every_page_carries_head_date_and_status(page):
    tagged = _read(_filler(120), page)
    assert len(tagged.marks) > 2
    for at in range(len(tagged.marks)):
        assert tagged.furniture(at, "Header") == "Robin Example, letterNovember 25, 2026Draft: 3 gaps open"


def test_a_long_head_pushes_the_text_down_and_touches_nothing(page):
    words = "one very long running head that never seems to end " * 12
    page = replace(page, running_head=words, status="Draft: " + "gaps " * 60)
    file = render(parse(_filler(3)), page, {})
    with pypdfium2.PdfDocument(file) as document:
        text = document[0].get_textpage()
        heights = [
            (box[1], box[3], text.get_text_range(at, 1))
            for at in range(text.count_chars())
            if (box := text.get_charbox(at)) and text.get_text_range(at, 1).strip()
        ]
        at = text.get_text_range().index("Line 0.")
        top_of_text = text.get_charbox(at)[3]
    head = [bottom for bottom, _, _ in heights[: len(re.sub(r"\s", "", words + page.status + "November 25, 2026"))]]
    assert min(head) > top_of_text + 4
    assert Tagged(file).root.all("P")[0].text() == "Line 0."


@pytest.mark.parametrize(
    "markdown, n_pages",
    [
        ("", 1),
        ("a BREAK", 1),
        ("BREAK a", 1),
        ("a BREAK BREAK b", 2),
        ("a BREAK b BREAK c", 3),
    ],
)
def test_page_breaks_start_pages_and_never_leave_an_empty_one(markdown, n_pages, page):
    assert len(_read(markdown.replace("BREAK", "\n\n![](page:break)\n\n"), page).marks) == n_pages


@pytest.mark.parametrize("n_lines", range(20, 40))
def test_a_heading_is_never_the_last_thing_on_its_page(n_lines, page):
    tagged = _read(f"{_filler(n_lines)}# A\n\n## B\n\n### C\n\n{_SENTENCE * 4}\n\n## D\n\n{_table(3)}", page)
    parts = tagged.root.parts()
    headings = [at for at, part in enumerate(parts) if part.tag[0] == "H"]
    assert len(headings) == 4
    for at in headings:
        assert max(parts[at].pages()) == min(parts[at + 1].pages())


@of_each("n_lines", range(24, 36))
@of_each("n_sentences", [2, 3, 9])
def test_no_page_holds_a_single_line_of_a_longer_paragraph(n_lines, n_sentences, page):
    paragraph = _read(_filler(n_lines) + _SENTENCE * n_sentences, page).root.all("P")[-1]
    assert len(paragraph.text()) == len(_SENTENCE) * n_sentences - 1
    assert min(paragraph.lines_by_page().values()) >= 2


def test_paragraphs_are_split_at_some_of_these_places(page):
    split = [n for n in range(24, 36) if len(_read(_filler(n) + _SENTENCE * 9, page).root.all("P")[-1].pages()) == 2]
    assert len(split) >= 3


@of_each("n_lines", range(24, 34))
def test_a_paragraph_with_a_colon_stays_with_its_list(n_lines, page):
    tagged = _read(f"{_filler(n_lines)}Do this:\n\n- {_SENTENCE}\n- second\n", page)
    (items,), before = tagged.root.all("L"), tagged.root.parts()[-2]
    assert before.pages() == {min(items.pages())}


def test_a_table_over_six_pages_is_one_table_that_repeats_its_header(page):
    tagged = _read(_table(200, cell=_SENTENCE), page)
    (table,) = tagged.root.all("Table")
    assert len(tagged.marks) == 6 and table.pages() == set(range(6))
    assert [cell.text() for cell in table.all("TH")] == ["No", "What"]
    assert [cell.text() for cell in table.all("TD")][::2] == [str(at) for at in range(200)]
    assert len(table.all("Caption")) == 1 and table.all("Caption")[0].pages() == {0}
    for at in range(6):
        repeated = [mark.text for mark in tagged.marks[at] if mark.properties == {"/Type": "/Pagination"}]
        assert ("".join(repeated) == "NoWhat") == (at > 0)


@of_each("n_lines", range(18, 34))
@of_each("n_rows", [3, 4])
def test_a_short_table_is_not_split(n_lines, n_rows, page):
    (table,) = _read(_filler(n_lines) + _table(n_rows), page).root.all("Table")
    assert len(table.pages()) == 1


@pytest.mark.parametrize("n_lines", range(18, 34))
def test_a_long_table_leaves_two_rows_on_each_page_it_reaches(n_lines, page):
    (table,) = _read(_filler(n_lines) + _table(16), page).root.all("Table")
    rows = [min(row.pages()) for row in table.all("TR") if row.all("TD")]
    assert len(rows) == 16
    assert all(rows.count(at) >= 2 for at in table.pages())
    assert table.all("TH")[0].pages() == table.all("Caption")[0].pages() == {rows[0]}


def test_a_cell_longer_than_a_page_is_split_and_stays_one_cell(page):
    text = (_SENTENCE * 150).strip()
    (table,) = _read(f"| No | What |\n|--|--|\n| 1 | {text} |\n| 2 | short |\n", page).root.all("Table")
    cells = table.all("TD")
    assert [cell.text() for cell in cells] == ["1", text, "2", "short"]
    assert len(cells[1].pages()) >= 3
    assert min(cells[1].lines_by_page().values()) >= 2


def _long_cell(n_lines, n_rows, page):
    """The cell of many lines in a table of short rows, the table standing below that many lines of text."""
    rows = "".join(f"| {at} | x |\n" for at in range(n_rows))
    table = f"| No | What |\n|--|--|\n{rows}| long | {_SENTENCE * 40} |\n| last | y |\n"
    (part,) = _read(_filler(n_lines) + table, page).root.all("Table")
    return part.all("TD")[-3]


@pytest.mark.parametrize("n_rows", range(8, 16))
def test_a_long_row_is_split_where_the_page_ends_but_leaves_two_lines_there(n_rows, page):
    cells = [_long_cell(n_lines, n_rows, page) for n_lines in range(10, 28)]
    assert {cell.text() for cell in cells} == {(_SENTENCE * 40).strip()}
    assert all(min(cell.lines_by_page().values()) >= 2 for cell in cells)
    assert any(cell.pages() == {0, 1} for cell in cells)


@of_each("n_lines", range(16, 34, 2))
def test_a_short_call_out_is_not_split(n_lines, page):
    (part,) = _read(f"{_filler(n_lines)}> [!CAUTION]\n> {_SENTENCE * 4}\n>\n> - a\n> - b\n", page).root.all("Sect")
    assert len(part.pages()) == 1


def test_a_long_call_out_is_split_and_stays_one_section(page):
    inside = "".join(f"> {_SENTENCE * 3}\n>\n> 1. item\n>\n" for _ in range(30))
    tagged = _read(f"{_filler(5)}> [!NOTE]\n{inside}", page)
    (part,) = tagged.root.all("Sect")
    assert len(part.pages()) >= 3 and min(part.pages()) == 0
    assert part.text() == f"{_SENTENCE * 3}".strip().join([""] + ["1.item"] * 30)


def test_an_item_over_three_pages_is_one_item_with_one_label(page):
    (item,) = _read(f"{_filler(20)}7. {_SENTENCE * 90}\n\n   - inner\n", page).root.all("L")[0].parts()
    label, body = item.parts()
    assert label.text() == "7." and label.pages() == {0}
    assert body.pages() == {0, 1, 2}
    assert body.text() == (_SENTENCE * 90).strip() + "\u2022inner"


@of_each("n_lines", range(22, 34))
def test_a_signature_is_whole_and_never_alone(n_lines, page):
    tagged = _read(f"{_filler(n_lines)}Sincerely,\n\n![Ada Sample, OT](sign:)", page)
    (block,) = tagged.root.all("Div")
    closing = tagged.root.parts()[-2]
    assert [part.text() for part in block.parts()] == ["Ada Sample, OT", "Date"]
    assert block.pages() == closing.pages() and len(block.pages()) == 1


@of_each("n_lines", range(0, 34, 5))
@of_each("name", _TALL)
def test_a_drawing_too_large_is_made_to_fit_and_stays_with_its_caption(n_lines, name, page):
    tagged = _read(f"{_filler(n_lines)}![A caption](fig:{name})", page)
    (group,), (figure,) = tagged.root.all("Div"), tagged.root.all("Figure")
    assert len(group.pages()) == 1
    left, bottom, right, top = map(float, figure.entries.A.BBox)
    assert left >= REGULAR.margin_side - 0.01 and right <= 612 - REGULAR.margin_side + 0.01
    assert bottom >= REGULAR.margin_bottom and top <= 792 - REGULAR.margin_top + 0.01
    assert (right - left) / (top - bottom) == pytest.approx(_TALL[name].w / _TALL[name].h, rel=0.01)


def test_a_tall_drawing_fits_inside_a_call_out(page):
    (part,) = _read("> [!NOTE]\n> Look:\n>\n> ![A caption](fig:tall)\n", page).root.all("Sect")
    assert [kid.tag for kid in part.parts()] == ["P", "Div"]


_ITEM = st.text("abcdefgh-/ WW", min_size=1, max_size=150).map(str.strip).filter(bool)


@settings(max_examples=25, deadline=None)
@given(cells=st.lists(_ITEM, min_size=2, max_size=8), words=_ITEM)
def test_nothing_leaves_the_margins(cells, words, page):
    row = "| " + " | ".join(cells) + " |"
    rule = "|" + "--:|" * len(cells)
    words = re.sub("-", "n", words)
    # the figures stay short, so that only columns can be at fault
    file = render(parse(f"# {words}\n\nx {words}\n\n- x {words}\n\n> x {words}\n\n{row}\n{rule}\n{row}\n"), page, {})
    with pypdfium2.PdfDocument(file) as document:
        for at in range(len(document)):
            text = document[at].get_textpage()
            boxes = [text.get_charbox(n) for n in range(text.count_chars()) if text.get_text_range(n, 1).strip()]
            assert boxes
            assert min(box[0] for box in boxes) > REGULAR.margin_side - 1
            assert max(box[2] for box in boxes) < 612 - REGULAR.margin_side + 1
            assert min(box[1] for box in boxes) > 20 and max(box[3] for box in boxes) < 792 - 20


@settings(max_examples=150, deadline=None)
@example(words="a/WW", split=0, room=20.0)
@given(words=st.text("aW i-/\u00a0\u0301", max_size=80), split=st.integers(0, 80), room=st.floats(20, 300))
def test_lines_fit_their_room_and_together_are_the_text(words, split, room):
    face = "Arimo-Regular"
    lines = broken([Run(words[:split], face), Run(words[split:], face)], room, 11)
    together = "".join(piece.text for line in lines for piece in line)
    assert together == re.sub(" +", " ", printed(words[:split]) + printed(words[split:])).strip(" ")
    for line in lines:
        assert line_width(line, 11) <= room + 0.02
        assert sum(piece.width for piece in line) == pytest.approx(sum(ems(p.text, face) * 11 for p in line))
        assert not line[0].text.startswith(" ")


def test_a_line_is_filled_before_the_next_begins():
    run = Run(_SENTENCE * 5)
    lines = broken([run], 300, 11)
    for line, after in zip(lines, lines[1:], strict=False):
        next_word = " " + after[0].text.split(" ")[0]
        assert line_width(line, 11) + ems(next_word, run.face) * 11 > 300


@of_each("word", ["x\u0301\u0323" * 90, "-\u0301xyz" * 60], ids=["letters", "hyphens"])
@of_each("room", [31.0, 40.5, 77.0])
def test_an_accent_stays_on_its_letter_where_a_long_word_is_cut(word, room):
    lines = broken([Run(word)], room, 11)
    assert len(lines) > 5
    assert not any(unicodedata.combining(line[0].text[0]) for line in lines)


@pytest.mark.parametrize(
    "word, first", [("section/" * 30, "section/section/"), ("abcdefgh-" * 30, "abcdefgh-abcdefgh-")]
)
def test_a_long_word_is_cut_after_a_stroke_or_hyphen(word, first):
    assert broken([Run(word)], 100, 11)[0][0].text == first


@pytest.mark.parametrize(
    ("height", "style", "scale", "n_pages"),
    [
        (200, COMPACT, 1.0, 1),  # fits as it is
        (400, COMPACT, 0.84, 1),  # half a page at most
        (400, REGULAR, 1.0, 2),  # this style keeps the size, and the drawing goes to the next page
        (640, COMPACT, 0.76, 2),  # not below the least
    ],
)
def test_a_drawing_is_drawn_smaller_only_where_its_style_lets_it(height, style, scale, n_pages, page):
    scene = Scene(300, height, "A drawing", (Rect(0, 0, 10, 10),))
    lines = "A line.\n\n" * 20
    laid = laid_out(parse(f"{lines}![](fig:drawing)\n"), page, {"drawing": scene}, style)
    [figure] = [block for sheet in laid.pages for block in sheet.blocks if isinstance(block, Figure)]
    assert len(laid.pages) == n_pages and figure.scale == pytest.approx(scale, abs=0.05)


def _panels(n, high):
    """A drawing of panels, each as wide as a column of a booklet."""
    panels = tuple(Scene(228, high, "A panel", (Rect(0, 0, 228, high),)) for _ in range(n))
    return {"drawing": Scene(500, n * high, "A drawing", (), panels)}


def _columns(markdown, page, scenes):
    """The blocks of each column of each page, in order."""
    sheets = laid_out(parse(markdown), page, scenes, BOOKLET).pages
    return [column.blocks for sheet in sheets for run in sheet.blocks for column in getattr(run, "columns", ())]


def test_a_drawing_of_panels_is_whole_and_only_its_own_section_fills_the_room_before_it(page):
    orders = []
    for n_lines in range(30, 50):
        text = f"## Head\n\n{_filler(n_lines)}![A caption](fig:drawing)\n\nAfter.\n\n## Next\n\n{_filler(40)}"
        blocks = [block for column in _columns(text, page, _panels(4, 70)) for block in column]
        drawing = next(at for at, block in enumerate(blocks) if isinstance(block, Panels))
        named = {block.heading.text: at for at, block in enumerate(blocks) if getattr(block, "heading", None)}
        words = ["" if isinstance(block, Panels) else _words(block) for block in blocks]
        assert named["Head"] < drawing < named["Next"]
        assert len(blocks[drawing].rows) == 4 and sum(isinstance(block, Panels) for block in blocks) == 1
        orders.append(words.index("After.") < drawing)
    assert True in orders and False in orders  # lifted where there was room, else below its drawing


def _words(block):
    return "".join(run.text for line in getattr(block, "lines", ()) for run in line)


@pytest.mark.parametrize(("n", "is_wide"), [(4, False), (5, True)])
def test_panels_too_tall_for_a_column_go_across_the_page(n, is_wide, page):
    sheets = laid_out(
        parse("# T\n\n## H\n\nWords.\n\n![A caption](fig:drawing)\n"), page, _panels(n, 70), BOOKLET
    ).pages
    assert any(isinstance(block, Panels) for sheet in sheets for block in sheet.blocks) is is_wide
