"""Stop rules of training: which tries or sessions met one, and whether driving went on before someone cleared it.

The rules are common practice, no source. A reading that was not taken meets no rule, and says nothing either.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby
from typing import Literal

from msgspec import Struct

from docgen.case.session import SessionRow

Kind = Literal["injury", "person_contact", "ran_on", "stops_missed", "near_misses", "pain", "tone", "fatigue", "skin"]

MOST_PAIN, MOST_FATIGUE, MOST_RISE, MOST_NEAR = 4.0, 8.0, 2.0, 2


class Stopped(Struct, frozen=True):
    """A stop rule that was met.

    line        row of the try, or of the reading after the session
    went_on     row that was driven before anyone cleared it; None when driving stopped or was cleared
    cleared_by  who cleared it; None where nobody is recorded
    of_a_try    whether the try itself met it, so that counts begin anew
    """

    on: date
    kind: Kind
    line: int
    went_on: int | None
    cleared_by: str | None
    of_a_try: bool


def ends_a_lesson(kind: str, reading: float) -> bool:
    """Whether a reading by itself ends a lesson.

    kind     pain or fatigue
    reading  0 to 10

    Source: common practice, no source: pain over 4 of 10, tiredness 8 of 10.
    Check:  pain 4 does not, pain 5 does; tiredness 7 does not, tiredness 8 does (by hand).
    """
    return reading > MOST_PAIN if kind == "pain" else reading >= MOST_FATIGUE


def in_order(rows: Iterable[SessionRow]) -> list[SessionRow]:
    """Rows in the order in which they were driven: by day, and within a day as the file has them.

    rows  of the training record

    Source: how the sheet is filled.
    Check:  as given when the days are in order (0 rows give 0).
    """
    return sorted(rows, key=lambda row: (row.date, row.line))


def stopped(rows: Iterable[SessionRow], stop_tasks: Sequence[str]) -> tuple[Stopped, ...]:
    """Every stop rule that was met, in order.

    rows        of the training record
    stop_tasks  ids of the tasks in which a failure is a missed stop

    A rule met in a try (someone hurt, a person touched, a chair that ran on, the second stop missed or the second near
    miss in a session) asks that no further try is made; one read after the session (pain, stiffness, tiredness, skin)
    asks the same of the next session. `cleared_by` on a row from then up to the next one driven clears it.

    Source: common practice, no source: pain over 4 of 10 or a rise of 2, stiffness up by 2, tiredness 8 of 10.
    Check:  2 stops missed on one day and a third try after them: 1 rule met, and driving went on (by hand).
    """
    ordered = in_order(rows)
    place = {row.line: at for at, row in enumerate(ordered)}
    stops: list[Stopped] = []
    for on, group in groupby(ordered, key=lambda row: row.date):
        session = list(group)
        for kind, row in _of_tries(session, stop_tasks):
            stops.append(_stopped(ordered, place[row.line], place[row.line] + 1, kind, on, row.line, True))
        for kind, row in _after(session):
            stops.append(_stopped(ordered, place[row.line], place[session[-1].line] + 1, kind, on, row.line, False))
    return tuple(stops)


def _of_tries(session: Sequence[SessionRow], stop_tasks: Sequence[str]) -> Iterator[tuple[Kind, SessionRow]]:
    n_missed = n_near = 0
    for row in session:
        n_missed += row.task in stop_tasks and not row.success
        n_near += row.near_misses or 0
        if row.injury:
            yield "injury", row
        elif row.person_contacts:
            yield "person_contact", row
        elif row.ran_on:
            yield "ran_on", row
        elif n_missed >= 2 and row.task in stop_tasks and not row.success:
            yield "stops_missed", row
        elif n_near >= MOST_NEAR and row.near_misses:
            yield "near_misses", row


def _after(session: Sequence[SessionRow]) -> Iterator[tuple[Kind, SessionRow]]:
    for kind in ("pain", "tone", "fatigue"):
        before = next(
            (getattr(row, f"{kind}_before") for row in session if getattr(row, f"{kind}_before") is not None), None
        )
        row = next((row for row in reversed(session) if getattr(row, f"{kind}_after") is not None), None)
        if row is None:
            continue
        after = getattr(row, f"{kind}_after")
        if (kind != "tone" and ends_a_lesson(kind, after)) or (
            kind != "fatigue" and before is not None and after - before >= MOST_RISE
        ):
            yield kind, row
    if marked := next((row for row in session if row.skin), None):
        yield "skin", marked


def _stopped(
    ordered: Sequence[SessionRow], at: int, following: int, kind: Kind, on: date, line: int, of_a_try: bool
) -> Stopped:
    """The rule met at one row: cleared on it or on the next one driven, or driven on without."""
    until = ordered[at : following + 1]
    cleared_by = next((row.cleared_by for row in until if row.cleared_by), None)
    after = ordered[following] if following < len(ordered) else None
    return Stopped(on, kind, line, after.line if after and not cleared_by else None, cleared_by, of_a_try)
