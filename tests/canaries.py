"""A case with a word of its own in every text it could hold, so that a page tells which keys it was made from."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Annotated, Any, get_args, get_origin

from in_full import tables_in_full
from msgspec.structs import replace
from pydantic import BaseModel

from docgen.case.base import clean_text
from docgen.case.keys import bare_kind
from docgen.case.model import Case
from docgen.case.record import TRIAL, Sheet
from docgen.case.session import SESSIONS
from docgen.case.who import Person
from docgen.criteria.criterion import Grounds
from docgen.criteria.run import verdicts
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import Assessed, asked_on, assess
from docgen.resources import folder


@cache
def every_word(demo: str) -> tuple[Assessed, dict[str, str]]:
    """A demo case whose every text, in the rows too, is a word of its own; word -> key, of people with their role."""
    source, words = folder("cases") / demo, {}
    raw = tables_in_full(source)
    made = assess(source)
    case = Case.model_validate(_frozen(_filled(Case, raw, "", words)))
    case = case.with_records(tuple(_rows(made.file.case.records, TRIAL, "trial.csv", words)))
    case = case.with_sessions(tuple(_rows(made.file.case.sessions, SESSIONS, "sessions.csv", words)))
    here = Grounds(case, evidence(case), fit(case, made.file.where))
    return replace(
        made,
        file=replace(made.file, case=case),
        evidence=here.evidence,
        grounds=here,
        verdicts=verdicts(here, made.payer, asked_on(case, made.payer)),
    ), words


def keys_in(text: str, words: dict[str, str]) -> set[str]:
    """The keys whose words stand in a text."""
    return {words[word] for word in re.findall(r"canary\d{4}", text.lower())}


def _rows(rows: Iterable[Any], sheet: Sheet, file: str, words: dict[str, str]) -> Iterable[Any]:
    """The rows with one word a column in every text: a word for each row would be thousands."""
    own = {column.name: _new(words, f"{file}.{column.name}") for column in sheet.columns if column.kind == "words"}
    return (replace(row, **{name: word for name, word in own.items() if getattr(row, name)}) for row in rows)


def _is_text(field: Any) -> bool:
    """Whether a key holds free words: text that may be any."""
    return _free(field.annotation) or any(getattr(note, "func", None) is clean_text for note in field.metadata)


def _free(kind: Any) -> bool:
    """Whether a type is free words, or may be."""
    notes = [note for part in (kind, *get_args(kind)) if get_origin(part) is Annotated for note in get_args(part)[1:]]
    return bare_kind(kind) is str and any(getattr(note, "func", None) is clean_text for note in notes)


def _filled(model: type[BaseModel], raw: dict[str, Any], path: str, words: dict[str, str]) -> dict[str, Any]:
    """The table with a word of its own in every text it could hold; `words` collects word -> key."""
    made = dict(raw)
    role = f"@{raw['role']}" if model is Person else ""
    for name, field in model.model_fields.items():
        kind, at = bare_kind(field.annotation), f"{path}.{name}".lstrip(".")
        if at in ("format", "id", "trial.rows"):
            continue
        if _is_text(field):
            made[name] = _new(words, at + role)
        elif get_origin(kind) is tuple and _free(get_args(kind)[0]):
            made[name] = [_new(words, at) for _ in raw.get(name, ())]
        elif (
            get_origin(kind) is tuple
            and isinstance(entry := bare_kind(get_args(kind)[0]), type)
            and issubclass(entry, BaseModel)
        ):
            made[name] = [_filled(entry, one, at, words) for one in raw.get(name, ())]
        elif isinstance(kind, type) and issubclass(kind, BaseModel):
            made[name] = _filled(kind, raw.get(name, {}), at, words)
    return made


def _new(words: dict[str, str], at: str) -> str:
    words[word := f"canary{len(words):04d}"] = at
    return word


def _frozen(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _frozen(one) for key, one in value.items()}
    return tuple(_frozen(one) for one in value) if isinstance(value, list) else value
