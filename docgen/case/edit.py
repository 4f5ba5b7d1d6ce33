"""One key of a case changed in the text of its case.toml: its comments, its order and all else of it stay.

What was written is read again, and the new text counts only where it changes that key and nothing else of the case;
a value that other entries take over from it, or that stands in a short form for several, is changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from docgen.case.added import tree_of, with_keys
from docgen.case.answers import Answered
from docgen.case.base import Part, fields_of, part_of
from docgen.case.keys import value_at, with_value
from docgen.case.lines import KeyPath, dotted
from docgen.case.mistakes import toml_of
from docgen.case.model import Case
from docgen.case.read import CaseFile, read_text
from docgen.case.toml_tree import Spot, TomlTree
from docgen.case.written import form_at, key_of, place_of
from docgen.errors import Problem, UserError

_OF_A_VISIT = ("on", "by")  # what an entry takes over from its visit
_MOST_KEPT = 40  # keys of other entries that are written out for one change


class Edited(Struct, frozen=True):
    """The text of case.toml after a change, and the case that it then is; nothing is written yet."""

    text: str
    file: CaseFile


def with_key(file: CaseFile, path: KeyPath, value: Any) -> Edited:
    """The case with another value of one key; None takes the key away.

    Where a visit is another one, or its day, what entries take over from it follows. What other entries would take over
    from this one is written there as it was. An entry that is gathered with others gets a line of its own.
    Raises UserError where the case could not be read with it, or where more than this key would change.
    """
    if (apart := _out_of_a_list(file, path[:-1])) is not None:
        file, entry = apart
        path = (*entry, path[-1])
    text = _text_with(file, path, value)
    edited = Edited(text, read_text(text, file.folder))
    wanted = value_at(edited.file.case, path)
    if value is not None and wanted in (None, ()):
        raise _by_hand(file, path, "does not reach the case")
    aim = _with_what_follows(with_value(file.case, path, wanted), edited.file.case, path)
    for _ in range(_MOST_KEPT):
        other = next(differences(edited.file.case, aim), None)
        if other is None:
            return edited
        edited = _kept_as_it_was(edited.file, *other)
    raise _by_hand(file, path, "is said for more than one entry")


def _text_with(file: CaseFile, path: KeyPath, value: Any) -> str:
    """The text with another value of one key, in the form in which its entry is written."""
    tree = tree_of(file)
    pair, alone = _pair_of(file, path, tree), _of_one_value(file, path, tree)
    spot = tree.value(place_of(file, path)) or pair or alone
    if spot is None and value is not None:
        return with_keys(file, [Answered(path, toml_of(value))], tree=tree)
    if spot is None:
        if value_at(file.case, path) in (None, ()):
            return file.text
        raise _by_hand(file, path, "is said in a short form")
    if spot is pair:
        tree.put(spot, _one_of_two(file, path, value))
    elif value is not None:
        tree.put(spot, toml_of(value))
    elif spot is alone:
        what = f"{dotted(path)} is all that is said of this entry"
        raise UserError([Problem(file.where(*path), what, "Take the whole entry out.")])
    else:
        tree.take_out(spot)
    return tree.text


def differences(case: Part, other: Part, path: KeyPath = ()) -> Iterator[tuple[KeyPath, Any]]:
    """Each key in which a part differs from another of its kind, and what the other one has there."""
    for name in fields_of(type(case)):
        value, of_other = getattr(case, name), getattr(other, name)
        if value == of_other:
            continue
        if isinstance(value, Part) and isinstance(of_other, Part):
            yield from differences(value, of_other, (*path, name))
        elif part_of(fields_of(type(case))[name].annotation) and len(value) == len(of_other):
            for at, (entry, other_entry) in enumerate(zip(value, of_other, strict=True)):
                yield from differences(entry, other_entry, (*path, name, at))
        else:
            yield (*path, name), of_other


def _with_what_follows(aim: Case, edited: Case, path: KeyPath) -> Case:
    """The case that a change is to lead to, with day and author of what was recorded at the visit it is about."""
    follows: list[KeyPath] = []
    if path[-1] == "visit":
        follows = [(*path[:-1], key) for key in _OF_A_VISIT]
    elif path[0] == "visits" and path[-1] in _OF_A_VISIT:
        visit = value_at(edited, path[:-1]).id
        changed = (place for place, _ in differences(edited, aim))
        follows = [p for p in changed if p[-1] == path[-1] and getattr(value_at(edited, p[:-1]), "visit", "") == visit]
    for place in follows:
        aim = with_value(aim, place, value_at(edited, place))
    return aim


def _kept_as_it_was(file: CaseFile, path: KeyPath, value: Any) -> Edited:
    """The case with a key written out that an entry took over from another. Raises UserError where it has no room."""
    is_list_of_entries = isinstance(value, tuple) and any(isinstance(entry, Part) for entry in value)
    if value in (None, ()) or is_list_of_entries or tree_of(file).value(place_of(file, path)) is not None:
        raise _by_hand(file, path, "is said for more than one entry")
    text = with_keys(file, [Answered(path, toml_of(list(value) if isinstance(value, tuple) else value))])
    return Edited(text, read_text(text, file.folder))


def with_entry(file: CaseFile, of_list: KeyPath, keys: Mapping[str, Any]) -> Edited:
    """The case with one more entry at the end of a list of tables, or behind those of its name where its list is
    written by name. Raises UserError where it could not be read."""
    entry = (*of_list, len(value_at(file.case, of_list, ())))
    text = _with_another_of_its_name(file, of_list, keys)
    if text is None:
        text = with_keys(file, [Answered((*entry, name), toml_of(value)) for name, value in keys.items()])
    return Edited(text, read_text(text, file.folder))


def _with_another_of_its_name(file: CaseFile, of_list: KeyPath, keys: Mapping[str, Any]) -> str | None:
    """The text with an entry under a name that another one has already; None where none has it."""
    form = form_at((*of_list, 0))
    if form is None or not form.key or of_list not in file.by_name or form.key not in keys:
        return None
    tree = tree_of(file)
    spot = tree.table((*place_of(file, of_list), str(keys[form.key])))
    written = {key: toml_of(value) for key, value in keys.items() if key != form.key}
    return tree.text if spot is not None and tree.add_of_its_name(spot, written) else None


def without_entry(file: CaseFile, entry: KeyPath) -> Edited:
    """The case without one entry of a list of tables. Raises UserError where others lean on it, or it is written in a
    form that holds several."""
    tree = tree_of(file)
    spots = tree.spots(place_of(file, entry))
    if not spots:
        raise _by_hand(file, entry, "stands in a form that holds several")
    for spot in reversed(spots):  # so that the places of the others stay true
        tree.take_out(spot)
    edited = Edited(tree.text, read_text(tree.text, file.folder))
    before, at = value_at(file.case, entry[:-1]), int(entry[-1])
    if edited.file.case != with_value(file.case, entry[:-1], (*before[:at], *before[at + 1 :])):
        raise _by_hand(file, entry, "is leaned on by other entries")
    return edited


def _out_of_a_list(file: CaseFile, entry: KeyPath) -> tuple[CaseFile, KeyPath] | None:
    """The case with an entry written by itself that is gathered with others, as in with_base = ["batteries"], and where
    it then stands; None for one that is not."""
    form, there = form_at(entry), value_at(file.case, entry)
    if form is None or not form.gathers or there is None:
        return None
    name, of_list, tree = getattr(there, form.key), entry[:-1], tree_of(file)
    for gathers, (key, value) in form.gathers.items():
        spot = tree.value((*place_of(file, of_list), gathers))
        if spot is None or name not in (names := spot.item.unwrap()):
            continue
        tree.add_behind(spot, key_of(str(name)), f"{{ {key} = {toml_of(value)} }}")
        if len(names) > 1:
            spot.item.remove(name)
        else:
            tree.take_out(spot)
        apart = read_text(tree.text, file.folder)
        before, now = (value_at(case, of_list) for case in (file.case, apart.case))
        at = next(at for at, other in enumerate(now) if getattr(other, form.key) == name)
        if set(before) != set(now) or with_value(apart.case, of_list, before) != file.case:
            raise _by_hand(file, entry, "is gathered with others")
        return apart, (*of_list, at)
    return None


def _of_one_value(file: CaseFile, path: KeyPath, tree: TomlTree) -> Spot | None:
    """Where an entry stands that is one value, such as tubes = "Keep it clear of the sling.", and this key holds it."""
    form, spot = form_at(path[:-1]), tree.value(place_of(file, path[:-1]))
    if form is None or spot is None or spot.is_table:
        return None
    return spot if form.key_of(spot.item.unwrap()) == path[-1] else None


def _pair_of(file: CaseFile, path: KeyPath, tree: TomlTree) -> Spot | None:
    """Where an entry stands that is two texts in a list, and this key is one of them."""
    form, spot = form_at(path[:-1]), tree.value(place_of(file, path[:-1]))
    if form is None or spot is None or path[-1] not in form.pair:
        return None
    return spot if isinstance(spot.item.unwrap(), list) else None


def _one_of_two(file: CaseFile, path: KeyPath, value: Any) -> str:
    """An entry with another of its two texts, or with the other one alone."""
    form = form_at(path[:-1])
    pair = {key: value_at(file.case, (*path[:-1], key)) for key in (form.pair if form else ())}
    kept = {key: text for key, text in (pair | {str(path[-1]): value}).items() if text is not None}
    return toml_of([*kept.values()] if len(kept) == len(pair) else kept)


def _by_hand(file: CaseFile, path: KeyPath, what: str) -> UserError:
    do = "Change it in case.toml by hand."
    return UserError([Problem(file.where(*path), f"{dotted(path)} {what}", do)])
