"""Every HTML document in a browser: no finding of axe-core, readable on a narrow window, whole on paper."""

from __future__ import annotations

import re
from collections import Counter

import pypdfium2
import pytest
from browser import Seen, seen
from chromium import CHROMIUM, NARROW_PX
from written import GROUPS, Written, pages

from docgen.packet.wording import wording
from docgen.rendering.paper import SHEETS
from docgen.rendering.style import REGULAR, STYLES

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed")

_WORD = re.compile(r"\w+")  # a hyphen at the end of a line is not read back
_OVERHANG = 2.0  # points by which a letter may reach past its own width
_FAULTY = """<!DOCTYPE html><html><head><title>x</title></head><body>
<p style="color:#999">pale</p><img src="data:,"><table style="width:900px"><tr><td>wide</td></tr></table>
<script>console.log("spoke")</script></body></html>"""


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    documents = {(group, name): page.file for group in GROUPS for name, page in pages(group).items()}
    return seen({**documents, ("", "faulty"): _FAULTY.encode()}, tmp_path_factory.mktemp("html"))


@pytest.fixture(params=GROUPS)
def looks(request, shown) -> dict[str, Seen]:
    """Name -> look of each page of a group."""
    found = {name: look for (group, name), look in shown.items() if group == request.param}
    assert found
    return found


def test_axe_finds_no_violation(looks):
    assert {name: look.violations for name, look in looks.items() if look.violations} == {}
    assert all(look.n_passed > 25 for look in looks.values())


def test_nothing_but_tables_and_drawings_scrolls_sideways_at_320_pixels(looks):
    """Source: WCAG 2.2, 1.4.10 (reflow), which excepts what needs two dimensions: tables and diagrams."""
    for name, look in looks.items():
        assert (name, look.width_px, look.sticking_out) == (name, NARROW_PX, [])
        assert look.scrolling <= {"table", "svg"}, name


def test_the_browser_asks_for_nothing_and_complains_of_nothing(looks):
    assert {name: look.complaints for name, look in looks.items() if look.complaints} == {}


@pytest.mark.parametrize("group", GROUPS)
def test_every_word_is_printed_and_lies_between_the_margins(group, shown):
    width, height = SHEETS["letter"]
    documents = wording().documents
    for name, document in pages(group).items():
        worded = documents.get(name.partition(".")[0])
        edge = (STYLES[worded.style] if worded else REGULAR).margin_side - _OVERHANG
        printed: Counter[str] = Counter()
        with pypdfium2.PdfDocument(shown[group, name].printed) as file:
            for page in file:
                assert page.get_size() == pytest.approx((width, height), abs=1)
                text = page.get_textpage()
                printed.update(_WORD.findall(text.get_text_range()))
                boxes = [text.get_rect(at) for at in range(text.count_rects())]
                assert all(edge < left and right < width - edge for left, _, right, _ in boxes), name
        assert _words(document) - printed == Counter(), name


def _words(document: Written) -> Counter[str]:
    blocks = [
        block for kind in ("heading", "paragraph", "cell", "signature", "figure") for block in document.nodes(kind)
    ]
    return Counter(word for block in blocks for word in _WORD.findall(block.plain()))


def test_faults_put_in_on_purpose_are_seen(shown):
    faulty = shown["", "faulty"]
    rules = {found.partition(":")[0] for found in faulty.violations}
    assert {"color-contrast", "image-alt", "html-has-lang"} <= rules
    assert faulty.width_px > NARROW_PX
    assert any("table" in one for one in faulty.sticking_out)
    assert "spoke" in faulty.complaints
