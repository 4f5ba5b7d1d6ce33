"""The PDF's words: all of them, in order, verbatim, in the right face; what it cannot print it refuses."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFPage
from tagged import Tagged
from trees import BLOCKS, document, paragraph, text

from docgen.rendering.fonts import coverage, missing_glyphs, printable, printed
from docgen.rendering.formats.to_pdf import render
from docgen.rendering.labels import Labels
from docgen.rendering.numbering import numbered
from docgen.rendering.style import LARGE, REGULAR
from docgen.rendering.tree import Node, parse
from docgen.scene import Scene, Text


@pytest.fixture(scope="module")
def file(every_kind_once, page, scenes):
    return render(every_kind_once, page, scenes)


@pytest.fixture(scope="module")
def tagged(file):
    return Tagged(file)


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


def test_the_words_read_by_another_library_are_those_of_the_tree_in_order(file, every_kind_once, page, scenes):
    words = []
    with pypdfium2.PdfDocument(file) as pdf:
        n_pages = len(pdf)
        for at in range(n_pages):
            shown = pdf[at].get_textpage().get_text_bounded()
            for furniture in (
                page.running_head,
                page.status,
                "November 25, 2026",
                f"Page {at + 1} of {n_pages}",
            ):
                assert shown.count(furniture) == 1
                shown = shown.replace(furniture, "")
            words += shown.split()
    assert words == _words(every_kind_once, scenes)


def test_the_words_of_the_structure_are_those_of_the_tree_in_order(tagged, every_kind_once, scenes):
    assert re.sub(r"\s", "", tagged.text()) == "".join(_words(every_kind_once, scenes))


def test_a_document_uses_every_kind_of_block(every_kind_once):
    assert {node.kind for node in every_kind_once.walk()} >= BLOCKS


def test_every_face_used_is_embedded_and_no_other_is_named(file):
    with pikepdf.open(io.BytesIO(file)) as pdf:
        fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
        names = {str(font.BaseFont).partition("+")[2] for font in fonts}
        assert names == {"Arimo-Regular", "Arimo-Bold", "Arimo-Italic", "Arimo-BoldItalic"}
        programs = {str(font.BaseFont): font.FontDescriptor.FontFile2.read_bytes() for font in fonts}
    assert len(set(programs.values())) == 4


def _ink(node, page):
    """How much ink a paragraph of the node puts on its page."""
    file = render(document(Node("paragraph", children=[node])), replace(page, status=""), {})
    with pypdfium2.PdfDocument(file) as pdf:
        grey = pdf[0].render(scale=2, grayscale=True).to_pil().crop((0, 120, 1224, 200))
    return sum(255 - value for value in grey.tobytes())


def test_strong_words_and_gaps_are_bold_and_a_gap_has_a_ground(page):
    plain = _ink(text("minimum"), page)
    strong = _ink(Node("strong", children=[text("minimum")]), page)
    gap = _ink(Node("gap", attrs={"name": "a.b"}, children=[text("minimum")]), page)
    assert strong > 1.25 * plain
    assert gap > 1.3 * strong


_CHARACTERS = st.sampled_from(sorted(coverage() - {"\u2028"})) | st.sampled_from(list(" \t\n\u00ad\u200b<>&*_|#()\\%/"))
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
                    attrs={"header": False, "role": ""},
                    children=[Node("cell", children=t), Node("cell", children=[text("beside " * 20)])],
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
    # two characters the faces hold may compose to one they lack, such as < and a stroke to U+226E
    assume(not any(map(missing_glyphs, texts)))
    kinds = ["text", "strong", "gap"]
    nodes = [
        text(words) if kind == "text" else Node(kind, attrs={"name": "k"}, children=[text(words)])
        for kind, words in zip(kinds, texts, strict=False)
    ]
    tag, build = _PLACES[place]
    tagged = Tagged(render(document(build(nodes)), page, {}))
    # the library writes a no-break space as a space of the same width
    expected = re.sub("[ \u00a0]+", " ", "".join(map(printed, texts))).strip()
    shown = tagged.root.all(tag)[0].text() if tagged.root.all(tag) else ""
    assert re.sub(" +", " ", shown).strip() == expected


@settings(max_examples=40, deadline=None)
@given(words=st.text(max_size=30))
def test_text_is_printed_whole_and_what_the_typeface_lacks_as_its_code_point(words, page):
    shown = Tagged(render(document(paragraph(words)), page, {})).text()
    assert re.sub("\\s", "", shown) == re.sub("\\s", "", printable(words))


@pytest.mark.parametrize("change", ["running_head", "status"])
def test_a_character_the_typeface_lacks_stands_as_its_code_point_in_the_head_too(change, page):
    with pypdfium2.PdfDocument(render(document(), replace(page, **{change: "a\u2603b"}), {})) as pdf:
        assert "a[U+2603]b" in pdf[0].get_textpage().get_text_range()


def test_a_character_the_typeface_lacks_stands_as_its_code_point_in_a_drawing(page):
    scenes = {"a": Scene(50, 50, "alt", (Text(1, 9, "a\u2603b"),))}
    with pypdfium2.PdfDocument(render(document(Node("figure", attrs={"name": "a"})), page, scenes)) as pdf:
        assert "a[U+2603]b" in pdf[0].get_textpage().get_text_range()


@pytest.mark.parametrize("style", [REGULAR, LARGE], ids=["regular", "large"])
@pytest.mark.parametrize("words", ["Words of a name " * 250, "w" * 4000], ids=["words", "one word"])
def test_words_to_sign_under_and_a_head_longer_than_a_page_are_printed_whole(words, style, page):
    tree = document(paragraph("before"), Node("signature", children=[Node("text", text=words)]), paragraph("after"))
    shown = Tagged(render(tree, replace(page, running_head=words), {}, style)).text()
    assert re.sub("\\s", "", shown).count(re.sub("\\s", "", words)) == 1 and "after" in shown


@pytest.mark.parametrize(
    "markdown, said",
    [
        ("![Plan](fig:plan)", "no drawing is named 'plan'"),
        ("- ![](page:break)", "a page break stands between blocks, not inside a list or a call-out"),
    ],
)
def test_what_cannot_be_drawn_is_refused(markdown, said, page):
    with pytest.raises(ValueError, match=said):
        render(parse(markdown), page, {})


@pytest.mark.parametrize(
    "document",
    [
        document(Node("poem")),
        document(Node("text", text="x")),
        document(Node("paragraph", children=[Node("poem")])),
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
    assert tagged.furniture(0, "Footer") == "Seite 1 von 3"
    assert "25. Elfter 2026" in tagged.furniture(0, "Header")


_SCRIPT = """
import hashlib, sys
sys.path[:0] = sys.argv[1:]
from conftest import PAGE, SCENES, _EVERY_KIND
from docgen.rendering.formats.to_pdf import render
from docgen.rendering.tree import parse
print(hashlib.sha256(render(parse(_EVERY_KIND), PAGE, SCENES)).hexdigest())
"""


def test_the_same_input_gives_the_same_bytes_alone_or_after_others_in_every_process(file, every_kind, page, scenes):
    render(document(paragraph("Something else \u0416 first")), page, {})
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


def test_rendering_leaves_the_tree_and_the_library_as_they_were(every_kind, every_kind_once, page, scenes, monkeypatch):
    monkeypatch.setattr(rl_config, "useA85", 1)
    before = list(PDFPage.__NoDefault__)
    render(every_kind, page, scenes)
    assert every_kind == every_kind_once
    assert rl_config.useA85 == 1
    assert PDFPage.__NoDefault__ == before and "StructParents" not in before
