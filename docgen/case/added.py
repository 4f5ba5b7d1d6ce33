"""Keys and entries that a case has not, written into the text of its case.toml in the form in which it writes their
tables."""

from __future__ import annotations

import json
from collections.abc import Sequence

from docgen.case.answers import Answered, id_of_new, is_there
from docgen.case.by_name import EACH
from docgen.case.keys import keys_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.mistakes import toml_of
from docgen.case.read import CaseFile
from docgen.case.toml_tree import Spot, TomlTree
from docgen.case.written import form_at, head_of_new, key_of, names_of, place_of, stands
from docgen.errors import Problem, UserError


def tree_of(file: CaseFile) -> TomlTree:
    """The text of a case as a tree that can be changed. Raises UserError for one that has to be changed by hand."""
    try:
        return TomlTree(file.text)
    except ValueError as failure:
        do = "Put them below one another, or change the case in a text editor."
        raise UserError([Problem(file.where(), str(failure), do)]) from None


def with_keys(file: CaseFile, answers: Sequence[Answered], note: str = "", tree: TomlTree | None = None) -> str:
    """The text of case.toml with keys that it has not.

    note  words of a comment behind each
    tree  the text as a tree, where it was read as one already; it is changed
    Raises UserError where an entry has no room for a key.
    """
    tree = tree or tree_of(file)
    tables: dict[KeyPath, dict[str, str]] = {}
    for answer in answers:
        tables.setdefault(answer.path[:-1], {})[str(answer.path[-1])] = answer.value
    in_order = sorted(tables.items(), key=lambda of: [str(part) for part in of[0]])
    behind = [line for table, keys in in_order for line in _written_into(tree, file, table, keys, note)]
    text = tree.text.rstrip("\n")
    return "\n".join([text, *behind]) + "\n"


def _written_into(tree: TomlTree, file: CaseFile, table: KeyPath, keys: dict[str, str], note: str) -> list[str]:
    """Put new keys of one table into the tree where it has a place for them; the lines of a table that has none and
    goes behind the whole text. Raises UserError where the entry has no room for a key."""
    place = place_of(file, table)
    spot, is_new = tree.table(place), not isinstance(table[-1], int) or value_at(file.case, table) is None
    if spot is not None and (spot.is_table or _with_room(tree, table, spot)):
        for at, (key, value) in enumerate(keys.items()):
            tree.add(spot, key, value, "" if spot.is_in_braces and at else note)
        return []
    if spot is None and is_new and _in_braces(tree, file, table, keys, note):
        return []
    if spot is None and (is_new or tree.spots(place)):
        comment = f"  # {note}" if note else ""
        return ["", *_head(file, table, keys), *(f"{key} = {value}{comment}" for key, value in keys.items())]
    new = ", ".join(f"{key} = {value}" for key, value in keys.items())
    raise UserError([Problem(file.where(*table), f"has no room for: {new}", "Write it there by hand.")])


def _with_room(tree: TomlTree, table: KeyPath, spot: Spot) -> bool:
    """Put an entry that is one value, or two texts, in braces with its keys; False where its list has no such
    entries."""
    form, value = form_at(table), spot.item.unwrap()
    keys = form.keys_of(value) if form else None
    if not keys:
        return False
    alone = len(keys) == 1  # as the text has it, over several lines perhaps
    written = (f"{key} = {spot.written if alone else toml_of(inner)}" for key, inner in keys.items())
    tree.put(spot, f"{{ {', '.join(written)} }}")
    return True


def _in_braces(tree: TomlTree, file: CaseFile, table: KeyPath, keys: dict[str, str], note: str) -> bool:
    """Put a new table into the braces of the entry that it is a part of: a head cannot go on with that. False where
    that entry has a head of its own."""
    is_entry = isinstance(table[-1], int)
    part = table[:-1] if is_entry else table
    place = place_of(file, part)
    n = next((n for n in range(len(place), 0, -1) if tree.spots(place[:n])), 0)
    around, inside = tree.table(place[:n]), [str(name) for name in place[n:]]
    if (
        around is None
        or around.has_head
        or not (around.is_table or around.is_list or _with_room(tree, table[:n], around))
    ):
        return False
    by_name = is_entry and part in file.by_name and form_at(table) is not None
    name = _name_of_new(file, table, keys) if by_name else ""
    if around.is_list:
        return not by_name and tree.add_of_its_name(around, keys)
    written = f"{{ {', '.join(f'{key} = {value}' for key, value in keys.items())} }}"
    if name:
        inside.append(name)
    elif is_entry:
        written = f"[{written}]"
    for above in reversed(inside[1:]):
        written = f"{{ {key_of(above)} = {written} }}"
    tree.add(around, key_of(inside[0]), written, note)
    return True


def _name_of_new(file: CaseFile, table: KeyPath, keys: dict[str, str]) -> str:
    """The name of a new entry of a list that is written by name; a key that the name says is taken out of its keys."""
    form = form_at(table)
    own_name = json.loads(keys.pop(form.key, "null")) if form else None
    if stands(file, (*place_of(file, table[:-1]), EACH)):
        keys[EACH] = "false"  # nobody has said of it what holds of the others
    return str(own_name or id_of_new(keys, ".".join(names_of(file, table[:-1])), table[-1]))


def _head(file: CaseFile, table: KeyPath, keys: dict[str, str]) -> list[str]:
    """The head of a new table, in the form in which the case writes its list; a key that its name says is taken out."""
    number = table[-1]
    names = ".".join(names_of(file, table if is_there(file, table) else table[:-1]))
    form = form_at(table)
    if is_there(file, table) or not isinstance(number, int):
        return [f"[{names}]"]
    if form and table[:-1] in file.by_name:
        return [head_of_new(file, table[:-1], _name_of_new(file, table, keys))]
    has_no_id = "id" in keys_at(table) and "id" not in keys
    return [f"[[{names}]]", *([f'id = "{id_of_new(keys, names, number)}"'] if has_no_id else [])]
