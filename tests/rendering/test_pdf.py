"""The PDF: its words, its structure, its links and its metadata, read back by libraries that did not write it."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFPage
from tagged import Tagged

from docgen.figures.scene import Scene, Text
from docgen.rendering.fonts import MissingGlyphError, coverage, printed
from docgen.rendering.formats.to_pdf import render, render_with_pages
from docgen.rendering.labels import Labels
from docgen.rendering.numbering import numbered
from docgen.rendering.tree import BLOCKS, Node, parse


@pytest.fixture(scope="module")
def file(every_kind_once, page, scenes):
    return render(every_kind_once, page, scenes)


@pytest.fixture(scope="module")
def tagged(file):
    return Tagged(file)


def _text(words):
    return Node("text", text=words)


def _document(*blocks):
    return Node("document", children=list(blocks))


def _paragraph(words):
    return Node("paragraph", children=[_text(words)])


def _words(document, scenes):
    """Every word on the pages, in order, list marks and the words of drawings too."""
    numbers, words = numbered(document), []

    def visit(node):
        number = numbers.get(id(node))
        if node.kind in ("heading", "paragraph", "cell"):
            words.extend(node.plain().split())
        elif node.kind == "figure":
            for shape in scenes[node.name].shapes:
                words.extend(shape.text.split() if isinstance(shape, Text) else [])
            words.extend(f"{number}. {node.plain()}".split() if number else [])
        elif node.kind == "signature":
            words.extend([*node.plain().split(), "Date"])
        elif node.kind == "list":
            for at, item in enumerate(node.children, node.start):
                words.extend([] if item.checked is not None else [f"{at}." if node.ordered else "\u2022"])
                visit(item)
        else:
            words.extend(f"{number}. {node.caption}".split() if node.kind == "table" and number else [])
            for child in node.children:
                visit(child)

    visit(document)
    return words


def test_the_words_read_by_another_library_are_those_of_the_tree_in_order(
    file, every_kind_once, page, scenes
):
    words = []
    with pypdfium2.PdfDocument(file) as document:
        n_pages = len(document)
        for at in range(n_pages):
            text = document[at].get_textpage().get_text_bounded()
            for furniture in (
                page.running_head,
                page.status,
                "25 November 2026",
                f"Page {at + 1} of {n_pages}",
            ):
                assert text.count(furniture) == 1
                text = text.replace(furniture, "")
            words += text.split()
    assert words == _words(every_kind_once, scenes)


def test_the_words_of_the_structure_are_those_of_the_tree_in_order(tagged, every_kind_once, scenes):
    assert re.sub(r"\s", "", tagged.text()) == "".join(_words(every_kind_once, scenes))


def test_a_document_uses_every_kind_of_block(every_kind_once):
    assert {node.kind for node in every_kind_once.walk()} >= BLOCKS


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
            assert [cell.tag for cell in row.parts()] == ["TH" if row_node.header else "TD"] * len(
                row_node.children
            )
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


def test_a_link_broken_over_two_lines_has_an_area_on_each(page):
    link = Node("link", attrs={"target": "https://example.org"}, children=[_text("word " * 30)])
    tagged = Tagged(
        render(_document(Node("paragraph", children=[_text("See "), link, _text(" now.")])), page, {})
    )
    (part,) = tagged.root.all("Link")
    assert part.n_links == 2
    assert tagged.root.all("P")[0].text() == "See " + "word " * 30 + "now."


@pytest.mark.parametrize("target", ["#nowhere", "javascript:alert(1)", "file:///etc/passwd"])
def test_a_target_that_leads_nowhere_leaves_its_words_only(target, page):
    link = Node("link", attrs={"target": target}, children=[_text("here")])
    tagged = Tagged(render(_document(Node("paragraph", children=[link])), page, {}))
    assert tagged.text() == "here" and not tagged.root.all("Link")
    assert target.encode() not in tagged.pdf.Root.to_json()


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
    with pikepdf.open(io.BytesIO(render(_document(_paragraph("x")), page, {}))) as pdf:
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
    with pypdfium2.PdfDocument(file) as document:
        found = [(mark.level, mark.get_title(), mark.get_dest().get_index()) for mark in document.get_toc()]
    assert found == [
        (0, "Request for a proportional joystick and two switches", 0),
        (1, "What was tried", 0),
        (1, "How to set it up", 1),
        (2, "Every morning", 1),
        (1, "After the page break", 3),
    ]


def test_an_outline_stays_whole_when_a_document_skips_levels(page):
    blocks = [
        Node("heading", attrs={"level": level}, children=[_text(f"h{at} \u0394")])
        for at, level in enumerate([3, 1, 3, 2, 3])
    ]
    with pypdfium2.PdfDocument(render(_document(*blocks), page, {})) as document:
        found = [(mark.level, mark.get_title()) for mark in document.get_toc()]
    assert found == [(0, "h0 \u0394"), (0, "h1 \u0394"), (1, "h2 \u0394"), (1, "h3 \u0394"), (2, "h4 \u0394")]


def test_each_heading_is_told_with_its_page(every_kind_once, page, scenes):
    file, pages = render_with_pages(every_kind_once, page, scenes)
    assert file == render(every_kind_once, page, scenes)
    tagged = Tagged(file)
    headings = [part for part in tagged.root.walk() if re.fullmatch("H[1-6]", part.tag)]
    assert len(headings) == len(pages) == 6
    assert {part.text(): min(part.pages()) + 1 for part in headings} == pages


def test_every_face_used_is_embedded_and_no_other_is_named(file):
    with pikepdf.open(io.BytesIO(file)) as pdf:
        fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
        names = {str(font.BaseFont).partition("+")[2] for font in fonts}
        assert names == {"Arimo-Regular", "Arimo-Bold", "Arimo-Italic", "Arimo-BoldItalic"}
        programs = {str(font.BaseFont): font.FontDescriptor.FontFile2.read_bytes() for font in fonts}
    assert len(set(programs.values())) == 4


def _ink(node, page):
    """How much ink a paragraph of the node puts on its page."""
    file = render(_document(Node("paragraph", children=[node])), replace(page, status=""), {})
    with pypdfium2.PdfDocument(file) as document:
        grey = document[0].render(scale=2, grayscale=True).to_pil().crop((0, 120, 1224, 200))
    return sum(255 - value for value in grey.tobytes())


def test_strong_words_and_gaps_are_bold_and_a_gap_has_a_ground(page):
    plain = _ink(_text("minimum"), page)
    strong = _ink(Node("strong", children=[_text("minimum")]), page)
    gap = _ink(Node("gap", attrs={"name": "a.b"}, children=[_text("minimum")]), page)
    assert strong > 1.25 * plain
    assert gap > 1.3 * strong


_CHARACTERS = st.sampled_from(sorted(coverage() - {"\u2028"})) | st.sampled_from(
    list(" \t\n\u00ad\u200b<>&*_|#()\\%/")
)
_HOSTILE = st.text(_CHARACTERS, min_size=1, max_size=60) | st.sampled_from(
    [
        "<b>&amp;</b>",
        "1. no list",
        "# no heading",
        "a\\b(c)",
        "%PDF-1.7",
        "endstream endobj",
        "EMC /P BDC",
        "W" * 300,
        "\\377\\(",
        "a\u00a0b\u202fc",
        "\u0301 accent first",
        "x\u0323\u0302\u0301",
        "-" * 200,
        "a/" * 150,
    ]
)
_PLACES = {
    "paragraph": ("P", lambda t: Node("paragraph", children=t)),
    "heading": ("H2", lambda t: Node("heading", attrs={"level": 2}, children=t)),
    "item": (
        "P",
        lambda t: Node(
            "list",
            attrs={"ordered": False, "start": 1},
            children=[Node("item", attrs={"checked": None}, children=[Node("paragraph", children=t)])],
        ),
    ),
    "callout": (
        "P",
        lambda t: Node("callout", attrs={"tone": "caution"}, children=[Node("paragraph", children=t)]),
    ),
    "cell": (
        "TD",
        lambda t: Node(
            "table",
            attrs={"caption": "", "aligns": ("right", "left")},
            children=[
                Node(
                    "row",
                    attrs={"header": False},
                    children=[Node("cell", children=t), Node("cell", children=[_text("beside " * 20)])],
                )
            ],
        ),
    ),
    "signature": ("P", lambda t: Node("signature", children=t)),
}


@settings(max_examples=25, deadline=None)
@given(texts=st.lists(_HOSTILE, min_size=1, max_size=3))
@pytest.mark.parametrize("place", _PLACES)
def test_any_text_survives_in_any_place(place, texts, page):
    kinds = ["text", "strong", "gap"]
    nodes = [
        _text(words) if kind == "text" else Node(kind, attrs={"name": "k"}, children=[_text(words)])
        for kind, words in zip(kinds, texts, strict=False)
    ]
    tag, build = _PLACES[place]
    tagged = Tagged(render(_document(build(nodes)), page, {}))
    # the library writes a no-break space as a space of the same width
    expected = re.sub("[ \u00a0]+", " ", "".join(map(printed, texts))).strip()
    shown = tagged.root.all(tag)[0].text() if tagged.root.all(tag) else ""
    assert re.sub(" +", " ", shown).strip() == expected


@settings(max_examples=40, deadline=None)
@given(words=st.text(max_size=30))
def test_text_is_printed_whole_or_refused(words, page):
    document = _document(_paragraph(words))
    if set(printed(words)) <= coverage():
        assert re.sub("\\s", "", Tagged(render(document, page, {})).text()) == re.sub(
            "\\s", "", printed(words)
        )
    else:
        with pytest.raises(MissingGlyphError):
            render(document, page, {})


@pytest.mark.parametrize("change", ["running_head", "status"])
def test_a_character_the_typeface_lacks_is_refused_in_the_head_too(change, page):
    with pytest.raises(MissingGlyphError, match="SNOWMAN"):
        render(_document(), replace(page, **{change: "\u2603"}), {})


def test_a_character_the_typeface_lacks_is_refused_in_a_drawing(page):
    scenes = {"a": Scene(50, 50, "alt", (Text(1, 9, "\u2603"),))}
    with pytest.raises(MissingGlyphError, match="U\\+2603 SNOWMAN"):
        render(_document(Node("figure", attrs={"name": "a"})), page, scenes)


@pytest.mark.parametrize(
    "markdown, said",
    [
        ("![Plan](fig:plan)", "no drawing is named 'plan'"),
        ("- ![](page:break)", "a page break cannot stand in a list or a call-out"),
    ],
)
def test_what_cannot_be_drawn_is_refused(markdown, said, page):
    with pytest.raises(ValueError, match=said):
        render(parse(markdown), page, {})


@pytest.mark.parametrize(
    "document",
    [
        _document(Node("poem")),
        _document(Node("text", text="x")),
        _document(Node("paragraph", children=[Node("poem")])),
    ],
    ids=["block", "inline among blocks", "inline"],
)
def test_an_unknown_kind_of_node_is_refused(document, page):
    with pytest.raises(ValueError, match="a (poem|text) node cannot stand"):
        render(document, page, {})


def test_labels_replace_every_word_of_the_renderer(every_kind_once, page, scenes):
    labels = Labels(
        date="Datum",
        page="Seite",
        of="von",
        figure="Bild",
        table="Tafel",
        months=("Elfter",) * 12,
        day_form="{day}. {month} {year}",
        note="Hinweis",
    )
    tagged = Tagged(render(every_kind_once, page, scenes, labels=labels))
    assert [part.text().split(".")[0] for part in tagged.root.all("Caption")] == ["Tafel 1", "Bild 1"]
    assert tagged.root.all("P")[-1].text() == "Datum"
    assert str(tagged.root.all("Sect")[0].entries.T) == "Hinweis"
    assert tagged.furniture(0, "Footer") == "Seite 1 von 4"
    assert "25. Elfter 2026" in tagged.furniture(0, "Header")


_SCRIPT = """
import hashlib, sys
sys.path[:0] = sys.argv[1:]
from conftest import PAGE, SCENES, _EVERY_KIND
from docgen.rendering.formats.to_pdf import render
from docgen.rendering.tree import parse
print(hashlib.sha256(render(parse(_EVERY_KIND), PAGE, SCENES)).hexdigest())
"""


def test_the_same_input_gives_the_same_bytes_alone_or_after_others_in_every_process(
    file, every_kind, page, scenes
):
    render(_document(_paragraph("Something else \u0416 first")), page, {})
    assert render(every_kind, page, scenes) == file
    here = Path(__file__).parent
    for seed in ("1", "77"):
        done = subprocess.run(
            [sys.executable, "-c", _SCRIPT, str(here), str(here.parents[1])],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": "Asia/Tokyo"},
        )
        assert done.stdout.strip() == hashlib.sha256(file).hexdigest()


def test_rendering_leaves_the_tree_and_the_library_as_they_were(every_kind, every_kind_once, page, scenes):
    before = rl_config.useA85, list(PDFPage.__NoDefault__)
    render(every_kind, page, scenes)
    assert every_kind == every_kind_once
    assert (rl_config.useA85, PDFPage.__NoDefault__) == before
    assert "StructParents" not in PDFPage.__NoDefault__
