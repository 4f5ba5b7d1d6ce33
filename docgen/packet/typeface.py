"""What the PDF cannot set: characters of a case that its typeface lacks. DOCX and HTML hold them as they are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from docgen.case.read import CaseFile
from docgen.case.record import TRIAL
from docgen.case.session import SESSIONS
from docgen.case.totals import TOTALS
from docgen.rendering.fonts import glyph_name, missing_glyphs, printable

_APART = ("private_note", "name_in_own_script")  # on no page, and told by itself
_LATIN = "the name in Latin letters, with the words that say so"
_IN_LATIN = "; with client.name in Latin letters, and this one as client.name_in_own_script, the PDF prints those"


class Unset(Struct, frozen=True):
    """A character that the typeface of the PDF lacks, or a name in its own script with such characters.

    where   file and line of the first text that holds it
    shown   how it stands in the PDF instead
    advice  what would let the PDF read better, as a clause; "" for nothing
    """

    char: str
    where: str
    shown: str
    advice: str = ""

    def __str__(self) -> str:
        lacks = glyph_name(self.char) if len(self.char) == 1 else self.char
        return (
            f"{self.where}: the PDF's typeface lacks {lacks}, which stands there as {self.shown}; DOCX and HTML hold it"
            f"{self.advice}"
        )


def unset(file: CaseFile) -> tuple[Unset, ...]:
    """Each character once, in order of appearance in case.toml and then in the rows."""
    client, first = file.case.client, dict[str, str]()
    for where, text in _texts(file):
        for char in missing_glyphs(text):
            first.setdefault(char, where)
    own_script, at_name = client.name_in_own_script or "", file.where("client", "name")
    advice = "" if own_script or not missing_glyphs(client.name or "") else _IN_LATIN
    letters = (Unset(char, where, printable(char), advice if where == at_name else "") for char, where in first.items())
    if not missing_glyphs(own_script):
        return tuple(letters)
    named = f"letters of the client's name in its own script, {own_script}"
    return (Unset(named, file.where("client", "name_in_own_script"), _LATIN), *letters)


def _texts(file: CaseFile) -> Iterator[tuple[str, str]]:
    """File and line of each text that a page can show, and the text."""
    below: list[tuple[tuple[str | int, ...], Any]] = [((), file.case.model_dump())]
    while below:
        path, node = below.pop()
        if isinstance(node, dict):
            below += (((*path, name), child) for name, child in reversed(node.items()) if name not in _APART)
        elif isinstance(node, (list, tuple)):
            below += (((*path, at), child) for at, child in reversed([*enumerate(node)]))
        elif isinstance(node, str) and not node.isascii():
            yield file.where(*path), node
    for sheet, rows, place in (
        (TRIAL, file.case.records, file.row_where),
        (TOTALS, file.case.totals, file.total_where),
        (SESSIONS, file.case.sessions, file.session_where),
    ):
        names = [column.name for column in sheet.columns if column.kind == "words"]
        for row in rows:
            for value in (getattr(row, name) for name in names):
                if value and not value.isascii():
                    yield place(row.line), value
