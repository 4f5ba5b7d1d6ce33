"""What tests of one process make of the same case again and again, made once: reading it, its evidence, the answers of
a payer's rules, its tables and its drawings.

Each is looked up by all that it is made from. A test that changes the program, which it does by `monkeypatch`, or that
holds two results of one input against each other (`anew`), has everything made for itself.
"""

from __future__ import annotations

import pickle
import re
from collections import OrderedDict
from collections.abc import Callable, Hashable
from functools import wraps
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from typing import Any

import tomlkit
from msgspec.structs import replace

from docgen.case import read
from docgen.case.accepted import accepted_path
from docgen.case.key import known_key
from docgen.case.read import CaseFile
from docgen.case.toml import Toml
from docgen.errors import UserError
from docgen.packet import assess, render

trees = import_module("docgen.packet.trees")  # the package has a function of that name
ANEW = {"monkeypatch", "anew"}  # fixtures of tests for which nothing is looked up
_LOOKS_INTO_OTHERS = re.compile(r"\bphotos\b|\brows[\"']?\s*=|\\[uU]")  # pictures, or rows in a file of another name
_MOST = 60  # results kept of each kind, those that were asked for last
_on = True


def use_what_is_there(allowed: bool) -> None:
    """Whether what was made before may be given out."""
    global _on
    _on = allowed


class _Kept:
    """Results by what they are made from; objects that a key names by their identity stay as long as the result."""

    def __init__(self) -> None:
        self._results = OrderedDict[Hashable, tuple[Any, tuple[object, ...]]]()

    def get(self, key: Hashable, make: Callable[[], Any], *alive: object) -> Any:
        if key not in self._results:
            self._results[key] = make(), alive
            if len(self._results) > _MOST:
                self._results.popitem(last=False)
        self._results.move_to_end(key)
        return self._results[key][0]


def _install(module: Any, name: str, key_of: Callable[..., tuple[Hashable, ...]]) -> None:
    """A function of a module looks up what it was asked for before."""
    function, kept = getattr(module, name), _Kept()

    @wraps(function)
    def once(*known: Any) -> Any:
        if not _on:
            return function(*known)
        return kept.get(key_of(*known), lambda: function(*known), *known)

    setattr(module, name, once)


def _digest(content: object) -> bytes:
    return sha256(pickle.dumps(content)).digest()


def _files_of(folder: Path) -> tuple[tuple[str, bytes], ...] | None:
    """All files that reading a case may look into, by name; None where one cannot be read or is a link."""
    try:
        paths = sorted(path for path in folder.iterdir() if path.suffix in (".toml", ".csv"))
        paths += filter(None, [accepted_path(folder)])
        if any(path.is_symlink() or not path.is_file() for path in paths):
            return None
        return tuple((path.name, path.read_bytes()) for path in paths)
    except (OSError, UserError):
        return None


_read_tables, _cases = read.read_tables, _Kept()


@wraps(_read_tables)
def _read_once(tables: Toml, folder: Path) -> CaseFile:
    """A case that can be read, as it was read in another folder of the same name with the same files."""
    is_plain = bool(tables.text) and not _LOOKS_INTO_OTHERS.search(tables.text)
    files = _files_of(folder) if _on and is_plain else None
    if files is None:
        return _read_tables(tables, folder)
    key = (tables.text, Path(tables.shown).name, folder.resolve().name, files)
    file: CaseFile = _cases.get(key, lambda: _read_tables(tables, folder))
    return replace(file, folder=folder, key=known_key(folder))


read.read_tables = _read_once
# by the case itself and not by what it holds: what follows from a case is asked whether it is of this very part of it
_install(assess, "known_on", lambda case, day: (id(case), day))
_install(assess, "evidence", lambda case: (id(case),))
_install(
    assess,
    "verdicts",
    lambda grounds, payer, day: (id(grounds.case), id(grounds.evidence), _digest((grounds.fit, payer)), day),
)
_install(
    trees,
    "everything",
    lambda case, evidence, fit, verdicts, documents, words: (
        (id(case), id(evidence), _digest(fit), id(verdicts), tuple(map(id, documents)), id(words))
    ),
)
_install(
    render,
    "drawings",
    lambda case, evidence, words, names: (id(case), id(evidence), id(words), tuple(names)),
)
_everything = trees.everything


@wraps(_everything)
def _own_tables(*known: Any) -> dict[str, Any]:
    return dict(_everything(*known))  # to which the packet adds its own


trees.everything = _own_tables
_drawings = render.drawings


@wraps(_drawings)
def _own_drawings(*known: Any) -> dict[str, Any]:
    return dict(_drawings(*known))


render.drawings = _own_drawings

_parse, _trees, _seen = tomlkit.parse, _Kept(), set[int]()


@wraps(_parse)
def _parse_once(text: str) -> tomlkit.TOMLDocument:
    """A text as a tree, its own for whoever changes it; one that is met a second time is kept."""
    if not _on or hash(text) not in _seen:
        _seen.add(hash(text))
        return _parse(text)
    tree: tomlkit.TOMLDocument = pickle.loads(_trees.get(text, lambda: pickle.dumps(_parse(text))))
    return tree


tomlkit.parse = _parse_once
