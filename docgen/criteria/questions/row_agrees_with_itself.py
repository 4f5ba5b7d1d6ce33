"""What the columns and the note of one row of the trial say agrees.

Asks: Whether a stop on command that was not made is marked as not missed; whether a row that is done, of another task,
    counts something missed where no activations are counted, so that it can be a stop at its end; whether an attempt
    is noted as the one at which the driver asked to stop, and attempts of the same control follow on that day.
Why a payer asks: The letter offers each row of the trial; a reviewer who asks for them and finds two answers in one
    believes neither.
What settles it: The row looked up on its sheet or in the video: success, missed or the note mended, activations counted
    beside missed, or the note written on the last attempt.
Source: the definitions of the columns success and missed on the printed sheets; which words tell of an end is common
    use, no source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.sentences import capital, counted, day, listed
from docgen.evidence.blocks import lines

HEADING = "record"
CLAIM = "The columns and the note of each row agree"
SHOWN_IN = ("letter: Equipment Trial and Results",)
QUIET = True
SETTINGS: dict[str, object] = {}

_ENDED = re.compile(
    r"\b(?:asked|wanted|begged|wished) to (?:stop|end|leave|go home)\b"
    r"|\b(?:stopped|ended|finished|cut|broken? off) (?:early|short)\b|\bsession (?:stopped|ended)\b",
    re.IGNORECASE,
)
_AT = ("trial", "rows")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.records:
        return does_not_apply("No single attempt is recorded.", _AT)
    stops = case.trial.stop_tasks
    unmarked = [row for row in case.records if row.task in stops and not row.success and row.missed == 0]
    ended = [row for row in case.records if _ENDED.search(row.note or "") and _followed(case, row)]
    if unmarked or ended:
        parts = [
            f"{counted(len(unmarked), 'stop is', 'stops are')} not made and marked as not missed, {_days(unmarked)}"
            if unmarked
            else "",
            f"after {counted(len(ended), 'attempt is', 'attempts are')} noted as the end, others follow with the same "
            f"control on that day, {_days(ended)}"
            if ended
            else "",
        ]
        return not_met(
            f"{capital(listed(filter(None, parts)))}.",
            _AT,
            rows=lines([*unmarked, *ended]),
            mend="Look each row up on its sheet: mend success, missed or the note, or write the note on the last "
            "attempt.",
        )
    if open_ := [row for row in case.records if row.task not in stops and _may_miss_a_stop(row)]:
        return cannot_tell(
            f"{counted(len(open_), 'row is', 'rows are')} done with something missed and no activations counted, "
            f"{_days(open_)}; whether that was the stop at its end is not recorded.",
            _AT,
            rows=lines(open_),
            mend="Count activations beside missed, or look the row up: a missed stop is not done.",
        )
    return met("Each row's columns and note agree.", _AT)


def _may_miss_a_stop(row: Row) -> bool:
    return row.success and bool(row.missed) and row.activations is None


def _followed(case: Case, row: Row) -> bool:
    """Whether a later attempt with the same control stands on that day: by its number where both have one."""
    return any(
        other.line != row.line
        and (other.date, other.method) == (row.date, row.method)
        and (
            other.attempt > row.attempt
            if other.attempt is not None and row.attempt is not None
            else other.line > row.line
        )
        for other in case.records
    )


def _days(rows: Sequence[Row]) -> str:
    return f"on {listed(dict.fromkeys(day(row.date) for row in rows))}"
