"""The files of a case's photos: named beside the case, there, plain pictures."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from docgen.case.files import bytes_of, decoded, forbidden_name, leads_out
from docgen.case.model import Case
from docgen.case.toml import read_toml
from docgen.errors import Problem, UserError
from docgen.photo import MOST_BYTES, NoUsablePhoto, PlainPhoto, plain_photo


def photos_named(toml: bytes) -> tuple[str, ...]:
    """Names of the photos that a case.toml names, without reading the case."""
    if b"photos" not in toml:
        return ()
    entries: object = ()
    with suppress(UserError):  # a file that cannot be read is told when the case is
        entries = read_toml(decoded(toml, "case.toml"), "case.toml").tables.get("photos")
    listed = entries.values() if isinstance(entries, dict) else entries if isinstance(entries, list) else ()
    names = (entry.get("file") for entry in listed if isinstance(entry, dict))
    return tuple(dict.fromkeys(name for name in names if isinstance(name, str) and _is_plain(name)))


def photo_problems(case: Case, folder: Path, where: Callable[..., str]) -> Iterator[Problem]:
    """What is wrong with the photos of a case, each with file and line."""
    places: dict[str, str] = {}
    for at, photo in enumerate(case.photos):
        if other := places.get(photo.instead_of):
            what = f"photos {other} and {photo.id} both stand in place of {photo.instead_of}"
            yield Problem(where("photos", at, "instead_of"), what, "Keep one of them.")
        places.setdefault(photo.instead_of, photo.id)
        try:
            photo_of(folder, photo.file, where("photos", at, "file"))
        except UserError as failure:
            yield from failure.problems


def photo_of(folder: Path, name: str, where: str) -> PlainPhoto:
    """A photo without its metadata. Raises UserError at `where` for one that is not there or cannot be printed."""
    if not _is_plain(name) or (os.path.lexists(folder / name) and leads_out(folder / name, folder)):
        raise UserError([Problem(where, f"the photo '{name}' leads out of the folder", "Put it beside case.toml.")])
    if refusal := forbidden_name(name):
        what = f"the photo '{name}' cannot be used: {refusal}"
        raise UserError([Problem(where, what, "Give it a name that every system has.")])
    missing = Problem(where, f"there is no photo '{name}' beside case.toml", "Put it there, or take the entry out.")
    data = bytes_of(folder / name, where, MOST_BYTES, missing)
    try:
        return plain_photo(data)
    except NoUsablePhoto as failure:
        raise UserError([Problem(where, f"the photo '{name}' {failure.what}", failure.do)]) from None


def _is_plain(name: str) -> bool:
    """Whether it names a file beside the case."""
    return name == Path(name).name and name not in ("", ".", "..") and "\0" not in name
