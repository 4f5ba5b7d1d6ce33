"""Answers that came back on a sheet, as they are shown before the case takes them in."""

from __future__ import annotations

import re
from pathlib import Path

from msgspec import Struct
from msgspec.json import decode

from docgen.case.answers import Sheet, read_sheet_of_answers
from docgen.case.keys import entries_at, keys_at
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile
from docgen.case.respondents import respondents
from docgen.desk.sections import Step, steps_to, title_of
from docgen.errors import Problem, UserError

_DOTTED = re.compile(r"^[a-z_]+(?:\.[a-z_0-9]+)+(?= )")


class Answers(Struct, frozen=True):
    """A sheet that came back.

    who    for whom it was, and who filled it in
    taken  each answer that the case has not yet: its question, with a way to it, and what was answered
    left   in sentences, what is not taken in and why
    """

    who: str
    taken: tuple[tuple[Step, str], ...]
    left: tuple[str, ...]


def read_answers(file: CaseFile, path: Path) -> tuple[Answers, Sheet]:
    """What a file of answers holds for a case. Raises UserError where it is no such file, or is of another case."""
    try:
        sheet = read_sheet_of_answers(path, file)
    except UserError as failure:  # where the desk keeps the file says nothing to whoever sent it
        raise UserError(Problem(path.name, p.what, _DO) for p in failure.problems) from None
    taken = tuple((_step(file, answer.path), _in_words(answer.value)) for answer in sheet.answers)
    who = f"the {respondents()[sheet.respondent].name}{', ' + sheet.by if sheet.by else ''}"
    return Answers(who, taken, tuple(_DOTTED.sub(_title, sentence) for sentence in sheet.left)), sheet


_DO = "Choose the file that the sheet of this case saved."


def _step(file: CaseFile, path: KeyPath) -> Step:
    return steps_to(file.case, [path])[0]


def _in_words(value: str) -> str:
    """A value as TOML writes it, as a person reads it."""
    if value in ("true", "false"):
        return {"true": "yes", "false": "no"}[value]
    if value[:1] in ('"', "["):
        texts = decode(value)
        return ", ".join(map(str, texts)) if isinstance(texts, list) else str(texts)
    return value


def _title(dotted: re.Match[str]) -> str:
    """The question of a key in place of its name."""
    path: KeyPath = ()
    for name in dotted[0].split("."):
        path = (*path, name, 0) if entries_at((*path, name)) else (*path, name)
    return f"“{title_of(path)}”" if str(path[-1]) in keys_at(path[:-1]) else dotted[0]
