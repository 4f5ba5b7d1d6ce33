"""Every vocabulary that a case is written in, with what each word means: for `docgen find` and for the schema."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

from msgspec.structs import replace
from pydantic import BaseModel

from docgen.case import record, session, totals
from docgen.case.base import part_of
from docgen.case.mistakes import toml_of
from docgen.case.model import Case
from docgen.case.names_that_say import FAMILY
from docgen.case.schema import schema as schema_of_case
from docgen.case.tried import AlternativeKind
from docgen.choices import meaning
from docgen.codes.hcpcs import Base, Code, bases, codes
from docgen.criteria.payer import payers
from docgen.fit.alternatives import kinds
from docgen.fit.condition import conditions
from docgen.fit.feature import feature_entries
from docgen.fit.finding import OWN, finding_entries
from docgen.fit.settings import drive_settings
from docgen.nearest import Entry
from docgen.shipped import tables_of
from docgen.terms import terms

_COLUMNS_OF = {"trial.csv": record.COLUMNS, "totals.csv": totals.COLUMNS, "sessions.csv": session.COLUMNS}
_FILES: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "trial.csv": ("rows of the trial", "One attempt a line.", ("attempts", "raw rows")),
    "totals.csv": (
        "day totals of the trial",
        "The attempts of one task with one control on one day as one line; what was counted over the whole day, as a "
        "line without task, attempts and done.",
        ("total of a day", "total of the whole day", "day total", "sum of a day", "counted by day"),
    ),
    "sessions.csv": ("rows of the lessons", "One try of a lesson a line.", ("lesson log", "session log")),
}
_OF_FINDINGS = (("Finding", "calls_for"), ("Finding", "speaks_against"))


def vocabularies() -> dict[str, tuple[Entry, ...]]:
    """What is named -> its words: finding, feature, kind, setting, condition, payer, code."""
    return {
        "finding": tuple(finding_entries()),
        "feature": tuple(feature_entries()),
        "kind": tuple(_kinds()),
        "setting": tuple(Entry("setting", key, s.name, s.does) for key, s in drive_settings().items()),
        "condition": tuple(
            Entry("condition", key, c.name, "", tuple(c.recognised.codes)) for key, c in conditions().items()
        ),
        "payer": tuple(Entry("payer", payer.id, payer.name, payer.note) for payer in payers()),
        "code": (
            *(Entry("code", key, code.words, _of_code(code)) for key, code in codes().items()),
            *(Entry("code", key, _words_of(base), _of_base(base)) for key, base in bases().items()),
        ),
    }


@cache
def columns() -> tuple[Entry, ...]:
    """The files of rows beside a case, and each of their columns with the files that have it."""
    having: dict[str, list[str]] = {}
    means: dict[str, str] = {}
    for file, columns_of_file in _COLUMNS_OF.items():
        for column in columns_of_file:
            having.setdefault(column.name, []).append(file)
            means.setdefault(column.name, column.means)
    of_files = (Entry("column", file, name, meaning, synonyms) for file, (name, meaning, synonyms) in _FILES.items())
    return (*of_files, *(Entry("column", name, means[name], f"In {', '.join(having[name])}.") for name in having))


@cache
def keys_of_case() -> tuple[Entry, ...]:
    """Every key of a case by its dotted path, with its label and what it may hold: for whoever looks for the place of a
    fact."""
    everyday = tables_of((Path(__file__).parent / "everyday.toml").read_text(encoding="utf-8"))
    everyday["people.relation"] += FAMILY
    return tuple(replace(entry, synonyms=(*entry.synonyms, *everyday.get(entry.id, ()))) for entry in _keys(Case, ()))


def _keys(model: type[BaseModel], path: tuple[str, ...]) -> Iterator[Entry]:
    for name, field in model.model_fields.items():
        if inner := part_of(field.annotation):
            yield from _keys(inner, (*path, name))
        else:
            choices = tuple(meaning((*path, name), word) for word in _choices(field.annotation))
            example = f"As {toml_of(field.examples[0])}." if field.examples else ""
            yield Entry("key", ".".join((*path, name)), field.description or name, example, choices)


def _choices(annotation: Any) -> Iterator[str]:
    if get_origin(annotation) is Literal:
        yield from map(str, get_args(annotation))
    else:
        for part in get_args(annotation):
            yield from _choices(part)


def _of_code(code: Code) -> str:
    """When a code may be used and how well it is known."""
    use = [f"from {code.from_on}"] if code.from_on else []
    use += [f"until {code.until_on}"] if code.until_on else []
    status = {"for_repair": "For repair or replacement only.", "excluded": "Excluded.", "never_listed": "On no list."}
    return " ".join(
        filter(None, (f"In use {' '.join(use)}." if use else "", status.get(code.status, ""), f"Known: {code.known}."))
    )


def _words_of(base: Base) -> str:
    """A power base by its group, seat, power options and weight class, in our own words."""
    options = {"none": "no power option", "single": "a single power option", "multiple": "multiple power options"}
    duty = "" if base.weight_class in ("standard", "pediatric") else " duty"
    parts = [f"power wheelchair of group {base.group}", f"{base.weight_class.replace('_', ' ')}{duty}"]
    parts += [options[base.options]] if base.options else []
    return ", ".join([*parts, "captain's chair"] if base.captains else parts)


def _of_base(base: Base) -> str:
    """For which driver a base is, and whether it is authorized first."""
    most = f"up to {base.heaviest_lb} lb" if base.heaviest_lb else f"{base.lightest_lb} lb and more"
    weight = f"{base.lightest_lb} to {base.heaviest_lb} lb" if base.lightest_lb and base.heaviest_lb else most
    rules = ["Needs prior authorization (Medicare)."] if base.authorization else []
    return " ".join([f"For a driver of {weight}.", *rules])


def _kinds() -> Iterator[Entry]:
    """Kinds of an alternative: those that bring features, and devices of another nature."""
    names = terms("kinds")
    for kind in get_args(AlternativeKind):
        term = names.get(kind)
        sites = ", ".join(kinds()[kind].sites) if kind in kinds() else ""
        yield Entry("kind", kind, term.term if term else kind.replace("_", " "), f"at: {sites}" if sites else "")


def schema() -> dict[str, Any]:
    """JSON Schema of a case in which each vocabulary stands with its meanings, so that an editor completes it."""
    whole = schema_of_case()
    definitions = whole["$defs"]
    words = vocabularies()
    own = {"pattern": f"^{OWN}[a-z0-9_]+$", "description": "a finding of the therapist's own"}
    for table, key, kind, besides in (
        ("Finding", "id", "finding", [own, {"type": "string", "description": "with own = true, any id"}]),
        ("ChosenFeature", "id", "feature", []),
        ("Alternative", "kind", "kind", []),
        ("Change", "setting", "setting", []),
        ("SetTo", "setting", "setting", []),
        ("Request", "payer", "payer", []),
        ("Item", "code", "code", [{"type": "string"}, {"type": "null"}]),
    ):
        described = definitions.get(table, {}).get("properties", {}).get(key)
        if described is not None:
            _name_each(described, words[kind], besides)
    for table, key in (("Item", "features"), ("Method", "features"), ("Alternative", "features"), *_OF_FINDINGS):
        described = definitions.get(table, {}).get("properties", {}).get(key)
        if described is not None and "items" in described:
            _name_each(described["items"], words["feature"], [])
    _mean_each(Case, (), definitions)
    return whole


def _mean_each(model: type[BaseModel], path: tuple[str, ...], definitions: dict[str, Any]) -> None:
    """Each word of a bare list that a key may hold, with its meaning."""
    for name, field in model.model_fields.items():
        if inner := part_of(field.annotation):
            _mean_each(inner, (*path, name), definitions)
        elif described := definitions.get(model.__name__, {}).get("properties", {}).get(name):
            for place in (described, described.get("items", {}), *described.get("anyOf", ())):
                if listed := place.pop("enum", None):
                    place.pop("type", None)
                    place["anyOf"] = [{"const": word, "description": meaning((*path, name), word)} for word in listed]


def _name_each(described: dict[str, Any], entries: tuple[Entry, ...], besides: list[dict[str, Any]]) -> None:
    """Each word with its meaning in the place of the pattern or the bare list that stood there."""
    for old in ("pattern", "enum", "type", "anyOf"):
        described.pop(old, None)
    meanings = [{"const": e.id, "description": f"{e.name}. {e.meaning}".strip()} for e in entries]
    described["anyOf"] = [*meanings, *besides]
