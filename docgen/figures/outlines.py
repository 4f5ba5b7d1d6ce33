"""Outlines of a head, a foot, a hand and a knee, from above (front upwards) and from the left side (front to the left).

Each takes the middle of the body and half of its two sizes in points, and touches all four of those edges.
"""

from __future__ import annotations

from collections.abc import Mapping

from docgen.figures.scene import Circle, Line, Poly, Rect, Shape, Text
from docgen.figures.strokes import oval

Words = Mapping[str, str]


def head_above(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """The head with its nose."""
    return [oval(x, y, rx, ry), Poly(((x - 8, y - ry + 2), (x, y - ry - 8), (x + 8, y - ry + 2)), fill=0.94), _name(x, y + 4, words["head"])]


def head_side(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """The head with nose and ear."""
    nose = Poly(((x - rx + 1, y - 2), (x - rx - 8, y + 12), (x - rx + 3, y + 14)), fill=0.94)
    return [oval(x, y, rx, ry), nose, oval(x + 8, y + 6, 7, 11, fill=1.0), _name(x + 8, y + 29, words["ear"])]


def foot_above(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """A shoe sole."""
    sole = ((-0.5, -0.82), (-0.2, -0.97), (0.2, -1), (0.6, -0.9), (0.95, -0.55), (1, -0.3), (0.75, 0.2), (0.7, 0.7), (0.45, 0.95),
            (0, 1), (-0.5, 0.95), (-0.75, 0.7), (-0.7, 0.2), (-1, -0.3), (-0.9, -0.6))
    return [_outline(x, y, rx, ry, sole), _name(x, y + 4, words["foot"])]


def foot_side(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """A shoe."""
    shoe = ((-1, 0.7), (-0.98, 0.35), (-0.8, 0.05), (-0.2, -0.35), (0.05, -1), (0.85, -1), (0.95, -0.3), (1, 0.5), (0.97, 1), (-0.9, 1))
    return [_outline(x, y, rx, ry, shoe), _name(x + 0.2 * rx, y + 0.5 * ry, words["foot"])]


def hand_above(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """A palm with four fingers."""
    fingers = [Rect(x + rx * (-1 + 0.5 * at), y - ry * top, rx * 0.46, ry * (top + 0.1), fill=0.94, radius=rx * 0.2)
               for at, top in enumerate((0.85, 1.0, 0.95, 0.75))]
    return [*fingers, Rect(x - rx, y, 2 * rx, ry, fill=0.94, radius=rx * 0.4), _name(x, y + ry * 0.55, words["hand"])]


def hand_side(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """A flat hand."""
    flat = ((-1, 0.4), (-0.9, -0.1), (-0.1, -0.6), (0.3, -1), (1, -1), (1, 1), (-0.8, 1))
    return [_outline(x, y, rx, ry, flat), _name(x + 0.5 * rx, y + 4, words["hand"])]


def knee_above(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """A knee and its thigh."""
    return [Rect(x - rx, y - ry, 2 * rx, 2 * ry, fill=0.94, radius=rx * 0.7), _name(x, y + 4, words["knee"])]


def knee_side(x: float, y: float, rx: float, ry: float, words: Words) -> list[Shape]:
    """A bent knee: thigh to the right, shin downwards."""
    bent = ((-0.9, -0.8), (-0.6, -1), (1, -1), (1, 0.1), (-0.1, 0.2), (-0.1, 1), (-1, 1), (-1, -0.5))
    return [_outline(x, y, rx, ry, bent), Circle(x - 0.5 * rx, y - 0.4 * ry, 3, fill=0.7), _name(x + 0.4 * rx, y - 0.35 * ry, words["knee"]),
            Line(x - 0.5 * rx, y - 0.4 * ry, x - 0.5 * rx, y + 0.9 * ry, 0.4, 0.6)]


def _outline(x: float, y: float, rx: float, ry: float, points: tuple[tuple[float, float], ...]) -> Poly:
    return Poly(tuple((round(x + dx * rx, 2), round(y + dy * ry, 2)) for dx, dy in points), fill=0.94, width=1.0)


def _name(x: float, y: float, word: str) -> Text:
    return Text(x, y, word, 9.5, anchor="middle")
