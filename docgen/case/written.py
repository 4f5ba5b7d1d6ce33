"""How a case writes its tables: the head of a list's entry, and where a key of it is to be written."""

from __future__ import annotations

import json
import re
from functools import lru_cache
from typing import Any

import tomli
from msgspec import Struct

from docgen.case.base import Part
from docgen.case.by_name import Form, form_of
from docgen.case.keys import table_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_NAME = re.compile(r'"[^"]*"|[^.\[\]\s"]+(?=[^\[]*\])')  # of a head, each name within its brackets
_NAMED = re.compile(r"""\s*([A-Za-z0-9_-]+|"[^"]*")\s*([.=])""")  # the name of an entry, and whether it is one value


class Place(Struct, frozen=True):
    """Where a key is written.

    head    head of the table, with its brackets
    entry   which entry of it; "" where the head says it
    prefix  what stands before the key, such as "hand_weak."
    """

    head: str
    entry: str = ""
    prefix: str = ""


def form_at(path: KeyPath) -> Form | None:
    """How the entry of a list at this path is written by name; None for what has no name."""
    model = table_at(path)
    return form_of(model) if model is not None and issubclass(model, Part) else None


def names_of(file: CaseFile, table: KeyPath) -> list[str]:
    """The keys that lead to a table or a list as the case writes them: with the name of each entry on the way whose
    list is written by name."""
    written: list[str] = []
    for at, part in enumerate(table):
        if isinstance(part, str):
            written.append(part)
        elif table[:at] in file.by_name and (form := form_at(table[: at + 1])):
            name = getattr(value_at(file.case, table[: at + 1]), form.key) if form.key else None
            if (
                name is None or form.words == form.key
            ):  # a word of its own names it, and no value under the key for names
                written.append(name_at(file, table[: at + 1]))
                continue
            written.append(key_of(f"{name:g}" if isinstance(name, (int, float)) else str(name)))
    return written


def name_at(file: CaseFile, entry: KeyPath) -> str:
    """The name of an entry as its line has it: the last of a head, or what stands before the sign or the next dot."""
    line = file.text.split("\n")[file.lines[entry] - 1].strip()
    if line.startswith("["):
        return str(_NAME.findall(line)[-1])
    return row[1] if (row := _NAMED.match(line)) else re.split(r"\s*[.=]", line, maxsplit=1)[0]


def place_of(file: CaseFile, path: KeyPath) -> KeyPath:
    """A key path as the text has it: the name of an entry where its list is written by name, else its place."""
    place: list[str | int] = []
    for at, part in enumerate(path):
        entry = path[: at + 1]
        if isinstance(part, int) and path[:at] in file.by_name and value_at(file.case, entry) is not None:
            name = names_of(file, entry)[-1].strip('"')
            # an entry may keep its name when the key that it names is written out beside it
            place.append(name if stands(file, (*place, name)) else name_at(file, entry).strip('"'))
            if isinstance(_stands_at(file.text, (*place, 0)), dict):  # several have this name: which of them
                place.append(sum(names_of(file, (*path[:at], n))[-1].strip('"') == name for n in range(part)))
        else:
            place.append(part)
    return tuple(place)


def stands(file: CaseFile, place: KeyPath) -> bool:
    """Whether a key or table stands in the text at a place as the text has it."""
    return _stands_at(file.text, place) is not None


def _stands_at(text: str, place: KeyPath) -> Any:
    node: Any = _tables_of(text)
    for part in place:
        if isinstance(part, int):
            node = node[part] if isinstance(node, list) and part < len(node) else None
        else:
            node = node.get(part) if isinstance(node, dict) else None
    return node


@lru_cache(4)
def _tables_of(text: str) -> dict[str, Any]:
    return tomli.loads(text)


def place_of_table(file: CaseFile, table: KeyPath) -> Place:
    """Where a key of a table, or of an entry that is there, is written."""
    names = names_of(file, table)
    if not table or not isinstance(table[-1], int):
        return Place(f"[{'.'.join(names)}]")
    if table[:-1] not in file.by_name:
        return Place(f"[[{'.'.join(names)}]]")
    line = file.text.split("\n")[file.lines[table] - 1]
    if line.lstrip().startswith("["):
        return Place(f"[{'.'.join(names)}]")
    *of_list, name = names
    row = _NAMED.match(line)
    if row and row[2] == ".":
        return Place(f"[{'.'.join(of_list)}]", prefix=f"{name}.")
    return Place(f"[{'.'.join(of_list)}]", entry=name)


def head_of_new(file: CaseFile, of_list: KeyPath, name: str = "NAME") -> str:
    """Head of a new entry of a list, in the form in which the case writes it."""
    names = ".".join(names_of(file, of_list))
    return f"[{names}.{key_of(name)}]" if of_list in file.by_name else f"[[{names}]]"


def key_of(name: str) -> str:
    """A key as TOML writes it."""
    return name if _BARE_KEY.fullmatch(name) else json.dumps(name, ensure_ascii=False)
