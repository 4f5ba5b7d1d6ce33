"""The cases of a folder as the desk shows them, read again when a file of theirs has changed."""

from __future__ import annotations

import hashlib
import secrets
from datetime import date
from pathlib import Path
from typing import Any

from msgspec import Struct

from docgen.case.edit import Edited, with_entry, with_key, without_entry
from docgen.case.keys import keys_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile, read_case, read_text
from docgen.console.check import check_report
from docgen.desk import history
from docgen.desk.fields import shown_answer, value_of
from docgen.errors import Problem, UserError
from docgen.library import check_case
from docgen.packet.contents import contents
from docgen.private import alone_in, write_whole, writing
from docgen.results import CaseCheck


class Looked(Struct, frozen=True):
    """A case as it stands: what was read and judged of it, or why it cannot be read."""

    folder: Path
    check: CaseCheck | None
    report: dict[str, Any]
    problems: tuple[Problem, ...] = ()

    @property
    def file(self) -> CaseFile:
        """The case as read; only where it can be."""
        assert self.check is not None
        return self.check.assessed.file


class Conflict(Exception):
    """A key has another value than the page showed when it was answered; `now` is what the case holds."""

    def __init__(self, now: str) -> None:
        self.now = now
        super().__init__(now)


class Cases:
    """The cases below a folder; each has an address that tells nothing about anybody."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._salt = secrets.token_bytes(16)
        self._looked: dict[Path, tuple[str, Looked]] = {}

    def folders(self) -> dict[str, Path]:
        """Address -> folder of each case, by name."""
        found = [self.folder] if (self.folder / "case.toml").is_file() else []
        found += sorted(path.parent for path in self.folder.glob("*/case.toml") if not path.parent.is_symlink())
        return {self._address(path): path for path in found}

    def _address(self, folder: Path) -> str:
        return hashlib.blake2b(folder.name.encode(), key=self._salt, digest_size=9).hexdigest()

    def known(self, folder: Path) -> Looked | None:
        """The case as it was looked at; None where it was not yet, or has changed since."""
        stamp, looked = self._looked.get(folder, ("", None))
        return looked if stamp == _stamp(folder) else None

    def look(self, folder: Path) -> Looked:
        """The case as it stands now."""
        if looked := self.known(folder):
            return looked
        stamp = _stamp(folder)
        try:
            check = check_case(folder, today=date.today(), reading=False)
            looked = Looked(folder, check, check_report(check))
        except UserError as failure:
            looked = Looked(folder, None, {}, failure.problems)
        self._looked[folder] = stamp, looked
        return looked

    def answer(self, folder: Path, path: KeyPath, given: list[str], was: str) -> None:
        """Write the answer to one question.

        was  what the page showed when it was answered
        Raises Conflict where the key has changed meanwhile, ValueError for what is no answer, UserError where the case
        could not be read with it.
        """
        info = keys_at(path[:-1]).get(str(path[-1]))
        if info is None:
            raise ValueError("The case has no such question.")
        value = value_of(info, str(path[-1]), given)
        with alone_in(folder):
            file = read_case(folder)
            now = shown_answer(info, value_at(file.case, path))
            if now != was.replace("\r\n", "\n").strip() and now != shown_answer(info, _frozen(value)):
                raise Conflict(now)
            self._write(folder, file, with_key(file, path, value))

    def add(self, folder: Path, of_list: KeyPath, keys: dict[str, list[str]]) -> None:
        """Add an entry to a list. Raises ValueError for what is no answer, UserError where the case could not be read
        with it."""
        infos = keys_at((*of_list, 0))
        values = {name: value_of(infos[name], name, given) for name, given in keys.items()}
        with alone_in(folder):
            file = read_case(folder)
            self._write(folder, file, with_entry(file, of_list, {n: v for n, v in values.items() if v is not None}))

    def remove(self, folder: Path, entry: KeyPath) -> None:
        """Take an entry out of its list."""
        with alone_in(folder):
            file = read_case(folder)
            self._write(folder, file, without_entry(file, entry))

    def take_back(self, folder: Path) -> bool:
        """Put the text before the last change back; whether there was one. Raises UserError where it cannot be read."""
        with alone_in(folder):
            text = history.last(folder)
            if text is None:
                return False
            read_text(text, folder)
            with writing(folder / "case.toml"):
                write_whole(folder / "case.toml", text.encode())
            history.drop_last(folder)
        return True

    def _write(self, folder: Path, file: CaseFile, edited: Edited) -> None:
        if edited.text == file.text:
            return
        with writing(folder / "case.toml"):
            history.keep(folder, file.text)
            write_whole(folder / "case.toml", edited.text.encode())


def _frozen(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


def _stamp(folder: Path) -> str:
    """What changes when a file of a case does."""
    return contents(folder).digest
