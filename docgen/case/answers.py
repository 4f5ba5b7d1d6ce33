"""Answers that came back on a sheet -> lines of case.toml, each shown before it is written.

Only a key that is not recorded, that this reader can answer and may see is taken in; what stands in the case stays.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, get_args, get_origin

import tomli
from msgspec import Struct

from docgen.case.awaited import respondent_at
from docgen.case.base import Part
from docgen.case.by_name import EACH, Form
from docgen.case.files import refused_character, text_of
from docgen.case.keys import bare_kind, class_at, keys_at, table_at, value_at
from docgen.case.lines import KeyPath, dotted, lines_of, spans_of
from docgen.case.model import Case
from docgen.case.names_that_say import said_by_name
from docgen.case.read import CaseFile, read_text
from docgen.case.respondents import respondents
from docgen.case.written import NAMED, Place, form_at, head_of_new, names_of, place_of_table
from docgen.errors import Problem, UserError, brief

FORMAT = "docgen answers 1"
_MOST_BYTES, _MOST_ANSWERS, _MOST_VALUES = 500_000, 500, 50
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?")
_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_SLUG = re.compile(r"[^a-z0-9]+")
_ROW = re.compile(r"(\s*[^={]+=\s*)\{(.*\})\s*(?:#.*)?$")


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
        of_name = said_by_name(model, _id(keys, dotted(table), table[-1]))
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
    if respondent_at(case, key) != respondent or class_at(case, key) not in respondents()[respondent].may_see:
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
    text = with_keys(
        file, sheet.answers, f"  # {sheet.by or 'the ' + respondents()[sheet.respondent].name}, {on.isoformat()}"
    )
    return text, read_text(text, file.folder)


def with_keys(file: CaseFile, answers: Sequence[Answered], note: str = "") -> str:
    """The text of case.toml with keys that it has not, in the form in which it writes their tables.

    note  stands behind each, as a comment with its space before it
    Raises UserError where an entry has no room for a key.
    """
    lines = file.text.split("\n")
    inside: dict[KeyPath, list[Answered]] = {}
    added: dict[KeyPath, list[Answered]] = {}
    for answer in answers:
        table = answer.path[:-1]
        (inside if _is_written(file, table, lines) else added).setdefault(table, []).append(answer)
    ends = _ends_of_tables(file.text) if inside else {}
    # from the foot of the file up, so that the numbers of the lines above stay true
    for table in sorted(inside, key=lambda table: -ends.get(file.lines[table], file.lines[table])):
        at = file.lines[table]
        if end := ends.get(at):
            lines[end:end] = [f"{answer.path[-1]} = {answer.value}{note}" for answer in inside[table]]
        else:
            lines[at - 1 : at] = _with_keys(file, lines[at - 1], table, inside[table], note)
    for table, new in sorted(added.items(), key=lambda item: [str(part) for part in item[0]]):
        keys = {str(answer.path[-1]): answer.value for answer in new}
        lines += ["", *_head(file, table, keys), *(f"{key} = {value}{note}" for key, value in keys.items())]
    return "\n".join(lines).rstrip("\n") + "\n"


def _ends_of_tables(text: str) -> dict[int, int]:
    """Line of each head of a table -> the last line of the keys below it, or its own where there are none."""
    keys, heads = spans_of(text)
    starts = [head.start for _, head in heads]
    ends = {start: start for start in starts}
    for span in keys.values():
        if above := bisect_right(starts, span.start):
            ends[starts[above - 1]] = max(ends[starts[above - 1]], span.end)
    return {text.count("\n", 0, start) + 1: text.count("\n", 0, end) + 1 for start, end in ends.items()}


def _is_written(file: CaseFile, table: KeyPath, lines: Sequence[str]) -> bool:
    """Whether a table has a line of its own, and not only one of a table within it."""
    if table not in file.lines:
        return False
    line = lines[file.lines[table] - 1].strip()
    depth = re.sub(r'"[^"]*"', "x", line.partition("]")[0]).count(".") + 1
    return not line.startswith("[") or depth in (len(table), sum(isinstance(part, str) for part in table))


def _with_keys(file: CaseFile, line: str, table: KeyPath, answers: Sequence[Answered], note: str) -> list[str]:
    """The first line of a table with the keys that are new in it."""
    pairs = [f"{answer.path[-1]} = {answer.value}" for answer in answers]
    if entry := _ROW.match(line):  # hand_weak = { says = "..." }
        return [f"{entry[1]}{{ {', '.join(pairs)}, {entry[2].lstrip()}{note}"]
    name = NAMED.match(line)
    beside = _beside_value(name[1], name[2], line[name.end() :].strip(), form_at(table), pairs, note) if name else []
    if not beside:
        answered = ", ".join(pairs)
        raise UserError([Problem(file.where(*table), f"has no room for: {answered}", "Write it there by hand.")])
    return beside if beside[-1] else [*beside[:-1], line]


def _beside_value(name: str, sign: str, rest: str, form: Form | None, pairs: Sequence[str], note: str) -> list[str]:
    """An entry of this name with the keys that are new in it; "" at the end where its own line stays as it is, and
    nothing where it has no room.

    sign, rest  what stands behind the name: "=" and a value, or "." and a key
    """
    if rest.startswith("{"):  # an entry that goes on in the next lines
        return [f"{name} = {{ {', '.join(pairs)},{note}", f"  {rest[1:].lstrip()}"]
    before = [f"{name}.{pair}{note}" for pair in pairs]  # before it, since its value may run over several lines
    if sign == ".":
        return [*before, ""]
    if form is None:
        return []
    if two := _two_texts(rest, form.pair):
        return [*before, *(f"{name}.{pair}" for pair in two)]
    alone = form.key_of(_of_its_kind(rest))
    return [*before, f"{name}.{alone} = {rest}"] if alone else []


def _two_texts(written: str, keys: Sequence[str]) -> list[str]:
    """Two texts in a list as the keys that they stand for; none where that is no such list, or runs over lines."""
    if not keys:
        return []
    try:
        texts = tomli.loads(f"texts = {written}")["texts"]
    except tomli.TOMLDecodeError:
        return []
    if not isinstance(texts, list) or len(texts) != len(keys) or not all(isinstance(text, str) for text in texts):
        return []
    return [f"{key} = {json.dumps(text, ensure_ascii=False)}" for key, text in zip(keys, texts, strict=True)]


def _of_its_kind(written: str) -> object:
    """Any value of the kind that TOML begins in this way; the value itself may go on in the next lines."""
    kinds: dict[str, object] = {'"': "", "'": "", "[": [], "t": True, "f": True}
    return date.min if _DAY.match(written) else kinds.get(written[:1], 0)


def _head(file: CaseFile, table: KeyPath, keys: dict[str, str]) -> list[str]:
    """The head of a new table, in the form in which the case writes its list; a key that its name says is taken out."""
    number = table[-1]
    is_there = _is_there(file, table)
    names = ".".join(names_of(file, table if is_there else table[:-1]))
    form = form_at(table)
    if is_there or not isinstance(number, int):
        return [f"[{names}]"]
    if form and table[:-1] in file.by_name:
        head = head_of_new(file, table[:-1], json.loads(keys.pop(form.key, "null")) or _id(keys, names, number))
        has_each = (*table[:-1], EACH) in lines_of(file.text)
        return [head, *([f"{EACH} = false"] if has_each else [])]  # nobody has said of it what holds of the others
    has_no_id = "id" in keys_at(table) and "id" not in keys
    return [f"[[{names}]]", *([f'id = "{_id(keys, names, number)}"'] if has_no_id else [])]


def _is_there(file: CaseFile, table: KeyPath) -> bool:
    """Whether a table is no entry of a list, or one that is there; the rest are new."""
    return not isinstance(table[-1], int) or value_at(file.case, table) is not None


def _id(keys: Mapping[str, str], table: str, number: int | str) -> str:
    """An id for a new entry, from its name where it has one."""
    words = next((json.loads(keys[key]) for key in ("name", "part") if key in keys), "")
    slug = _SLUG.sub("_", str(words).lower()).strip("_")[:40]
    return slug if slug[:1].isalpha() else f"{table.rpartition('.')[2]}_{int(number) + 1}"


def shown_answers(file: CaseFile, answers: Iterable[Answered]) -> list[str]:
    """Each answer as a line for a person: what is written, and where, in the form in which the case writes it."""
    lines: list[str] = []
    for answer in answers:
        table, key = answer.path[:-1], answer.path[-1]
        is_there = _is_there(file, table)
        place = place_of_table(file, table) if is_there else Place(head_of_new(file, table[:-1]), "new")
        in_entry = f"{place.head} {place.entry}".rstrip()
        lines.append(f"{place.prefix}{key} = {answer.value}  in {in_entry}  {file.where(*table)}")
    return lines
