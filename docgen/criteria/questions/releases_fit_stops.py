"""The release time of each stop fits what became of the stop.

Asks: Whether a stop that is done would, by its own release time and speed, have ended beyond the distance that counts,
    while letting go alone or with the delay and braking of the chair that was driven; whether a missed one would have
    ended inside it, though its note says that it was late or nothing on its row explains the miss; whether a release
    took longer than the whole attempt.
Why a payer asks: Speeds are worked out from these times; one that contradicts the stop in its row makes every
    distance doubtful.
What settles it: within_m of the stopping task, speed_m_s of the row or of the method, and the row looked up on its
    sheet; a note where something else than the release made the stop fail.
Source: distance while letting go, v t, is the least that any chair runs on; with delay and braking, v (t + delay) +
    v^2 / (2 a), those of the chair as recorded, in the trial those of the trial chair.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import Tried
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, day, listed
from docgen.evidence.blocks import lines, total_lines
from docgen.evidence.stopping import stopping_distance
from docgen.units import stretch

HEADING = "record"
CLAIM = "Release times fit the stops recorded with them"
SHOWN_IN = ("letter: Safety and Home Environment",)
IN_LIMITS = True
SETTINGS: dict[str, object] = {}

_LATE = re.compile(
    r"\b(late|too long|too slow(ly)?|slow to|went on|kept (on|going|driving|pushing|puffing)|held on)\b", re.I
)

_CHAIR = (
    ("configuration", "chair", "electronics_delay_s"),
    ("configuration", "chair", "deceleration_m_s2"),
)
_MOST_TOLD = 5
_ROUNDING = 1 + 1e-9  # a distance beyond the limit by a rounding error alone still fits
Reckoned = tuple[Tried, float, float]  # stops, their speed in m/s, and within how many meters they count as done


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.tried:
        return cannot_tell("No row of a trial is recorded.", ("trial", "rows"), mend="Add the rows of the trial.")
    if too_long := [r for r in case.records if r.seconds is not None and (r.release_s or 0.0) > r.seconds]:
        return not_met(
            f"{counted(len(too_long), 'row has', 'rows have')} a release that is longer than the attempt: "
            f"{_times(too_long)}.",
            ("trial", "rows"),
            rows=lines(too_long),
            mend="Look the times up on the sheet.",
            danger=True,
        )
    return _by_distance(case)


def _by_distance(case: Case) -> Answer:
    """Whether the stops on command fit the distance that their task allows."""
    within_m = {task.id: task.within_m for task in case.trial.tasks if task.shows == "stop"}
    stops = [row for row in case.tried if row.task in within_m and row.slowest_s is not None]
    if not stops:
        return does_not_apply("No stop on command has a release time.", ("trial", "rows"))
    tasks = [i for i, task in enumerate(case.trial.tasks) if task.id in within_m]
    if all(within_m[row.task] is None for row in stops):
        return cannot_tell(
            "Within how many meters a stop counts as done is not recorded.",
            *(("trial", "tasks", i, "within_m") for i in tasks),
            mend=fill_in({"within_m": "<m>"}, " of the stopping task"),
        )
    reckoned = [(row, m_s, limit) for row in stops if (m_s := _speed_m_s(case, row)) and (limit := within_m[row.task])]
    if not reckoned:
        return cannot_tell(
            "How fast the stops on command were driven is not recorded.",
            *(("trial", "methods", i, "speed_m_s") for i, _ in enumerate(case.trial.methods)),
            mend=fill_in({"speed_m_s": "<m/s>"}, " of the method in [[trial.methods]], or of each row"),
        )
    at = (("trial", "rows"), *(("trial", "tasks", i, "within_m") for i in tasks))
    return _compared(case, reckoned, within_m, at)


def _compared(
    case: Case, reckoned: list[Reckoned], within_m: dict[str, float | None], at: tuple[KeyPath, ...]
) -> Answer:
    """Whether each stop ends where its release time and speed put it; `at` is where the answer comes from."""
    if beyond := [row for row, m_s, limit in reckoned if _all_made(row) and m_s * (row.slowest_s or 0.0) > limit]:
        return not_met(
            f"{counted(len(beyond), 'stop is', 'stops are')} written down as done within "
            f"{_limit(beyond, within_m)}, and "
            f"while letting go alone the chair went further: {_times(beyond)}.",
            *at,
            rows=lines(beyond),
            totals=total_lines(beyond),
            mend="Look up the release time, the speed and the outcome of each, and mend the wrong one.",
            danger=True,
        )
    if past := [row for row, m_s, limit in reckoned if _all_made(row) and _past(case, row, m_s, limit)]:
        return not_met(
            f"{counted(len(past), 'stop is', 'stops are')} written down as done within {_limit(past, within_m)}, and "
            "by release time and speed, with the delay and braking recorded of the chair, would have ended beyond: "
            f"{_times(past)}.",
            *at,
            *_CHAIR,
            rows=lines(past),
            totals=total_lines(past),
            mend="Score each again from the video, or write speed_m_s on its row where it was slower.",
            danger=any(row.method == case.configuration.method for row in past),
        )
    if inside := [row for row, m_s, limit in reckoned if isinstance(row, Row) and _unexplained(case, row, m_s, limit)]:
        return not_met(
            f"{counted(len(inside), 'stop was', 'stops were')} missed, and by release time and speed would "
            "have ended within "
            f"{_limit(inside, within_m)}: {_times(inside)}; nothing on the row says what made it late.",
            *at,
            rows=lines(inside),
            mend="Write in note what made the stop late, or mend the time.",
        )
    if late := [row for row, m_s, limit in reckoned if isinstance(row, Row) and _late_in_words(case, row, m_s, limit)]:
        return not_met(
            f"{counted(len(late), 'stop was late', 'stops were late')} by the note of the row, and by release time "
            f"and speed would have ended within {_limit(late, within_m)}: {_times(late)}; the "
            "time is not that of the stop.",
            *at,
            rows=lines(late),
            mend="Write the release of that very stop into release_s, leave it empty where it was not timed, or mend "
            "the note.",
            danger=any(row.method == case.configuration.method for row in late),
        )
    return met(f"{counted(len(reckoned), 'stop fits its', 'stops fit their')} release time and speed.", *at)


def _all_made(row: Tried) -> bool:
    """Whether every stop was made, the slowest release among them."""
    return row.n_done == row.n_attempts


def _past(case: Case, row: Tried, speed_m_s: float, limit_m: float) -> bool:
    """Whether a stop reckons beyond the limit with the figures of the chair; not told where one of them is missing."""
    run_m = _run_m(case, row.slowest_s, speed_m_s)
    return run_m is not None and run_m > limit_m * _ROUNDING


def _run_m(case: Case, release_s: float | None, speed_m_s: float) -> float | None:
    """How far the chair runs on after the word, in metres, with its own delay and braking; None where that is open."""
    chair = case.configuration.chair
    if release_s is None or chair.electronics_delay_s is None or chair.deceleration_m_s2 is None:
        return None
    stop = stopping_distance(speed_m_s, release_s, chair.electronics_delay_s, chair.deceleration_m_s2)
    return None if stop is None else stop.total_m


def _speed_m_s(case: Case, row: Tried) -> float | None:
    """Speed of the row; where it has none, the fastest recorded of its method."""
    if row.speed_m_s is not None:
        return row.speed_m_s
    return next((method.speed_m_s for method in case.trial.methods if method.id == row.method), None)


def _unexplained(case: Case, row: Row, speed_m_s: float, limit_m: float) -> bool:
    """Whether a missed stop reckons inside the limit, with the chair asked for, and its row tells no other cause."""
    if row.contacts or row.missed or row.note:
        return False
    return _missed_inside(case, row, speed_m_s, limit_m)


def _late_in_words(case: Case, row: Row, speed_m_s: float, limit_m: float) -> bool:
    """Whether the note of a missed stop says that it was late, and its own release time says that it was not."""
    return bool(_LATE.search(row.note or "")) and _missed_inside(case, row, speed_m_s, limit_m)


def _missed_inside(case: Case, row: Row, speed_m_s: float, limit_m: float) -> bool:
    """Whether a stop that was missed reckons inside the limit, with the chair asked for."""
    run_m = None if row.success else _run_m(case, row.release_s, speed_m_s)
    return run_m is not None and run_m <= limit_m


def _times(rows: Sequence[Tried]) -> str:
    more = [f"{len(rows) - _MOST_TOLD} more"] if len(rows) > _MOST_TOLD else []
    return listed([*(f"{row.slowest_s:g} s on {day(row.date)}" for row in rows[:_MOST_TOLD]), *more])


def _limit(rows: Sequence[Tried], within_m: dict[str, float | None]) -> str:
    return listed(dict.fromkeys(stretch(within_m[row.task] or 0, "down") for row in rows), "or")
