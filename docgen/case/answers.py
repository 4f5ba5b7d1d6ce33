"""Answers that came back on a sheet -> lines of case.toml, each shown before it is written.

Only a key that is not recorded, that this reader can answer and may see is taken in; what stands in the case stays.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any, get_args, get_origin

from msgspec import Struct

from docgen.case.awaited import respondent_at
from docgen.case.base import Part
from docgen.case.files import refused_character, text_of
from docgen.case.keys import bare_kind, class_at, keys_at, table_at, value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.model import Case
from docgen.case.names_that_say import said_by_name
from docgen.case.read import CaseFile, read_text
from docgen.case.respondents import respondents
from docgen.case.written import Place, head_of_new, place_of_table
from docgen.errors import Problem, UserError, brief

FORMAT = "docgen answers 1"
_MOST_BYTES, _MOST_ANSWERS, _MOST_VALUES = 500_000, 500, 50
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
_SLUG = re.compile(r"[^a-z0-9]+")


class Answered(Struct, frozen=True):
    """A key with the value that came back.

    path   of the key in the case; its last place is behind the last entry where the entry is new
    value  as TOML writes it
    """

    path: KeyPath
    value: str


class Sheet(Struct, frozen=True):
    """A sheet that came back: for whom it was, who filled it in ("" where nobody signed), what can be taken in, and
    in sentences what cannot."""

    respondent: str
    by: str
    answers: tuple[Answered, ...]
    left: tuple[str, ...]


def read_sheet_of_answers(path: Path, file: CaseFile) -> Sheet:
    """A file that a sheet of questions saved, held against the case. Raises UserError where it is no such file, or is
    of another case."""
    shown = str(path)
    content = _content(path, shown)
    if content.get("case") != file.case.id:
        raise UserError(
            [
                Problem(
                    shown,
                    f"holds answers for '{brief(content.get('case'))}', and the case is '{file.case.id}'",
                    "Name the case that the sheet was made for.",
                )
            ]
        )
    respondent = content.get("for")
    if not isinstance(respondent, str) or respondent not in respondents():
        raise UserError([Problem(shown, "does not say for whom the sheet was", "Ask for the sheet to be saved again.")])
    by, listed = content.get("by"), content.get("answers")
    if not isinstance(listed, list) or len(listed) > _MOST_ANSWERS:
        raise UserError([Problem(shown, "holds no list of answers", "Ask for the sheet to be saved again.")])
    answers: list[Answered] = []
    left: list[str] = []
    for entry in listed:
        try:
            answers.append(_answered(entry, file.case, respondent))
        except ValueError as refusal:
            left.append(str(refusal))
    answers, lacking = _whole_entries(answers, file.case)
    left += lacking
    signed = " ".join(by.split())[:80] if isinstance(by, str) and not refused_character(by) else ""
    return Sheet(respondent, signed, tuple(answers), tuple(left))


def _whole_entries(answers: list[Answered], case: Case) -> tuple[list[Answered], list[str]]:
    """The answers without those of a new entry that cannot be without a key nobody answered, and a sentence for each
    such entry."""
    tables: dict[KeyPath, dict[str, str]] = {}
    for answer in answers:
        tables.setdefault(answer.path[:-1], {})[str(answer.path[-1])] = answer.value
    left: list[str] = []
    for table, keys in tables.items():
        model = table_at(table)
        if model is None or not issubclass(model, Part) or value_at(case, table) is not None:
            continue
        of_name = said_by_name(model, id_of_new(keys, dotted(table), table[-1]))
        needed = {name for name, info in keys_at(table).items() if info.is_required() and name != "id"}
        if missing := sorted(needed - keys.keys() - of_name.keys()):
            lacks = " and ".join(dotted((*table, name)) for name in missing)
            left.append(f"{lacks} of a new entry was not answered, and what was answered of it was left out.")
            answers = [answer for answer in answers if answer.path[:-1] != table]
    return answers, left


def _content(path: Path, shown: str) -> dict[str, Any]:
    text = text_of(path, shown, _MOST_BYTES, Problem(shown, "is not there", "Name the file that the sheet saved."))
    try:
        content = json.loads(text)
    except (ValueError, RecursionError):
        content = None
    if not isinstance(content, dict) or content.get("format") != FORMAT:
        raise UserError(
            [Problem(shown, "is not a file of answers", "Name the file that a sheet of 'docgen ask' saved.")]
        )
    return content


def _answered(entry: object, case: Case, respondent: str) -> Answered:
    """One answer. ValueError says, in a sentence, why it is not taken in."""
    path = entry.get("path") if isinstance(entry, dict) else None
    values = entry.get("values") if isinstance(entry, dict) else None
    if (
        not isinstance(path, list)
        or not path
        or not all(isinstance(part, (str, int)) and not isinstance(part, bool) for part in path)
        or not isinstance(path[-1], str)
    ):
        raise ValueError("An answer names no key of a case.")
    key: KeyPath = tuple(path)
    name = brief(dotted(key))
    model, field = table_at(key[:-1]), keys_at(key[:-1]).get(path[-1])
    if model is None or field is None or not _may_hold(case, key):
        raise ValueError(f"{name} is no key of this case.")
    if (
        respondent_at(case, key) not in respondents()[respondent].answers_for
        or class_at(case, key) not in respondents()[respondent].may_see
    ):
        raise ValueError(f"{name} is not asked of the {respondents()[respondent].name}, and was left out.")
    if value_at(case, key) not in (None, ()):
        raise ValueError(f"{name} is recorded already, and stays as it is.")
    if (
        not isinstance(values, list)
        or not 0 < len(values) <= _MOST_VALUES
        or not all(isinstance(value, str) for value in values)
    ):
        raise ValueError(f"{name} has no answer.")
    return Answered(key, _toml(values, bare_kind(field.annotation), name))


def _may_hold(case: Case, path: KeyPath) -> bool:
    """Whether each entry on the way is there, or would be the next."""
    for at, part in enumerate(path):
        if isinstance(part, int):
            entries = value_at(case, path[:at])
            if not isinstance(entries, tuple) or not 0 <= part <= len(entries):
                return False
    return True


def _toml(values: list[str], kind: Any, name: str) -> str:
    """The answer as TOML writes it. ValueError where it has not the form of the key."""
    if get_origin(kind) is tuple:
        return "[" + ", ".join(_toml([value], bare_kind(get_args(kind)[0]), name) for value in values) + "]"
    value = values[0].strip()
    if refusal := refused_character(value):
        raise ValueError(f"{name} {refusal}")
    if kind is bool:
        if value not in ("true", "false"):
            raise ValueError(f"{name} is '{brief(value)}', which is neither true nor false.")
        return value
    if kind in (int, float):
        if not _NUMBER.fullmatch(value):
            raise ValueError(f"{name} is '{brief(value)}', which is not a number alone; its unit is in the question.")
        return value.replace(",", ".").removeprefix("+")
    if kind is date:
        try:
            return date.fromisoformat(value).isoformat()
        except ValueError:
            raise ValueError(f"{name} is '{brief(value)}', which is not a date such as 2026-03-31.") from None
    return json.dumps(value, ensure_ascii=False)


def with_answers(file: CaseFile, sheet: Sheet, on: date) -> tuple[str, CaseFile]:
    """The text of case.toml with the answers in it, and the case that it then is; nothing is written.

    on  day noted beside each, with who answered
    Raises UserError where the case could not be read with them.
    """
    from docgen.case.added import with_keys  # which needs a library of its own

    who = sheet.by or f"the {respondents()[sheet.respondent].name}"
    text = with_keys(file, sheet.answers, f"{who}, {on.isoformat()}")
    return text, read_text(text, file.folder)


def is_there(file: CaseFile, table: KeyPath) -> bool:
    """Whether a table is no entry of a list, or one that is there; the rest are new."""
    return not isinstance(table[-1], int) or value_at(file.case, table) is not None


def id_of_new(keys: Mapping[str, str], table: str, number: int | str) -> str:
    """An id for a new entry, from its name where it has one."""
    words = next((json.loads(keys[key]) for key in ("name", "part") if key in keys), "")
    slug = _SLUG.sub("_", str(words).lower()).strip("_")[:40]
    return slug if slug[:1].isalpha() else f"{table.rpartition('.')[2]}_{int(number) + 1}"


def shown_answers(file: CaseFile, answers: Iterable[Answered]) -> list[str]:
    """Each answer as a line for a person: what is written, and where, in the form in which the case writes it."""
    lines: list[str] = []
    for answer in answers:
        table, key = answer.path[:-1], answer.path[-1]
        place = place_of_table(file, table) if is_there(file, table) else Place(head_of_new(file, table[:-1]), "new")
        in_entry = f"{place.head} {place.entry}".rstrip()
        lines.append(f"{place.prefix}{key} = {answer.value}  in {in_entry}  {file.where(*table)}")
    return lines
