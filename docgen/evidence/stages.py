"""Stages of training walked try by try: which tasks are mastered, which go back, and the stage a driver has reached.

Each task of a stage is a sequential test of its own, looked at as the coach does: in the rows of the small table.
A stop is never settled by the table: it takes so many in a row.
After a stop rule that a try itself broke, every count of its stage starts again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Literal

from msgspec import Struct, field

from docgen.evidence.mastery import COACH_TRIES, Plan, decide

Found = Literal["mastered", "not_yet", "keep_on", "undecided", "stopped"]


class Try(Struct, frozen=True):
    """One try of a task.

    stop    whether the task is a stop, so that a failure is a missed stop
    broke   whether a stop rule was broken in this try, so that the counts of its stage start again
    line    where it stands in the record
    """

    on: date
    stage: int
    task: str
    done: bool
    stop: bool = False
    broke: bool = False
    line: int = 0


class Rule(Struct, frozen=True):
    """What passing a stage takes beside the table.

    tasks     tasks that must all be mastered
    in_a_row  stops in a row that a stop takes
    n_days    different days on which a task must have been tried
    """

    tasks: tuple[str, ...]
    in_a_row: int = 10
    n_days: int = 1


class Judged(Struct, frozen=True):
    """A series of tries of one task and what it says: on the day of its last try.

    answer  mastered, not_yet, keep_on, undecided after the last row of the table (the therapist decides), or stopped
            where a stop rule ended the series
    """

    stage: int
    task: str
    answer: Found
    n: int
    n_success: int
    on: date
    lines: tuple[int, ...]


class Back(Struct, frozen=True):
    """A step back to an earlier stage.

    place   which series of Walk.ended took it
    before  stage reached until then
    after   stage reached from then on
    again   day on which that one was passed again; None while it is not
    """

    place: int
    before: int
    after: int
    again: date | None


class Walk(Struct, frozen=True):
    """All series in the order in which they ended, those still open, and the stage reached.

    passed    stages passed, each with the day
    mastered  tasks of the stage reached that are mastered and still count
    entered   line of the try that led to the stage reached; None where training began there
    back      steps back, in order; a task of a later stage, or of stage 0 at stage 0, that is not there yet takes none
    """

    stage: int
    ended: tuple[Judged, ...]
    still_open: tuple[Judged, ...]
    passed: tuple[tuple[int, date], ...]
    mastered: tuple[str, ...] = ()
    back: tuple[Back, ...] = ()
    entered: int | None = None


def walk(tries: Sequence[Try], plan: Plan, start: int, rules: Mapping[int, Rule]) -> Walk:
    """The stage that tries in their order reach, and every decision on the way.

    tries  in the order in which they were made
    plan   the sequential test of a task, from mastery.mastery_plan
    start  stage at which training started
    rules  stage -> what passing it takes; a stage without a rule cannot be passed

    A stage is passed when all its tasks, and any other task tried in it, are mastered; then the next one is
    reached. A task that is not yet there sends the driver back one stage, which must then be passed again; the
    counts of that stage and of all above it start again.
    Tries after a decision begin a new series, so that a level that is lost shows.

    Source: the sequential test of mastery; stages, and stops in a row, are common practice, no source.
    Check:  with the lines of 0.6 and 0.9, both errors 0.1, six done of six pass a stage of one task and
            reach the next; three failures in a row go back one stage (from the lines, by hand).
    """
    series: dict[tuple[int, str], _Series] = {}
    mastered: dict[int, set[str]] = {}
    seen: dict[int, set[str]] = {}
    ended: list[Judged] = []
    passed: list[tuple[int, date]] = []
    steps: list[tuple[int, int, int, int]] = []  # series, stage before, stage after, stages passed until then
    stage, last = start, max(rules, default=start)
    entered: int | None = None
    for attempt in tries:
        here = series.setdefault((attempt.stage, attempt.task), _Series())
        here.add(attempt)
        seen.setdefault(attempt.stage, set()).add(attempt.task)
        rule = rules.get(attempt.stage, Rule(()))
        if attempt.broke:
            ended.append(_judged(here, "stopped"))
            mastered.pop(attempt.stage, None)
            series = {key: tries_of for key, tries_of in series.items() if key[0] != attempt.stage}
            continue
        answer = _answer(here, plan, rule)
        if answer == "keep_on":
            continue
        ended.append(_judged(here, answer))
        del series[attempt.stage, attempt.task]
        if answer == "undecided":
            continue
        if answer == "not_yet":
            back = max(0, attempt.stage - 1) if attempt.stage <= stage else attempt.stage
            mastered = {number: tasks for number, tasks in mastered.items() if number < back}
            series = {key: tries_of for key, tries_of in series.items() if key[0] < back}
            if back < stage:
                steps.append((len(ended) - 1, min(stage, last), back, len(passed)))
                stage, entered = back, attempt.line
            continue
        mastered.setdefault(attempt.stage, set()).add(attempt.task)
        while _is_passed(rules.get(stage), mastered.get(stage, set()), seen.get(stage, set())):
            passed.append((stage, attempt.on))
            entered = attempt.line if stage < last else entered
            stage += 1
    still_open = tuple(_judged(tries_of, "keep_on") for tries_of in series.values())
    went_back = tuple(
        Back(place, before, after, next((on for number, on in passed[n:] if number == after), None))
        for place, before, after, n in steps
    )
    return Walk(
        min(stage, last),
        tuple(ended),
        still_open,
        tuple(passed),
        tuple(sorted(mastered.get(stage, ()))),
        went_back,
        entered,
    )


def _is_passed(rule: Rule | None, mastered: set[str], tried: set[str]) -> bool:
    """Whether every task of a stage, and any other tried in it, is mastered; a stage without tasks is never passed."""
    return rule is not None and bool(rule.tasks) and mastered >= {*rule.tasks, *tried}


class _Series(Struct):
    """The tries of one task since its last decision, counted as they come, for a stop may take thousands."""

    tries: list[Try] = field(default_factory=list)
    n_success: int = 0

    def add(self, attempt: Try) -> None:
        self.tries.append(attempt)
        self.n_success += attempt.done


def _answer(series: _Series, plan: Plan, rule: Rule) -> Found:
    tries, n, n_success = series.tries, len(series.tries), series.n_success
    answer: Found = decide(n, n_success, plan) if n in COACH_TRIES or n > COACH_TRIES[-1] else "keep_on"
    if tries[-1].stop:
        last = tries[-rule.in_a_row :]
        in_a_row = len(last) == rule.in_a_row and all(attempt.done for attempt in last)
        return "mastered" if in_a_row else answer if answer == "not_yet" else "keep_on"
    if answer == "mastered" and len({attempt.on for attempt in tries}) < rule.n_days:
        return "keep_on"
    return "undecided" if answer == "keep_on" and n == COACH_TRIES[-1] else answer


def _judged(series: _Series, answer: Found) -> Judged:
    tries = series.tries
    last = tries[-1]
    return Judged(
        last.stage,
        last.task,
        answer,
        len(tries),
        series.n_success,
        last.on,
        tuple(attempt.line for attempt in tries),
    )
