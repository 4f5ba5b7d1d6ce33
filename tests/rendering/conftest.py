"""One document with every kind of node, and the drawing it names."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path

import pytest

from docgen.rendering.formats import to_docx
from docgen.rendering.page import Page
from docgen.rendering.tree import Node, parse
from docgen.scene import Circle, Line, Poly, Rect, Scene, Text

PAGE = Page(
    title="Request for a drive control",
    running_head="Robin Example, letter",
    dated_on=date(2026, 11, 25),
    status="Draft: 3 gaps open",
    author="Ada Sample",
)
SCENES = {
    "pads": Scene(
        420,
        140,
        "Two pads: left at 60 mm, right at 300 mm <both> firm",
        (
            Rect(0.5, 0.5, 419, 139, fill=0.97, stroke=0.6, radius=4),
            Rect(60, 30, 40, 80, fill=0.85),
            Circle(210, 70, 28, fill=1.0),
            Poly(((300, 100), (330, 40), (360, 100)), fill=0.7),
            Poly(((20, 125), (120, 118), (220, 128), (400, 120)), closed=False, dash=(4, 2)),
            Line(100, 70, 182, 70, dash=(2, 2)),
            Text(80, 22, "left pad", anchor="middle", bold=True),
            Text(210, 73, "25 mm", anchor="middle"),
            Text(412, 133, "seen from above <&>", anchor="end", size=8, shade=0.3),
        ),
    ),
}
_EVERY_KIND = Path(__file__).with_name("every_kind.md").read_text(encoding="utf-8")


@pytest.fixture
def every_kind() -> Node:
    return parse(_EVERY_KIND)


@pytest.fixture(scope="session")
def every_kind_once() -> Node:
    """The same, parsed once; for tests that leave it as it is."""
    return parse(_EVERY_KIND)


@pytest.fixture(scope="session")
def page() -> Page:
    return PAGE


@pytest.fixture(scope="session")
def scenes() -> Mapping[str, Scene]:
    return SCENES


@pytest.fixture(scope="session")
def docx_of_every_kind(page: Page, scenes: Mapping[str, Scene], every_kind_once: Node) -> bytes:
    """A DOCX with every kind of node."""
    return to_docx.render(every_kind_once, page, scenes)
