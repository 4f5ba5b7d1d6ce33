"""The PDF for those who do not see it: structure, links, outline and metadata, read back by others."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET
from datetime import date

import pikepdf
import pypdfium2
import pytest
from msgspec.structs import replace
from PIL import Image
from tagged import Tagged
from trees import document, paragraph, text

from docgen.rendering.formats.to_pdf import render
from docgen.rendering.letterhead import Letterhead, Logo
from docgen.rendering.tree import Node


@pytest.fixture(scope="module")
def file(every_kind_once, page, scenes):
    return render(every_kind_once, page, scenes)


@pytest.fixture(scope="module")
def tagged(file):
    return Tagged(file)


def test_headings_are_in_order_with_their_levels(tagged, every_kind_once):
    expected = [(f"H{node.level}", node.plain()) for node in every_kind_once.walk() if node.kind == "heading"]
    found = [(part.tag, part.text()) for part in tagged.root.all("H1", "H2", "H3", "H4", "H5", "H6")]
    assert found == expected


def test_a_table_holds_its_caption_then_rows_of_cells_with_scoped_headers(tagged, every_kind_once):
    tables = [node for node in every_kind_once.walk() if node.kind == "table"]
    parts = tagged.root.all("Table")
    assert len(parts) == len(tables) == 3
    for node, part in zip(tables, parts, strict=True):
        rows = part.parts()
        if node.caption:
            assert rows.pop(0).tag == "Caption"
        assert [row.tag for row in rows] == ["TR"] * len(node.children)
        for row_node, row in zip(node.children, rows, strict=True):
            assert [cell.tag for cell in row.parts()] == ["TH" if row_node.header else "TD"] * len(row_node.children)
            assert [cell.text().strip() for cell in row.parts()] == [c.plain() for c in row_node.children]
            scopes = {cell.attribute("/Scope") for cell in row.parts()}
            assert scopes == ({"/Column"} if row_node.header else {None})


def test_a_list_holds_items_of_label_and_body(tagged):
    lists = tagged.root.all("L")
    assert {part.attribute("/ListNumbering") for part in lists} == {"/Disc", "/Decimal", "/None"}
    for part in lists:
        assert {item.tag for item in part.parts()} == {"LI"}
        assert all([kid.tag for kid in item.parts()] == ["Lbl", "LBody"] for item in part.parts())
    assert [part.text() for part in tagged.root.all("Lbl")][2:8] == [
        "1.",
        "2.",
        "\u2022",
        "\u2022",
        "1.",
        "2.",
    ]


def test_a_drawn_ballot_box_says_whether_it_is_ticked(tagged):
    boxes = [str(part.entries.ActualText) for part in tagged.root.all("Lbl") if "/ActualText" in part.entries]
    assert boxes == ["\u2610", "\u2611", "\u2610"]


def test_a_drawing_is_one_figure_with_its_words_and_its_box_and_the_caption_beside_it(tagged, scenes):
    (figure,) = tagged.root.all("Figure")
    assert str(figure.entries.Alt) == scenes["pads"].alt
    assert len(figure.kids) == 1
    left, bottom, right, top = map(float, figure.entries.A.BBox)
    assert (right - left, top - bottom) == pytest.approx((scenes["pads"].w, scenes["pads"].h), abs=0.02)
    assert 0 < left < right < 612 and 0 < bottom < top < 792
    (group,) = [part for part in tagged.root.all("Div") if figure in part.kids]
    assert [kid.tag for kid in group.parts()] == ["Figure", "Caption"]


def test_a_call_out_is_a_section_named_by_its_tone(tagged):
    assert [str(part.entries.T) for part in tagged.root.all("Sect")] == [
        "Note",
        "Important",
        "Warning",
        "Caution",
        "Note",
    ]


def test_links_stand_in_the_structure_and_lead_where_they_say(file, tagged):
    links = tagged.root.all("Link")
    assert [link.text().strip() for link in links] == [
        "what was tried",
        "the clinic",
        "the rule",
        "the supplier",
    ]
    assert all(link.n_links >= 1 for link in links)
    with pikepdf.open(io.BytesIO(file)) as pdf:
        areas = [area for page in pdf.pages for area in page.get("/Annots", [])]
        targets = {str(area.A.URI) for area in areas if "/A" in area}
        assert targets == {"mailto:clinic@example.org", "https://example.org/rule?a=1&b=2", "tel:+15550100"}
        (inner,) = [area for area in areas if "/Dest" in area]
        assert inner.Dest[0].objgen == pdf.pages[0].objgen
        assert str(inner.Contents) == "what was tried"
        for area in areas:
            left, bottom, right, top = map(float, area.Rect)
            assert left < right and bottom < top and int(area.F) & 4


def test_the_area_of_a_link_covers_its_words_and_no_others(file):
    found = []
    with pikepdf.open(io.BytesIO(file)) as pdf, pypdfium2.PdfDocument(file) as shown:
        for at, pdf_page in enumerate(pdf.pages):
            for area in pdf_page.get("/Annots", []):
                found.append(shown[at].get_textpage().get_text_bounded(*map(float, area.Rect)).strip())
    assert found == ["what was tried", "the clinic", "the rule", "the supplier"]


def test_a_link_broken_over_two_lines_has_an_area_on_each(page):
    link = Node("link", attrs={"target": "https://example.org"}, children=[text("word " * 30)])
    tagged = Tagged(render(document(Node("paragraph", children=[text("See "), link, text(" now.")])), page, {}))
    (part,) = tagged.root.all("Link")
    assert part.n_links == 2
    assert tagged.root.all("P")[0].text() == "See " + "word " * 30 + "now."


def test_a_link_broken_over_two_pages_is_one_element(page):
    link = Node("link", attrs={"target": "https://example.org"}, children=[text("word " * 900)])
    tagged = Tagged(render(document(paragraph("See ", link, " now.")), page, {}))
    (part,) = tagged.root.all("Link")
    assert part.pages() == {0, 1} and part.n_links > 40


@pytest.mark.parametrize("target", ["#nowhere", "javascript:alert(1)", "file:///etc/passwd"])
def test_a_target_that_leads_nowhere_leaves_its_words_only(target, page):
    link = Node("link", attrs={"target": target}, children=[text("here")])
    tagged = Tagged(render(document(Node("paragraph", children=[link])), page, {}))
    assert tagged.text() == "here" and not tagged.root.all("Link")
    assert "/Annots" not in tagged.pdf.pages[0] or not tagged.pdf.pages[0].Annots


@pytest.mark.parametrize(
    "title, author",
    [
        ("Plain", "Ada"),
        ("<b>&\"'</b> \u0141\u00f3d\u017a \u65e5\u672c", "A & B"),
        ("x", ""),
    ],
)
def test_metadata_are_the_pages_own(title, author, page):
    page = replace(page, title=title, author=author, dated_on=date(2024, 2, 29), lang="de-CH")
    with pikepdf.open(io.BytesIO(render(document(paragraph("x")), page, {}))) as pdf:
        assert str(pdf.docinfo.Title) == title and str(pdf.docinfo.Author) == author
        assert str(pdf.docinfo.CreationDate) == str(pdf.docinfo.ModDate) == "D:20240229000000Z"
        assert str(pdf.Root.Lang) == "de-CH"
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle) is True
        assert bool(pdf.Root.MarkInfo.Marked) is True
        xmp = ET.fromstring(pdf.Root.Metadata.read_bytes().decode().strip("\ufeff"))
        assert all(str(page.Tabs) == "/S" for page in pdf.pages)
    texts = [element.text for element in xmp.iter() if element.text]
    assert texts == ["1", title, *([author] if author else []), "de-CH"]


def test_the_outline_holds_headings_of_three_levels_and_their_pages(file, every_kind_once):
    with pypdfium2.PdfDocument(file) as pdf:
        found = [(mark.level, mark.get_title(), mark.get_dest().get_index()) for mark in pdf.get_toc()]
    assert found == [
        (0, "Request for a proportional joystick and two switches", 0),
        (1, "What was tried", 0),
        (1, "How to set it up", 1),
        (2, "Every morning", 1),
        (1, "After the page break", 2),
    ]


def test_an_outline_stays_whole_when_a_document_skips_levels(page):
    blocks = [
        Node("heading", attrs={"level": level}, children=[text(f"h{at} \u0394")])
        for at, level in enumerate([3, 1, 3, 2, 3])
    ]
    with pypdfium2.PdfDocument(render(document(*blocks), page, {})) as pdf:
        found = [(mark.level, mark.get_title()) for mark in pdf.get_toc()]
    assert found == [(0, "h0 \u0394"), (0, "h1 \u0394"), (1, "h2 \u0394"), (1, "h3 \u0394"), (2, "h4 \u0394")]


def test_a_letterhead_is_content_before_the_text_and_its_logo_a_described_figure(page):
    picture = io.BytesIO()
    Image.new("RGBA", (60, 20), (31, 78, 121, 128)).save(picture, "PNG")
    head = Letterhead(
        "Example Clinic", "12 Shoal Street, 555-0142", (0.1, 0.3, 0.5), Logo(picture.getvalue(), 60, 20, "A wheel")
    )
    tagged = Tagged(render(document(paragraph(text("First words."))), replace(page, letterhead=head), {}))
    assert [part.text() for part in tagged.root.all("P")] == [
        "Example Clinic",
        "12 Shoal Street, 555-0142",
        "First words.",
    ]
    (figure,) = tagged.root.all("Figure")
    assert str(figure.entries.Alt) == "A wheel" and figure.kids[0].n_painted == 1
