"""Measured values that depend on each other agree.

Asks: Whether distance and minutes fit the speed driven; speeds of the methods, the rows and the profiles each other;
    seat, back, footplate and parts at the head the client's height and weight; gaps and circumference the width of
    the head; a ramp a slope, and a stop measured on it the braking of the chair; whether stops
    counted beside the rows are none of the rows of their day.
Why a payer asks: Each of two values can be right alone, and both together not; a stop worked out from the wrong one
    is too short.
What settles it: The wrong one of the two looked up and corrected, or an entry of [[confirmed]] for either.
Source: buttock-knee length at most 0.363 and hip breadth 0.22 to 0.25 of stature (means), head 154 by 200 mm with a
    circumference of 574 mm: ANSUR II, Gordon et al. 2014, read; widened for children and for illness by us. Running
    slope of a ramp: 2010 ADA Standards 405, from memory. Else common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.doubt import Doubt, contradiction, doubtful, unconfirmed
from docgen.criteria.measured import outside
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, day
from docgen.criteria.sizes_agree import doubts_of_sizes
from docgen.criteria.speeds_agree import doubts_of_speeds
from docgen.evidence.blocks import lines, total_lines
from docgen.evidence.stops import with_stops
from docgen.grammar import with_verb

HEADING = "record"
CLAIM = "Measured values that depend on each other agree"
SETTINGS: dict[str, object] = {}

LEAST_RAMP = 2.0  # percent


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
    yield from doubts_of_speeds(case)
    yield from _stops_perhaps_twice(case)
    yield from doubts_of_sizes(case)
    yield from _tilt_beyond_the_chair(case)
    for at, space in enumerate(case.spaces):
        if space.kind == "ramp" and space.slope_percent and space.slope_percent < LEAST_RAMP:
            side = ("spaces.slope_percent", ("spaces", at, "slope_percent"), space.slope_percent, LEAST_RAMP, 25.0)
            yield contradiction(
                f"The {with_verb(space.name, 'is')} a ramp with a slope of {space.slope_percent:g} percent",
                [side],
                True,
            )


def _tilt_beyond_the_chair(case: Case) -> Iterator[Doubt]:
    """A tilt that is asked for and that the chair, as its manufacturer states, does not reach."""
    asked, most = case.configuration.chair.tilt_asked_deg, case.configuration.chair.most_tilt_deg
    if asked is not None and most is not None and asked > most:
        at = ("configuration", "chair", "tilt_asked_deg")
        sides = [
            ("configuration.chair.tilt_asked_deg", at, asked, 0.0, most),
            ("configuration.chair.most_tilt_deg", (*at[:2], "most_tilt_deg"), most, asked, 90.0),
        ]
        yield contradiction(f"The seat is asked for with {asked:g} degrees of tilt, and it tilts {most:g}", sides, True)


def _stops_perhaps_twice(case: Case) -> Iterator[Doubt]:
    """Stops counted beside the rows of a day whose rows hold stops too."""
    stop_tasks = case.trial.stop_tasks
    for at, method in enumerate(case.trial.methods):
        tried = [row for row in case.tried if row.method == method.id and row.date == method.stops_on]
        if method.stops_asked and method.stops_on and (rows := [*with_stops(tried, stop_tasks)]):
            yield Doubt(
                f"Beside the rows, {counted(method.stops_asked, 'stop', 'stops')} of {day(method.stops_on)} with the "
                f"{method.name} {'is' if method.stops_asked == 1 else 'are'} counted, and the rows of that day hold "
                "stops too; perhaps they are the same.",
                (("trial", "methods", at, "stops_asked"), ("trial", "methods", at, "stops_on")),
                (("trial.methods.stops_asked", (float(method.stops_asked),)),),
                lines(rows),
                totals=total_lines(rows),
            )
