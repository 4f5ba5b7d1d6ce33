"""The lists of a starter case as their entries are written, in one line each, with the keys and their meaning below."""

from __future__ import annotations

import json
import textwrap
import types
import typing
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from pydantic.fields import FieldInfo

from docgen.case.base import Part
from docgen.case.by_name import EACH, Form, choices_of
from docgen.case.keys import bare_kind
from docgen.case.mistakes import toml_of
from docgen.case.names_that_say import said_by_name
from docgen.case.need import Space
from docgen.case.short_form import KIND_NAMES
from docgen.case.written import key_of

WIDTH = 110
NAME = "NAME"  # stands for the name of an entry
Fixed = dict[str, str]  # key -> its value as TOML writes it, "" where it is asked for


def in_lines(
    head: str,
    model: type[Part],
    form: Form,
    plain: Mapping[str, FieldInfo],
    entries: Sequence[Fixed],
    each: Sequence[str],
    known: bool,
) -> list[str]:
    """A list whose entries have names: its head, a line for each entry without values, and what each key means.

    each   keys that its entries mostly have in common
    known  whether the entries are known already, so that they are written and not only offered
    """
    fields = model.model_fields
    common, of_visit = _common(model, plain, each)
    lines = [f"[{head}]"]
    if common:
        lines.append(f"# {EACH} = {{ {', '.join(f'{key} =' for key in common)} }}")
    still_asked: dict[str, FieldInfo] = {}
    for entry in entries:
        word = _word(form, entry)
        says = {*said_by_name(model, word), form.key, *([form.also] if word else []), *of_visit, *common}
        says |= {"name"} if _is_named(form, entry) else set()
        asked = [n for n in _asked_in(entry, plain) if n not in says]
        still_asked |= {n: plain[n] for n in asked if not entry.get(n)}
        line = _entry(word or NAME, form, asked, entry)
        # an entry that is known already stands without the keys that are still asked for
        lines += [f"{key_of(word)} = {{}}  # {' '.join(line).partition(' = ')[2]}"] if known else line
    lines += _shorter(model, form, still_asked)
    lines += _needed(model, form, still_asked)
    if form.key and not all(_word(form, entry) for entry in entries):
        lines += explained(f"#   {NAME}", fields[form.key], _ROOM)
    for n in (*common, *still_asked):
        lines += explained(f"#   {n}", fields[n], _ROOM)
    return [*lines, ""]


def _common(model: type[Part], plain: Mapping[str, FieldInfo], each: Sequence[str]) -> tuple[list[str], set[str]]:
    """Keys that stand once for all entries; those that their visit gives them."""
    of_visit = {"on", "by"} & plain.keys() if "visit" in model.model_fields else set()
    visit = ["visit"] if of_visit or "visit" in plain else []
    return [*visit, *(key for key in each if key in plain)], of_visit


def _word(form: Form, entry: Fixed) -> str:
    """The name of an entry that is known, "" for one of the therapist's own."""
    return (entry.get(form.also) or entry.get(form.key) or "").strip('"')


_ROOM = 22  # for the name of a key, before its meaning
_KEEP = "\N{NO-BREAK SPACE}"  # holds a key and its sign on one line


def _entry(name: str, form: Form, asked: Sequence[str], entry: Fixed) -> list[str]:
    """The line of an entry, with the keys whose value is known in full and the others without one."""
    begins = f"# {key_of(name)} = "
    if form.pair and set(asked) == set(form.pair):
        return [f"{begins}[ , ]  # {form.pair[0]}, then {form.pair[1]}"]
    if len(asked) == 1 and asked[0] in (form.text, form.number, form.day):
        return [f"{begins}{entry.get(asked[0], '')}".rstrip()]
    pairs = [f"{n} = {entry.get(n, '')}".rstrip().replace(" ", _KEEP) for n in asked]
    lines = textwrap.wrap(
        f"{begins}{{ {', '.join(pairs)} }}",
        WIDTH,
        subsequent_indent="#   ",
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(_KEEP, " ") for line in lines]


def _shorter(model: type[Part], form: Form, asked: Mapping[str, FieldInfo]) -> list[str]:
    """In which form an entry may stand of which no more is known than one of its keys, or two."""
    name = key_of(_name_of_example(model, form))
    forms: list[str] = []
    by_name = said_by_name(model, _name_of_example(model, form))
    must = {n for n, field in asked.items() if field.is_required() and n not in by_name}
    if form.pair and must <= {*form.pair} < asked.keys():
        forms.append("[" + ", ".join(f'"<{key}>"' for key in form.pair) + "]")
    alone = next((key for key in (form.text, form.texts, form.day) if key in asked), "")
    if alone and must <= {alone} and len(asked) > 1:
        forms.append(example(asked[alone]))
    return [line for written in forms if len(line := f"#   in short: {name} = {written}") <= WIDTH]


def _needed(model: type[Part], form: Form, asked: Mapping[str, FieldInfo]) -> list[str]:
    """The keys without which no entry is read, where an entry has others too."""
    by_name = said_by_name(model, _name_of_example(model, form))
    needed = [n for n, field in asked.items() if field.is_required() and (n not in by_name or model is Space)]
    return [f"#   no entry is read without: {', '.join(needed)}"] if needed and len(asked) > 1 else []


def _name_of_example(model: type[Part], form: Form) -> str:
    """A name that an entry may have."""
    field = model.model_fields.get(form.key)
    choices = choices_of(model, form.also) or choices_of(model, form.key)
    return str((choices or (field.examples if field else None) or (NAME,))[0])


def _asked_in(entry: Fixed, plain: Iterable[str]) -> list[str]:
    """Keys of an entry: those that it names to be asked for, else all."""
    return [n for n in plain if n in entry] if "" in entry.values() else list(plain)


def _is_named(form: Form, entry: Fixed) -> bool:
    """Whether the name of an entry fills in its name in words as well."""
    return (form.words == "name" and not form.begins) or entry.get("kind", "").strip('"') in KIND_NAMES


def explained(key: str, field: FieldInfo, room_of_key: int) -> list[str]:
    """A key with its meaning and form beside it."""
    room = WIDTH - 3 - max(room_of_key, len(key))
    meaning, mark, form = _meaning(field).partition("; form: ")
    parts = (
        [f"{meaning}{mark}{form}"] if len(meaning + mark + form) <= room else [meaning, f"form: {form}" if form else ""]
    )
    first, *rest = (
        line for part in parts for line in textwrap.wrap(part, room, break_long_words=False, break_on_hyphens=False)
    )
    return [f"{key.ljust(room_of_key)} # {first}", *(f"# {'':<{room_of_key - 2}} # {line}" for line in rest)]


def example(field: FieldInfo) -> str:
    """One value of a key, as TOML writes it."""
    return toml_of(field.examples[0] if field.examples else field.default)


def _meaning(field: FieldInfo) -> str:
    if bare_kind(field.annotation) is bool:  # one of the two as an example would be taken over without a thought
        return f"{field.description}; form: true or false"
    words = [json.dumps(choice) for choice in _choices(field.annotation)]
    return f"{field.description}: {', '.join(words)}" if words else f"{field.description}; form: {example(field)}"


def _choices(annotation: Any) -> list[str]:
    if typing.get_origin(annotation) is typing.Literal:
        return [str(choice) for choice in typing.get_args(annotation)]
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        return [choice for part in typing.get_args(annotation) for choice in _choices(part)]
    return []
