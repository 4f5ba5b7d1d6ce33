"""The last changes that were made at the desk, each with the files it replaced as they were before.

A change is a folder with a number: its files, and `change.json`. One of which a file was changed elsewhere afterwards
is told, and put back only where that is asked for; the files as they then are become a change of their own.
"""

from __future__ import annotations

import hashlib
import shutil
from collections.abc import Mapping
from pathlib import Path

import msgspec
from msgspec import Struct

from docgen.desk.kept import FOLDER, place
from docgen.private import private_folder, write_private, write_whole

MOST = 20
_NOTES = "change.json"
Files = Mapping[str, bytes | None]  # name in the case folder -> what it holds; None where there is no such file


class _Notes(Struct, frozen=True):
    """What is told of a change: in a few words, names of its files that were not there before, and the digest of each
    file as the change left it."""

    says: str
    was_absent: tuple[str, ...]
    left: dict[str, str]


class ChangedSince(Exception):
    """Files of a change have been changed elsewhere after it; `names` are theirs."""

    def __init__(self, names: tuple[str, ...]) -> None:
        self.names = names
        super().__init__(names)


def keep(case: Path, before: Files, after: Files, says: str) -> None:
    """Keep the files that a change is about to replace, or has replaced.

    after  the same files as the change leaves them
    says   the change in a few words
    """
    folder = place(case)
    kept = _kept(folder)
    number = max((int(path.name) for path in folder.iterdir() if path.name.isdecimal()), default=0) + 1
    begun = folder / ".begun"
    shutil.rmtree(begun, ignore_errors=True)
    private_folder(begun)
    for name, data in before.items():
        if data is not None:
            write_private(begun / name, data)
    absent = tuple(name for name, data in before.items() if data is None)
    notes = _Notes(says, absent, {name: _digest(data) for name, data in after.items()})
    write_private(begun / _NOTES, msgspec.json.encode(notes))
    begun.rename(folder / f"{number:06d}")
    for old in kept[: max(len(kept) + 1 - MOST, 0)]:
        shutil.rmtree(old)


def before_last(case: Path) -> Files | None:
    """The files before the last change; None where none is kept."""
    kept = _kept(case / FOLDER)
    return _before(kept[-1]) if kept else None


def put_back(case: Path, all_the_same: bool = False) -> None:
    """Put the files before the last change back, if there is one.

    all_the_same  also where one of them was changed elsewhere afterwards: what it then holds is kept as a change
    Raises ChangedSince where one was, and that is not asked for.
    """
    kept = _kept(case / FOLDER)
    if not kept:
        return
    files, notes = _before(kept[-1]), _notes(kept[-1])
    now = {name: _bytes(case / name) for name in files}
    changed = tuple(name for name in files if _digest(now[name]) != notes.left.get(name))
    if changed and not all_the_same:
        raise ChangedSince(changed)
    if changed:
        keep(case, now, files, f"put back, with what was changed elsewhere: {notes.says}")
    for name, data in files.items():
        if data is None:
            (case / name).unlink(missing_ok=True)
        else:
            write_whole(case / name, data)
    if not changed:
        shutil.rmtree(kept[-1])


def says_last(case: Path) -> str:
    """The last change in a few words; "" where there is none."""
    kept = _kept(case / FOLDER)
    return _notes(kept[-1]).says if kept else ""


def count(case: Path) -> int:
    """How many changes can be taken back."""
    return len(_kept(case / FOLDER))


def _kept(folder: Path) -> list[Path]:
    if folder.is_symlink():
        return []
    return sorted(path for path in folder.glob("*") if path.name.isdecimal() and (path / _NOTES).is_file())


def _notes(change: Path) -> _Notes:
    return msgspec.json.decode((change / _NOTES).read_bytes(), type=_Notes)


def _before(change: Path) -> dict[str, bytes | None]:
    files: dict[str, bytes | None] = {name: None for name in _notes(change).was_absent}
    return files | {path.name: path.read_bytes() for path in sorted(change.iterdir()) if path.name != _NOTES}


def _bytes(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() and not path.is_symlink() else None


def _digest(data: bytes | None) -> str:
    return "" if data is None else hashlib.blake2b(data, digest_size=16).hexdigest()
