"""Sheets of paper, the part of them the text may fill, and where their head has room."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from docgen.rendering.labels import Labels
from docgen.rendering.page import Page
from docgen.rendering.style import Style

DATE_GAP = 18.0  # points at least between two words of a head or foot
SHEETS = {"letter": (612.0, 792.0), "a4": (595.3, 841.9)}  # width and height in points


def text_area(page: Page, style: Style) -> tuple[float, float]:
    """Width and height in points that the text may fill on the page's paper."""
    width, height = SHEETS[page.paper]
    return width - 2 * style.margin_side, height - style.margin_top - style.margin_bottom


def status_place(
    page: Page, style: Style, labels: Labels, measure: Callable[[str, bool], float]
) -> Literal["head", "foot", "below"]:
    """Where the status of a page stands: in the line of the head, in that of the foot, or below the head.

    measure  (text, bold) -> its width in points on one line, in the size of the furniture

    Where head and foot are as large as the text, a sheet loses no line to the status if one of theirs has room for it.
    """
    day, number = page.day(labels), f"{labels.page} 8 {labels.of} 8"
    line = SHEETS[page.paper][0] - 2 * style.margin_side
    if not page.status or style.furniture.size < style.body.size:
        return "below"
    left = line - measure(page.status, True) - DATE_GAP
    if page.running_head and day and measure(page.running_head, False) + measure(day, False) + DATE_GAP <= left:
        return "head"
    return "foot" if measure(number, False) <= left else "below"
