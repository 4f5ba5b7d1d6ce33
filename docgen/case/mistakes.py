"""A value that a key of a case cannot take, in words: what stands there, what the key holds, and how it is written.

The example is a value of the same key elsewhere in the same file where there is one, else one of the model's own; of a
number or a choice always the model's own: that of another place is an answer, and may be the wrong one here.
"""

from __future__ import annotations

import json
import re
import typing
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from docgen.case.base import Part, is_free_text, is_number, part_of, usual_of
from docgen.case.by_name import LIKE, form_of_list
from docgen.case.forgiving import days_of
from docgen.case.keys import bare_kind, choices_in
from docgen.case.lines import KeyPath, dotted
from docgen.case.measures_written import EXAMPLES, unit_of_key
from docgen.case.mistaken_lists import code_at, entry_form
from docgen.case.model import Case
from docgen.case.usual import slip, unit_of
from docgen.case.who import KINDS_SAY
from docgen.choices import meaning
from docgen.errors import Problem, brief, did_you_mean, word_meant
from docgen.terms import renamed

Where = Callable[..., str]

# what is said of a key that names say, where it is missing or another word than it takes
_SAID_BY_NAMES: Mapping[KeyPath, str] = {
    ("people", "role"): 'Write it as: role = "caregiver". Allowed: caregiver for whoever helps the client, coach for '
    "whoever trains, school for somebody of one, respiratory for the service of a ventilator, other for anyone else; "
    "evaluator, practitioner, supplier, payer. Some names say it: [people.mother], neighbor, home_aide, staff, "
    "teacher, trainer, therapist, doctor.",
    (
        "spaces",
        "kind",
    ): 'Write it as: kind = "doorway". Allowed: doorway, corridor, turning, ramp, stopping, elevator. '
    "A name that begins or ends in door, corridor, hallway, ramp or elevator says it: "
    'bathroom_door = "34 in", door_1 = "36 in".',
    ("awaited", "of"): 'Write it as: of = "family". Allowed: therapist, supplier, practitioner, hospital, client, '
    "family, school, payer. Whoever else knows, such as a biller or one of the family, stands in whom beside one of "
    "these: the therapist asks a biller.",
}

# lists whose entries may be named by a word with a dot, and one such word
_NAMED_BY_CODE = {"diagnoses": "G80.3", "configuration.features": "reverse_access.direction_change"}
_YEAR_OR_MONTH = re.compile(r"(?:[A-Za-z]{3,9}\.?,? |\d{1,2}[/.-])?\d{4}$|\d{4}-\d{1,2}$")
_MOST_TABLES = 3  # named as those that have a key
_MOST_SHOWN = 80  # characters of an example
# kinds of mistakes of the library that checks, as clauses of our own
_KINDS = {
    "string_type": "is no text in quotes",
    "bool_type": "is neither true nor false",
    "int_type": "is no whole number",
    "int_from_float": "is no whole number",
    "float_type": "is no number",
    "finite_number": "is no number that can be measured",
    "tuple_type": "is no list",
    "date_type": "is not a date",
    "date_from_datetime_inexact": "is a date with an hour",
    "time_type": "is no time of day",
    "time_delta_type": "is no time of day",
    "string_pattern_mismatch": "has not the form of its kind",
    "model_type": "is no table",
    "model_attributes_type": "is no table",
}
_BOUNDS = {
    "greater_than": ("gt", "must be over"),
    "greater_than_equal": ("ge", "must not be under"),
    "less_than": ("lt", "must be under"),
    "less_than_equal": ("le", "must not be over"),
}
# what a key with such a pattern is made of
_PATTERNS = {
    "^[a-z][a-z0-9_]{0,39}$": "small letters, digits and _, a letter first, at most 40 in all",
    "^[a-z][a-z0-9_]*$": "small letters, digits and _, a letter first",
    "^[a-z0-9][a-z0-9-]{0,59}$": "small letters, digits and -, at most 60 in all",
    "^[A-Z][0-9]{4}$": "a capital letter and four digits",
    "^[A-Z0-9]{2}( [A-Z0-9]{2})*$": "two capital letters or digits each, with a space between",
    "^[0-9+*# -]{2,20}$": "digits, spaces and + * # -",
}


def problem(
    error: Mapping[str, Any],
    where: Where,
    raw: Mapping[str, Any],
    faulty: frozenset[KeyPath],
    by_name: frozenset[KeyPath] = frozenset(),
) -> Problem:
    """One mistake found by the model, in words.

    raw      the data of the file, in which an example is looked for
    faulty   paths of all values that are mistaken, none of which is an example
    by_name  lists that the file writes by the names of their entries
    """
    path = _path_of(error)
    name = brief(dotted(path)) or "the case"
    value, kind, context = error.get("input"), str(error["type"]), error.get("ctx") or {}
    field, at = field_of(path), where(*path)
    shown, form = brief(f"'{value}'" if isinstance(value, str) else toml_of(value)), _form(path, field, raw, faulty)
    match kind:
        case "extra_forbidden" if path[-1] == LIKE:
            return Problem(at, f"{name} is {shown}, which is no entry above this one", "Name one that is.")
        case "extra_forbidden":
            return Problem(at, f"unknown key '{brief(path[-1])}'", _of_unknown_key(path, value, raw))
        case "missing" if (
            path[:2] == ("configuration", "items") and path[-1] == "name" and (code := code_at(path, raw))
        ):
            says = f"{name} is missing, for {code} is on no list of docgen's"
            return Problem(at, says, f'Write what the line is, as the supplier calls it, beside {code}: name = "...".')
        case "missing":
            return Problem(at, f"{name} is missing", _SAID_BY_NAMES.get(_without_places(path), form))
        case "literal_error":
            return Problem(at, *_not_allowed(path, name, value, shown, context))
        case "value_error":
            return Problem(at, _says_fault(name, str(context["error"])), form)
        case "tuple_type" if isinstance(value, Mapping) and _is_table_list(field):
            return Problem(at, f"[{name}] is a single table, and there may be many", _many_tables(name, field))
        case "date_type" if isinstance(value, (str, int)):
            clause, what_to_do = _of_no_day(path, value, form)
            return Problem(at, f"{name} is {shown}, which {clause}", what_to_do)
        case "tuple_type" if entry := entry_form(path, field, toml_of):
            return Problem(at, f"{name} is {shown}, which is no list", f"{form} {entry}")
        case "string_too_long" | "too_long":
            return Problem(at, f"{name} {_too_long(kind, value, context)}", form)
    clause = _past_bound(kind, path, value, context) if kind in _BOUNDS else _of_wrong_kind(kind, context)
    in_head = _of_name_in_head(path, value) if path[:-2] in by_name and _is_name(path) else ""
    return Problem(at, f"{name} is {shown}, which {clause}", f"{in_head}{form}")


def _of_unknown_key(path: KeyPath, value: Any, raw: Mapping[str, Any]) -> str:
    """What to do about a key that its table has not: an answer to a condition has a table of its own."""
    if path[0] != "conditions" or len(path) != 3:
        return _nearest_key(str(path[-1]), path[:-1])
    table = f"conditions.{_id_at(path[:-1], raw)}.answers"
    written = toml_of(value) if isinstance(value, (str, Mapping)) else '"..."'
    return brief(f"What is answered of a condition stands below [{table}]: {path[-1]} = {written}.", 400)


def _of_no_day(path: KeyPath, value: str | int, form: str) -> tuple[str, str]:
    """What is wrong with a value that names no single day, as a clause, and what to do: words that may be two days, a
    month or a year alone, any other."""
    days = days_of(value) if isinstance(value, str) else ()
    if len(days) > 1:
        readings = " or ".join(f"{day.day} {day:%B} {day.year}" for day in days)
        return f"may be {readings}", f"Write it as {path[-1]} = {days[0]}, if that is meant."
    without_day = f"{_without_day(path, str(value))} " if _YEAR_OR_MONTH.match(str(value)) else ""
    # a day that follows from the value stands alone: the example is another
    return _KINDS["date_type"], without_day.strip() if "Write its last day" in without_day else f"{without_day}{form}"


def _of_name_in_head(path: KeyPath, value: Any) -> str:
    """What to do about the name of an entry that is no name, which stands in its head, as a sentence before others."""
    named = f"{dotted(path[:-2])}.{brief(value)}"
    return (
        f"The name in [{named}] is the {path[-1]} in this form: write {_as_id(value, path)}, or the {path[-1]} as "
        "a key below the head. "
    )


def _as_id(value: Any, path: KeyPath) -> str:
    """The nearest that an id can be to a name that is none, in the head where it stands."""
    near = re.sub(r"[^a-z0-9]+", "_", str(value).lower()).strip("_")[:40]
    named = path[-1] == "id" and re.fullmatch(r"[a-z][a-z0-9_]*", near)
    return f"[{dotted(path[:-2])}.{near}]" if named else f"the {path[-1]} in place of '{brief(value)}'"


def _without_places(path: KeyPath) -> KeyPath:
    return tuple(part for part in path if isinstance(part, str))


def _id_at(path: KeyPath, raw: Mapping[str, Any]) -> str:
    """Id of the entry at this path, or NAME."""
    entry: Any = raw
    for part in path:
        entry = entry[part]
    return str(entry.get("id", "NAME")) if isinstance(entry, Mapping) else "NAME"


def _without_day(path: KeyPath, value: str) -> str:
    """What to do with a month or a year in place of a day."""
    field = field_of(path[:-1])
    inner = part_of(field.annotation) if field else None
    keys = inner.model_fields if inner else {}
    year = re.search(r"\d{4}", value)
    if "year" in keys and year:
        return f"Leave {path[-1]} out, and write year = {year[0]}, and the month in says."
    if str(path[-1]).endswith("_by") and year:  # the day by which something was: the last of the year or month is one
        month = re.search(r"\d{4}-(\d{2})", value)
        last = date(int(year[0]) + (not month or month[1] == "12"), int(month[1]) % 12 + 1 if month else 1, 1)
        return f"Write its last day: {path[-1]} = {last - timedelta(days=1)}."
    in_says = f" and tell “{brief(value)}” in says" if "says" in keys else ""
    return f"Leave {path[-1]} out until the day is known{in_says}."


def _many_tables(name: str, field: FieldInfo | None) -> str:
    """How a list of tables is written, where there is a single one."""
    if field is not None and form_of_list(field.annotation) is not None:
        return f"Write [[{name}]], with two brackets, each time, or each by its name, as [{name}.NAME]."
    return f"Write [[{name}]], with two brackets, each time; its entries have no names."


def _too_long(kind: str, value: object, context: Mapping[str, Any]) -> str:
    """By how much a text or a list is too long, as a clause."""
    if kind == "string_too_long":
        return f"has {len(str(value)):,} characters, more than the {context['max_length']:,} allowed"
    return f"has {context['actual_length']} entries, more than the {context['max_length']} allowed"


def _is_name(path: KeyPath) -> bool:
    """Whether this key of an entry is the one that holds the entry's name."""
    field = field_of(path[:-2])
    form = form_of_list(field.annotation) if field else None
    return form is not None and path[-1] == form.key


def _path_of(error: Mapping[str, Any]) -> KeyPath:
    """The key that a mistake is about."""
    path: KeyPath = tuple(error["loc"])
    while error["type"] != "extra_forbidden" and len(path) > 1 and field_of(path) is None:
        path = path[:-1]  # of a key that takes one kind or another, the last part names the kind
    return path


def _says_fault(name: str, fault: str) -> str:
    """A fault that a check of the model's own tells, with the name of the key before it."""
    return f"{name} {fault}" if re.match(r"(is|has|needs|must|cannot|holds)\b", fault) else f"{name}: {fault}"


def _past_bound(kind: str, path: KeyPath, value: Any, context: Mapping[str, Any]) -> str:
    """What is wrong with a number beyond the limits of its key, with its limit and the likely slip."""
    bound, words = _BOUNDS[kind]
    limit = f"{context[bound]:g} {unit_of(str(path[-1])) or ''}".rstrip()
    return f"{words} {limit}{_slip(path, value)}"


def _of_wrong_kind(kind: str, context: Mapping[str, Any]) -> str:
    """What is wrong with a value of another kind than its key takes."""
    made_of = _PATTERNS.get(str(context.get("pattern", "")), "") if kind == "string_pattern_mismatch" else ""
    return _KINDS.get(kind, "is none of its values") + (f": {made_of}" if made_of else "")


def toml_of(value: Any) -> str:
    """A value as TOML writes it, in one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (datetime, date)):
        return value.isoformat()
    if isinstance(value, time):
        return value.isoformat("seconds")
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {toml_of(inner)}" for key, inner in value.items()) + " }" if value else "{}"
    if isinstance(value, Sequence):
        return "[" + ", ".join(map(toml_of, value)) + "]"
    return str(value)


def field_of(path: KeyPath, root: type[BaseModel] = Case) -> FieldInfo | None:
    """The field of the model that a key path leads to, or None."""
    model: type[BaseModel] | None = root
    field: FieldInfo | None = None
    for part in path:
        if isinstance(part, int):
            continue
        field = model.model_fields.get(part) if model else None
        if field is None:
            return None
        model = part_of(field.annotation)
    return field


def _form(path: KeyPath, field: FieldInfo | None, raw: Mapping[str, Any], faulty: frozenset[KeyPath]) -> str:
    """What a key holds and how it is written."""
    if field is None:
        return ""
    holds = f"It holds: {field.description}."
    if part_of(field.annotation) is not None:
        return holds
    key = next(part for part in reversed(path) if isinstance(part, str))
    if bare_kind(field.annotation) is bool:  # one of the two as an example would be taken over without a thought
        return f"{holds} Write it as: {key} = true, or {key} = false."
    # words of a person are nobody's example; a level, a speed or a number of another place would be taken over unread
    is_own = is_free_text(field) or is_number(field) or bool(choices_in(field.annotation))
    stands = None if is_own else _elsewhere(path, raw, faulty)
    unit = unit_of_key(key) if is_number(field) else ""
    holds += f' Its unit may stand in it, as "{EXAMPLES[unit]}".' if unit else ""
    if stands is not None:
        return f"{holds} As elsewhere here: {key} = {stands}."
    example = field.examples[0] if field.examples else field.default
    allowed = choices_in(field.annotation)
    one_of = f" Allowed: {_with_meanings(path, allowed)}." if allowed else ""
    return f"{holds} Write it as: {key} = {toml_of(example)}.{one_of}" if example is not None else holds


def _elsewhere(path: KeyPath, raw: Mapping[str, Any], faulty: frozenset[KeyPath]) -> str | None:
    """A value of the same key in another entry of the same list, as TOML; None where there is none that is short and
    right."""
    at = next((n for n, part in enumerate(path) if isinstance(part, int)), None)
    if at is None or at == len(path) - 1:
        return None
    entries: Any = raw
    for part in path[:at]:
        entries = entries.get(part) if isinstance(entries, Mapping) else None
    for index, entry in enumerate(entries if isinstance(entries, (list, tuple)) else ()):
        other = (*path[:at], index, *path[at + 1 :])
        value: Any = entry
        for part in path[at + 1 :]:
            if isinstance(part, int):
                break
            value = value.get(part) if isinstance(value, Mapping) else None
        if index == path[at] or value is None or any(bad[: len(other)] == other for bad in faulty):
            continue
        if len(written := toml_of(value)) <= _MOST_SHOWN:
            return written
    return None


def _not_allowed(path: KeyPath, name: str, value: Any, shown: str, context: Mapping[str, Any]) -> tuple[str, str]:
    """What is said of a word that is none of those its key takes, and what to do: all of them are named."""
    expected = re.findall(r"'([^']*)'", str(context.get("expected", "")))
    key = next(part for part in reversed(path) if isinstance(part, str))
    if isinstance(value, str) and (new := renamed("values").get(value)) in expected:
        return f"{name} is {shown}, which is now '{new}'", f"Write {new} in its place."
    says = f"{name} is {shown}, which is not one of its values"
    if path == ("request", "kind"):
        return says, f"{KINDS_SAY}."
    is_slip = isinstance(value, str) and word_meant(value, expected) != ""
    first = f"{did_you_mean(value, expected)} " if is_slip else ""
    if in_words := _SAID_BY_NAMES.get(_without_places(path)):
        return says, f"{first}{in_words}"
    return says, f'{first}Write it as: {key} = "{expected[0]}". Allowed: {_with_meanings(path, expected)}.'


def _with_meanings(path: KeyPath, words: Iterable[str]) -> str:
    """The words that a key may hold, each with its meaning where that tells more than the word itself."""
    means = {word: meaning(path, word) for word in words}
    plain = {word for word, says in means.items() if {*word.split("_")} <= {*re.findall(r"\w+", says)}}
    return ", ".join(word if word in plain else f"{word} ({says})" for word, says in means.items())


def _nearest_key(wrong: str, table: KeyPath) -> str:
    """What to do about a key that its table has not: the nearest it has, or the tables that have it."""
    field = field_of(table)
    model = Case if not table else part_of(field.annotation) if field else None
    keys = model.model_fields if model else {}
    if new := renamed("keys").get(dotted((*table, wrong))):
        return f"It is now '{new}': write {new} in its place."
    if dotted(table) in _NAMED_BY_CODE and not (wrong in keys or word_meant(wrong, keys)):
        return f'A name with a dot in it stands in quotes, as "{_NAMED_BY_CODE[dotted(table)]}" = ...'
    near = did_you_mean(wrong, keys, "docgen schema")
    if meant := word_meant(wrong, keys):
        holds = keys[meant].description
        return f"{near} It holds: {holds}." if holds else near
    elsewhere = _tables_with(wrong)
    if len(elsewhere) > _MOST_TABLES:  # a word that many tables have, such as says, points to none of them
        return near
    return f"It is a key of {' and '.join(elsewhere)}." if elsewhere else near


@cache
def _tables_with(key: str) -> tuple[str, ...]:
    """Tables of a case that have a key of this name, as they are written."""
    return tuple(dict.fromkeys(table for table, name in _keys(Case, "") if name == key and table))


def _keys(model: type[Part], table: str) -> Iterator[tuple[str, str]]:
    for name, field in model.model_fields.items():
        inner = part_of(field.annotation)
        if inner is None:
            yield table, name
        else:
            bare = f"{table.strip('[]')}.{name}".lstrip(".")
            yield from _keys(inner, f"[[{bare}]]" if _is_table_list(field) else f"[{bare}]")


def _is_table_list(field: FieldInfo | None) -> bool:
    """Whether a key is written as [[...]]."""
    return field is not None and typing.get_origin(field.annotation) is tuple and part_of(field.annotation) is not None


def _slip(path: KeyPath, value: Any) -> str:
    """The likely slip behind a value beyond the limits of its key, as a question; "" where none is known."""
    field = field_of(path)
    usual = usual_of(field) if field is not None else None
    if usual is None or isinstance(value, bool) or not isinstance(value, (int, float)):
        return ""
    named = slip(value, usual.low, usual.high, unit_of(str(path[-1])))
    return f"; is it {named}" if named else ""
