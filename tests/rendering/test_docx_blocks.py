"""The blocks of the DOCX and the words of their lines, read back word for word and mark for mark."""

from __future__ import annotations

import io
import zipfile

import pytest
from docx.table import Table
from docx_read import PREFIXES, body_of, opened, part_of, qualified, values_of, words_of
from gathered import of_each
from hypothesis import example, given, settings
from msgspec.structs import replace
from texts import HOSTILE, any_text
from trees import BLOCKS

from docgen.rendering.formats import to_docx
from docgen.rendering.style import REGULAR
from docgen.rendering.tree import DialectError, Node, parse

# blocks


@of_each("level", range(1, 7))
def test_a_heading_is_a_real_heading(page, level):
    paragraph = opened(to_docx.render(parse("#" * level + " a"), page, {})).paragraphs[0]
    assert paragraph.style.name == f"Heading {level}"
    assert values_of(paragraph.style.element, "w:pPr/w:outlineLvl") == [str(level - 1)]


def test_each_numbered_list_counts_from_its_own_start(page):
    file = to_docx.render(parse("1. a\n2. b\n   1. c\n\nx\n\n1. d\n\ny\n\n7. e"), page, {})
    body, numbering = part_of(file, "word/document.xml"), part_of(file, "word/numbering.xml")
    used = {}
    for paragraph in body.iter(qualified("w:p")):
        if (number := paragraph.find("w:pPr/w:numPr", PREFIXES)) is not None:
            level, id = values_of(number, "w:ilvl")[0], values_of(number, "w:numId")[0]
            used[words_of(paragraph)] = (id, level)
    assert used["a"] == used["b"]
    assert len({used[letter][0] for letter in "acde"}) == 4
    assert used["c"][1] == "1"
    for letter, start in (("a", "1"), ("c", "1"), ("d", "1"), ("e", "7")):
        number = numbering.find(
            f"w:num[@w:numId='{used[letter][0]}']".replace("w:numId", qualified("w:numId")), PREFIXES
        )
        override = number.find("w:lvlOverride", PREFIXES)
        assert override.get(qualified("w:ilvl")) == used[letter][1]
        assert values_of(override, "w:startOverride") == [start]


def test_bullets_share_one_list_and_differ_by_level(page):
    body = body_of("- a\n  - b\n    - c\n\nx\n\n- d", page)
    numbers = [(values_of(n, "w:ilvl")[0], values_of(n, "w:numId")[0]) for n in body.iterfind(".//w:numPr", PREFIXES)]
    assert numbers == [("0", "1"), ("1", "1"), ("2", "1"), ("0", "1")]


def test_lists_nest_as_deep_as_the_format_knows_and_no_deeper(page):
    body = body_of("\n".join("  " * depth + "- a" for depth in range(9)), page)
    assert max(int(level) for level in values_of(body, ".//w:ilvl")) == 8
    with pytest.raises(DialectError):
        body_of("\n".join("  " * depth + "- a" for depth in range(12)), page)


def test_tick_boxes_can_be_ticked_and_show_a_ballot_box(page):
    body = body_of("- [ ] open\n- [x] done", page)
    boxes = list(body.iter(qualified("w:sdt")))
    assert [words_of(box) for box in boxes] == ["\u2610", "\u2611"]
    assert [values_of(box, ".//w14:checked", "w14:val") for box in boxes] == [["0"], ["1"]]
    assert len(set(values_of(body, ".//w:sdtPr/w:id"))) == 2


def test_a_table_repeats_its_head_and_splits_no_short_row(page):
    body = body_of("Table: t\n\n| a | b |\n|--|--:|\n" + "| c | 1 |\n" * 30, page)
    rows = list(body.iter(qualified("w:tr")))
    assert [row.find("w:trPr/w:tblHeader", PREFIXES) is not None for row in rows] == [True] + [False] * 30
    assert all(row.find("w:trPr/w:cantSplit", PREFIXES) is not None for row in rows)
    assert values_of(body, ".//w:tblCaption") == ["t"]
    assert values_of(body, ".//w:tblLook", "w:firstRow") == ["1"]
    kept = [row.find(".//w:keepNext", PREFIXES) is not None for row in rows]
    assert kept == [True] + [False] * 28 + [True, False]


def test_a_short_table_stays_whole_and_a_long_cell_may_split(page):
    body = body_of("| a |\n|--|\n| b |\n| " + "long " * 200 + "|", page)
    rows = list(body.iter(qualified("w:tr")))
    assert [row.find(".//w:keepNext", PREFIXES) is not None for row in rows] == [True, True, False]
    assert rows[2].find("w:trPr/w:cantSplit", PREFIXES) is None


def test_columns_follow_their_content_and_fit_the_line(page):
    body = body_of("| a | b |\n|:-:|--:|\n| x | " + "word " * 100 + "|", page)
    widths = [int(width) for width in values_of(body, ".//w:gridCol", "w:w")]
    assert sum(widths) <= (612 - 2 * REGULAR.margin_side) * 20 + 2
    assert widths[1] > 5 * widths[0]
    assert values_of(body, ".//w:tcW", "w:w") == [str(width) for width in widths] * 2
    assert values_of(body, ".//w:jc") == ["center", "right"] * 2


@pytest.mark.parametrize(
    ("markdown", "field", "words"),
    [
        ("Table: t\n\n| a |\n|--|", "SEQ Table \\* ARABIC", "Table 1. t"),
        ("![c *d*](fig:pads)", "SEQ Figure \\* ARABIC", "Figure 1. c d"),
    ],
)
def test_a_caption_is_a_caption_with_a_number_field(page, scenes, markdown, field, words):
    document = opened(to_docx.render(parse(markdown), page, scenes))
    (caption,) = [paragraph for paragraph in document.paragraphs if paragraph.style.name == "Caption"]
    assert caption.text == words
    assert [code.text.strip() for code in caption._p.iter(qualified("w:instrText"))] == [field]


def test_figures_have_words_for_those_who_cannot_see_them_and_ids_of_their_own(page, scenes):
    markdown = "![a](fig:pads)\n\n- [ ] tick\n\n![](fig:pads)\n\n# There\n\n[x](#there)"
    file = to_docx.render(parse(markdown), page, scenes)
    body = part_of(file, "word/document.xml")
    pictures = list(body.iter(qualified("wp:docPr")))
    assert [picture.get("descr") for picture in pictures] == [scenes["pads"].alt] * 2
    ids = [picture.get("id") for picture in pictures] + values_of(body, ".//w:bookmarkStart", "w:id")
    assert len(set(ids)) == len(ids) == 3
    # the same drawing is stored once
    assert sum(name.endswith(".png") for name in zipfile.ZipFile(io.BytesIO(file)).namelist()) == 1
    shape = opened(file).inline_shapes[0]
    assert (shape.width.pt, shape.height.pt) == pytest.approx((420, 140))


@pytest.mark.parametrize(("factor_w", "factor_h"), [(3, 1), (1, 20), (0.1, 0.1)])
def test_a_figure_too_large_for_the_page_shrinks_and_keeps_its_shape(page, scenes, factor_w, factor_h):
    scene = replace(scenes["pads"], w=420 * factor_w, h=140 * factor_h, shapes=())
    shape = opened(to_docx.render(parse("![](fig:x)"), page, {"x": scene})).inline_shapes[0]
    # Letter paper, 612 by 792 points
    assert shape.width.pt <= 612 - 2 * REGULAR.margin_side + 0.001
    assert shape.height.pt <= 792 - REGULAR.margin_top - REGULAR.margin_bottom
    assert shape.width / shape.height == pytest.approx(scene.w / scene.h, rel=1e-3)
    if factor_w < 1:
        assert shape.width.pt == pytest.approx(42)


@pytest.mark.parametrize("tone", ["note", "important", "warning", "caution"])
def test_a_call_out_is_a_box_with_the_bar_of_its_tone(page, tone):
    body = body_of(f"> [!{tone.upper()}]\n> a", page)
    (table,) = body.findall("w:tbl", PREFIXES)
    assert int(values_of(table, ".//w:tcBorders/w:left", "w:sz")[0]) == 8 * REGULAR.callout_bar[tone]
    assert values_of(table, ".//w:tcPr/w:shd", "w:fill") == ["F2F2F2"]
    assert values_of(table, ".//w:tblCaption") == [tone.capitalize()]
    assert table.find(".//w:cantSplit", PREFIXES) is not None


def test_a_long_call_out_may_run_over_the_page(page):
    assert body_of("> " + "word " * 400, page).find(".//w:cantSplit", PREFIXES) is None


def test_every_cell_ends_with_a_paragraph_and_tables_never_touch(docx_of_every_kind):
    body = part_of(docx_of_every_kind, "word/document.xml").find("w:body", PREFIXES)
    for cell in body.iter(qualified("w:tc")):
        assert list(cell)[-1].tag == qualified("w:p")
    for holder in (body, *body.iter(qualified("w:tc"))):
        tags = [child.tag for child in holder]
        assert (qualified("w:tbl"), qualified("w:tbl")) not in list(zip(tags, tags[1:], strict=False))


def test_a_signature_is_one_row_that_stays_with_the_words_before_it(page):
    body = body_of("Sincerely,\n\n![Ada Sample](sign:)", page)
    words, above, table, *_ = body
    assert words.find("w:pPr/w:keepNext", PREFIXES) is not None
    assert above.find("w:pPr/w:keepNext", PREFIXES) is not None
    assert [words_of(cell) for cell in table.iter(qualified("w:tc"))] == ["Ada Sample", "", "Date"]
    assert len(values_of(table, ".//w:tcBorders/w:top", "w:sz")) == 2
    assert table.find(".//w:cantSplit", PREFIXES) is not None


def test_a_page_break_and_a_rule(page):
    body = body_of("a\n\n![](page:break)\n\n---\n\nb", page)
    assert body.find(".//w:pageBreakBefore", PREFIXES) is not None
    assert body.find(".//w:pBdr/w:bottom", PREFIXES) is not None


# words of a line


def test_a_gap_is_marked_and_a_fact_is_plain(page):
    body = body_of("[32 of 38](fact:a) [not recorded: weight](gap:b) **c** *d*", page)
    runs = list(body.iter(qualified("w:r")))
    marks = [(words_of(run), [child.tag for child in run.iterfind("w:rPr/*", PREFIXES)]) for run in runs]
    assert marks[0] == ("32 of 38", [])
    assert marks[2] == ("not recorded: weight", [qualified("w:rStyle")])
    assert marks[4] == ("c", [qualified("w:b"), qualified("w:bCs")])
    assert marks[6] == ("d", [qualified("w:i"), qualified("w:iCs")])
    assert values_of(body, ".//w:rStyle") == ["Gap"]


def test_links_lead_outside_or_to_a_heading(page):
    markdown = "[a](https://example.org/?b=1&c=2) [d](#far-away) [e](#nowhere)\n\n# Far away"
    file = to_docx.render(parse(markdown), page, {})
    body = part_of(file, "word/document.xml")
    outside, inside = body.iter(qualified("w:hyperlink"))
    relations = part_of(file, "word/_rels/document.xml.rels")
    targets = {relation.get("Id"): relation.get("Target") for relation in relations}
    assert targets[outside.get(qualified("r:id"))] == "https://example.org/?b=1&c=2"
    assert inside.get(qualified("w:anchor")) == values_of(body, ".//w:bookmarkStart", "w:name")[0]
    assert words_of(body) == "a d eFar away"


@pytest.mark.parametrize("target", ["javascript:alert(1)", "file:///x", "data:text/html,x", "other.html"])
def test_a_target_that_is_no_address_is_only_words(page, target):
    link = Node("link", attrs={"target": target}, children=[Node("text", text="a")])
    body = body_of(Node("document", children=[Node("paragraph", children=[link])]), page)
    assert body.find(".//w:hyperlink", PREFIXES) is None
    assert words_of(body) == "a"


def _in_every_place(text):
    """The text as heading, paragraph, item, cell, caption and signature, built without Markdown."""
    words = [Node("text", text=text)]
    cells = Node("row", attrs={"header": True, "role": ""}, children=[Node("cell", children=words)])
    return Node(
        "document",
        children=[
            Node("heading", attrs={"level": 1}, children=words),
            Node("paragraph", children=[Node("strong", children=words)]),
            Node(
                "list",
                attrs={"ordered": True, "start": 1},
                children=[Node("item", attrs={"checked": None}, children=[Node("paragraph", children=words)])],
            ),
            Node("table", attrs={"caption": "", "aligns": ("left",)}, children=[cells]),
            Node("signature", children=words),
        ],
    )


def test_tabs_and_line_ends_become_elements_of_their_own(page):
    paragraph = Node("paragraph", children=[Node("text", text="a\tb\nc")])
    body = body_of(Node("document", children=[paragraph]), page)
    assert [child.tag for child in body.find(".//w:r", PREFIXES)] == [
        qualified(f"w:{name}") for name in ("t", "tab", "t", "br", "t")
    ]


@settings(max_examples=60, deadline=None)
@given(any_text())
@example("\r")
@example(HOSTILE)
def test_any_text_survives_in_every_place(page, text):
    document = opened(to_docx.render(_in_every_place(text), page, {}))
    seen = []
    for block in document.iter_inner_content():
        seen += [block.cell(0, 0).text] if isinstance(block, Table) else [block.text]
    assert [words for words in seen if words] == [text] * 5


@settings(max_examples=25, deadline=None)
@given(any_text())
@example(HOSTILE)
def test_any_text_survives_in_head_and_properties(page, text):
    changed = replace(page, running_head=text, status=text, title=text)
    document = opened(to_docx.render(parse("a"), changed, {}))
    head = document.sections[0].header.paragraphs
    assert head[0].text == f"{text}\tNovember 25, 2026"
    assert head[1].text == text
    assert document.core_properties.title == text


def test_a_title_longer_than_a_property_may_be_is_cut(page):
    document = opened(to_docx.render(parse("a"), replace(page, title="t" * 300), {}))
    assert document.core_properties.title == "t" * 255


# what is refused


@of_each("char", ["\x00", "\x07", "\x1b", "\x7f", "\ud800", "\ufffe"])
def test_a_character_no_page_can_show_is_refused_by_its_code_point(page, char):
    with pytest.raises(ValueError, match=f"U\\+{ord(char):04X}"):
        to_docx.render(_in_every_place(f"a{char}b"), page, {})


@of_each("kind", sorted(BLOCKS & {"document", "item", "row", "cell"}) + ["text", "marquee"])
def test_a_kind_that_cannot_stand_among_blocks_is_refused(page, kind):
    with pytest.raises(ValueError, match=kind):
        to_docx.render(Node("document", children=[Node(kind)]), page, {})


def test_an_unknown_kind_in_a_line_is_refused(page):
    with pytest.raises(ValueError, match="blink"):
        to_docx.render(Node("document", children=[Node("paragraph", children=[Node("blink")])]), page, {})


def test_a_missing_drawing_is_named(page, scenes):
    with pytest.raises(ValueError, match="'elsewhere'.*pads"):
        to_docx.render(parse("![a](fig:elsewhere)"), page, scenes)
