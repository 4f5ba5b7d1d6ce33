"""The id of an entry changed wherever a case names it: in case.toml, by key and by value, and in the rows of its files.
Every other character of case.toml stays.

What was written is read again, and counts only where the case is then the same with one name in place of
the other.
"""

from __future__ import annotations

import csv
import io
import re
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from msgspec import Struct

from docgen.case.accepted import accepted_path
from docgen.case.added import tree_of, with_keys
from docgen.case.answers import Answered
from docgen.case.by_name import LIKE
from docgen.case.edit import differences, with_key, without_entry
from docgen.case.keys import value_at, with_value
from docgen.case.lines import KeyPath
from docgen.case.mistakes import toml_of
from docgen.case.model import Case
from docgen.case.names_that_say import said_by_name
from docgen.case.read import CaseFile, read_text
from docgen.case.rows import delimiter_of
from docgen.case.toml_tree import Spot, TomlTree
from docgen.case.written import form_at, place_of, stands
from docgen.errors import Problem, UserError
from docgen.private import write_private

_ID = re.compile(r"[a-z][a-z0-9_]{0,39}")
_MOST_WRITTEN_OUT = 40  # keys that the old name said, or that took a text from it


class Renamed(Struct, frozen=True):
    """A case with another name for one entry; nothing is written yet.

    text   of case.toml
    files  other files of the case that name it, as they are then
    keys   keys that name it
    n_rows how many rows of these files do
    """

    text: str
    files: Mapping[str, bytes]
    keys: tuple[KeyPath, ...]
    n_rows: int


def with_name(
    file: CaseFile, entry: KeyPath, name: str, keys: Sequence[KeyPath], columns: Mapping[str, Sequence[str]]
) -> Renamed:
    """The case with another id of one entry.

    keys     every key of the case that names it
    columns  file of the case -> its columns that may name it
    Raises UserError for what is no id, or the id of another entry, and where a name stands in a form that cannot be
    changed alone.
    """
    old = value_at(file.case, entry).id
    if not _ID.fullmatch(name):
        what = f"'{name[:60]}' is no name in a file"
        raise UserError([Problem(file.where(*entry), what, "Use small letters, digits and _, a letter first.")])
    if any(other.id == name for other in value_at(file.case, entry[:-1])):
        raise UserError([Problem(file.where(*entry), f"'{name}' is the name of another entry", "Take another one.")])
    file = _said_apart(file, entry, name)
    aim = with_value(file.case, (*entry, "id"), name)
    return _changed(file, entry, (old, name), keys, columns, aim, is_renamed=True)


def with_another(file: CaseFile, entry: KeyPath, name: str, keys: Sequence[KeyPath]) -> Renamed:
    """The case without an entry, with another one of its list in each key that named it.

    name  the id of that other entry
    Raises UserError where that cannot be, and always where rows name the entry: they are of nothing else.
    """
    old = value_at(file.case, entry).id
    if old == name or not any(other.id == name for other in value_at(file.case, entry[:-1])):
        raise UserError([Problem(file.where(*entry), f"'{name[:60]}' is no other entry", "Choose one of its list.")])
    changed = _changed(file, entry, (old, name), keys, {}, file.case, is_renamed=False)
    left = read_text(changed.text, file.folder)
    for key in keys:
        names = value_at(left.case, key)
        if isinstance(names, tuple) and len(set(names)) < len(names):
            left = with_key(left, key, list(dict.fromkeys(names))).file
    return Renamed(without_entry(left, entry).text, {}, changed.keys, 0)


def _changed(
    file: CaseFile,
    entry: KeyPath,
    names: tuple[str, str],
    keys: Sequence[KeyPath],
    columns: Mapping[str, Sequence[str]],
    aim: Case,
    *,
    is_renamed: bool,
) -> Renamed:
    """The case with the second name in place of the first wherever keys and rows have it.

    aim         the case as it is to be, but for these keys
    is_renamed  whether the entry itself has the second name then
    """
    old, name = names
    tree = tree_of(file)
    spots = [spot for key in keys for spot in _spots_of(file, tree, key, old)]
    spots += _own_spots(file, tree, entry, old) if is_renamed else []
    for spot in {(id(spot.holder), spot.at): spot for spot in spots}.values():
        if isinstance(spot.item, str) and spot.item == old:
            tree.put(spot, toml_of(name))
        else:
            tree.rename(spot, name)
    text = tree.text
    files, n_rows = _rows_with_name(file.folder, columns, old, name)
    for key in keys:
        aim = with_value(aim, key, _in_place(value_at(aim, key), old, name))
    renamed = read_beside(text, files, file.folder)
    for _ in range(_MOST_WRITTEN_OUT):
        lost = next(_lost(renamed.case, aim), None)
        if lost is None:
            return Renamed(renamed.text, files, tuple(keys), n_rows)
        path, value = lost
        if value in (None, ()):
            break
        written = with_keys(renamed, [Answered(path, toml_of(list(value) if isinstance(value, tuple) else value))])
        renamed = read_beside(written, files, file.folder)
    do = "Change it in case.toml by hand, there and wherever it is named."
    raise UserError([Problem(file.where(*entry), "has a name that stands in a form for several", do)])


def _lost(case: Case, aim: Case) -> Iterator[tuple[KeyPath, Any]]:
    """What the case should hold and does not."""
    return (place for place in differences(case, aim) if place[0][0] not in ("records", "totals", "sessions"))


def _said_apart(file: CaseFile, entry: KeyPath, name: str) -> CaseFile:
    """The case with what the old name of an entry says, and the new one does not, written out beside it."""
    there, form = value_at(file.case, entry), form_at(entry)
    if form is None or entry[:-1] not in file.by_name:
        return file
    kept = said_by_name(type(there), name)
    of_name = [key for key in (*said_by_name(type(there), there.id), form.also, form.words) if key]
    for key in of_name:
        value, is_written = getattr(there, key), stands(file, (*place_of(file, entry), key))
        if value is not None and kept.get(key) != value and not is_written:
            file = read_text(with_keys(file, [Answered((*entry, key), toml_of(value))]), file.folder)
    return file


def _own_spots(file: CaseFile, tree: TomlTree, entry: KeyPath, old: str) -> list[Spot]:
    """Where the entry itself has its name, and those written as it with `like`."""
    place = place_of(file, entry)
    id_written = tree.value((*place, "id"))
    own = [id_written] if id_written else tree.spots(place) if entry[:-1] in file.by_name else []
    alike = (spot for path, spot in tree.below(place_of(file, entry[:-1])) if path[-1] == LIKE)
    return [*own, *(spot for spot in alike if spot.item == old)]


def _spots_of(file: CaseFile, tree: TomlTree, key: KeyPath, old: str) -> list[Spot]:
    """Where a key of the case names the entry: as a text of its value, or as the name of its own entry."""
    place = file.origins.get(key, ())
    # nearest above: one of several under a name stands in a list, and what the name of an entry says nowhere else
    while place and (isinstance(place[-1], int) or not tree.spots(place)):
        place = place[:-1]
    spots = tree.spots(place)
    values = [spot for spot in spots if not spot.is_table]
    values += [spot for path, spot in tree.below(place) if isinstance(path[-1], int)]
    return [spot for spot in values if spot.item == old] or [spot for spot in spots if place[-1] == old]


def _in_place(value: Any, old: str, name: str) -> Any:
    if isinstance(value, tuple):
        return tuple(name if entry == old else entry for entry in value)
    return name if value == old else value


def _rows_with_name(
    folder: Path, columns: Mapping[str, Sequence[str]], old: str, name: str
) -> tuple[dict[str, bytes], int]:
    """The files in which rows name the entry, with its new name; and how many rows do."""
    files: dict[str, bytes] = {}
    n_rows = 0
    for file, named in columns.items():
        path = folder / file
        if not path.is_file() or path.is_symlink():
            continue
        text = path.read_text(encoding="utf-8-sig")
        delimiter = delimiter_of(text.partition("\n")[0])
        heads, *rows = [*csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)] or [[]]
        at = [place for place, head in enumerate(heads) if head.strip().lower() in named]
        naming = [row for row in rows if any(place < len(row) and row[place].strip() == old for place in at)]
        if not naming:
            continue
        for row in naming:
            for place in at:
                row[place] = name if row[place].strip() == old else row[place]
        written = io.StringIO(newline="")
        csv.writer(written, delimiter=delimiter, lineterminator="\n").writerows([heads, *rows])
        files[file] = written.getvalue().encode()
        n_rows += len(naming)
    return files, n_rows


def read_beside(text: str, files: Mapping[str, bytes], folder: Path) -> CaseFile:
    """The case of a text with these files in place of those of its folder, which stays as it is. Raises UserError."""
    if not files:
        return read_text(text, folder)
    with tempfile.TemporaryDirectory() as place:
        copy = Path(place) / folder.resolve().name
        copy.mkdir(mode=0o700)
        for path in folder.iterdir():
            if path.is_file() and not path.is_symlink() and path.name not in files:
                shutil.copyfile(path, copy / path.name)
        for name, data in files.items():
            write_private(copy / name, data)
        if (accepted := accepted_path(folder)) and accepted.is_file():
            shutil.copyfile(accepted, Path(place) / accepted.name)
        read = read_text(text, copy)
    return CaseFile(read.case, folder, read.lines, read.text, read.key, read.by_name)
