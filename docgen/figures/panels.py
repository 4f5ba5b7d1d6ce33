"""A drawing in panels: pieces no wider than a phone, each with its words, which a page sets in rows of its own.

All letters of a panel have one size, so that a page in larger print enlarges them with the rest; a word of the case is
broken into as many lines as it takes and never cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from docgen.arial import arial_width
from docgen.figures.strokes import Anchor, moved, ringed
from docgen.scene import LETTERS_PT, PANELS_APART_PT, Circle, Line, Picture, Poly, Rect, Scene, Shape, Text, rows_of

PANEL = 228.0  # the widest panel in points
LEAD = 14.4  # from one line of words to the next
PAGE = 500.0  # width of a usual page
_EDGE = 2.0  # free paper round a panel
_SPARE = 1.08  # bold letters are up to so much wider than reckoned
Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def text_width(text: str, bold: bool = False) -> float:
    """Width of the text in the letters of a panel, in points, reckoned a little too wide."""
    return arial_width(text, LETTERS_PT, bold) * _SPARE


def broken(text: str, room: float, bold: bool = False) -> list[str]:
    """The text in lines of at most `room` points, broken at spaces that may break; a longer word is broken inside."""
    lines: list[str] = []
    for word in text.replace("\n", " ").split(" "):
        if not word:
            continue
        if lines and text_width(f"{lines[-1]} {word}", bold) <= room:
            lines[-1] += f" {word}"
        elif "\u00a0" in word and text_width(word, bold) > room:  # what is to stay together cannot
            lines += broken(word.replace("\u00a0", " "), room, bold)
        else:
            lines += _cut(word, room, bold)
    return lines


def _cut(word: str, room: float, bold: bool) -> Iterator[str]:
    part = ""
    for char in word:
        if part and text_width(part + char, bold) > room:
            yield part
            part = ""
        part += char
    yield part


def lettered(
    x: float, y: float, text: str, room: float, bold: bool = False, anchor: Anchor = "start"
) -> tuple[list[Shape], float]:
    """The text with its first baseline at y, and the baseline after its last line."""
    lines = broken(text, room, bold)
    shapes: list[Shape] = [Text(x, y + LEAD * at, line, LETTERS_PT, bold, anchor) for at, line in enumerate(lines)]
    return shapes, y + LEAD * len(lines)


def unbroken(label: str, room: float, bold: bool = True) -> bool:
    """Whether each word of a label stands whole in this room."""
    return " ".join(broken(label, room, bold)) == " ".join(label.split())


class Told(Struct, frozen=True):
    """Some words of a list: a line or more, bold or not."""

    text: str
    bold: bool = False


def listed(mark: str, lines: Iterable[Told | None], alt: str, symbol: Sequence[Shape] = (), w: float = PANEL) -> Scene:
    """A panel of words: a ring with its mark, empty for none, and the lines beside it.

    symbol  drawn between the ring and the first line, round 0, 0
    """
    left = (26.0 if mark else 2.0) + (16.0 if symbol else 0.0)
    shapes: list[Shape] = [*ringed(11, 11, mark)] if mark else []
    shapes += moved(symbol, 1, 32, 11)
    y = 15.2
    for line in lines:
        if line is not None and line.text:
            drawn, y = lettered(left, y, line.text, w - left - 2, line.bold)
            left = 26.0 if mark else 2.0
            shapes += drawn
    return Scene(w, max(y - LEAD + 6, 22.0 if mark else 0.0), alt, tuple(shapes))


def panel(
    shapes: Sequence[Shape],
    alt: str,
    title: str = "",
    true_size: bool = False,
    leads: bool = False,
    w: float = 0.0,
    room: float = PANEL,
) -> Scene:
    """The shapes on a sheet just large enough, under a title if there is one.

    w     its least width in points; what is free then is at the right
    room  width in which its title is broken
    """
    left, top, right, bottom = bounds(shapes)
    right = max(right, left + w - 2 * _EDGE)
    head = broken(title, room - 2 * _EDGE, True)
    w = max([right - left, *(text_width(line, True) for line in head)]) + 2 * _EDGE
    below = LEAD * len(head) + (6.0 if head else 0.0)
    named: list[Shape] = [
        Text(w / 2, _EDGE + 12 + LEAD * at, line, LETTERS_PT, True, "middle") for at, line in enumerate(head)
    ]
    inside = moved(shapes, 1, w / 2 - (left + right) / 2, below + _EDGE - top)
    return Scene(w, bottom - top + below + 2 * _EDGE, alt, (*named, *inside), true_size=true_size, leads=leads)


def stacked(panels: Sequence[Scene], apart: float = PANELS_APART_PT) -> Scene:
    """The panels one below the other as one panel."""
    shapes: list[Shape] = []
    y = 0.0
    for piece in panels:
        shapes += moved(piece.shapes, 1, 0.0, y)
        y += piece.h + apart
    wide = max(piece.w for piece in panels)
    alt = " ".join(piece.alt for piece in panels)
    return Scene(wide, y - apart, alt, tuple(shapes), leads=panels[0].leads)


def beside(panels: Sequence[Scene]) -> Scene:
    """The panels side by side as one panel."""
    shapes: list[Shape] = []
    x = 0.0
    for piece in panels:
        shapes += moved(piece.shapes, 1, x, 0.0)
        x += piece.w
    return Scene(x, max(piece.h for piece in panels), " ".join(piece.alt for piece in panels), tuple(shapes))


def composed(panels: Sequence[Scene]) -> Scene:
    """The panels as one drawing: its shapes stand as on a page of the usual width, its words are those of all."""
    shapes: list[Shape] = []
    y = 0.0
    for row in rows_of(panels, PAGE):
        for placed in row:
            shapes += moved(placed.panel.shapes, 1, placed.x, y)
        y += max(placed.height for placed in row) + PANELS_APART_PT
    alt = " ".join(panel.alt for panel in panels if panel.alt)
    return Scene(PAGE, y - PANELS_APART_PT, alt, tuple(shapes), tuple(panels))


def bounds(shapes: Iterable[Shape]) -> Box:
    """The box round all shapes; of words, round their letters."""
    boxes = [box_of(shape) for shape in shapes]
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def box_of(shape: Shape) -> Box:
    """The box round one shape with its outline."""
    half = getattr(shape, "width", 0.0) / 2 if getattr(shape, "stroke", 0.0) is not None else 0.0
    match shape:
        case Line(x1, y1, x2, y2):
            box = (min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
        case Rect(x, y, w, h):
            box = (x, y, x + w, y + h)
        case Picture(x, y, w, h):
            return x, y, x + w, y + h
        case Circle(x, y, r):
            box = (x - r, y - r, x + r, y + r)
        case Poly(points):
            xs, ys = zip(*points, strict=True)
            box = (min(xs), min(ys), max(xs), max(ys))
        case Text(x, y, text, size, bold, anchor):
            wide = arial_width(text, size, bold) * _SPARE
            left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
            return left, y - size, left + wide, y + 0.25 * size
    return box[0] - half, box[1] - half, box[2] + half, box[3] + half
