"""The DOCX: read back with python-docx and as plain XML, word for word and mark for mark."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
import zipfile
from datetime import date, datetime, time

import docx
import pytest
from docx.enum.style import WD_STYLE_TYPE
from docx.table import Table
from gathered import of_each
from hypothesis import example, given, settings
from msgspec.structs import replace
from texts import HOSTILE, any_text
from trees import BLOCKS

from docgen.rendering.docx.styles import styles_xml
from docgen.rendering.docx.xml import NAMESPACES
from docgen.rendering.formats import to_docx
from docgen.rendering.labels import Labels
from docgen.rendering.style import COMPACT, RECORD, REGULAR
from docgen.rendering.tree import DialectError, Node, parse

_NS = dict(re.findall(r'xmlns:(\w+)="([^"]+)"', NAMESPACES))


def _q(name):
    prefix, _, local = name.partition(":")
    return f"{{{_NS[prefix]}}}{local}"


@pytest.fixture(scope="module")
def rendered(page, scenes, every_kind_once):
    return to_docx.render(every_kind_once, page, scenes)


def _opened(file):
    return docx.Document(io.BytesIO(file))


def _part(file, name):
    return ET.fromstring(zipfile.ZipFile(io.BytesIO(file)).read(name))


def _body(markdown, page, scenes=None, **options):
    document = markdown if isinstance(markdown, Node) else parse(markdown)
    file = to_docx.render(document, page, scenes or {}, **options)
    return _part(file, "word/document.xml").find("w:body", _NS)


def _values(element, path, attribute="w:val"):
    return [found.get(_q(attribute)) for found in element.iterfind(path, _NS)]


def _words(element):
    return "".join(text.text or "" for text in element.iter(_q("w:t")))


# the package


def test_every_part_is_well_formed_and_named_in_the_content_types(rendered):
    archive = zipfile.ZipFile(io.BytesIO(rendered))
    assert archive.testzip() is None
    kinds = _part(rendered, "[Content_Types].xml")
    named = {element.get("PartName") for element in kinds if element.get("PartName")}
    for name in archive.namelist():
        if name.endswith((".xml", ".rels")):
            ET.fromstring(archive.read(name))
        if name.endswith(".xml") and name != "[Content_Types].xml":
            assert f"/{name}" in named


def test_every_relation_leads_to_a_part_or_outside(rendered):
    archive = zipfile.ZipFile(io.BytesIO(rendered))
    body = archive.read("word/document.xml").decode()
    relations = _part(rendered, "word/_rels/document.xml.rels")
    for relation in relations:
        outside = relation.get("TargetMode") == "External"
        assert outside or f"word/{relation.get('Target')}" in archive.namelist()
    used = set(re.findall(r'r:(?:id|embed)="(\w+)"', body))
    assert used <= {relation.get("Id") for relation in relations}


def test_core_properties_come_from_the_page_and_nothing_from_the_machine(rendered, page):
    properties = _opened(rendered).core_properties
    assert (properties.title, properties.author, properties.language) == (page.title, page.author, page.lang)
    midnight = datetime.combine(page.dated_on, time())
    assert {properties.created.replace(tzinfo=None), properties.modified.replace(tzinfo=None)} == {midnight}
    assert (properties.last_modified_by, properties.comments, properties.keywords) == (page.author, "", "")
    assert b"python" not in zipfile.ZipFile(io.BytesIO(rendered)).read("docProps/core.xml").lower()
    entries = zipfile.ZipFile(io.BytesIO(rendered)).infolist()
    assert {entry.date_time for entry in entries} == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize(("paper", "size"), [("letter", (8.5, 11.0)), ("a4", (210 / 25.4, 297 / 25.4))])
def test_paper_and_margins(page, paper, size):
    section = _opened(to_docx.render(parse("a"), replace(page, paper=paper), {})).sections[0]
    # Check: Letter is 8.5 by 11 inches, A4 is 210 by 297 mm (ISO 216)
    assert (section.page_width.inches, section.page_height.inches) == pytest.approx(size, abs=0.005)
    assert section.left_margin.pt == section.right_margin.pt == REGULAR.margin_side
    assert (section.top_margin.pt, section.bottom_margin.pt) == (REGULAR.margin_top, REGULAR.margin_bottom)


# styles

_STYLES = [
    "Title",
    "Heading 1",
    "Heading 2",
    "Heading 3",
    "Normal",
    "List Bullet",
    "List Number",
    "Caption",
    "Header",
    "Footer",
    "Callout",
    "Record Table",
    "Gap",
]


@of_each("name", _STYLES)
def test_the_real_styles_are_there_and_their_ids_are_found(rendered, name):
    assert _opened(rendered).styles[name].name == name


def test_every_style_states_its_language_and_the_defaults_too(page):
    file = to_docx.render(parse("a"), replace(page, lang="fr-CA"), {})
    styles = _part(file, "word/styles.xml")
    roots = [styles.find("w:docDefaults/w:rPrDefault", _NS), *styles.iterfind("w:style", _NS)]
    assert len(roots) > 15
    for root in roots:
        lang = root.find("w:rPr/w:lang", _NS)
        assert {lang.get(_q(f"w:{script}")) for script in ("val", "eastAsia", "bidi")} == {"fr-CA"}


def test_no_theme_font_anywhere_and_arial_for_every_script(rendered):
    archive = zipfile.ZipFile(io.BytesIO(rendered))
    assert not any(b"Theme" in archive.read(name) for name in archive.namelist() if name.endswith(".xml"))
    fonts = list(_part(rendered, "word/styles.xml").iter(_q("w:rFonts")))
    for font in fonts:
        assert set(font.attrib) == {_q(f"w:{use}") for use in ("ascii", "hAnsi", "eastAsia", "cs")}
        assert set(font.attrib.values()) == {"Arial"}
    assert len(fonts) > 15


def test_paragraph_styles_keep_together_what_belongs_together(rendered):
    styles = _opened(rendered).styles
    for name in ("Heading 1", "Heading 2", "Heading 3", "Caption"):
        assert styles[name].paragraph_format.keep_with_next
    for style in styles:
        if style.type == WD_STYLE_TYPE.PARAGRAPH:
            assert style.paragraph_format.widow_control


def test_every_style_used_is_defined(rendered):
    known = set(_values(_part(rendered, "word/styles.xml"), "w:style", "w:styleId"))
    body = _part(rendered, "word/document.xml")
    used = {value for mark in ("w:pStyle", "w:rStyle", "w:tblStyle") for value in _values(body, f".//{mark}")}
    assert used <= known
    assert {"Heading1", "Heading2", "ListBullet", "ListNumber", "Caption", "Gap", "RecordTable"} <= used


# order of properties, ECMA-376 part 1, annex A (from memory)
_ORDERS = {
    "w:pPr": "pStyle keepNext keepLines pageBreakBefore widowControl numPr pBdr shd tabs spacing ind "
    "contextualSpacing jc outlineLvl",
    "w:rPr": "rStyle rFonts b bCs i iCs color sz szCs u shd lang",
    "w:tblPr": "tblStyle tblW jc tblInd tblBorders shd tblLayout tblCellMar tblLook tblCaption",
    "w:tcPr": "tcW gridSpan tcBorders shd tcMar vAlign",
    "w:tblBorders": "top left bottom right insideH insideV",
    "w:tcBorders": "top left bottom right",
}


@of_each("holder", _ORDERS)
def test_properties_stand_in_the_order_of_the_schema(rendered, holder):
    order = [_q(f"w:{name}") for name in _ORDERS[holder].split()]
    n_seen = 0
    for name in ("document", "styles", "numbering", "header1", "footer1"):
        for element in _part(rendered, f"word/{name}.xml").iter(_q(holder)):
            places = [order.index(child.tag) for child in element]
            assert places == sorted(set(places))
            n_seen += 1
    assert n_seen


# furniture


def test_head_and_foot(page):
    section = _opened(to_docx.render(parse("a"), page, {})).sections[0]
    head = section.header.paragraphs
    assert head[0].text == "Robin Example, letter\tNovember 25, 2026"
    assert head[1].text == "Draft: 3 gaps open"
    assert all(run.bold for run in head[1].runs)
    foot = section.footer.paragraphs[0]
    assert foot.text.strip() == "Page 1 of 1"
    codes = [element.text.strip() for element in foot._p.iter(_q("w:instrText"))]
    assert codes == ["PAGE", "NUMPAGES"]
    marks = _values(foot._p, ".//w:fldChar", "w:fldCharType")
    assert marks == ["begin", "separate", "end"] * 2


def test_without_a_status_the_head_has_one_line(page):
    section = _opened(to_docx.render(parse("a"), replace(page, status=""), {})).sections[0]
    assert len(section.header.paragraphs) == 1


def test_the_words_of_the_renderer_can_be_replaced(page, scenes):
    labels = Labels(
        date="Datum",
        page="Seite",
        of="von",
        figure="Abbildung",
        months=("x",) * 10 + ("November", "x"),
        day_form="{day}. {month} {year}",
    )
    document = parse("![a](fig:pads)\n\n![b](sign:)")
    file = to_docx.render(document, replace(page, dated_on=date(2026, 11, 5)), scenes, labels=labels)
    words = _words(_part(file, "word/document.xml"))
    assert words == "Abbildung 1. abDatum"
    section = _opened(file).sections[0]
    assert section.footer.paragraphs[0].text.strip() == "Seite 1 von 1"
    assert section.header.paragraphs[0].text.endswith("\t5. November 2026")


# blocks


@of_each("level", range(1, 7))
def test_a_heading_is_a_real_heading(page, level):
    paragraph = _opened(to_docx.render(parse("#" * level + " a"), page, {})).paragraphs[0]
    assert paragraph.style.name == f"Heading {level}"
    assert _values(paragraph.style.element, "w:pPr/w:outlineLvl") == [str(level - 1)]


def test_each_numbered_list_counts_from_its_own_start(page):
    file = to_docx.render(parse("1. a\n2. b\n   1. c\n\nx\n\n1. d\n\ny\n\n7. e"), page, {})
    body, numbering = _part(file, "word/document.xml"), _part(file, "word/numbering.xml")
    used = {}
    for paragraph in body.iter(_q("w:p")):
        if (number := paragraph.find("w:pPr/w:numPr", _NS)) is not None:
            level, id = _values(number, "w:ilvl")[0], _values(number, "w:numId")[0]
            used[_words(paragraph)] = (id, level)
    assert used["a"] == used["b"]
    assert len({used[letter][0] for letter in "acde"}) == 4
    assert used["c"][1] == "1"
    for letter, start in (("a", "1"), ("c", "1"), ("d", "1"), ("e", "7")):
        number = numbering.find(f"w:num[@w:numId='{used[letter][0]}']".replace("w:numId", _q("w:numId")), _NS)
        override = number.find("w:lvlOverride", _NS)
        assert override.get(_q("w:ilvl")) == used[letter][1]
        assert _values(override, "w:startOverride") == [start]


def test_bullets_share_one_list_and_differ_by_level(page):
    body = _body("- a\n  - b\n    - c\n\nx\n\n- d", page)
    numbers = [(_values(n, "w:ilvl")[0], _values(n, "w:numId")[0]) for n in body.iterfind(".//w:numPr", _NS)]
    assert numbers == [("0", "1"), ("1", "1"), ("2", "1"), ("0", "1")]


def test_lists_nest_as_deep_as_the_format_knows_and_no_deeper(page):
    body = _body("\n".join("  " * depth + "- a" for depth in range(9)), page)
    assert max(int(level) for level in _values(body, ".//w:ilvl")) == 8
    with pytest.raises(DialectError):
        _body("\n".join("  " * depth + "- a" for depth in range(12)), page)


def test_tick_boxes_can_be_ticked_and_show_a_ballot_box(page):
    body = _body("- [ ] open\n- [x] done", page)
    boxes = list(body.iter(_q("w:sdt")))
    assert [_words(box) for box in boxes] == ["\u2610", "\u2611"]
    assert [_values(box, ".//w14:checked", "w14:val") for box in boxes] == [["0"], ["1"]]
    assert len(set(_values(body, ".//w:sdtPr/w:id"))) == 2


def test_a_table_repeats_its_head_and_splits_no_short_row(page):
    body = _body("Table: t\n\n| a | b |\n|--|--:|\n" + "| c | 1 |\n" * 30, page)
    rows = list(body.iter(_q("w:tr")))
    assert [row.find("w:trPr/w:tblHeader", _NS) is not None for row in rows] == [True] + [False] * 30
    assert all(row.find("w:trPr/w:cantSplit", _NS) is not None for row in rows)
    assert _values(body, ".//w:tblCaption") == ["t"]
    assert _values(body, ".//w:tblLook", "w:firstRow") == ["1"]
    kept = [row.find(".//w:keepNext", _NS) is not None for row in rows]
    assert kept == [True] + [False] * 28 + [True, False]


def test_a_short_table_stays_whole_and_a_long_cell_may_split(page):
    body = _body("| a |\n|--|\n| b |\n| " + "long " * 200 + "|", page)
    rows = list(body.iter(_q("w:tr")))
    assert [row.find(".//w:keepNext", _NS) is not None for row in rows] == [True, True, False]
    assert rows[2].find("w:trPr/w:cantSplit", _NS) is None


def test_columns_follow_their_content_and_fit_the_line(page):
    body = _body("| a | b |\n|:-:|--:|\n| x | " + "word " * 100 + "|", page)
    widths = [int(width) for width in _values(body, ".//w:gridCol", "w:w")]
    assert sum(widths) <= (612 - 2 * REGULAR.margin_side) * 20 + 2
    assert widths[1] > 5 * widths[0]
    assert _values(body, ".//w:tcW", "w:w") == [str(width) for width in widths] * 2
    assert _values(body, ".//w:jc") == ["center", "right"] * 2


@pytest.mark.parametrize(
    ("markdown", "field", "words"),
    [
        ("Table: t\n\n| a |\n|--|", "SEQ Table \\* ARABIC", "Table 1. t"),
        ("![c *d*](fig:pads)", "SEQ Figure \\* ARABIC", "Figure 1. c d"),
    ],
)
def test_a_caption_is_a_caption_with_a_number_field(page, scenes, markdown, field, words):
    document = _opened(to_docx.render(parse(markdown), page, scenes))
    (caption,) = [paragraph for paragraph in document.paragraphs if paragraph.style.name == "Caption"]
    assert caption.text == words
    assert [code.text.strip() for code in caption._p.iter(_q("w:instrText"))] == [field]


def test_figures_have_words_for_those_who_cannot_see_them_and_ids_of_their_own(page, scenes):
    markdown = "![a](fig:pads)\n\n- [ ] tick\n\n![](fig:pads)\n\n# There\n\n[x](#there)"
    file = to_docx.render(parse(markdown), page, scenes)
    body = _part(file, "word/document.xml")
    pictures = list(body.iter(_q("wp:docPr")))
    assert [picture.get("descr") for picture in pictures] == [scenes["pads"].alt] * 2
    ids = [picture.get("id") for picture in pictures] + _values(body, ".//w:bookmarkStart", "w:id")
    assert len(set(ids)) == len(ids) == 3
    # the same drawing is stored once
    assert sum(name.endswith(".png") for name in zipfile.ZipFile(io.BytesIO(file)).namelist()) == 1
    shape = _opened(file).inline_shapes[0]
    assert (shape.width.pt, shape.height.pt) == pytest.approx((420, 140))


@pytest.mark.parametrize(("factor_w", "factor_h"), [(3, 1), (1, 20), (0.1, 0.1)])
def test_a_figure_too_large_for_the_page_shrinks_and_keeps_its_shape(page, scenes, factor_w, factor_h):
    scene = replace(scenes["pads"], w=420 * factor_w, h=140 * factor_h, shapes=())
    shape = _opened(to_docx.render(parse("![](fig:x)"), page, {"x": scene})).inline_shapes[0]
    # Letter paper, 612 by 792 points
    assert shape.width.pt <= 612 - 2 * REGULAR.margin_side + 0.001
    assert shape.height.pt <= 792 - REGULAR.margin_top - REGULAR.margin_bottom
    assert shape.width / shape.height == pytest.approx(scene.w / scene.h, rel=1e-3)
    if factor_w < 1:
        assert shape.width.pt == pytest.approx(42)


@pytest.mark.parametrize("tone", ["note", "important", "warning", "caution"])
def test_a_call_out_is_a_box_with_the_bar_of_its_tone(page, tone):
    body = _body(f"> [!{tone.upper()}]\n> a", page)
    (table,) = body.findall("w:tbl", _NS)
    assert int(_values(table, ".//w:tcBorders/w:left", "w:sz")[0]) == 8 * REGULAR.callout_bar[tone]
    assert _values(table, ".//w:tcPr/w:shd", "w:fill") == ["F2F2F2"]
    assert _values(table, ".//w:tblCaption") == [tone.capitalize()]
    assert table.find(".//w:cantSplit", _NS) is not None


def test_a_long_call_out_may_run_over_the_page(page):
    assert _body("> " + "word " * 400, page).find(".//w:cantSplit", _NS) is None


def test_every_cell_ends_with_a_paragraph_and_tables_never_touch(rendered):
    body = _part(rendered, "word/document.xml").find("w:body", _NS)
    for cell in body.iter(_q("w:tc")):
        assert list(cell)[-1].tag == _q("w:p")
    for holder in (body, *body.iter(_q("w:tc"))):
        tags = [child.tag for child in holder]
        assert (_q("w:tbl"), _q("w:tbl")) not in list(zip(tags, tags[1:], strict=False))


def test_a_signature_is_one_row_that_stays_with_the_words_before_it(page):
    body = _body("Sincerely,\n\n![Ada Sample](sign:)", page)
    words, above, table, *_ = body
    assert words.find("w:pPr/w:keepNext", _NS) is not None
    assert above.find("w:pPr/w:keepNext", _NS) is not None
    assert [_words(cell) for cell in table.iter(_q("w:tc"))] == ["Ada Sample", "", "Date"]
    assert len(_values(table, ".//w:tcBorders/w:top", "w:sz")) == 2
    assert table.find(".//w:cantSplit", _NS) is not None


def test_a_page_break_and_a_rule(page):
    body = _body("a\n\n![](page:break)\n\n---\n\nb", page)
    assert body.find(".//w:pageBreakBefore", _NS) is not None
    assert body.find(".//w:pBdr/w:bottom", _NS) is not None


# words of a line


def test_a_gap_is_marked_and_a_fact_is_plain(page):
    body = _body("[32 of 38](fact:a) [not recorded: weight](gap:b) **c** *d*", page)
    runs = list(body.iter(_q("w:r")))
    marks = [(_words(run), [child.tag for child in run.iterfind("w:rPr/*", _NS)]) for run in runs]
    assert marks[0] == ("32 of 38", [])
    assert marks[2] == ("not recorded: weight", [_q("w:rStyle")])
    assert marks[4] == ("c", [_q("w:b"), _q("w:bCs")])
    assert marks[6] == ("d", [_q("w:i"), _q("w:iCs")])
    assert _values(body, ".//w:rStyle") == ["Gap"]


def test_links_lead_outside_or_to_a_heading(page):
    markdown = "[a](https://example.org/?b=1&c=2) [d](#far-away) [e](#nowhere)\n\n# Far away"
    file = to_docx.render(parse(markdown), page, {})
    body = _part(file, "word/document.xml")
    outside, inside = body.iter(_q("w:hyperlink"))
    relations = _part(file, "word/_rels/document.xml.rels")
    targets = {relation.get("Id"): relation.get("Target") for relation in relations}
    assert targets[outside.get(_q("r:id"))] == "https://example.org/?b=1&c=2"
    assert inside.get(_q("w:anchor")) == _values(body, ".//w:bookmarkStart", "w:name")[0]
    assert _words(body) == "a d eFar away"


@pytest.mark.parametrize("target", ["javascript:alert(1)", "file:///x", "data:text/html,x", "other.html"])
def test_a_target_that_is_no_address_is_only_words(page, target):
    link = Node("link", attrs={"target": target}, children=[Node("text", text="a")])
    body = _body(Node("document", children=[Node("paragraph", children=[link])]), page)
    assert body.find(".//w:hyperlink", _NS) is None
    assert _words(body) == "a"


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
    body = _body(Node("document", children=[paragraph]), page)
    assert [child.tag for child in body.find(".//w:r", _NS)] == [
        _q(f"w:{name}") for name in ("t", "tab", "t", "br", "t")
    ]


@settings(max_examples=60, deadline=None)
@given(any_text())
@example("\r")
@example(HOSTILE)
def test_any_text_survives_in_every_place(page, text):
    document = _opened(to_docx.render(_in_every_place(text), page, {}))
    seen = []
    for block in document.iter_inner_content():
        seen += [block.cell(0, 0).text] if isinstance(block, Table) else [block.text]
    assert [words for words in seen if words] == [text] * 5


@settings(max_examples=25, deadline=None)
@given(any_text())
@example(HOSTILE)
def test_any_text_survives_in_head_and_properties(page, text):
    changed = replace(page, running_head=text, status=text, title=text)
    document = _opened(to_docx.render(parse("a"), changed, {}))
    head = document.sections[0].header.paragraphs
    assert head[0].text == f"{text}\tNovember 25, 2026"
    assert head[1].text == text
    assert document.core_properties.title == text


def test_a_title_longer_than_a_property_may_be_is_cut(page):
    document = _opened(to_docx.render(parse("a"), replace(page, title="t" * 300), {}))
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


RULE = r'w:styleId="(\w+)">(?:(?!</w:style>).)*?w:lineRule="(\w+)"'


def test_lines_of_a_close_record_stand_exactly_so_and_a_paragraph_that_may_hold_a_drawing_does_not():
    """An exact height would cut a drawing off; a drawing stands in a paragraph of the style Normal."""
    styles = styles_xml(RECORD, "en-US", 500.0)
    rules = dict(re.findall(RULE, styles))
    assert {name for name, rule in rules.items() if rule == "exact"} == {
        "ListBullet",
        "ListNumber",
        "TableText",
        "TableHeading",
        "Spacer",
    }
    assert rules["Normal"] == "atLeast"
    loose = dict(re.findall(RULE, styles_xml(COMPACT, "en-US", 500.0)))
    assert {name for name, rule in loose.items() if rule == "exact"} == {"Spacer"}
