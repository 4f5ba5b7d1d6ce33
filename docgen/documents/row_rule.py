"""The rule of training as its pages tell it: the table for the coach, how sure it is, and what a step takes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.stage import STAGES
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.evidence.fact import Evidence
from docgen.evidence.rows_of_five import (
    FEW,
    FEWEST,
    FULL,
    MOST_ROWS,
    THREE_ALONE_TO_MOVE,
    THREE_TO_MOVE,
    TWO_TO_MOVE,
)
from docgen.evidence.stages import PAUSE_DAYS
from docgen.evidence.stops_in_a_row import IN_A_ROW, MISSED_IN_UPKEEP, MOST_BREAKS, N_DAYS, UPKEEP

MADE_FROM = {
    "row_rule": made_from(Privacy.TRAINING),
    "how_sure": made_from(Privacy.TRAINING),
    "rule": made_from("training.stage"),
    "reliable": made_from("training.stage"),
}
_SHARES = (60, 65, 80, 90)  # tries done alone, of a hundred


class RuleRow(TypedDict):
    """One row of the coach's table: after so many full rows, what moves on, what asks for a change, and what else."""

    full: str
    move_on: str
    change: str
    other: str


class SureRow(TypedDict):
    """What the rule does to drivers of one rate: of a hundred drivers, so many moved on and so many told to change."""

    share: int
    move_on: int
    change: int


class RuleTold(TypedDict):
    """Numbers of the rule in sentences. `far` whether nobody is at arm's length at the step reached; `shown` and
    `stops_pass` of a hundred; `tries` mean tries that a driver at 90 of 100 takes."""

    far: bool
    row: int
    two: int
    three: int
    n_two: int
    n_three: int
    few: int
    fewest: int
    in_a_row: int
    stop_days: int
    most_breaks: int
    upkeep: int
    missed_in_upkeep: int
    pause_days: int
    shown: int
    stops_80: int
    stops_90: int
    tries: int


class Reliable(TypedDict):
    """What passing a step of training takes: so many of so many counted tries of each task, and so many stops in a row.

    waited_for  whether supervision waits for a step
    """

    waited_for: bool
    k: int
    n: int
    in_a_row: int


def is_far(stage: int | None) -> bool:
    """Whether nobody is at arm's length at a step."""
    return stage is not None and STAGES[stage].nobody_near


def row_rule(stage: int | None, words: Words) -> Iterator[RuleRow]:
    """The table of the coach for the step to train at."""
    says, far = words["row_rule"], is_far(stage)
    two = says["of"].format(k=TWO_TO_MOVE, n=2 * FULL)
    three = says["at_least"].format(k=THREE_ALONE_TO_MOVE if far else THREE_TO_MOVE, n=3 * FULL)
    either = three if far else says["or"].format(first=two, second=three)
    fewest = says["at_most"].format(k=FEWEST, n=2 * FULL)
    few = says["not_rising"].format(first=fewest, k=FEW, n=2 * FULL)
    for full, move_on, change, other in (
        ("2", words["no_value"] if far else two, fewest, says["go_on"]),
        ("3", either, fewest, says["go_on"]),
        (says["span"].format(first=4, last=MOST_ROWS - 1), either, few, says["go_on"]),
        (str(MOST_ROWS), either, few, says["therapist"]),
    ):
        yield {"full": full, "move_on": move_on, "change": change, "other": other}


def how_sure(stage: int | None, evidence: Evidence) -> Iterator[SureRow]:
    """What the rule does to drivers of four rates."""
    suffix = "_far" if is_far(stage) else ""
    for share in _SHARES:
        yield {
            "share": share,
            "move_on": _of_100(evidence, f"moves_on{suffix}.{share}"),
            "change": _of_100(evidence, f"changes{suffix}.{share}"),
        }


def rule_told(stage: int | None, evidence: Evidence) -> RuleTold:
    """The numbers that the sentences beside the table name."""
    far = is_far(stage)
    return {
        "far": far,
        "row": FULL,
        "two": TWO_TO_MOVE,
        "three": THREE_ALONE_TO_MOVE if far else THREE_TO_MOVE,
        "n_two": 2 * FULL,
        "n_three": 3 * FULL,
        "few": FEW,
        "fewest": FEWEST,
        "in_a_row": IN_A_ROW if stage is None else STAGES[stage].in_a_row,
        "stop_days": N_DAYS if stage is None else STAGES[stage].n_days,
        "most_breaks": MOST_BREAKS,
        "upkeep": UPKEEP,
        "missed_in_upkeep": MISSED_IN_UPKEEP,
        "pause_days": PAUSE_DAYS,
        "shown": _of_100(evidence, f"shown.{IN_A_ROW}"),
        "stops_80": _of_100(evidence, "stops_pass.80"),
        "stops_90": _of_100(evidence, "stops_pass.90"),
        "tries": math.ceil(_value(evidence, f"tries_to_pass{'_far' if far else ''}.90")),
    }


def reliable(case: Case) -> Reliable:
    """The rule of the steps that supervision waits for; of several, what all of them take at the least."""
    steps = (step for place in case.supervision for step in (place.until_stage, place.after_stage))
    waits = [STAGES[step] for step in steps if step is not None]
    far = all(stage.nobody_near for stage in waits)
    return {
        "waited_for": bool(waits),
        "k": THREE_ALONE_TO_MOVE if far else THREE_TO_MOVE,
        "n": 3 * FULL,
        "in_a_row": max((stage.in_a_row for stage in waits), default=0),
    }


def _value(evidence: Evidence, fact_id: str) -> float:
    fact = evidence.of(fact_id)
    return fact.value if fact is not None and fact.value is not None else 0.0


def _of_100(evidence: Evidence, fact_id: str) -> int:
    """A chance as so many times in a hundred."""
    return round(100 * _value(evidence, fact_id))
