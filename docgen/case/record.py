"""The raw rows of a trial: one row per attempt, as a clipboard sheet becomes a CSV file.

Each column is defined once, here. Only date, method, task and success are required; every other
column adds evidence when it is present. Missing is missing: never zero, never carried forward.

Distance, minutes and prompts may be written for each attempt, or once for a block (one method on
one day) on any one of its rows.

Day totals have columns of their own in `totals.py`, the rows of training after delivery in `session.py`; all are read
alike.
"""

from __future__ import annotations

from datetime import date
from functools import cached_property
from typing import Any, Literal

from msgspec import Struct

from docgen.case import usual
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual, unit_of

Kind = Literal["date", "id", "yes_no", "count", "step", "prompt", "number", "numbers", "scale", "words"]


class Column(Struct, frozen=True):
    """One column: its class of privacy, name, what kind of value it holds, what it means, its unit and limits."""

    privacy: Privacy
    name: str
    kind: Kind
    means: str
    unit: str = ""
    high: float = 100_000.0
    required: bool = False
    per_block: bool = False
    head: str = ""  # short word over the column on the printed sheet, where the name is too long
    printed: bool = True  # whether it stands on the printed sheet; else it is filled in when the sheet is typed
    usual: Usual | None = None  # of what is measured, the range in which it usually lies

    def __post_init__(self) -> None:
        """Raises TypeError for a measured column without its usual range."""
        if unit_of(self.name) and self.usual is None:
            raise TypeError(f"column {self.name} is measured and has no usual range: write Column(..., usual=...)")


class Sheet(Struct, frozen=True, dict=True):
    """A CSV file of rows: its columns, and the class a row becomes.

    blank_together  required columns that a row may leave blank, all of them and no single one, with what they then hold
    """

    columns: tuple[Column, ...]
    row: type
    blank_together: tuple[tuple[str, Any], ...] = ()

    @cached_property
    def by_name(self) -> dict[str, Column]:
        """Columns by their names."""
        return {column.name: column for column in self.columns}

    @cached_property
    def required(self) -> tuple[str, ...]:
        """Names of the columns that every row must fill."""
        return tuple(column.name for column in self.columns if column.required)


COLUMNS: tuple[Column, ...] = (
    Column(Privacy.TRIAL, "date", "date", "day of the attempt, as 2026-03-31", required=True),
    Column(Privacy.TRIAL, "method", "id", "id of the method, as in [[trial.methods]]", required=True),
    Column(Privacy.TRIAL, "task", "id", "id of the task, as in [[trial.tasks]]", required=True),
    Column(
        Privacy.TRIAL,
        "success",
        "yes_no",
        "done within the limit, with no collision and no physical help",
        required=True,
        head="done",
    ),
    Column(Privacy.TRIAL, "order", "count", "place of this method in the day's order, 1 for the first", high=50),
    Column(Privacy.TRIAL, "attempt", "count", "number of the attempt within the block", high=10_000, head="no."),
    Column(
        Privacy.TRIAL,
        "seconds",
        "number",
        "time of the attempt; blank if not finished",
        "s",
        36_000,
        head="time",
        usual=Usual(1, 1800, usual.PRACTICE),
    ),
    Column(Privacy.TRIAL, "activations", "count", "activations that were intended and made", head="intended"),
    Column(Privacy.TRIAL, "missed", "count", "activations asked for or clearly tried, with nothing within 2 s"),
    Column(Privacy.TRIAL, "unintended", "count", "activations made without cue or intent"),
    Column(Privacy.TRIAL, "contacts", "count", "collisions with a wall, object or person", head="collisions"),
    Column(Privacy.TRIAL, "person_contacts", "count", "of these, with a person", head="with person"),
    Column(
        Privacy.TRIAL, "spasms", "count", "spasms or other movements of the whole body, at rest too", per_block=True
    ),
    Column(
        Privacy.TRIAL,
        "release_s",
        "number",
        "cue or line to the input being off; never to the wheels stopping",
        "s",
        600,
        head="release",
        usual=Usual(0.15, 3.5, usual.REACTION, bears=True),
    ),
    Column(
        Privacy.TRIAL,
        "stop_s",
        "number",
        "time to stop of which it is not known that it is the release: told as that, and used for nothing else",
        "s",
        600,
        printed=False,
        usual=Usual(0.15, 10, usual.PRACTICE),
    ),
    Column(
        Privacy.TRIAL,
        "hold_s",
        "number",
        "shortest touch that worked",
        "s",
        600,
        head="hold",
        usual=Usual(0.02, 10, usual.PRACTICE),
    ),
    Column(
        Privacy.TRIAL,
        "distance_m",
        "number",
        "distance driven",
        "m",
        per_block=True,
        usual=Usual(1, 3000, usual.PRACTICE, or_none=True),
    ),
    Column(
        Privacy.TRIAL,
        "minutes",
        "number",
        "time with the control in use",
        "min",
        1440,
        per_block=True,
        usual=Usual(1, 150, usual.PRACTICE),
    ),
    Column(
        Privacy.TRIAL,
        "speed_m_s",
        "number",
        "speed timed over a marked length",
        "m/s",
        5,
        usual=Usual(0.05, 2.8, usual.SPEED, bears=True),
    ),
    Column(Privacy.TRIAL, "prompts_verbal", "count", "verbal prompts", per_block=True),
    Column(
        Privacy.TRIAL,
        "prompted",
        "yes_no",
        "whether a verbal prompt was given in the attempt, where how many is not known",
        per_block=True,
        printed=False,
    ),
    Column(
        Privacy.TRIAL,
        "prompt_marked",
        "yes_no",
        "1 where a verbal prompt is marked; blank where that was not recorded, so the count is the least there were",
        printed=False,
    ),
    Column(Privacy.TRIAL, "prompts_gesture", "count", "prompts by gesture", per_block=True),
    Column(Privacy.TRIAL, "prompts_physical", "count", "prompts by touch", per_block=True),
    Column(Privacy.TRIAL, "took_over", "count", "times the helper took over", per_block=True),
    Column(Privacy.TRIAL, "fatigue_before", "scale", "fatigue before the block, 0 to 10", high=10),
    Column(Privacy.TRIAL, "fatigue_after", "scale", "fatigue after the block, 0 to 10", high=10),
    Column(
        Privacy.TRIAL, "tone_before", "scale", "stiffness before, 0 loose to 4 locked: the clinic's own rating", high=4
    ),
    Column(
        Privacy.TRIAL, "tone_after", "scale", "stiffness after, 0 loose to 4 locked: the clinic's own rating", high=4
    ),
    Column(Privacy.TRIAL, "pain_before", "scale", "pain before the block, 0 to 10", high=10),
    Column(Privacy.TRIAL, "pain_after", "scale", "pain after the block, 0 to 10", high=10),
    Column(Privacy.CIRCLE, "supervisor", "words", "who supervised"),
    Column(Privacy.TRIAL, "seating", "words", "ok, or what changed"),
    Column(Privacy.TRIAL, "note", "words", "anything else; incidents first"),
)


class Observed(Struct, frozen=True, kw_only=True):
    """What may be observed of one attempt, or of those of a day; None means that nothing was recorded."""

    missed: int | None = None
    unintended: int | None = None
    contacts: int | None = None
    person_contacts: int | None = None
    distance_m: float | None = None
    minutes: float | None = None
    fatigue_before: float | None = None
    fatigue_after: float | None = None
    tone_before: float | None = None
    tone_after: float | None = None
    pain_before: float | None = None
    pain_after: float | None = None
    note: str | None = None


class ObservedInTrial(Observed, frozen=True, kw_only=True):
    """What a trial records besides."""

    order: int | None = None
    activations: int | None = None
    spasms: int | None = None
    speed_m_s: float | None = None
    prompts_verbal: int | None = None
    prompts_gesture: int | None = None
    prompts_physical: int | None = None
    took_over: int | None = None
    supervisor: str | None = None
    seating: str | None = None


class Row(ObservedInTrial, frozen=True):
    """One attempt. `line` is its line in the CSV file; None means that nothing was recorded."""

    line: int
    date: date
    method: str
    task: str
    success: bool
    attempt: int | None = None
    seconds: float | None = None
    release_s: float | None = None
    stop_s: float | None = None
    hold_s: float | None = None
    prompted: bool | None = None
    prompt_marked: bool | None = None

    @property
    def n_attempts(self) -> int:
        """A row is one attempt."""
        return 1

    @property
    def n_done(self) -> int:
        """1 where it was done."""
        return int(self.success)

    @property
    def slowest_s(self) -> float | None:
        """The one release of the attempt, in seconds."""
        return self.release_s


TRIAL = Sheet(COLUMNS, Row)
