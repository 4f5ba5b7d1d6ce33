"""The gap of each part at life size, to compare by eye: before them a bar that proves that the page was printed at life
size, and where on a part a gap is measured.

On a screen nothing has its true size; the words beside each bar hold there too.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.coins import STACKED, fits, in_words, too_big
from docgen.evidence.fact import Evidence
from docgen.figures.panels import Told, composed, lettered, listed, panel, text_width
from docgen.figures.strokes import moved, right, span, wrong
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape
from docgen.units import MM_PER_INCH

MADE_FROM = ("configuration.mounting",)

_POINTS_PER_MM = 72 / MM_PER_INCH
_MOST_MM = 70.0  # a wider gap does not fit beside its words
_BODY, _PART, _HIGH = 12.0, 12.0, 26.0  # widths and height of what a gap is drawn between, in points
_WORDS = 176.0  # width of the words beside a gap


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The bar, how to measure, then one row a part with a gap of up to 70 mm; None when there is none."""
    parts = [
        (number, mount)
        for number, mount in enumerate(case.configuration.mounting, 1)
        if mount.gap_mm is not None and mount.gap_mm <= _MOST_MM
    ]
    if not parts:
        return None
    panels = [*_bar(words), *_measured([part for _, part in parts], words)]
    widest = max(part.gap_mm or 0 for _, part in parts) * _POINTS_PER_MM + _BODY + _PART + 6
    for number, part in parts:
        panels += _at_true_size(number, part, widest, words)
    return composed(panels)


def _bar(words: Mapping[str, str]) -> list[Scene]:
    """A bar to hold a ruler to, as long as the language says it: in a round measure of whoever holds the ruler."""
    length, step = (float(words[name]) * _POINTS_PER_MM for name in ("gauge_bar_mm", "gauge_step_mm"))
    bar: list[Shape] = [
        *span(0, 0, length, 0),
        *(Line(step * at, -6, step * at, 6, 0.9) for at in range(1, round(length / step))),
        Rect(0, -9, length, 18, stroke=None),
    ]
    words_above = listed("", [Told(f"{words['gauge_bar']}: {words['gauge_bar_size']}", True)], words["gauge_bar_alt"])
    return [replace(words_above, leads=True), panel(bar, words["gauge_bar_shown"], true_size=True)]


def _measured(mounts: Sequence[Mount], words: Mapping[str, str]) -> list[Scene]:
    """Where a gap is measured and what is held in it: coins flat against each other, a coin on edge or a ruler, as the
    gaps of this record need; then the wrong place, at an edge of the part."""
    needed = {way for mount in mounts for way in _held_in(mount)}
    cells: list[tuple[str, list[Shape], list[Shape]]] = [
        (words[f"held_{way}"], thing, right(0, 34)) for way, thing in _HELD.items() if way in needed
    ]
    cells.append((words["held_wrong"], span(14 - 0.028 * 256, -16, 34, -16), wrong(0, 34)))
    shapes: list[Shape] = []
    wide = max(_LEAST_WIDE, *(text_width(word, True) for word, _, _ in cells))
    cell = 12 + wide + 10  # a word begins beside its sign and ends before the next one
    for at, (word, thing, sign) in enumerate(cells):
        named, _ = lettered(12, 38, word, wide, True)
        shapes += moved([*_between(0.0), *thing, *sign, *named], 1, cell * (at % _ABREAST), _LOWER * (at // _ABREAST))
    return [panel(shapes, words["gauge_where_alt"], words["gauge_where"], leads=True)]


def _between(x: float) -> list[Shape]:
    """Body, round, and part, gray, with the room that a coin of this drawing fills."""
    body = Poly(tuple((x + 14 - 0.028 * dy * dy, float(dy)) for dy in range(-22, 23, 4)), fill=0.95)
    return [body, Rect(x + 34, -20, _PART, 40, fill=0.7, radius=3)]


_LEAST_WIDE, _LOWER, _ABREAST = 44.0, 76.0, 4
_HELD: dict[str, list[Shape]] = {
    "stacked": [Rect(14 + 4 * at, -9, 4, 18, fill=0.85, radius=1) for at in range(5)],
    "on_edge": [Circle(24, 0, 10, fill=0.85, width=1.6), Circle(24, 0, 7, width=0.8)],
    "lying": [Rect(14, -18, 20, 34, fill=0.85, radius=3), Rect(20, -22, 8, 4, fill=0.4)],
    "ruler": [
        Rect(14, -5, 20, 26, fill=1.0, width=1.2),
        *(Line(14 + 4 * at, -5, 14 + 4 * at, 2 if at % 2 else 5, 0.9) for at in range(1, 5)),
    ],
}


def _held_in(mount: Mount) -> set[str]:
    """What is held in the gap of a part: at the lips a ruler alone."""
    low, gap, high = mount.gap_from_mm, mount.gap_mm, mount.gap_to_mm
    if not gap or mount.site in ("mouth", "chin"):
        return {"ruler"} if gap else set()
    return {_way(fits(low, gap) if low else None), _way(too_big(high, gap) if high else None)}


def _way(thing: tuple[str, int] | None) -> str:
    """How a thing is held in a gap, as `_HELD` draws it."""
    if thing is None:
        return "ruler"
    return "stacked" if thing[0] in STACKED else "lying" if thing[0] == "aa" else "on_edge"


def _at_true_size(number: int, part: Mount, w: float, words: Mapping[str, str]) -> list[Scene]:
    """The gap of one part between body, white, and part, gray, on a panel w points wide; its words beside it."""
    at = (part.gap_mm or 0) * _POINTS_PER_MM
    drawn: list[Shape] = [
        Rect(-_BODY, 0, _BODY, _HIGH, fill=1.0),
        Rect(at, 0, _PART, _HIGH, fill=0.55, radius=2),
        *span(0, _HIGH / 2, at, _HIGH / 2),
    ]
    lines = [Told(part.part, True), Told(gap_words(part, words).replace(" mm", "\u00a0mm"))]  # the card has its range
    shown = words["gauge_alt"].format(part=f"{number}, {part.part}")
    return [
        panel(drawn, shown, true_size=True, leads=True, w=w),
        listed(str(number), lines, gap_alt(number, part, words), w=_WORDS),
    ]


def with_range(part: Mount, gap: str, words: Mapping[str, str]) -> str:
    """The gap, with its range in mm where the therapist set one."""
    if part.gap_from_mm is None or part.gap_to_mm is None:
        return gap
    least, most = (number_mm(mm, words) for mm in (part.gap_from_mm, part.gap_to_mm))
    return words["card_range"].format(gap=gap, least=least, most=most)


def gap_alt(number: int, part: Mount, words: Mapping[str, str]) -> str:
    """The gap of a part in a sentence, for who cannot see it drawn."""
    gap = with_range(part, gap_words(part, words), words)
    return words["gauge_said"].format(number=number, part=part.part, gap=gap)


def gap_words(part: Mount, words: Mapping[str, str]) -> str:
    """The gap in mm, which is the aim, as on the card; then what must go into it, where the card has a thing for that:
    that is smaller, up to a quarter, so the two are never said as one."""
    low, mm = part.gap_from_mm, part.gap_mm
    if not mm:
        return words["touches"]
    thing = fits(low, mm) if low and part.site not in ("mouth", "chin") else None
    if thing is None:
        return words["gauge_aim"].format(mm=in_mm(mm, words))
    return words["gauge_gap"].format(mm=in_mm(mm, words), thing=in_words(thing, words))


def in_mm(size_mm: float, words: Mapping[str, str]) -> str:
    """A size in mm alone, where an inch scale is too coarse for it."""
    return f"{number_mm(size_mm, words)} mm"


def number_mm(size_mm: float, words: Mapping[str, str]) -> str:
    """The number of a size in mm, with the decimal sign of the language."""
    return f"{size_mm:g}".replace(".", words["decimal"])
