"""The DOCX: read back with python-docx and as plain XML, its package, its styles and what stands round the text."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
import zipfile
from datetime import date, datetime, time

import pytest
from docx.enum.style import WD_STYLE_TYPE
from docx_read import PREFIXES, opened, part_of, qualified, values_of, words_of
from gathered import of_each
from msgspec.structs import replace

from docgen.rendering.docx.styles import styles_xml
from docgen.rendering.formats import to_docx
from docgen.rendering.labels import Labels
from docgen.rendering.style import COMPACT, RECORD, REGULAR
from docgen.rendering.tree import parse

# the package


def test_every_part_is_well_formed_and_named_in_the_content_types(docx_of_every_kind):
    archive = zipfile.ZipFile(io.BytesIO(docx_of_every_kind))
    assert archive.testzip() is None
    kinds = part_of(docx_of_every_kind, "[Content_Types].xml")
    named = {element.get("PartName") for element in kinds if element.get("PartName")}
    for name in archive.namelist():
        if name.endswith((".xml", ".rels")):
            ET.fromstring(archive.read(name))
        if name.endswith(".xml") and name != "[Content_Types].xml":
            assert f"/{name}" in named


def test_every_relation_leads_to_a_part_or_outside(docx_of_every_kind):
    archive = zipfile.ZipFile(io.BytesIO(docx_of_every_kind))
    body = archive.read("word/document.xml").decode()
    relations = part_of(docx_of_every_kind, "word/_rels/document.xml.rels")
    for relation in relations:
        outside = relation.get("TargetMode") == "External"
        assert outside or f"word/{relation.get('Target')}" in archive.namelist()
    used = set(re.findall(r'r:(?:id|embed)="(\w+)"', body))
    assert used <= {relation.get("Id") for relation in relations}


def test_core_properties_come_from_the_page_and_nothing_from_the_machine(docx_of_every_kind, page):
    properties = opened(docx_of_every_kind).core_properties
    assert (properties.title, properties.author, properties.language) == (page.title, page.author, page.lang)
    midnight = datetime.combine(page.dated_on, time())
    assert {properties.created.replace(tzinfo=None), properties.modified.replace(tzinfo=None)} == {midnight}
    assert (properties.last_modified_by, properties.comments, properties.keywords) == (page.author, "", "")
    assert b"python" not in zipfile.ZipFile(io.BytesIO(docx_of_every_kind)).read("docProps/core.xml").lower()
    entries = zipfile.ZipFile(io.BytesIO(docx_of_every_kind)).infolist()
    assert {entry.date_time for entry in entries} == {(1980, 1, 1, 0, 0, 0)}


@pytest.mark.parametrize(("paper", "size"), [("letter", (8.5, 11.0)), ("a4", (210 / 25.4, 297 / 25.4))])
def test_paper_and_margins(page, paper, size):
    section = opened(to_docx.render(parse("a"), replace(page, paper=paper), {})).sections[0]
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
def test_the_real_styles_are_there_and_their_ids_are_found(docx_of_every_kind, name):
    assert opened(docx_of_every_kind).styles[name].name == name


def test_every_style_states_its_language_and_the_defaults_too(page):
    file = to_docx.render(parse("a"), replace(page, lang="fr-CA"), {})
    styles = part_of(file, "word/styles.xml")
    roots = [styles.find("w:docDefaults/w:rPrDefault", PREFIXES), *styles.iterfind("w:style", PREFIXES)]
    assert len(roots) > 15
    for root in roots:
        lang = root.find("w:rPr/w:lang", PREFIXES)
        assert {lang.get(qualified(f"w:{script}")) for script in ("val", "eastAsia", "bidi")} == {"fr-CA"}


def test_no_theme_font_anywhere_and_arial_for_every_script(docx_of_every_kind):
    archive = zipfile.ZipFile(io.BytesIO(docx_of_every_kind))
    assert not any(b"Theme" in archive.read(name) for name in archive.namelist() if name.endswith(".xml"))
    fonts = list(part_of(docx_of_every_kind, "word/styles.xml").iter(qualified("w:rFonts")))
    for font in fonts:
        assert set(font.attrib) == {qualified(f"w:{use}") for use in ("ascii", "hAnsi", "eastAsia", "cs")}
        assert set(font.attrib.values()) == {"Arial"}
    assert len(fonts) > 15


def test_paragraph_styles_keep_together_what_belongs_together(docx_of_every_kind):
    styles = opened(docx_of_every_kind).styles
    for name in ("Heading 1", "Heading 2", "Heading 3", "Caption"):
        assert styles[name].paragraph_format.keep_with_next
    for style in styles:
        if style.type == WD_STYLE_TYPE.PARAGRAPH:
            assert style.paragraph_format.widow_control


def test_every_style_used_is_defined(docx_of_every_kind):
    known = set(values_of(part_of(docx_of_every_kind, "word/styles.xml"), "w:style", "w:styleId"))
    body = part_of(docx_of_every_kind, "word/document.xml")
    used = {value for mark in ("w:pStyle", "w:rStyle", "w:tblStyle") for value in values_of(body, f".//{mark}")}
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
def test_properties_stand_in_the_order_of_the_schema(docx_of_every_kind, holder):
    order = [qualified(f"w:{name}") for name in _ORDERS[holder].split()]
    n_seen = 0
    for name in ("document", "styles", "numbering", "header1", "footer1"):
        for element in part_of(docx_of_every_kind, f"word/{name}.xml").iter(qualified(holder)):
            places = [order.index(child.tag) for child in element]
            assert places == sorted(set(places))
            n_seen += 1
    assert n_seen


# furniture


def test_head_and_foot(page):
    section = opened(to_docx.render(parse("a"), page, {})).sections[0]
    head = section.header.paragraphs
    assert head[0].text == "Robin Example, letter\tNovember 25, 2026"
    assert head[1].text == "Draft: 3 gaps open"
    assert all(run.bold for run in head[1].runs)
    foot = section.footer.paragraphs[0]
    assert foot.text.strip() == "Page 1 of 1"
    codes = [element.text.strip() for element in foot._p.iter(qualified("w:instrText"))]
    assert codes == ["PAGE", "NUMPAGES"]
    marks = values_of(foot._p, ".//w:fldChar", "w:fldCharType")
    assert marks == ["begin", "separate", "end"] * 2


def test_without_a_status_the_head_has_one_line(page):
    section = opened(to_docx.render(parse("a"), replace(page, status=""), {})).sections[0]
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
    words = words_of(part_of(file, "word/document.xml"))
    assert words == "Abbildung 1. abDatum"
    section = opened(file).sections[0]
    assert section.footer.paragraphs[0].text.strip() == "Seite 1 von 1"
    assert section.header.paragraphs[0].text.endswith("\t5. November 2026")


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
        "Break",
    }
    assert rules["Normal"] == "atLeast"
    loose = dict(re.findall(RULE, styles_xml(COMPACT, "en-US", 500.0)))
    assert {name for name, rule in loose.items() if rule == "exact"} == {"Spacer", "Break"}
