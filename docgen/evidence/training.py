"""The training record of a case as the stages walk it: which tasks, which rules, which tries."""

from __future__ import annotations

import weakref
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from functools import wraps
from itertools import groupby
from typing import Literal, TypeVar

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.stage import STAGES, STOP_TASKS, tasks_of
from docgen.evidence.done import counted
from docgen.evidence.stages import Mark, Rule, Try, Walk, walk
from docgen.evidence.stop_rules import Kind, Stopped, in_order, stopped

_Result = TypeVar("_Result")
WINDOW_DAYS = 28  # the first and the last four weeks are set side by side once there are eight


def once_a_case(reckon: Callable[[Case], _Result]) -> Callable[[Case], _Result]:
    """The same function, its result kept for as long as the latest case lives: a record may hold a hundred thousand
    tries."""
    kept: list[tuple[weakref.ref[Case], _Result]] = []

    @wraps(reckon)
    def known(case: Case) -> _Result:
        for at, result in (*kept,):
            if at() is case:
                return result
        result = reckon(case)
        kept[:] = [(weakref.ref(case, lambda _: kept.clear()), result)]
        return result

    return known


def rules_of(case: Case) -> Mapping[int, Rule]:
    """Step -> what passing it takes for this client."""
    return {
        stage.number: Rule(
            tuple(task for task in tasks_of(stage, case) if task not in STOP_TASKS),
            stage.in_a_row,
            stage.n_days,
            stage.nobody_near,
        )
        for stage in STAGES
    }


def stop_tasks(case: Case) -> tuple[str, ...]:
    """Ids of the tasks in which a failure is a missed stop."""
    return (*STOP_TASKS, *case.trial.stop_tasks)


@once_a_case
def stops_met(case: Case) -> tuple[Stopped, ...]:
    """Every stop rule that training has met."""
    return stopped(counted(case).sessions, stop_tasks(case))


def stops_standing(case: Case) -> tuple[Stopped, ...]:
    """Stop rules that nobody is recorded to have cleared: no lesson until then."""
    return tuple(met for met in stops_met(case) if met.cleared_by is None)


@once_a_case
def walked(case: Case) -> Walk | None:
    """The stages as training has gone through them; None without a record, or without a stage to start from."""
    if not case.sessions or case.training.stage is None:
        return None
    broke = {met.line: met.kind for met in stops_met(case) if met.of_a_try}
    halts = stop_tasks(case)
    tries: list[Try] = []
    driven: tuple[date | None, str | None] = (None, None)  # the last task that was driven, and its day
    sessions = counted(case).sessions
    # where some were done on a day and the help of none is written, those not done would count alone, as failures
    of_help = {(row.date, row.task) for row in sessions if row.help is not None}
    without_help = {(row.date, row.task) for row in sessions if row.success and row.help is None} - of_help
    for row in in_order(sessions):
        is_stop = row.task in halts
        counts = is_stop or (row.date, row.task) not in without_help
        if not is_stop:
            driven = (row.date, row.task)
        tries.append(
            Try(
                row.date,
                row.stage,
                row.task,
                mark_of(row, is_stop) if counts else None,
                is_stop,
                _begins_anew(broke.get(row.line)),
                driven[1] if driven[0] == row.date else None,
                bool(row.changed or row.new_count),
                bool(row.cleared_by),
                row.line,
            )
        )
    return walk(tries, case.training.stage, rules_of(case))


def mark_of(row: SessionRow, is_stop: bool) -> Mark | None:
    """How a try counts; None where its help, or whether a stop came by surprise, is not written.

    A try that was not done is told from no help: without its help too it counts as not done, but for a day on which
    others of its task were done and the help of none is written (`walked`).
    """
    if is_stop and row.surprise is not True:
        return None if row.surprise is None else "planned"
    if not row.success or row.contacts or row.person_contacts:
        return "not"
    if row.help is None:
        return None
    return "alone" if row.help == 0 else "helped"


def _begins_anew(kind: Kind | None) -> Literal["", "step", "stops"]:
    """Which counts an event begins anew; a second near miss ends a lesson and no count."""
    if kind is None or kind == "near_misses":
        return ""
    return "stops" if kind == "stops_missed" else "step"


def stage_now(case: Case) -> int | None:
    """The stage to train at: the one reached, else the one the case starts from."""
    reached = walked(case)
    return reached.stage if reached else case.training.stage


def at_stage_now(case: Case) -> tuple[SessionRow, ...]:
    """Rows driven at the stage reached since it was last entered, whatever was driven in between; none where the last
    try entered it."""
    reached, ordered = walked(case), in_order(case.sessions)
    if reached is None:
        return ()
    first = next((at for at, row in enumerate(ordered, start=1) if row.line == reached.entered), 0)
    return tuple(row for row in ordered[first:] if row.stage == reached.stage)


def by_day(rows: Sequence[SessionRow]) -> list[tuple[date, tuple[SessionRow, ...]]]:
    """Sessions: the rows of each day, in order."""
    return [(on, tuple(group)) for on, group in groupby(in_order(rows), key=lambda row: row.date)]


def windows(rows: Sequence[SessionRow]) -> dict[str, tuple[SessionRow, ...]]:
    """Rows of the first and of the last four weeks; empty while the two would overlap."""
    ordered = in_order(rows)
    if not ordered or (ordered[-1].date - ordered[0].date).days + 1 < 2 * WINDOW_DAYS:
        return {}
    early, late = ordered[0].date + timedelta(days=WINDOW_DAYS), ordered[-1].date - timedelta(days=WINDOW_DAYS)
    return {
        "first": tuple(row for row in ordered if row.date < early),
        "last": tuple(row for row in ordered if row.date > late),
    }
