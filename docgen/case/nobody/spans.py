"""Stretches of a text and what takes their place."""

from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace


class Span(Struct, frozen=True):
    """A stretch of a text and what takes its place; `generic` for a name that belongs to nobody known."""

    start: int
    end: int
    label: str
    generic: bool = False


def apart(spans: Iterable[Span], text: str) -> list[Span]:
    """Spans that do not overlap, in order; of two that do, the one that comes first, and what the other has beside it.

    A span that keeps what stands there has nothing beside it to take out.
    """
    taken: list[Span] = []  # in order, so that those a span overlaps stand side by side
    for span in spans:
        kept = text[span.start : span.end] == span.label
        beside = [(span.start, span.end)]
        at = bisect_right(taken, span.start, key=lambda other: other.end)
        while at < len(taken) and taken[at].start < span.end:
            beside = [] if kept else [part for piece in beside for part in _beside(piece, taken[at])]
            at += 1
        for start, end in beside:
            if (start, end) == (span.start, span.end):
                insort(taken, span, key=_start)
            elif any(char.isalnum() for char in text[start:end]):
                words = text[start:end]
                clear = replace(span, start=end - len(words.lstrip()), end=start + len(words.rstrip()))
                insort(taken, clear, key=_start)
    return taken


def _start(span: Span) -> int:
    return span.start


def _beside(piece: tuple[int, int], other: Span) -> Iterator[tuple[int, int]]:
    """What of a stretch lies before and after a span."""
    if piece[0] < min(piece[1], other.start):
        yield piece[0], min(piece[1], other.start)
    if max(piece[0], other.end) < piece[1]:
        yield max(piece[0], other.end), piece[1]


def without(text: str, spans: Iterable[Span]) -> str:
    """The text with each span's label in its place."""
    shown, at = [], 0
    for span in spans:
        shown += [text[at : span.start], span.label]
        at = span.end
    return "".join([*shown, text[at:]])
