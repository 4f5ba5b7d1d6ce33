"""Sheets of paper and the part of them the text may fill."""

from __future__ import annotations

from docgen.rendering.page import Page
from docgen.rendering.style import Style

SHEETS = {"letter": (612.0, 792.0), "a4": (595.3, 841.9)}  # width and height in points


def text_area(page: Page, style: Style) -> tuple[float, float]:
    """Width and height in points that the text may fill on the page's paper."""
    width, height = SHEETS[page.paper]
    return width - 2 * style.margin_side, height - style.margin_top - style.margin_bottom
