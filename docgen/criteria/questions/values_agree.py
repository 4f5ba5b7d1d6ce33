"""Measured values that depend on each other agree.

Asks: Whether distance and minutes fit the speed driven; speeds of the methods, the rows and the profiles each other;
    seat, back, footplate and parts at the head the client's height and weight; gaps and circumference the width of
    the head; a ramp a slope.
Why a payer asks: Each of two values can be right alone, and both together not; a stop worked out from the wrong one
    is too short.
What settles it: The wrong one of the two looked up and corrected, or an entry of [[confirmed]] for either.
Source: buttock-knee length at most 0.363 and hip breadth 0.22 to 0.25 of stature (means), head 154 by 200 mm with a
    circumference of 574 mm: ANSUR II, Gordon et al. 2014, read; widened for children and for illness by us. Running
    slope of a ramp: 2010 ADA Standards 405, from memory. Else common practice, no source.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec.structs import replace

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import DayTotal, Tried
from docgen.case.tried import Method
from docgen.case.usual import slip, unit_of
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.doubt import Doubt, doubtful, unconfirmed
from docgen.criteria.measured import outside
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day
from docgen.fit.mounting import AT_HEAD
from docgen.grammar import with_verb

HEADING = "record"
CLAIM = "Measured values that depend on each other agree"
SETTINGS: dict[str, object] = {}

SLOWEST_SHARE = 0.02  # of the speed driven, stops and talk between the attempts included
ROUNDED = 1.1  # a distance and a time as they are written down
# times the speed driven that a profile drives; times the fastest profile that was driven; times one method's speed is
# another's
ABOVE_TRIAL, BELOW_TRIAL, APART = 2.0, 4.0, 2.5
# share of the client's height, least and most
OF_HEIGHT = {
    "seat_depth_mm": ("seat", 0.15, 0.385),
    "leg_mm": ("footplate", 0.12, 0.34),
    "back_height_mm": ("back", 0.14, 0.56),
}
HEAD_OF_HEIGHT = (0.2, 0.6)  # of a part at the head, above the seat
# hip breadth is this times the root of kg per meter of height (men of ANSUR II by their means: 379 mm, 85.5 kg,
# 1.756 m)
HIP, NARROWEST = 54.3, 0.9
ROUND = (0.9, 1.2)  # circumference of the head by that of an ellipse of its width and length
LEAST_RAMP = 2.0  # percent
_CHAIR: KeyPath = ("configuration", "chair")
_SPEED_DRIVEN = "trial.methods.speed_m_s"

Side = tuple[str, KeyPath, float, float, float]  # dotted key, path, value, and the least and the most the others allow


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    already = outside(case)  # asked about by itself, and once is enough
    doubts = (doubt for doubt in _doubts(case) if not any((name, v[0]) in already for name, v in doubt.keys))
    if left := unconfirmed(case, doubts):
        return doubtful(left, CLAIM)
    if not (case.tried or case.client.height_mm or case.configuration.profiles):
        return cannot_tell(
            "Neither rows of a trial, nor the client's height, nor a profile is recorded.",
            ("client", "height_mm"),
            mend=fill_in({"client.height_mm": "<mm>"}),
        )
    return met("No two values contradict each other.", ("client",), ("trial", "rows"))


def _doubts(case: Case) -> Iterator[Doubt]:
    yield from _driven(case)
    yield from _speeds(case)
    yield from _chair_and_body(case)
    yield from _head(case)
    for at, space in enumerate(case.spaces):
        if space.kind == "ramp" and space.slope_percent and space.slope_percent < LEAST_RAMP:
            side = ("spaces.slope_percent", ("spaces", at, "slope_percent"), space.slope_percent, LEAST_RAMP, 25.0)
            yield _doubt(
                f"The {with_verb(space.name, 'is')} a ramp with a slope of {space.slope_percent:g} percent",
                [side],
                True,
            )


def _doubt(says: str, sides: Iterable[Side], bears: bool = False, rows: tuple[int, ...] = ()) -> Doubt:
    """A doubt with the slip named that would let the sides agree."""
    sides = tuple(sides)
    named = [(name, slip(v, low, high, unit_of(name.rpartition(".")[2]))) for name, _, v, low, high in sides]
    likely = ", or ".join(f"{name.rpartition('.')[2]} is {text}" for name, text in named if text)
    return Doubt(
        f"{says}; perhaps {likely}." if likely else f"{says}.",
        tuple(dict.fromkeys(path for _, path, *_ in sides)),
        tuple((name, (value,)) for name, _, value, *_ in sides),
        rows,
        bears,
    )


def _driven(case: Case) -> Iterator[Doubt]:
    """Distance by minutes against the fastest speed that was driven, block by block and lesson by lesson."""
    speeds = {method.id: method.speed_m_s for method in case.trial.methods}
    profiles = max((p.speed_m_s for p in case.configuration.profiles if p.speed_m_s), default=None)
    blocks: dict[tuple[Any, str], list[Any]] = defaultdict(list)
    for tried in case.tried:
        blocks[tried.date, tried.method].append(tried)
    for (on, method), rows in blocks.items():
        sheet = "totals" if isinstance(rows[0], DayTotal) else "trial"
        yield from _block(sheet, f"{method} on {day(on)}", rows, speeds.get(method))
    lessons: dict[Any, list[Any]] = defaultdict(list)
    for lesson_row in case.sessions:
        lessons[lesson_row.date].append(lesson_row)
    for on, rows in lessons.items():
        yield from _block("sessions", f"the lesson of {day(on)}", rows, profiles)


def _block(sheet: str, called: str, rows: list[Any], fastest_m_s: float | None) -> Iterator[Doubt]:
    meters, minutes = (
        sum(filled) if (filled := [v for row in rows if (v := getattr(row, name)) is not None]) else None
        for name in ("distance_m", "minutes")
    )
    at: KeyPath = {"trial": ("trial", "rows"), "totals": ("trial",)}.get(sheet, ("training",))
    lines = tuple(row.line for row in rows[:1]) if sheet == "trial" else ()
    if not minutes:
        return
    lasted = sum(getattr(row, "seconds", None) or 0 for row in rows)  # totals have no seconds
    if lasted > minutes * 60 * 1.05:
        sides = [(f"{sheet}.minutes", at, minutes, lasted / 60, lasted)]
        yield _doubt(
            f"In {called} the attempts last {lasted:g} s, and the time used is {minutes:g} min", sides, False, lines
        )
    if not meters or not fastest_m_s:
        return
    mean = meters / (minutes * 60)
    if SLOWEST_SHARE * fastest_m_s <= mean <= fastest_m_s:
        return
    least, most = 0.05 * fastest_m_s, 0.8 * fastest_m_s  # where blocks lie
    yield _doubt(
        f"In {called} {meters:g} m in {minutes:g} min are {mean:.3g} m/s on average, and the fastest speed "
        f"driven is {fastest_m_s:g} m/s",
        [
            (f"{sheet}.distance_m", at, meters, least * minutes * 60, most * minutes * 60),
            (f"{sheet}.minutes", at, minutes, meters / most / 60, meters / least / 60),
        ],
        False,
        lines,
    )


def _column_of(row: Tried, name: str) -> str:
    """A column as [[confirmed]] names it."""
    return f"{'totals' if isinstance(row, DayTotal) else 'trial'}.{name}"


def _speeds(case: Case) -> Iterator[Doubt]:
    methods = [(at, m, m.speed_m_s) for at, m in enumerate(case.trial.methods) if m.speed_m_s]
    driven = {method.id: speed for _, method, speed in methods}
    yield from _methods_apart(methods)
    yield from _rows_above_their_method(case, driven)
    yield from _faster_than_driven(case, driven)
    fastest = driven.get(case.configuration.method or "")
    if fastest:
        at = next(at for at, method, _ in methods if method.id == case.configuration.method)
        yield from _profiles_below_trial(case, at, fastest)
    yield from _profiles_above_trial(case, fastest)


def _methods_apart(methods: list[tuple[int, Method, float]]) -> Iterator[Doubt]:
    """A method that was driven much faster, or slower, than every other."""
    for at, method, speed in methods:
        others = [other for i, _, other in methods if i != at]
        if others and (speed > APART * max(others) or speed * APART < min(others)):
            slowest, fastest = min(others), max(others)
            yield _doubt(
                f"{with_verb(method.name, 'was')} driven with {speed:g} m/s, and each other control with "
                f"{' to '.join(dict.fromkeys((f'{slowest:g}', f'{fastest:g}')))} m/s",
                [(_SPEED_DRIVEN, ("trial", "methods", at, "speed_m_s"), speed, slowest / 1.5, fastest * 1.5)],
                bears=True,
            )


def _rows_above_their_method(case: Case, driven: Mapping[str, float]) -> Iterator[Doubt]:
    """A row faster than its method is said to have been driven; `driven` by the id of the method, in m/s."""
    for row in case.tried:
        if row.speed_m_s and (most := driven.get(row.method)) and row.speed_m_s > most * 1.05:
            yield _doubt(
                f"A row has {row.speed_m_s:g} m/s, and the fastest driven with {row.method} is {most:g} m/s",
                [(_column_of(row, "speed_m_s"), ("trial", "rows"), row.speed_m_s, most / 4, most)],
                bears=True,
                rows=(row.line,) if isinstance(row, Row) else (),
            )


def _profiles_below_trial(case: Case, at: int, fastest: float) -> Iterator[Doubt]:
    """A trial much faster than the fastest profile; `at` is the place of the method asked for, driven with
    `fastest` m/s."""
    asked_for = max((p.speed_m_s for p in case.configuration.profiles if p.speed_m_s), default=None)
    if asked_for and fastest > BELOW_TRIAL * asked_for:
        yield _doubt(
            f"The trial was driven with {fastest:g} m/s, and the fastest profile drives {asked_for:g} m/s",
            [(_SPEED_DRIVEN, ("trial", "methods", at, "speed_m_s"), fastest, asked_for / 2, asked_for * 2)],
            bears=True,
        )


def _profiles_above_trial(case: Case, fastest: float | None) -> Iterator[Doubt]:
    """A profile much faster than the trial, or faster in reverse than forward; `fastest` in m/s, None where the
    method asked for has no speed."""
    for at, profile in enumerate(case.configuration.profiles):
        path: KeyPath = ("configuration", "profiles", at)
        forward, back = profile.speed_m_s, profile.reverse_m_s
        if forward and fastest and forward > ABOVE_TRIAL * fastest:
            yield _doubt(
                f"The {profile.name} profile drives {forward:g} m/s, and the trial was driven with {fastest:g} m/s",
                [
                    ("configuration.profiles.speed_m_s", (*path, "speed_m_s"), forward, fastest / 4, fastest * 1.5),
                    (_SPEED_DRIVEN, ("trial", "methods"), fastest, forward / 1.5, forward * 4),
                ],
                bears=True,
            )
        if forward and back and back > forward:
            yield _doubt(
                f"The {profile.name} profile is faster in reverse, {back:g} m/s, than forward, {forward:g} m/s",
                [
                    ("configuration.profiles.reverse_m_s", (*path, "reverse_m_s"), back, forward / 4, forward),
                    ("configuration.profiles.speed_m_s", (*path, "speed_m_s"), forward, back, back * 4),
                ],
                bears=True,
            )


def _faster_than_driven(case: Case, driven: Mapping[str, float]) -> Iterator[Doubt]:
    """Attempts whose distance by their seconds is more than their control is said to have been driven with; once a
    control, by the fastest of them."""
    for method, most in driven.items():
        rows = [
            (row, row.distance_m, row.seconds)
            for row in case.records
            if row.method == method and row.distance_m and row.seconds and row.distance_m > ROUNDED * most * row.seconds
        ]
        if not rows:
            continue
        fastest, meters, seconds = max(rows, key=lambda entry: entry[1] / entry[2])
        several = f", and so with {len(rows) - 1} more of its rows" if len(rows) > 1 else ""
        at: KeyPath = ("trial", "rows")
        doubt = _doubt(
            f"In row {fastest.line} {meters:g} m in {seconds:g} s are {meters / seconds:.3g} m/s, and the fastest "
            f"driven with {method} is {most:g} m/s{several}",
            [
                ("trial.distance_m", at, meters, most / 4 * seconds, ROUNDED * most * seconds),
                ("trial.seconds", at, seconds, meters / most, meters / most * 4),
            ],
        )
        keys = (("trial.distance_m", tuple(m for _, m, _ in rows)), ("trial.seconds", tuple(s for *_, s in rows)))
        yield replace(doubt, keys=keys, rows=tuple(row.line for row, *_ in rows))


def _chair_and_body(case: Case) -> Iterator[Doubt]:
    chair, height, weight = case.configuration.chair, case.client.height_mm, case.client.weight_kg
    for name, (words, low, high) in OF_HEIGHT.items():
        value = getattr(chair, name)
        if height and value and not low * height <= value <= high * height:
            yield _doubt(
                f"The {words} of {value:g} mm does not fit a height of {height:g} mm",
                [
                    (f"configuration.chair.{name}", (*_CHAIR, name), value, low * height, high * height),
                    ("client.height_mm", ("client", "height_mm"), height, value / high, value / low),
                ],
            )
    if height and weight and (seat := chair.seat_width_mm):
        hips = HIP * math.sqrt(weight / (height / 1000))
        if seat < NARROWEST * hips:
            most_kg = (seat / NARROWEST / HIP) ** 2 * height / 1000
            yield _doubt(
                f"The seat of {seat:g} mm is narrow for {weight:g} kg at a height of {height:g} mm, of which the hips "
                f"are about {hips:.0f} mm",
                [
                    ("client.weight_kg", ("client", "weight_kg"), weight, most_kg / 3, most_kg),
                    ("configuration.chair.seat_width_mm", (*_CHAIR, "seat_width_mm"), seat, hips, hips * 1.4),
                ],
                bears=True,
            )
    for inner, outer in (
        ("seat_width_mm", "width_mm"),
        ("seat_depth_mm", "length_mm"),
        ("axle_to_front_mm", "length_mm"),
    ):
        a, b = getattr(chair, inner), getattr(chair, outer)
        if a and b and a > b:
            yield _doubt(
                f"Of the chair, {inner} is {a:g} and {outer} is {b:g}",
                [
                    (f"configuration.chair.{inner}", (*_CHAIR, inner), a, b / 4, b),
                    (f"configuration.chair.{outer}", (*_CHAIR, outer), b, a, a * 4),
                ],
            )


def _head(case: Case) -> Iterator[Doubt]:
    head, height = case.client.head, case.client.height_mm
    for at, mount in enumerate(case.configuration.mounting):
        path: KeyPath = ("configuration", "mounting", at)
        if height and mount.site in AT_HEAD and mount.height_mm:
            low, high = (share * height for share in HEAD_OF_HEIGHT)
            if not low <= mount.height_mm <= high:
                yield _doubt(
                    f"The {with_verb(mount.part, 'is')} {mount.height_mm:g} mm above the seat, at the head of a client "
                    f"of {height:g} mm",
                    [("configuration.mounting.height_mm", (*path, "height_mm"), mount.height_mm, low, high)],
                )
        if head.width_mm and mount.site in ("head_left", "head_right") and mount.gap_mm:
            most = head.width_mm / 2
            if mount.gap_mm > most:
                yield _doubt(
                    f"The gap of the {mount.part} is {mount.gap_mm:g} mm, more than half of a head {head.width_mm:g} "
                    "mm wide",
                    [("configuration.mounting.gap_mm", (*path, "gap_mm"), mount.gap_mm, 1, 40)],
                )
    if head.width_mm and head.length_mm and head.circumference_mm:
        about = math.pi * (head.width_mm + head.length_mm) / 2
        if not ROUND[0] <= head.circumference_mm / about <= ROUND[1]:
            yield _doubt(
                f"A head {head.width_mm:g} mm wide and {head.length_mm:g} mm long is about {about:.0f} mm around, "
                f"and {head.circumference_mm:g} mm is recorded",
                [
                    (f"client.head.{name}", ("client", "head", name), value, low, high)
                    for name, value, low, high in (
                        ("circumference_mm", head.circumference_mm, about * ROUND[0], about * ROUND[1]),
                        ("width_mm", head.width_mm, 105, 185),
                        ("length_mm", head.length_mm, 130, 235),
                    )
                ],
            )
