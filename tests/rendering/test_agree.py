"""The formats agree: read back, each gives the words of the tree in order, and the same bytes each time."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from pathlib import Path

import docx
import pytest
from msgspec.structs import replace
from read_back import reader_of

from docgen.rendering.formats import format_names, format_of, to_docx, to_html
from docgen.rendering.numbering import numbered
from docgen.rendering.tree import Node

FORMATS = format_names()


def _tree_words(document: Node, marks: bool = False) -> list[str]:
    """Every word a reader meets, in order; `marks` adds the numerals of numbered lists."""
    numbers, words = numbered(document), []

    def visit(node: Node, mark: str = "") -> None:
        number = numbers.get(id(node))
        words.extend([mark] if mark and marks else [])
        if node.kind in ("heading", "paragraph", "cell"):
            words.extend(node.plain().split())
        elif node.kind == "figure":
            words.extend(f"{number}. {node.plain()}".split() if number else [])
        elif node.kind == "signature":
            words.extend([*node.plain().split(), "Date"])
        elif node.kind == "list":
            for at, item in enumerate(node.children, node.start):
                visit(item, f"{at}." if node.ordered and item.checked is None else "")
        else:
            if node.kind == "table" and number:
                words.extend(f"{number}. {node.caption}".split())
            for child in node.children:
                visit(child)

    visit(document)
    return words


def _rendered(suffix, document, page, scenes):
    return format_of(suffix).render(document, page, scenes)


@pytest.fixture(scope="session")
def silent_scenes(scenes):
    """Drawings without words, which only the PDF and the HTML would hold as text."""
    return {name: replace(scene, shapes=()) for name, scene in scenes.items()}


@pytest.mark.parametrize("suffix", FORMATS)
def test_the_words_read_back_are_those_of_the_tree_in_order(suffix, every_kind_once, page, silent_scenes):
    file = _rendered(suffix, every_kind_once, page, silent_scenes)
    reader = reader_of(suffix)
    expected = _tree_words(every_kind_once, marks=getattr(reader, "NUMERALS", False))
    assert len(expected) > 200
    assert reader.words(file) == expected


def test_headings_and_levels_are_the_same_in_docx_and_html(every_kind_once, page, scenes):
    expected = [(node.level, node.plain()) for node in every_kind_once.walk() if node.kind == "heading"]
    document = docx.Document(io.BytesIO(to_docx.render(every_kind_once, page, scenes)))
    in_docx = [
        (int(paragraph.style.name[-1]), paragraph.text)
        for paragraph in document.paragraphs
        if paragraph.style.name.startswith("Heading")
    ]
    html = to_html.render(every_kind_once, page, scenes).decode()
    in_html = [
        (int(level), re.sub("<[^>]+>", "", words)) for level, words in re.findall(r"<h(\d) id=[^>]+>(.*?)</h\d>", html)
    ]
    assert in_docx == in_html == expected


@pytest.mark.parametrize("suffix", FORMATS)
def test_rendering_leaves_the_tree_as_it_was(suffix, every_kind, every_kind_once, page, scenes):
    _rendered(suffix, every_kind, page, scenes)
    assert every_kind == every_kind_once


_SCRIPT = """
import hashlib, importlib, sys
sys.path[:0] = sys.argv[1:3]
from conftest import PAGE, SCENES, _EVERY_KIND
from docgen.rendering.tree import parse
for suffix in sys.argv[3:]:
    render = importlib.import_module(f"docgen.rendering.formats.to_{suffix}").render
    print(suffix, hashlib.sha256(render(parse(_EVERY_KIND), PAGE, SCENES)).hexdigest())
"""


def test_the_same_input_gives_the_same_bytes_in_every_process(every_kind_once, page, scenes):
    here = Path(__file__).parent
    expected = [
        f"{suffix} {hashlib.sha256(_rendered(suffix, every_kind_once, page, scenes)).hexdigest()}" for suffix in FORMATS
    ]
    for seed in ("0", "4711"):
        done = subprocess.run(
            [sys.executable, "-c", _SCRIPT, str(here), str(here.parents[1]), *FORMATS],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        assert done.stdout.split("\n")[:-1] == expected
