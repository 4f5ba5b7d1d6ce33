"""Conditions that bear on safety, one TOML file each in docgen/conditions: they ask, order and check.

A file writes no medical step. What it knows stands in its rows, each with its source and whether that was read; a row
prints on the emergency page only where its source was read and the clinic has accepted its words (`printable`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from docgen.case.emergency import ConditionAnswer, NamedCondition
from docgen.case.files import text_of
from docgen.case.model import Case
from docgen.case.toml import read_toml
from docgen.errors import Problem, UserError, did_you_mean
from docgen.fit.feature import Where, problems_of
from docgen.months import whole_years

_FOLDER = Path(__file__).parent.parent / "conditions"
_MOST_BYTES = 50_000
_REGIONS = "CTLS"  # of the spine, from above

Mark = Literal["read", "weak", "memory", "inference"]
Form = Literal["yes", "number", "day", "day_to_come", "people", "words"]


class Row(BaseModel):
    """One fact, with its source.

    says    the fact, for the therapist
    mark    read: in a passage of the source; weak: so, but the source is weak; memory: not read; inference: ours
    prints  the words of it that the emergency page may have once the clinic has accepted them
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: str = Field(pattern=r"^[A-Z][A-Z0-9]{0,3}-[0-9]{1,3}$")
    says: str = Field(min_length=1)
    source: str = Field(min_length=1)
    mark: Mark
    prints: str = ""

    @model_validator(mode="after")
    def _only_what_was_read(self) -> Row:
        if self.prints and self.mark != "read":
            raise ValueError(f"row {self.id} is marked {self.mark}; only a row that was read may print")
        return self


_KEY_OF_FORM = {"day_to_come": "day", "people": "who", "words": "says"}


class Question(BaseModel):
    """What must be asked of a person who has the condition.

    form         how it is answered: yes, number, day, day_to_come, people (by id) or words
    changes      what the answer changes in driving, training or the emergency page
    rows         the facts behind it
    holds        whether no packet goes out before it is answered
    answered_by  key of the case that answers it too, where it is recorded
    powered_seat  whether it is asked only where the base may have power seating
    where        features of the control of which one must be requested, so that it is asked at all
    in_lessons   whether whoever coaches, and stands in, must be among the people answered
    on_page      how the emergency page calls its answer, a number or a day that a helper must know; empty where it is
                 not shown there. [emergency_labels] of another language's words.toml has it in that language
    on_card      how the card for daily use calls its answer in words; likewise
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: str = Field(pattern=r"^[a-z][a-z0-9_]{0,39}$")
    asks: str = Field(min_length=1)
    form: Form = "words"
    changes: str = Field(min_length=1)
    rows: tuple[str, ...] = ()
    holds: bool = False
    answered_by: str = ""
    powered_seat: bool = False
    where: tuple[str, ...] = ()
    in_lessons: bool = False
    on_page: str = ""
    on_card: str = ""

    @property
    def key(self) -> str:
        """The key of an answer that holds what is asked."""
        return _KEY_OF_FORM.get(self.form, self.form)


class PageTopic(BaseModel):
    """What the emergency page of a person with the condition must have a step for.

    comes_first  a sign of it is taken for nothing else: wherever it is named, the emergency page comes first
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: str = Field(pattern=r"^[a-z][a-z0-9_]{0,39}$")
    says: str = Field(min_length=1)
    rows: tuple[str, ...] = ()
    comes_first: bool = False


class Conflict(BaseModel):
    """Rows of this condition that conflict with another condition, or with a feature of the requested control."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: str = Field(pattern=r"^[A-Z]+-[0-9]+$")
    condition: str = ""
    feature: str = ""
    rides_in_chair: bool = False
    says: str = Field(min_length=1)


class Recognised(BaseModel):
    """How a condition is found in a case; it may also be named there.

    codes     beginnings of diagnosis codes
    may_be_other  those of them that tell of it only once the case names it: they are used for another cause too
    unless_denied  those of them that tell nothing where the case denies another condition, by whom and why -> that one
    findings  findings of the case
    limits    kinds of screening in which something was found
    level     an injury of the spinal cord at or above it
    courses   courses of a diagnosis
    younger   age in years below which it holds
    answered  condition.question answered with yes
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    codes: tuple[str, ...] = ()
    may_be_other: tuple[str, ...] = ()
    unless_denied: dict[str, str] = {}
    findings: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()
    level: str = ""
    courses: tuple[str, ...] = ()
    younger: int | None = None
    answered: tuple[str, ...] = ()

    def denied_with(self, code: str) -> str:
        """Id of the condition with whose denial this code tells of this one no longer; empty for none."""
        return next((other for begins, other in self.unless_denied.items() if code.startswith(begins)), "")


class Condition(BaseModel):
    """One condition. `id` is the name of its file; `first` is asked alone where only a code that is used for another
    cause too tells of it."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: str
    name: str = Field(min_length=1)
    recognised: Recognised = Recognised.model_construct()
    first: Question | None = None
    asks: tuple[Question, ...] = ()
    page: tuple[PageTopic, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    rows: tuple[Row, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _rows_are_there(self) -> Condition:
        known = {row.id for row in self.rows}
        named = {row for question in self.asks for row in question.rows}
        named |= {row for topic in self.page for row in topic.rows}
        if missing := named - known:
            raise ValueError(f"names rows that it does not have: {', '.join(sorted(missing))}")
        return self


def conditions() -> dict[str, Condition]:
    """Every condition by id. Raises UserError naming the file and the mistake."""
    return _conditions_in(_FOLDER)


@cache
def _conditions_in(folder: Path) -> dict[str, Condition]:
    return {path.stem: _condition(path) for path in sorted(folder.glob("*.toml"))}


def _condition(path: Path) -> Condition:
    raw = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    try:
        return Condition.model_validate({**raw.tables, "id": path.stem})
    except ValidationError as failure:
        raise UserError(problems_of(failure, raw.where)) from None


@cache
def rows() -> Mapping[str, Row]:
    """Every row of every condition by its id; the same fact may stand in two files, in the same words."""
    return {row.id: row for condition in conditions().values() for row in condition.rows}


def of_case(case: Case) -> dict[str, Condition]:
    """The conditions of a person, by id: found by code, level, finding, screening, course or age, or named."""
    named = {condition.id: condition for condition in case.conditions}
    findings = frozenset(finding.id for finding in case.findings)
    limited = frozenset(limit.kind for limit in case.limits if limit.found)
    return {
        name: condition
        for name, condition in conditions().items()
        if (named[name].present if name in named else _is_recognised(condition.recognised, case, findings, limited))
    }


def first_open(case: Case) -> dict[str, Condition]:
    """Conditions of which it has to be asked first whether they are there, by id: told by a code alone that is used for
    another cause too."""
    return {
        name: condition
        for name, condition in of_case(case).items()
        if condition.first
        and code_alone(case, condition)
        and all(
            diagnosis.code.startswith(condition.recognised.may_be_other)
            for diagnosis in case.diagnoses
            if diagnosis.code and diagnosis.code.startswith(condition.recognised.codes)
        )
    }


def to_ask(case: Case) -> dict[str, Condition]:
    """The conditions whose questions are due, by id: neither those of which it is not known yet whether they are there,
    nor those that only such a code tells of."""
    first = first_open(case)
    return {
        name: condition
        for name, condition in of_case(case).items()
        if name not in first and condition.recognised.denied_with(code_alone(case, condition)) not in first
    }


def emergency_wanted(case: Case) -> bool:
    """Whether the case has an emergency page: a condition calls for one, or steps or signs are recorded."""
    return bool(case.emergency.steps or case.emergency.signs) or any(
        condition.page for condition in of_case(case).values()
    )


def recorded(case: Case, condition: str) -> NamedCondition | None:
    """What the case records of a condition, or None."""
    return next((entry for entry in case.conditions if entry.id == condition), None)


def answer_to(case: Case, condition: str, question: str) -> ConditionAnswer | None:
    """The answer that the case has to a question of a condition, or None."""
    entry = recorded(case, condition)
    return next((answer for answer in entry.answers if answer.ask == question), None) if entry else None


def printable(case: Case, row_id: str) -> str | None:
    """The words of a row, where its source was read and the clinic has accepted just these words; else None."""
    row = rows().get(row_id)
    if row is None or row.mark != "read" or not row.prints:
        return None
    return row.prints if any(a.row == row_id and a.prints == row.prints for a in case.accepted) else None


def conflicts_of(case: Case) -> list[tuple[Condition, Conflict]]:
    """Rows that conflict for this person, each with the condition in whose file it stands."""
    present = of_case(case)
    asked = {feature.id.partition(".")[0] for feature in case.configuration.features}
    return [
        (condition, conflict)
        for condition in present.values()
        for conflict in condition.conflicts
        if conflict.condition in present
        or conflict.feature in asked
        or (conflict.rides_in_chair and case.transport.rides_in_chair is True)
    ]


def unknown_conditions(case: Case, where: Where) -> Iterator[Problem]:
    """A problem for each condition, question and row that the case names and no file holds."""
    known = conditions()
    for at, entry in enumerate(case.conditions):
        if entry.id not in known:
            place = where("conditions", at, "id")
            yield Problem(
                place, f"unknown condition '{entry.id}'", did_you_mean(entry.id, known, "docgen find conditions")
            )
            continue
        asked = {question.id: question for question in known[entry.id].asks}
        for index, answer in enumerate(entry.answers):
            if answer.ask not in asked:
                what = f"'{answer.ask}' is no question of {known[entry.id].name}"
                yield Problem(where("conditions", at, "answers", index, "ask"), what, did_you_mean(answer.ask, asked))
    topics = [f"{condition.id}.{topic.id}" for condition in known.values() for topic in condition.page]
    for table in ("signs", "steps"):
        for at, step in enumerate(getattr(case.emergency, table)):
            for served in step.serves:
                if served not in topics:
                    what = f"'{served}' is nothing that an emergency page must have"
                    yield Problem(where("emergency", table, at, "serves"), what, did_you_mean(served, topics))
    for at, step in enumerate(case.emergency.steps):
        if step.row is not None and step.row not in rows():
            what = f"there is no row {step.row} in docgen/conditions"
            yield Problem(where("emergency", "steps", at, "row"), what, did_you_mean(step.row, rows()))
    conflict_ids = {conflict.id for condition in known.values() for conflict in condition.conflicts}
    for at, settled in enumerate(case.emergency.settled):
        if settled.conflict not in conflict_ids:
            what = f"there is no conflict {settled.conflict}"
            yield Problem(
                where("emergency", "settled", at, "conflict"), what, did_you_mean(settled.conflict, conflict_ids)
            )


def _is_recognised(by: Recognised, case: Case, findings: frozenset[str], limited: frozenset[str]) -> bool:
    """Whether a case has what a condition is recognised by; its findings, and the screening that found something."""
    return bool(
        _is_coded(by, case)
        or findings.intersection(by.findings)
        or limited.intersection(by.limits)
        or (by.level and _is_injured_at_or_above(case, by.level))
        or (by.courses and any(diagnosis.course in by.courses for diagnosis in case.diagnoses))
        or (by.younger is not None and _is_younger(case, by.younger))
        or (by.answered and any(_said_yes(case, name) for name in by.answered))
    )


def code_alone(case: Case, condition: Condition) -> str:
    """The first diagnosis code that tells of a condition nothing else of the case tells of; empty where something
    does, or the case names it."""
    by = condition.recognised
    if recorded(case, condition.id) or not _is_coded(by, case):
        return ""
    uncoded = case.model_copy(update={"diagnoses": ()})
    findings = frozenset(finding.id for finding in case.findings)
    limited = frozenset(limit.kind for limit in case.limits if limit.found)
    if _is_recognised(by.model_copy(update={"courses": ()}), uncoded, findings, limited):
        return ""
    return next(d.code for d in case.diagnoses if d.code and d.code.startswith(by.codes))


def _is_coded(by: Recognised, case: Case) -> bool:
    """Whether a diagnosis code tells of it. A denial without a reason, or by nobody, takes nothing away."""
    denied = {entry.id for entry in case.conditions if not entry.present and entry.says and entry.by}
    telling = tuple(code for code in by.codes if by.unless_denied.get(code) not in denied)
    return any(diagnosis.code.startswith(telling) for diagnosis in case.diagnoses if diagnosis.code)


def _is_injured_at_or_above(case: Case, level: str) -> bool:
    """Whether a condition that is present stands at this level of the spine or a higher one."""
    levels = [entry.level for entry in case.conditions if entry.level and entry.present]
    return any(_height(present) <= _height(level) for present in levels)


def _is_younger(case: Case, years: int) -> bool:
    age = _age(case)
    return age is not None and age < years


def _said_yes(case: Case, name: str) -> bool:
    answer = answer_to(case, *name.split("."))
    return answer is not None and answer.yes is True


def _height(level: str) -> tuple[int, int]:
    """Where a level of the spine stands, the highest first."""
    return _REGIONS.index(level[0]), int(level[1:])


def _age(case: Case) -> int | None:
    """Age in whole years on the day of the documents."""
    born, at = case.client.born_on, case.dates.written_on or case.request.requested_on
    return whole_years(born, at) if born and at else None
