"""How well a colour can be read on another."""

from __future__ import annotations

import re

Colour = tuple[float, float, float]
"""Red, green and blue from 0.0 to 1.0, in sRGB."""

WHITE: Colour = (1.0, 1.0, 1.0)
BLACK: Colour = (0.0, 0.0, 0.0)
_HEX = re.compile("#[0-9a-fA-F]{6}")
LEAST_TEXT_CONTRAST = 4.5  # of text below 18 points: WCAG 2.2, success criterion 1.4.3


def relative_luminance(colour: Colour) -> float:
    """Luminance of an sRGB colour relative to white, 0.0 to 1.0.

    Source: WCAG 2.2, definition of relative luminance (threshold 0.04045, as corrected in May 2021).
    Check:  white 1.0; black 0.0; pure green 0.7152 (the coefficient itself).
    """
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast_ratio(colour: Colour, other: Colour) -> float:
    """Contrast of two colours, 1.0 to 21.0; the order does not matter.

    Source: WCAG 2.2, definition of contrast ratio.
    Check:  black on white 21; #767676 on white 4.54, #777777 on white 4.48 (widely published, from memory).
    """
    darker, lighter = sorted((relative_luminance(colour), relative_luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def from_hex(text: str) -> Colour:
    """The colour written as #rrggbb. Raises ValueError for any other form."""
    if not _HEX.fullmatch(text):
        raise ValueError("is not a color of the form #1f4e79")
    red, green, blue = (int(text[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue
