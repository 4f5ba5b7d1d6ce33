"""Runs of text -> lines no wider than the room, broken at spaces and, for want of one, inside a word."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from functools import cache, lru_cache

from msgspec import Struct

from docgen.rendering.fonts import FACES, printable, register
from docgen.rendering.pdf.inside import char_widths
from docgen.rendering.pdf.structure import Element, There

# a word too long for a line is best cut after one of these
_SEAMS = frozenset("-/\\_.,;:@&=?+\u2010\u2013\u2014")
_SHORT = 2.0  # letters to an em of a text that may fit a line
_SLACK = 0.01  # points that adding up widths in another order may differ


class Link(Struct, frozen=True, eq=False):
    """Where a run leads, what says so to those who do not see it, the element that holds its words, whether the
    target is an #anchor of the document itself, and the place in a file beside this one."""

    target: str
    says: str
    element: Element
    own: bool = False
    there: There | None = None


class Run(Struct, frozen=True, eq=False):
    """Text in one face; `gap` has a light ground, a link is underlined, `passage` holds words in another language."""

    text: str
    face: str = FACES[False, False]
    gap: bool = False
    link: Link | None = None
    passage: Element | None = None


class Piece(Struct, frozen=True):
    """Part of a run that stands on one line, and its width in points."""

    text: str
    run: Run
    width: float


Line = tuple[Piece, ...]


@cache
def _widths(face: str) -> Mapping[int, float]:
    """Width of each character of a face in thousandths of its size."""
    register()
    return char_widths(face)


@lru_cache(maxsize=20_000)
def ems(text: str, face: str) -> float:
    """Width of one line of text in a face, in units of its size."""
    widths = _widths(face)
    return sum(widths[ord(char)] for char in text) / 1000


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width in points of one line of upright text, as printed."""
    return ems(printable(text), FACES[bold, False]) * size


def line_width(line: Line, size: float) -> float:
    """Width of a line in points without the space at its end."""
    width = sum(piece.width for piece in line)
    if line and line[-1].text.endswith(" "):
        width -= ems(" ", line[-1].run.face) * size
    return width


def broken(runs: Iterable[Run], room: float, size: float) -> list[Line]:
    """The runs as lines of at most `room` points. Each line but the last ends with its space, so that
    whoever reads the page back finds the words parted."""
    runs = list(runs)
    if len(runs) == 1 and len(runs[0].text) * size < _SHORT * room:  # as in most cells of a table
        text = printable(runs[0].text).strip(" ")
        if (width := ems(text, runs[0].face) * size) <= room + _SLACK:
            return [(Piece(text, runs[0], width),)] if text else []
    lines: list[Line] = []
    line: list[tuple[str, Run]] = []
    used = 0.0
    for word, space in _words(runs):
        width = _width(word, size)
        if line and used + width > room + _SLACK:
            lines.append(_joined(line, size))
            line, used = [], 0.0
        if width > room + _SLACK:
            *full, word = _cut(word, room, size)
            lines += [_joined(part, size) for part in full]
            width = _width(word, size)
        line += word
        used += width
        if space is not None:
            line.append((" ", space))
            used += ems(" ", space.face) * size
    if line:
        lines.append(_joined(line, size))
    return lines


_Word = list[tuple[str, Run]]


def _words(runs: Iterable[Run]) -> Iterator[tuple[_Word, Run | None]]:
    """Each word with the run that holds the space behind it, None behind the last."""
    word: _Word = []
    space: Run | None = None
    for run in runs:
        first, *others = printable(run.text).split(" ")
        parts = [(first, False), *((part, True) for part in others)]
        for part, after_space in parts:
            if after_space and space is None and word:
                space = run
            if not part:
                continue
            if space is not None:
                yield word, space
                word, space = [], None
            word.append((part, run))
    if word:
        yield word, None


def _width(word: _Word, size: float) -> float:
    return sum(ems(text, run.face) for text, run in word) * size


def _cut(word: _Word, room: float, size: float) -> Iterator[_Word]:
    """A word longer than a line in parts that each fit, the last part last.

    An accent that is a character of its own has no width, so it never starts a part by itself.
    """
    part: _Word = []
    used = 0.0
    for text, run in word:
        start = 0
        for at, char in enumerate(text):
            width = ems(char, run.face) * size
            while used + width > room + _SLACK and (part or at > start):
                end = _seam(text, start, at)
                if end > start:
                    part.append((text[start:end], run))
                yield part
                part, start = [], end
                used = ems(text[start:at], run.face) * size
            used += width
        if start < len(text):
            part.append((text[start:], run))
    yield part


def _seam(text: str, start: int, end: int) -> int:
    """Where to cut: after the last seam in the second half of the part, else at its end."""
    for at in range(end, (start + end) // 2, -1):
        if text[at - 1] in _SEAMS and not unicodedata.combining(text[at]):
            return at
    return end


def _joined(parts: list[tuple[str, Run]], size: float) -> Line:
    """Neighbours of the same run become one piece."""
    pieces: list[Piece] = []
    texts: list[str] = []
    total = 0.0
    for at, (text, run) in enumerate(parts):
        texts.append(text)
        total += ems(text, run.face)
        if at + 1 == len(parts) or parts[at + 1][1] is not run:
            pieces.append(Piece("".join(texts), run, total * size))
            texts, total = [], 0.0
    return tuple(pieces)
