"""A payer: dated, cited requirements, each binding a criterion with its settings and severity.

A row known only from memory or by inference can never block. Rows that have ended stay in the file
with the date they ended. A payer may extend another: it takes over that one's rows and adds or replaces some.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from docgen.case.files import text_of
from docgen.case.toml import read_toml
from docgen.criteria.criterion import criteria
from docgen.errors import Problem, UserError, brief, did_you_mean, word_meant

_FOLDER = Path(__file__).parent.parent / "payers"
_MOST_BYTES = 1_000_000
_MOST_PROBLEMS = 100
_MOST_NUMBER = 1000  # months, days, millimetres: no rule of a payer goes so far
_NOT_SEEN = ("memory", "inference")

Severity = Literal["blocks", "query", "advise"]
Known = Literal["read", "passage", "summary", "memory", "inference"]
_Text = Annotated[str, Field(min_length=1, max_length=2000)]


class Requirement(BaseModel):
    """One row: which claim the payer wants, since when, how much it weighs, where it is written.

    rests_on  the published coverage that a met claim rests on, as a whole sentence for the letter; of a row that was
              read alone
    rests_on_power  it speaks of a base with a power option, and holds of no other
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")]
    criterion: str
    severity: Severity
    from_on: date = Field(alias="from", strict=True)
    until_on: date | None = Field(default=None, alias="until", strict=True)
    citation: _Text
    version: str = ""
    known: Known
    rests_on: str = ""
    rests_on_power: bool = False
    settings: Mapping[str, Any] = Field(default_factory=dict)

    def in_force(self, on: date) -> bool:
        """Whether the row is in force on that day; the last day counts."""
        return self.from_on <= on and (self.until_on is None or on <= self.until_on)


class Payer(BaseModel):
    """One payer's rules.

    review_by       the day after which they must be looked at again; of a payer that extends another, the earlier of
                    both days
    locale          how its readers write days and measures: of the United States, or English elsewhere
    electronic      what to know of a request for prior authorization as data; empty where nothing is
    extends         id of the payer whose rows come first; an own row with the id of one of them replaces it
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$")]
    name: _Text
    note: str = ""
    reviewed_on: Annotated[date, Field(strict=True)]
    review_by: Annotated[date, Field(strict=True)]
    locale: Literal["en_US", "en_001"] = "en_US"
    electronic: str = ""
    extends: str | None = None
    requirements: tuple[Requirement, ...]

    def overdue(self, on: date) -> bool:
        """Whether the rules should have been looked at again before that day; the last day still counts as in time."""
        return on > self.review_by

    def in_force(self, on: date) -> tuple[Requirement, ...]:
        """Rows in force on that day, in the order of the file.

        On a day before the first row of a criterion that first row is used: an early or mistyped date must
        not make the questions fewer.
        """
        first: dict[str, Requirement] = {}
        for row in self.requirements:
            if row.criterion not in first or row.from_on < first[row.criterion].from_on:
                first[row.criterion] = row
        return tuple(
            row for row in self.requirements if row.in_force(on) or (row is first[row.criterion] and on < row.from_on)
        )


@cache
def payers() -> tuple[Payer, ...]:
    """Every payer that comes with the program, by id."""
    return tuple(read_payer(path) for path in sorted(_FOLDER.glob("*.toml")))


def load(payer_id: str, where: str) -> Payer:
    """The payer with this id; `where` is the place that names it. Raises UserError when there is none."""
    known = {path.stem: path for path in _FOLDER.glob("*.toml")}
    if payer_id not in known:
        near = did_you_mean(payer_id, known)
        if not word_meant(payer_id, known):  # ids that share their beginning are for different clients: all are named
            near = f"Those there are: {'; '.join(f'{payer.id} ({payer.name})' for payer in payers())}."
        raise UserError([Problem(where, f"unknown payer '{brief(payer_id)}'", near)])
    return read_payer(known[payer_id])


@cache
def read_payer(path: Path) -> Payer:
    """A payer file, with the rows of the payer it extends. Raises UserError with every mistake in it, each with its
    line."""
    return _read(path, ())


def _read(path: Path, extended_by: tuple[Path, ...]) -> Payer:
    text = text_of(path, str(path), _MOST_BYTES)
    raw = read_toml(text, str(path))
    where = raw.where
    try:
        payer = Payer.model_validate(raw.tables)
    except ValidationError as failure:
        raise UserError(_problems(failure, where)) from None
    if problems := [*_mistakes(payer, where)]:
        raise UserError(problems)
    return payer if payer.extends is None else _extended(payer, path, where("extends"), extended_by)


def _extended(payer: Payer, path: Path, at: str, extended_by: tuple[Path, ...]) -> Payer:
    """The payer with the rows of the one it extends before its own; that one stands beside it or comes with the
    program."""
    folders = (_FOLDER, path.parent)
    known = {file.stem: file for folder in folders for file in folder.glob("*.toml")}
    if payer.extends not in known:
        raise UserError(
            [Problem(at, f"unknown payer '{brief(payer.extends)}'", did_you_mean(payer.extends or "", known))]
        )
    parent_path, chain = known[payer.extends], (*extended_by, path)
    if parent_path.resolve() in {file.resolve() for file in chain}:
        raise UserError(
            [
                Problem(
                    at,
                    f"'{payer.extends}' extends this payer in turn, so neither has rows to start from",
                    "Take extends out of one of them.",
                )
            ]
        )
    parent = _read(parent_path, chain)
    rows = {row.id: row for row in (*parent.requirements, *payer.requirements)}
    return payer.model_copy(
        update={"requirements": tuple(rows.values()), "review_by": min(payer.review_by, parent.review_by)}
    )


def _problems(failure: ValidationError, where: Any) -> list[Problem]:
    problems = []
    for error in failure.errors(include_url=False)[:_MOST_PROBLEMS]:
        path = tuple(error["loc"])
        name = brief(path[-1]) if path else "the payer"
        if error["type"] == "extra_forbidden":
            model = Requirement if len(path) > 1 else Payer
            names = [field.alias or key for key, field in model.model_fields.items()]
            problems.append(Problem(where(*path), f"unknown key '{name}'", did_you_mean(name, names)))
        elif error["type"] == "missing":
            problems.append(Problem(where(*path), f"{name} is missing"))
        else:
            problems.append(
                Problem(
                    where(*path), f"{name} is {brief(repr(error.get('input')))}: {error['msg'].removeprefix('Input ')}"
                )
            )
    return problems


def _mistakes(payer: Payer, where: Any) -> Any:
    """What a model cannot see: unknown criteria and settings, doubled ids, rows that block without a source seen."""
    known, seen = criteria(), set()
    if payer.review_by < payer.reviewed_on:
        yield Problem(
            where("review_by"), f"the next review, {payer.review_by}, is before the last, {payer.reviewed_on}"
        )
    for index, row in enumerate(payer.requirements):
        at = ("requirements", index)
        if row.id in seen:
            yield Problem(where(*at, "id"), f"the id '{row.id}' is used twice", "Give each row its own.")
        seen.add(row.id)
        if row.criterion not in known:
            yield Problem(
                where(*at, "criterion"),
                f"unknown criterion '{brief(row.criterion)}'",
                did_you_mean(row.criterion, known),
            )
            continue
        declared, choices = known[row.criterion].settings, known[row.criterion].choices
        for name, value in row.settings.items():
            if name not in declared:
                yield Problem(
                    where(*at, "settings", name),
                    f"'{row.criterion}' has no setting '{brief(name)}'",
                    did_you_mean(name, declared),
                )
            elif not _like(value, declared[name]):
                yield Problem(
                    where(*at, "settings", name),
                    f"{brief(name)} is {brief(repr(value))}",
                    f"Its form: {declared[name]!r}.",
                )
            elif wrong := [word for word in value if word not in choices[name]] if name in choices else []:
                yield Problem(
                    where(*at, "settings", name),
                    f"{name} holds '{brief(wrong[0])}'",
                    did_you_mean(wrong[0], choices[name]),
                )
        if row.rests_on and row.known != "read":
            yield Problem(
                where(*at, "rests_on"),
                f"a row known from {row.known} cannot say in a letter what a request rests on",
                "Take rests_on out, or read the source.",
            )
        if row.severity == "blocks" and row.known in _NOT_SEEN:
            yield Problem(
                where(*at, "severity"),
                f"a row known from {row.known} cannot block",
                "Make it query or advise until someone has read the source.",
            )
        if row.until_on and row.until_on < row.from_on:
            yield Problem(where(*at, "until"), f"the row ends on {row.until_on}, before it starts on {row.from_on}")


def _like(value: Any, default: Any) -> bool:
    """Whether a setting is of the kind of its default: a number or a whole number up to a thousand, words, or a list of
    words."""
    if isinstance(default, list):
        return isinstance(value, list) and bool(value) and all(isinstance(word, str) for word in value)
    if isinstance(default, float):
        return type(value) in (int, float) and 0 <= value <= _MOST_NUMBER
    return type(value) is type(default) and (type(value) is not int or 0 <= value <= _MOST_NUMBER)
