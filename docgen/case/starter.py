"""A commented starter case, written from the same field descriptions that check and label a case."""

from __future__ import annotations

import textwrap
import typing
from collections.abc import Mapping, Sequence

from msgspec import Struct
from pydantic.fields import FieldInfo

from docgen.case.base import Part, part_of
from docgen.case.by_name import EACH, PRESENT, Form, form_of_list
from docgen.case.model import Case
from docgen.case.record import COLUMNS
from docgen.case.starter_lines import NAME, WIDTH, Fixed, explained, in_lines

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


_HOW_IN_BLOCKS = (
    "# NAME stands for a name of your own: [findings.hand_weak], [spaces.hall]; repeat the block for each entry.",
    "# What all entries of a list have stands once, under each; a visit gives its day and who made it.",
)
_HOW_IN_LINES = (
    "# NAME stands for a name of your own. Repeat the line of a list for each entry; leave out keys that are not",
    "# known, and break it after any comma. What all entries have stands once, under each.",
)


class Asked(Struct, frozen=True):
    """What a new case has to hold.

    paths    keys and tables by their path, with dots and without places in lists
    filled   table -> keys whose values are known already; a list of tables that stands here has known entries
    entries  list of tables -> what is known of each entry that it will have; one that names keys to be asked for is
             asked for these alone
    hints    list of tables -> a sentence that stands above its entries
    each     list of tables -> keys that its entries mostly have in common
    """

    paths: frozenset[str]
    filled: Mapping[str, Fixed]
    entries: Mapping[str, tuple[Fixed, ...]]
    hints: Mapping[str, str] = {}
    each: Mapping[str, tuple[str, ...]] = {}


def starter(case_id: str, asked: Asked | None = None) -> str:
    """case.toml of a new case: its keys, commented out, with their meaning and one example of their form.

    asked  what the request needs; every key there is when None
    """
    lines = [
        "# A new case. Take the first # away from a key and write its value; leave out what is not known.",
        "# What is left out shows as not recorded. The forms at the end of a line are never content.",
        *(_HOW_IN_LINES if asked else _HOW_IN_BLOCKS),
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
    if asked is None:
        lines = _every_key(path, head, field, model, plain)
    elif plain := _keys_asked(path, plain, repeated, asked):
        lines = _what_is_asked(path, head, field, model, plain, asked)
    else:
        lines = []
    within = f"{head}.{NAME}" if form else head
    for n, f in inner.items():
        lines += _in_braces(path, n, f, asked) if form and asked else _table(f"{path}.{n}", f, asked, f"{within}.{n}")
    return lines


def _every_key(path: str, head: str, field: FieldInfo, model: type[Part], plain: Mapping[str, FieldInfo]) -> list[str]:
    """A table, or one entry of a list, with each key that there is, but for the tables within."""
    form, repeated = form_of_list(field.annotation), typing.get_origin(field.annotation) is tuple
    keys = _by_name(head, model, form, plain, ({},)) if form else _block(head, repeated, plain, {}, ({},))
    return [_title(path, field), *keys]


def _what_is_asked(
    path: str, head: str, field: FieldInfo, model: type[Part], plain: Mapping[str, FieldInfo], asked: Asked
) -> list[str]:
    """A table, or the entries of a list that are known of, with the keys that the request needs and the hint on it."""
    form, repeated = form_of_list(field.annotation), typing.get_origin(field.annotation) is tuple
    entries = asked.entries.get(path) or ({},)
    hint = textwrap.wrap(asked.hints.get(path, ""), WIDTH, initial_indent="#   ", subsequent_indent="#   ")
    keys = (
        in_lines(head, model, form, plain, entries, asked.each.get(path, ()), known=path in asked.filled)
        if form
        else _block(head, repeated, plain, asked.filled.get(path, {}), entries)
    )
    return [_title(path, field), *hint, *keys]


def _title(path: str, field: FieldInfo) -> str:
    return f"# {field.description or path}"


def _in_braces(path: str, name: str, field: FieldInfo, asked: Asked) -> list[str]:
    """What an entry in braces holds of its own tables, as it stands within these braces: no head can follow them."""
    model, repeated = part_of(field.annotation), typing.get_origin(field.annotation) is tuple
    if model is None or not (asked_keys := _keys_asked(f"{path}.{name}", model.model_fields, repeated, asked)):
        return []
    form = form_of_list(field.annotation)
    keys = f"{{ {', '.join(f'{n} =' for n in asked_keys if not (form and n == form.key))} }}"
    value = f"{{ {NAME} = {keys} }}" if form else f"[{keys}]" if repeated else keys
    lines = [f"# {field.description or name}; within the braces of the entry:", f"#   {name} = {value}"]
    for n, f in asked_keys.items():
        lines += explained(f"#   {n}", f, 22)
    return [*lines, ""]


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
    path: str, model: type[Part], form: Form, plain: Mapping[str, FieldInfo], entries: Sequence[Fixed]
) -> list[str]:
    """The entries of a list in full, each under its name; day and who stand once, with the visit that all name."""
    fields = model.model_fields
    of_visit = {"on", "by"} & plain.keys() if "visit" in fields else set()
    lines: list[str] = []
    if of_visit or "visit" in plain:
        lines += [f"# [{path}.{EACH}]", *_explained("# visit =", fields["visit"])]
    explained: set[str] = set()
    for entry in entries:
        lines += _explained(f"# [{path}.{NAME}]", fields[form.key]) if form.key else [f"# [{path}.{NAME}]"]
        for n, field in plain.items():
            if n not in {form.key, "visit", *of_visit}:
                lines += _line(n, entry.get(n, ""), field, explained)
        lines.append("")
    return lines


def _line(name: str, value: str, field: FieldInfo, explained: set[str], written: bool = False) -> list[str]:
    """A key, with its meaning where it stands for the first time without a value."""
    key = f"{'# ' * (not written)}{name} = {value}".rstrip()
    first = not value and name not in explained
    explained.add(name)
    return _explained(key, field) if first else [key]


def _explained(key: str, field: FieldInfo) -> list[str]:
    """A key with its meaning and form beside it."""
    return explained(key, field, 25)
