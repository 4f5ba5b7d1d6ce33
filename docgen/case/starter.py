"""A commented starter case, written from the same field descriptions that check and label a case."""

from __future__ import annotations

import json
import textwrap
import types
import typing
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct
from pydantic.fields import FieldInfo

from docgen.case.base import Part, part_of
from docgen.case.by_name import EACH, PRESENT, Form, choices_of, form_of_list
from docgen.case.mistakes import toml_of
from docgen.case.model import Case
from docgen.case.record import COLUMNS
from docgen.case.short_form import KIND_NAMES
from docgen.case.written import key_of

_WIDTH = 110
NAME = "NAME"  # stands for the name of an entry
_HEADINGS = {
    "request": "who",
    "limits": "why",
    "spaces": "where",
    "alternatives": "what was ruled out",
    "trial": "what was tried",
    "configuration": "what is requested",
    "letter": "in your own words",
    "cautions": "living with it",
}


Fixed = dict[str, str]  # key -> its value as TOML writes it, "" where it is asked for


class Asked(Struct, frozen=True):
    """What a new case has to hold.

    paths    keys and tables by their path, with dots and without places in lists
    filled   table -> keys whose values are known already; a list of tables that stands here has known entries
    entries  list of tables -> what is known of each entry that it will have; one that names keys to be asked for is
             asked for these alone
    hints    list of tables -> a sentence that stands above its entries
    """

    paths: frozenset[str]
    filled: Mapping[str, Fixed]
    entries: Mapping[str, tuple[Fixed, ...]]
    hints: Mapping[str, str] = {}


def starter(case_id: str, asked: Asked | None = None) -> str:
    """case.toml of a new case: its keys, commented out, with their meaning and one example of their form.

    asked  what the request needs; every key there is when None
    """
    lines = [
        "# A new case. Take the first # away from a key and write its value; leave out what is not known.",
        "# What is left out shows as not recorded. The forms at the end of a line are never content.",
        "# NAME stands for a name of your own: [findings.hand_weak], [spaces.hall]; repeat the block for each entry.",
        "# What all entries of a list have stands once, under each; a visit gives its day and who made it.",
        "# Short entries may stand in one line each below the head of their list, as shown; blocks follow them.",
        *([f"# What this request needs; all there is to record: docgen new {case_id} --all"] if asked else []),
        f'format = "{PRESENT}"',
        f'id = "{case_id}"',
        "",
    ]
    heading: list[str] = []
    for name, field in Case.model_fields.items():
        if name in ("format", "id", "invented"):
            continue
        if name in _HEADINGS:
            heading = [f"# ---- {_HEADINGS[name]} " + "-" * (90 - len(_HEADINGS[name])), ""]
        table = _table(name, field, asked, name)
        lines += [*heading, *table] if table else []
        heading = [] if table else heading
    return "\n".join(lines).rstrip() + "\n"


def first_line() -> str:
    """trial.csv of a new case: the names of the columns, and no rows."""
    return ",".join(column.name for column in COLUMNS) + "\n"


def _table(path: str, field: FieldInfo, asked: Asked | None, head: str) -> list[str]:
    """A table, or the entries of a list, with all that is within.

    path  dotted path, without places in lists
    head  how the heads of its blocks begin: the path with the names of the entries that it leads through
    """
    model, repeated = part_of(field.annotation), typing.get_origin(field.annotation) is tuple
    if model is None:
        return []
    plain = {n: f for n, f in model.model_fields.items() if part_of(f.annotation) is None}
    inner = {n: f for n, f in model.model_fields.items() if part_of(f.annotation) is not None}
    form = form_of_list(field.annotation)
    filled = asked.filled.get(path, {}) if asked else {}
    if asked:
        plain = _keys_asked(path, plain, repeated, asked)
    lines: list[str] = []
    if plain or not asked:
        entries = (asked.entries.get(path) if asked else None) or ({},)
        lines += [f"# {field.description or path}"]
        if asked and path in asked.hints:
            lines += textwrap.wrap(asked.hints[path], _WIDTH, initial_indent="#   ", subsequent_indent="#   ")
        if form:
            known = asked is not None and path in asked.filled
            lines += _in_one_line(head, model, form, plain)
            lines += _by_name(head, model, form, plain, entries, bool(asked), known)
        else:
            lines += _block(head, repeated, plain, filled, entries)
    within = f"{head}.{NAME}" if form else head
    for n, f in inner.items():
        lines += _table(f"{path}.{n}", f, asked, f"{within}.{n}")
    return lines


def _in_one_line(head: str, model: type[Part], form: Form, plain: Mapping[str, FieldInfo]) -> list[str]:
    """How an entry of a list is written in one line below its head, by the examples of its keys; none where even its
    first two keys have no room."""
    name = NAME
    if form.key in model.model_fields:
        given = model.model_fields[form.key]
        name = (choices_of(model, form.also) or choices_of(model, form.key) or tuple(given.examples or (NAME,)))[0]
    short = next((key for key in (form.text, form.texts, form.number) if key in plain), "")
    begins = f"#   in one line below [{head}]: {key_of(str(name))} = "
    if short:
        line = f"{begins}{_example(plain[short])}"
        others = [key for key in plain if key not in (form.key, short, "on", "by", "visit")]
        with_dots = ", ".join(f'{key} = "..."' for key in (short, *others[:1]))
        return [line if len(line) <= _WIDTH else f"{begins}{{ {with_dots} }}"]
    pairs: list[str] = []
    for key, field in plain.items():
        if key in (form.key, form.also, form.words, "visit") or (key in ("on", "by") and "visit" in model.model_fields):
            continue
        if len(f"{begins}{{ {', '.join([*pairs, f'{key} = {_example(field)}'])} }}") <= _WIDTH:
            pairs.append(f"{key} = {_example(field)}")
    return [f"{begins}{{ {', '.join(pairs)} }}"] if len(pairs) > 1 else []


def _example(field: FieldInfo) -> str:
    """One value of a key, as TOML writes it."""
    return toml_of(field.examples[0] if field.examples else field.default)


def _keys_asked(path: str, keys: Mapping[str, FieldInfo], repeated: bool, asked: Asked) -> dict[str, FieldInfo]:
    """The keys of a table that the request needs: asked for, known, or without which an entry of its list is none."""
    known = {key for entry in asked.entries.get(path, ()) for key in entry} | asked.filled.get(path, {}).keys()
    of_it = known or any(asked_path.startswith(f"{path}.") or asked_path == path for asked_path in asked.paths)
    return {
        n: f
        for n, f in keys.items()
        if f"{path}.{n}" in asked.paths or n in known or (of_it and repeated and f.is_required())
    }


def _block(
    path: str, repeated: bool, plain: Mapping[str, FieldInfo], filled: Fixed, entries: Sequence[Fixed]
) -> list[str]:
    """A table, or each entry of a list whose entries have no name."""
    lines: list[str] = []
    explained: set[str] = set()
    for entry in entries:
        lines += [f"# [[{path}]]" if repeated else f"[{path}]"]
        # no value stands after the sign: an example left in by mistake would read as a measurement
        for n, f in plain.items():
            value = filled.get(n) or entry.get(n) or ""
            lines += _line(n, value, f, explained, written=n in filled)
        lines.append("")
    return lines


def _by_name(
    path: str,
    model: type[Part],
    form: Form,
    plain: Mapping[str, FieldInfo],
    entries: Sequence[Fixed],
    short: bool,
    known: bool,
) -> list[str]:
    """The entries of a list, each under its name; the day and who stand once, with the visit that all of them name.

    short  without keys that the name of an entry fills in as well
    known  whether the entries are known already, so that their heads are written and not only offered
    """
    fields = model.model_fields
    of_visit = {"on", "by"} & plain.keys() if "visit" in fields else set()
    lines: list[str] = []
    if of_visit or "visit" in plain:
        lines += [f"# [{path}.{EACH}]", *_explained("# visit =", fields["visit"])]
    explained: set[str] = set()
    sign = "" if known else "# "
    for entry in entries:
        word = (entry.get(form.also) or entry.get(form.key) or "").strip('"')
        name_says = {form.key, *([form.also] if word else [])}
        if word or not form.key:
            lines.append(f"{sign}[{path}.{word or NAME}]")
        else:
            lines += _explained(f"# [{path}.{NAME}]", fields[form.key])
        for n in _asked_in(entry, plain):
            left_out = n in name_says or n in of_visit or n == "visit" or (short and _is_named(n, form, entry))
            if not left_out:
                lines += _line(n, entry.get(n, ""), plain[n], explained)
        lines.append("")
    return lines


def _asked_in(entry: Fixed, plain: Mapping[str, FieldInfo]) -> list[str]:
    """Keys of an entry: those that it names to be asked for, else all."""
    return [n for n in plain if n in entry] if "" in entry.values() else list(plain)


def _is_named(key: str, form: Form, entry: Fixed) -> bool:
    """Whether the name of an entry fills in this key of words as well."""
    return key == "name" and ((form.words == key and not form.begins) or entry.get("kind", "").strip('"') in KIND_NAMES)


def _line(name: str, value: str, field: FieldInfo, explained: set[str], written: bool = False) -> list[str]:
    """A key, with its meaning where it stands for the first time without a value."""
    key = f"{'# ' * (not written)}{name} = {value}".rstrip()
    first = not value and name not in explained
    explained.add(name)
    return _explained(key, field) if first else [key]


def _explained(key: str, field: FieldInfo) -> list[str]:
    """A key with its meaning and form beside it."""
    room, (meaning, mark, form) = _WIDTH - 3 - max(25, len(key)), _meaning(field).partition("; form: ")
    parts = (
        [f"{meaning}{mark}{form}"] if len(meaning + mark + form) <= room else [meaning, f"form: {form}" if form else ""]
    )
    first, *rest = (
        line for part in parts for line in textwrap.wrap(part, room, break_long_words=False, break_on_hyphens=False)
    )
    return [f"{key.ljust(25)} # {first}", *(f"# {'':<23} # {line}" for line in rest)]


def _meaning(field: FieldInfo) -> str:
    words = [json.dumps(choice) for choice in _choices(field.annotation)]
    return f"{field.description}: {', '.join(words)}" if words else f"{field.description}; form: {_example(field)}"


def _choices(annotation: Any) -> list[str]:
    if typing.get_origin(annotation) is typing.Literal:
        return [str(choice) for choice in typing.get_args(annotation)]
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        return [choice for part in typing.get_args(annotation) for choice in _choices(part)]
    return []
