"""Answers that came back on a sheet, as they are shown before the case takes them in."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct
from msgspec.json import decode

from docgen.case.answers import Sheet, read_sheet_of_answers
from docgen.case.keys import choices_in, keys_at
from docgen.case.lines import KeyPath
from docgen.case.measures_written import unit_of_key
from docgen.case.read import CaseFile
from docgen.case.respondents import respondents
from docgen.desk.measured import METRIC
from docgen.desk.sections import Step, steps_to
from docgen.desk.shown import without_keys
from docgen.errors import Problem, UserError


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
    taken = tuple((_step(file, answer.path), _in_words(answer.path, answer.value)) for answer in sheet.answers)
    who = f"the {respondents()[sheet.respondent].name}{', ' + sheet.by if sheet.by else ''}"
    return Answers(who, taken, tuple(map(without_keys, sheet.left))), sheet


_DO = "Choose the file that the sheet of this case saved."


def _step(file: CaseFile, path: KeyPath) -> Step:
    return steps_to(file.case, [path])[0]


def _in_words(path: KeyPath, value: str) -> str:
    """A value as TOML writes it, as a person reads it."""
    name = str(path[-1])
    if value in ("true", "false"):
        return {"true": "yes", "false": "no"}[value]
    if value[:1] not in ('"', "["):
        return f"{value} {METRIC.get(unit_of_key(name), '')}".rstrip()
    texts = decode(value)
    words = ", ".join(map(str, texts)) if isinstance(texts, list) else str(texts)
    return words.replace("_", " ") if choices_in(keys_at(path[:-1])[name].annotation) else words
