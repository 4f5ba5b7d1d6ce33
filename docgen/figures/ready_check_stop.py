"""The daily card in three pictures: the seat, the gaps of this control, where it stops."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.evidence.fact import Evidence
from docgen.figures.chair import chair_from_above, has_tray, switches
from docgen.figures.gap_gauge import gap_words, number_mm
from docgen.figures.strokes import arrow, moved, paragraph, ringed, span
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape, Text

MADE_FROM = ("configuration.commands",)

_WIDTH, _HEIGHT, _PANEL = 486.0, 176.0, 158.0


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """Three framed panels side by side."""
    panels = (ready(4, words), _check(case, 4 + _PANEL + 2, words), _stop(case, 4 + 2 * (_PANEL + 2), words))
    shapes: list[Shape] = []
    for at, (name, (drawn, _)) in enumerate(zip(("card_ready", "card_check", "card_stop"), panels, strict=True)):
        left = 4 + at * (_PANEL + 2)
        shapes += [
            Rect(left, 2, _PANEL, _HEIGHT - 4, width=0.8, radius=5),
            Text(left + 8, 19, words[name], 12.5, True),
            *drawn,
        ]
    return Scene(_WIDTH, _HEIGHT, " ".join(alt for _, alt in panels), tuple(shapes))


def ready(x: float, words: Mapping[str, str]) -> tuple[list[Shape], str]:
    """A seated person from the side, facing left, each thing to see to named at its place with its number in the
    guide's list."""
    person: list[Shape] = [
        Line(x + 106, 112, x + 111, 82, 15, 0.72),
        Circle(x + 111, 76, 7, fill=0.72, stroke=None),
        Line(x + 111, 76, x + 110, 58, 7, 0.72),  # trunk, neck
        Poly(((x + 100, 52), (x + 95, 54), (x + 100, 57)), fill=0.94),
        Circle(x + 109, 51, 12, fill=0.94),  # nose, head
        Line(x + 104, 112, x + 60, 112, 12, 0.72),
        Line(x + 60, 112, x + 48, 146, 10, 0.72),
        Line(x + 51, 150, x + 32, 152, 7, 0.72),  # legs
    ]
    drawn: list[Shape] = [
        Circle(x + 86, 141, 19, fill=0.92),
        Circle(x + 86, 141, 3, fill=0.0),
        Circle(x + 114, 150, 8, fill=0.92),  # wheels
        Poly(((x + 54, 119), (x + 116, 119), (x + 116, 125), (x + 54, 125)), fill=0.85),  # seat
        Poly(((x + 114, 119), (x + 122, 66), (x + 127, 66), (x + 120, 125)), fill=0.85),  # back
        Poly(((x + 54, 122), (x + 42, 157), (x + 26, 157)), closed=False, width=2.5),  # footplate
        *person,
        Line(x + 90, 104, x + 110, 120, 3.0),  # belt
    ]
    drawn = moved(drawn, 1, 0, -14)
    for name, y, to in (("ready_head", 38, (96, 38)), ("ready_belt", 66, (94, 90))):
        drawn += [Text(x + 8, y, words[name], 9.5, True), Line(x + 50, y + 4, x + to[0], to[1], 1.0)]
    drawn += [*paragraph(x + 8, 158, words["ready_feet"], 10, 2, 9.5, True), Line(x + 34, 149, x + 34, 144, 1.0)]
    drawn += [Text(x + 150, 166, words["ready_hips"], 9.5, True, "end"), Line(x + 130, 156, x + 114, 107, 1.0)]
    return drawn, words["card_ready_alt"]


def _check(case: Case, x: float, words: Mapping[str, str]) -> tuple[list[Shape], str]:
    """What a gap is, and each part with its gap in figures; the words say so where none is recorded."""
    parts = [mount for mount in case.configuration.mounting if mount.gap_mm is not None]
    if not parts:
        return [*paragraph(x + 8, 44, words["card_no_gaps"], 26, 3, 11, True)], words["card_no_gaps"]
    drawn: list[Shape] = [
        Rect(x + 34, 27, 26, 20, fill=1.0),
        Rect(x + 96, 27, 26, 20, fill=0.55, radius=2),
        *span(x + 60, 37, x + 96, 37),
        Text(x + 78, 33, words["gauge_gap"], 9, anchor="middle"),
        Text(x + 47, 57, words["gauge_body"], 9, anchor="middle"),
        Text(x + 109, 57, words["gauge_part"], 9, anchor="middle"),
        Text(x + 79, 68, words["not_true_size"], 9, anchor="middle"),
    ]
    y, n_lines = 82.0, 1 if len(parts) > 3 else 2
    for part in parts[: 3 if len(parts) > 4 else 4]:
        names = paragraph(x + 8, y, part.part, 27, n_lines, 9.5, True)
        y += 11.4 * len(names)
        drawn += [*names, Text(x + 16, y, _gap_and_range(part, words), 10)]
        y += 12.6
    if len(parts) > 4:
        drawn.append(Text(x + 8, y + 2, words["card_more"], 9.5))
    gaps = " ".join(words["pads_alt"].format(part=part.part, gap=_gap_and_range(part, words)) for part in parts)
    return drawn, f"{words['card_check_alt']} {gaps}"


def _gap_and_range(part: Mount, words: Mapping[str, str]) -> str:
    """The gap in both units, with its range in mm where the therapist set one."""
    gap = gap_words(part.gap_mm or 0, words)
    if part.gap_from_mm is None or part.gap_to_mm is None:
        return gap
    least, most = (number_mm(mm, words) for mm in (part.gap_from_mm, part.gap_to_mm))
    return words["card_range"].format(gap=gap, least=least, most=most)


def _stop(case: Case, x: float, words: Mapping[str, str]) -> tuple[list[Shape], str]:
    """The chair from above with the stop switch (A), the power switch (B) and, where a helper has another, the driver's
    own stop switch (E)."""
    stop = case.configuration.stop
    switches_there = [
        switch
        for switch in (
            ("A", "stop", *stop.at_hand),
            ("B", "power", stop.power_off, stop.power_off_site),
            ("E", "stop", *stop.drivers_own),
        )
        if switch[2]
    ]
    sites = [(letter, kind, place) for letter, kind, _, place in switches_there]
    middle = x + _PANEL / 2
    drawn: list[Shape] = [
        *chair_from_above(middle, 92, 0.62, has_tray(sites)),
        *switches(middle, 92, 0.62, sites),
        Text(middle + 8, 30, words["front"], 9.5),
        *arrow([(middle, 36), (middle, 20)], 2.0, 8),
    ]
    in_words = [words["card_stop_alt"]]
    # two stand wide apart; three fill the panel, the longer name of the power switch between two short ones
    lefts, size = ((10.0, 82.0), 10.0) if len(switches_there) < 3 else ((5.0, 52.0, 109.0), 9.5)
    for left, (letter, kind, text, _) in zip(lefts, switches_there, strict=False):
        name = "stop_switch" if kind == "stop" else "power_off"
        label = Text(x + left + 20, 166, words[f"card_{name}"], size, True)
        drawn += [*ringed(x + left + 8, 162, letter), label]
        in_words.append(
            words["stop_alt"].format(
                letter=letter, name=words["drivers_own" if letter == "E" else name], place=(text or "").rstrip(". ")
            )
        )
    return drawn, " ".join(in_words)
