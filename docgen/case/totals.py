"""The day totals of a trial: what is left of a day when each attempt was not written down.

A line holds one task of one method on one day. Columns that the rows have too are the rows' own. Only date, method,
task, attempts and done are required. A line that leaves task, attempts and done blank is of the whole day with that
method: what was counted or measured of it and of no one task. In which order the attempts came is not known, and
nothing is worked out from it. A method on one day stands in its rows or in its totals, never in both.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from docgen.case.privacy import Privacy
from docgen.case.record import COLUMNS as OF_ROWS
from docgen.case.record import Column, ObservedInTrial, Row, Sheet
from docgen.errors import Problem

if TYPE_CHECKING:
    from docgen.case.model import Case

FILE = "totals.csv"
NO_LINE = 0  # of what stands in case.toml instead
_OF_ROWS = {column.name: column for column in OF_ROWS}
_SCALES = ("fatigue_before", "fatigue_after", "tone_before", "tone_after", "pain_before", "pain_after")
# of the day and not of the task: where a day has several lines, those that fill it in say the same
_OF_DAY = ("order", *_SCALES)
# what a line of the whole day can hold, and of these what is then on no line of a task
_EVENTS_OF_DAY = ("contacts", "person_contacts", "unintended")
_HELD_BY_DAY = (*_EVENTS_OF_DAY, "distance_m", "minutes", "slowest_release_s")
_NO_TASK: tuple[tuple[str, Any], ...] = (("task", ""), ("attempts", 0), ("done", 0))

COLUMNS: tuple[Column, ...] = (
    Column(Privacy.TRIAL, "date", "date", "day of the attempts, as 2026-03-31", required=True),
    *(_OF_ROWS[name] for name in ("method", "task")),
    Column(
        Privacy.TRIAL,
        "attempts",
        "count",
        "attempts of the task that day; a line of the whole day has no task, attempts and done",
        high=10_000,
        required=True,
    ),
    Column(
        Privacy.TRIAL,
        "done",
        "count",
        "of these, done within the limit, with no collision and no physical help",
        high=10_000,
        required=True,
    ),
    *(_OF_ROWS[name] for name in ("order", "activations", "missed", "unintended", "contacts", "person_contacts")),
    Column(Privacy.TRIAL, "stops_asked", "count", "stops asked for within a task that is no stop itself", high=10_000),
    Column(Privacy.TRIAL, "stops_made", "count", "of these, made in the distance that counts", high=10_000),
    Column(
        Privacy.TRIAL,
        "slowest_release_s",
        "number",
        "slowest release, cue or line to the input being off; of the day, on the line of its task or of the whole day",
        "s",
        600,
        usual=_OF_ROWS["release_s"].usual,
    ),
    Column(
        Privacy.TRIAL,
        "releases_s",
        "numbers",
        "every release time of the line, with spaces between them",
        "s",
        600,
        usual=_OF_ROWS["release_s"].usual,
    ),
    *(
        _OF_ROWS[name]
        for name in (
            "spasms",
            "distance_m",
            "minutes",
            "speed_m_s",
            "prompts_verbal",
            "prompts_gesture",
            "prompts_physical",
            "took_over",
            *_SCALES,
            "supervisor",
            "seating",
            "note",
        )
    ),
)


class DayTotal(ObservedInTrial, frozen=True):
    """One task of one method on one day, or without a task the whole day with it. `line` is its line in totals.csv;
    None means that nothing was recorded."""

    line: int
    date: date
    method: str
    task: str
    attempts: int
    done: int
    stops_asked: int | None = None
    stops_made: int | None = None
    slowest_release_s: float | None = None
    releases_s: tuple[float, ...] | None = None

    @property
    def of_whole_day(self) -> bool:
        """Whether the line is of no one task; it counts no attempt then."""
        return not self.task and self.line != NO_LINE

    @property
    def n_attempts(self) -> int:
        """How many attempts the line holds."""
        return self.attempts

    @property
    def n_done(self) -> int:
        """How many of them were done."""
        return self.done

    @property
    def slowest_s(self) -> float | None:
        """The slowest release known of the line, in seconds."""
        return max(self.releases_s) if self.releases_s else self.slowest_release_s


Tried = Row | DayTotal  # what counts attempts: one, or those of a day
TOTALS = Sheet(COLUMNS, DayTotal, _NO_TASK)


def contradictions(case: Case, total_where: Callable[[int], str], row_where: Callable[[int], str]) -> Iterator[Problem]:
    """What cannot be true of the totals by themselves, or beside the rows."""
    yield from of_lines(case.totals, case.trial.stop_tasks, total_where)
    rows_of = {(row.date, row.method): row.line for row in reversed(case.records)}
    for total in case.totals:
        if line := rows_of.get((total.date, total.method)):
            yield in_both(total, total_where(total.line), row_where(line), is_total=True)


def of_lines(totals: Sequence[DayTotal], stops: Collection[str], where: Callable[[int], str]) -> Iterator[Problem]:
    """What cannot be true of the lines of day totals by themselves.

    stops  ids of the tasks of the trial that are a stop
    """
    days: dict[tuple[date, str], list[DayTotal]] = defaultdict(list)
    for total in totals:
        yield from _counts(total, where(total.line), total.task in stops)
        same = next((other for other in days[total.date, total.method] if other.task == total.task), None)
        if same is not None:
            named = f"'{total.task}'" if total.task else "the whole day"
            yield Problem(
                where(total.line),
                f"{named} with '{total.method}' on {total.date} stands on line {same.line} already",
                "Add the two up in one line.",
            )
        days[total.date, total.method].append(total)
    for of_day in days.values():
        yield from _of_one_day(of_day, where)
        yield from _of_whole_day(of_day, where)


def in_both(tried: Tried, where: str, other_where: str, is_total: bool) -> Problem:
    """That a day with a method stands in totals and in rows.

    is_total  what stands here is a total; else a row
    """
    here, there = ("totals", "rows") if is_total else ("rows", "totals")
    return Problem(
        where,
        f"'{tried.method}' on {tried.date} stands here in {here} and in {there} at {other_where}",
        "Keep one of the two: the rows where there are rows of the whole day, else the totals.",
    )


def _counts(total: DayTotal, where: str, is_stop: bool) -> Iterator[Problem]:
    if total.attempts == 0 and not total.of_whole_day:
        yield Problem(
            where,
            "attempts is 0",
            "Take the line out; a task that was not tried has none. What was counted of the whole day and no one task "
            "stands on a line with task, attempts and done blank.",
        )
    if total.done > total.attempts:
        yield Problem(where, f"{total.done} done of {total.attempts} attempts", "Correct one of the two.")
    if (total.stops_asked is None) != (total.stops_made is None):
        blank = "stops_made" if total.stops_made is None else "stops_asked"
        yield Problem(where, f"{blank} is blank", "Fill in stops_asked and stops_made, or leave both blank.")
    elif total.stops_asked is not None and total.stops_made is not None and total.stops_made > total.stops_asked:
        yield Problem(
            where, f"{total.stops_made} stops made of {total.stops_asked} asked for", "Correct one of the two."
        )
    if is_stop and total.stops_asked is not None:
        yield Problem(
            where,
            f"the task '{total.task}' is a stop itself, and stops_asked would count its stops twice",
            "Its attempts and done are the stops asked for and made; leave stops_asked and stops_made blank.",
        )
    if total.releases_s and total.slowest_release_s not in (None, slowest := max(total.releases_s)):
        yield Problem(
            where,
            f"slowest_release_s is {total.slowest_release_s:g}, and the slowest of releases_s {slowest:g}",
            "Leave slowest_release_s blank, or mend one of the two.",
        )


def _of_one_day(totals: Sequence[DayTotal], total_where: Callable[[int], str]) -> Iterator[Problem]:
    """What is said of the day with the method stands the same in each line that says it."""
    for name in _OF_DAY:
        filled = [total for total in totals if getattr(total, name) is not None]
        for total in filled[1:]:
            first, value = getattr(filled[0], name), getattr(total, name)
            if value != first:
                yield Problem(
                    total_where(total.line),
                    f"{name} is {value:g}, and {first:g} on line {filled[0].line} of the same day and method",
                    "It is of the whole day: write it once, or the same on each line.",
                )


def _of_whole_day(totals: Sequence[DayTotal], where: Callable[[int], str]) -> Iterator[Problem]:
    """A line of the whole day holds what is of no one task, beside lines of tasks that do not count the same again."""
    tasks = [total for total in totals if not total.of_whole_day]
    for total in totals:
        if not total.of_whole_day:
            continue
        if others := [name for name in _OF_A_TASK if getattr(total, name) is not None]:
            yield Problem(
                where(total.line),
                f"{others[0]} stands on a line of the whole day",
                f"Write it on the line of its task; a line without a task holds {', '.join(_HELD_BY_DAY)} and a note.",
            )
        if not tasks:
            yield Problem(
                where(total.line),
                f"nothing but the whole day is there of '{total.method}' on {total.date}",
                "Add a line for each task that was tried that day, with its attempts and how many were done.",
            )
        for name in _HELD_BY_DAY:
            twice = next((task for task in tasks if getattr(task, name) is not None), None)
            if getattr(total, name) is not None and twice is not None:
                yield Problem(
                    where(total.line),
                    f"{name} is told of the whole day, and of '{twice.task}' on line {twice.line}",
                    "Keep one of the two: the tasks where each has it, else the whole day.",
                )


_OF_A_TASK = tuple(
    column.name
    for column in COLUMNS
    if column.name not in ("date", "method", "task", "attempts", "done", "note", *_HELD_BY_DAY)
)
