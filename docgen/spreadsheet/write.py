"""Rows understood -> files of the case: the rows, what was kept besides, and how the spreadsheet was read.

Rows that are there already are never lost: without `add` or `replace` nothing is written, and with either of them the
file as it was is kept under another name.
"""

from __future__ import annotations

import csv
import hashlib
import io
import itertools
import json
import os
import tomllib
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from docgen.case.consistency_of_rows import of_sheet
from docgen.case.files import bytes_of, decoded, leads_out
from docgen.case.read import MAX_CSV_BYTES, SESSIONS_FILE
from docgen.case.record import TRIAL, Sheet
from docgen.case.rows import delimiter_of, read_sheet
from docgen.case.session import SESSIONS
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.case.totals import TOTALS, in_both, of_lines
from docgen.errors import Problem, UserError
from docgen.private import write_whole, writing
from docgen.spreadsheet.known import Known
from docgen.spreadsheet.sifting import Ids
from docgen.spreadsheet.understand import Understood

_MOST_BESIDE = 10_000


def csv_of(sheet: Sheet, rows: Sequence[Mapping[str, str]]) -> str:
    """The rows as a file of the case: commas, decimal points, the columns that hold something in the usual order."""
    names = [c.name for c in sheet.columns if c.required or any(c.name in row for row in rows)]
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, names, lineterminator="\n", restval="")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def file_of(read: Understood, rows_name: str) -> str:
    """Name of the file of the case that the rows belong to."""
    return TOTALS_FILE if read.sheet is TOTALS else SESSIONS_FILE if read.sheet is SESSIONS else rows_name


def checked(read: Understood, source: Path, folder: Path, known: Known, ids: Mapping[str, Ids]) -> list[Problem]:
    """What the case would refuse of these rows, each with the row of the spreadsheet."""
    if read.sheet is None:
        return []
    named_in = {name: named for name, named in ids.items() if read.sheet.by_name[name].kind == "id"}
    rows, problems = read_sheet(csv_of(read.sheet, read.rows), "rows", read.sheet, named_in)
    if problems:
        return [Problem(_in_source(problem.where, read, source), problem.what, problem.do) for problem in problems]
    placed = [replace(row, line=line) for row, line in zip(rows, read.lines, strict=True)]
    refused = [*of_sheet(read.sheet, placed, lambda line: f"{source}:{line}")]
    return [*refused, *_of_trial(read.sheet, placed, source, folder, known)]


def _of_trial(sheet: Sheet, rows: Sequence[Any], source: Path, folder: Path, known: Known) -> Iterator[Problem]:
    """What the case would refuse of day totals by themselves, and of a day that stands in totals and in rows."""
    if sheet is TOTALS:
        yield from of_lines(rows, known.stop_tasks, lambda line: f"{source}:{line}")
    other, other_sheet = (known.rows_name, TRIAL) if sheet is TOTALS else (TOTALS_FILE, TOTALS)
    path = folder / other
    if sheet is SESSIONS or not os.path.lexists(path) or leads_out(path, folder):
        return
    beside, _ = read_sheet(decoded(bytes_of(path, str(path), MAX_CSV_BYTES), str(path)), str(path), other_sheet, {})
    lines = {(row.date, row.method): row.line for row in reversed(beside)}
    seen = set[tuple[date, str]]()
    for row in rows:
        day = (row.date, row.method)
        if day in lines and day not in seen:
            seen.add(day)
            yield in_both(row, f"{source}:{row.line}", f"{path}:{lines[day]}", sheet is TOTALS)


def _in_source(where: str, read: Understood, source: Path) -> str:
    line = where.rpartition(":")[2]
    at = int(line) - 2 if line.isdigit() else -1
    return f"{source}:{read.lines[at]}" if 0 <= at < len(read.lines) else str(source)


def there_already(path: Path, sheet: Sheet) -> list[dict[str, str]]:
    """Rows of a file of the case as its cells; none where there is no such file, or its first line alone."""
    if not os.path.lexists(path):
        return []
    if leads_out(path, path.parent):
        raise UserError(
            [Problem(str(path), "is a link that leads out of the case folder", "Put the file itself there.")]
        )
    text = decoded(bytes_of(path, str(path), MAX_CSV_BYTES), str(path))
    first = next((line for line in text.split("\n") if line.strip(" ,;\t")), "")
    delimiter = delimiter_of(first)
    if delimiter != ",":
        _, problems = read_sheet(text, str(path), sheet, {})
        if problems or "," in text:
            beside = f"parts its cells by {delimiter!r}, and rows are added to commas alone"
            raise UserError([Problem(str(path), beside, "Save it with commas and decimal points, or use --replace.")])
    rows = [
        row
        for row in csv.DictReader(io.StringIO(text), delimiter=delimiter)
        if any((v or "").strip() for v in row.values())
    ]
    return [{name.strip().lower(): value for name, value in row.items() if name and value} for row in rows]


def write_rows(
    read: Understood, source: Path, folder: Path, rows_name: str, mode: str, stop_tasks: Collection[str] = ()
) -> list[Path]:
    """The files written, the rows first. Raises UserError for rows that are there, unless the mode is add or replace.

    mode        "add", "replace" or ""
    stop_tasks  ids of the tasks of the trial that are a stop
    """
    assert read.sheet is not None
    path = folder / file_of(read, rows_name)
    old = there_already(path, read.sheet) if mode != "replace" else []
    if old and mode != "add":
        raise UserError(
            [
                Problem(
                    str(path),
                    f"holds {len(old)} rows already",
                    "Add these with --add, or put them in their place with --replace; either keeps the file as it was.",
                )
            ]
        )
    if old:
        together, _ = read_sheet(csv_of(read.sheet, [*old, *read.rows]), str(path), read.sheet, {})
        refused = [*of_sheet(read.sheet, together, lambda line: f"{path}:{line} with these rows added")]
        if read.sheet is TOTALS:
            refused += of_lines(together, stop_tasks, lambda line: f"{path}:{line} with these rows added")
        if refused:
            raise UserError(refused)
    written: list[Path] = []
    content = csv_of(read.sheet, [*old, *read.rows]).encode()
    with writing(path):
        if os.path.lexists(path) and (mode or old):
            former = path.read_bytes()
            if former != content and not _is_kept(former, path, "before"):
                before = _free(path, "before")
                write_whole(before, former)
                written.append(before)
        write_whole(path, content)
        # what is replaced was read by another mapping, which says nothing of these rows
        mapping = path.with_name(f"{path.stem}.map.toml") if mode == "replace" else _free(path, "map", ".toml")
        beside = [(mapping, _mapping(read, source))]
        if read.kept and not _is_kept(_kept(read).encode(), path, "kept"):
            beside.append((_free(path, "kept"), _kept(read)))
        for name, text in beside:
            write_whole(name, text.encode())
            written.append(name)
        if mode == "replace":
            for of_others in _beside(path, "map", ".toml")[1:]:
                of_others.unlink()
    return [path, *written]


def earlier_answers(path: Path) -> dict[str, str]:
    """The answers that the sheets taken into a file of the case were read by; none that are of one row of a sheet."""
    answers: dict[str, str] = {}
    for mapping in _beside(path, "map", ".toml"):
        try:
            given = tomllib.loads(mapping.read_text(encoding="utf-8")).get("answers")
        except (OSError, ValueError):
            continue  # of a file that somebody changed nothing is taken, and its questions are asked again
        if isinstance(given, dict):
            answers |= {
                key: text for key, text in given.items() if isinstance(text, str) and not key.startswith("row.")
            }
    return answers


def _beside(path: Path, word: str, suffix: str = ".csv") -> list[Path]:
    """The files that `_free` has named so far, first to last."""
    names = (path.with_name(f"{path.stem}.{word}{f'-{n}' if n > 1 else ''}{suffix}") for n in range(1, _MOST_BESIDE))
    return [*itertools.takewhile(os.path.lexists, names)]


def _is_kept(content: bytes, path: Path, word: str) -> bool:
    """Whether one of the files kept under this word holds just this."""
    return any(kept.read_bytes() == content for kept in _beside(path, word) if kept.is_file())


def _free(path: Path, word: str, suffix: str = ".csv") -> Path:
    """A name beside a file that nothing has yet: trial.before.csv, then trial.before-2.csv."""
    names = (path.with_name(f"{path.stem}.{word}{f'-{n}' if n > 1 else ''}{suffix}") for n in range(1, _MOST_BESIDE))
    return next(name for name in names if not os.path.lexists(name))


def _mapping(read: Understood, source: Path) -> str:
    """How the spreadsheet was read, as TOML."""
    digest = hashlib.sha256(source.read_bytes()).hexdigest()
    lines = [
        f"# How docgen read {json.dumps(source.name, ensure_ascii=False)}. The file itself was left as it is.",
        f"file = {_quoted(source.name)}",
        f'sha256 = "{digest}"',
        f"rows = {len(read.rows)}",
        "says = [",
        *(f"    {_quoted(sentence)}," for sentence in read.says),
        "]",
        "",
        "[columns]",
        *(f"{_quoted(heading)} = {_quoted(column)}" for heading, column in read.mapping.items()),
    ]
    if read.answers:
        lines += ["", "[answers]", *(f"{_quoted(key)} = {_quoted(text)}" for key, text in read.answers.items())]
    return "\n".join(lines) + "\n"


def _kept(read: Understood) -> str:
    """Cells that are no column of the case, with their row in the spreadsheet."""
    headings = list(dict.fromkeys(heading for cells in read.kept.values() for heading in cells))
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, ["row", *headings], lineterminator="\n", restval="")
    writer.writeheader()
    writer.writerows({"row": line, **cells} for line, cells in sorted(read.kept.items()))
    return text.getvalue()


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
