"""Speeds, distances, times and stops of the trial, of the lessons and of the profiles that contradict each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Any

from msgspec.structs import replace

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import DayTotal, Tried
from docgen.case.tried import Method
from docgen.criteria.doubt import Doubt, contradiction
from docgen.criteria.sentences import day
from docgen.evidence.blocks import total
from docgen.evidence.stopping import stopping_distance
from docgen.grammar import with_verb

SLOWEST_SHARE = 0.02  # of the speed driven, stops and talk between the attempts included
ROUNDED = 1.1  # a distance and a time as they are written down
# times the speed driven that a profile drives; times the fastest profile that was driven; times one method's speed is
# another's
ABOVE_TRIAL, BELOW_TRIAL, APART = 2.0, 4.0, 2.5
_SPEED_DRIVEN = "trial.methods.speed_m_s"


def doubts_of_speeds(case: Case) -> Iterator[Doubt]:
    """Each distance, time or speed that another does not allow."""
    yield from _driven(case)
    yield from _speeds(case)
    yield from _stops_on_slopes(case)


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
        yield from _block("sessions", f"the session of {day(on)}", rows, profiles)


def _block(sheet: str, called: str, rows: list[Any], fastest_m_s: float | None) -> Iterator[Doubt]:
    meters, minutes = total(rows, "distance_m"), total(rows, "minutes")
    at: KeyPath = {"trial": ("trial", "rows"), "totals": ("trial",)}.get(sheet, ("training",))
    lines = tuple(row.line for row in rows[:1]) if sheet == "trial" else ()
    if not minutes:
        return
    lasted = sum(getattr(row, "seconds", None) or 0 for row in rows)  # totals have no seconds
    if lasted > minutes * 60 * 1.05:
        sides = [(f"{sheet}.minutes", at, minutes, lasted / 60, lasted)]
        yield contradiction(
            f"In {called} the attempts last {lasted:g} s, and the time used is {minutes:g} min", sides, False, lines
        )
    if not meters or not fastest_m_s:
        return
    mean = meters / (minutes * 60)
    if SLOWEST_SHARE * fastest_m_s <= mean <= fastest_m_s:
        return
    least, most = 0.05 * fastest_m_s, 0.8 * fastest_m_s  # where blocks lie
    yield contradiction(
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
            yield contradiction(
                f"{with_verb(method.name, 'was')} driven with {speed:g} m/s, and each other control with "
                f"{' to '.join(dict.fromkeys((f'{slowest:g}', f'{fastest:g}')))} m/s",
                [(_SPEED_DRIVEN, ("trial", "methods", at, "speed_m_s"), speed, slowest / 1.5, fastest * 1.5)],
                bears=True,
            )


def _rows_above_their_method(case: Case, driven: Mapping[str, float]) -> Iterator[Doubt]:
    """A row faster than its method is said to have been driven; `driven` by the id of the method, in m/s."""
    for row in case.tried:
        if row.speed_m_s and (most := driven.get(row.method)) and row.speed_m_s > most * 1.05:
            yield contradiction(
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
        yield contradiction(
            f"The trial was driven with {fastest:g} m/s, and the fastest profile drives {asked_for:g} m/s",
            [(_SPEED_DRIVEN, ("trial", "methods", at, "speed_m_s"), fastest, asked_for / 2, asked_for * 2)],
            bears=True,
        )


def _stops_on_slopes(case: Case) -> Iterator[Doubt]:
    """A stop measured going down a slope that is shorter than the chair's own delay and braking take on the level, with
    nobody's release counted: no slope down makes a stop shorter."""
    chair = case.configuration.chair
    speeds = {profile.id: profile.speed_m_s for profile in case.configuration.profiles}
    for at, space in enumerate(case.spaces):
        speed = speeds.get(space.profile or "")
        if not (speed and space.slope_stop_m and chair.deceleration_m_s2):
            continue
        on_level = stopping_distance(speed, 0.0, chair.electronics_delay_s or 0.0, chair.deceleration_m_s2)
        if on_level is not None and space.slope_stop_m < on_level.total_m:
            least_m = on_level.total_m
            yield contradiction(
                f"The stop measured going down the {space.name} is {space.slope_stop_m:g} m, and from {speed:g} m/s "
                f"the delay and the braking of the chair alone take {least_m:.2g} m on the level",
                [("spaces.slope_stop_m", ("spaces", at, "slope_stop_m"), space.slope_stop_m, least_m, 12 * least_m)],
                bears=True,
            )


def _profiles_above_trial(case: Case, fastest: float | None) -> Iterator[Doubt]:
    """A profile much faster than the trial, or faster in reverse than forward; `fastest` in m/s, None where the
    method asked for has no speed."""
    for at, profile in enumerate(case.configuration.profiles):
        path: KeyPath = ("configuration", "profiles", at)
        forward, back = profile.speed_m_s, profile.reverse_m_s
        if forward and fastest and forward > ABOVE_TRIAL * fastest:
            yield contradiction(
                f"The {profile.name} profile drives {forward:g} m/s, and the trial was driven with {fastest:g} m/s",
                [
                    ("configuration.profiles.speed_m_s", (*path, "speed_m_s"), forward, fastest / 4, fastest * 1.5),
                    (_SPEED_DRIVEN, ("trial", "methods"), fastest, forward / 1.5, forward * 4),
                ],
                bears=True,
            )
        if forward and back and back > forward:
            yield contradiction(
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
        doubt = contradiction(
            f"In row {fastest.line} {meters:g} m in {seconds:g} s are {meters / seconds:.3g} m/s, and the fastest "
            f"driven with {method} is {most:g} m/s{several}",
            [
                ("trial.distance_m", at, meters, most / 4 * seconds, ROUNDED * most * seconds),
                ("trial.seconds", at, seconds, meters / most, meters / most * 4),
            ],
        )
        keys = (("trial.distance_m", tuple(m for _, m, _ in rows)), ("trial.seconds", tuple(s for *_, s in rows)))
        yield replace(doubt, keys=keys, rows=tuple(row.line for row, *_ in rows))
