"""Lines, boxes and words as operators of a page's content, written straight: a packet holds tens of thousands of
numbers.

Coordinates are points from the lower left corner, shades run from 0.0 (black) to 1.0 (white).

Source: ISO 32000-1:2008, 8.4.4 (graphics state), 8.5 (paths), 8.6.8 (colour), 9.4 (text).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from reportlab.pdfbase.pdfdoc import PDFDocument

from docgen.rendering.pdf.inside import codes_given, encoded, first_subset
from docgen.rendering.style import Shade

# how far the handles of a quarter of a circle stand from its ends, in units of the radius: 4/3 (sqrt(2) - 1)
_QUARTER = 0.5522847


def ink(shade: Shade) -> str:
    """The shade of what is filled, words included."""
    return f"{_colour(shade)} rg" if isinstance(shade, tuple) else f"{shade:.2f} g"


def pen(width: float, shade: Shade, dash: Sequence[float] = ()) -> str:
    """Width, shade and dashes of what is stroked."""
    colour = f"{_colour(shade)} RG" if isinstance(shade, tuple) else f"{shade:.2f} G"
    return f"{width:.2f} w {colour} [{' '.join(f'{part:.2f}' for part in dash)}] 0 d"


def path(points: Sequence[tuple[float, float]]) -> str:
    """Straight lines from point to point."""
    (x, y), *others = points
    return " ".join([f"{x:.2f} {y:.2f} m", *(f"{x:.2f} {y:.2f} l" for x, y in others)])


def box(x: float, y: float, w: float, h: float, radius: float = 0.0) -> str:
    """A rectangle from its lower left corner; its corners are quarters of a circle of that radius."""
    if not radius:
        return f"{x:.2f} {y:.2f} {w:.2f} {h:.2f} re"
    right, top, handle = x + w, y + h, radius * (1 - _QUARTER)
    sides = (
        ((right - radius, y), (right - handle, y), (right, y + handle), (right, y + radius)),
        ((right, top - radius), (right, top - handle), (right - handle, top), (right - radius, top)),
        ((x + radius, top), (x + handle, top), (x, top - handle), (x, top - radius)),
        ((x, y + radius), (x, y + handle), (x + handle, y), (x + radius, y)),
    )
    drawn = (
        f"{ax:.2f} {ay:.2f} l {bx:.2f} {by:.2f} {cx:.2f} {cy:.2f} {dx:.2f} {dy:.2f} c"
        for (ax, ay), (bx, by), (cx, cy), (dx, dy) in sides
    )
    return f"{x + radius:.2f} {y:.2f} m {' '.join(drawn)} h"


def painted(fill: bool, stroke: bool) -> str:
    """What ends a path: filled, stroked, both or neither."""
    return ("n", "S", "f", "B")[2 * fill + stroke]


def words(text: str, face: str, document: PDFDocument) -> Iterator[tuple[str, str]]:
    """The text in parts: the name that the document has for the letters of each, and its operator."""
    given = codes_given(face, document)
    text = text.replace("\xa0", " ")  # as splitString takes it
    if given and given.keys() >= set(map(ord, text)):  # each letter has its code, so nothing is left to assign
        codes = text.translate(given)
        if codes.isascii() or max(codes) <= "\xff":
            yield first_subset(face, document), f"<{codes.encode('latin-1').hex()}> Tj"
            return
    for subset, letters in encoded(text, face, document):
        yield subset, f"<{letters.hex()}> Tj"


def _colour(shade: tuple[float, float, float]) -> str:
    return " ".join(f"{part:.3f}" for part in shade)
