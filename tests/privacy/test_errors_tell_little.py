"""A message about a mistake shows the line to be mended, and nothing else of the case."""

from __future__ import annotations

import csv
import re
import subprocess
import sys

import pytest
from in_full import text_in_full
from support import DEMO_FOLDERS

from docgen.case.read import read_case
from docgen.errors import UserError

SOURCE = next(f for f in DEMO_FOLDERS if f.name == "saoirse-villalobos-ng")
_TEXT = re.compile(r'^(\w+) = "(.*)"$')
_CODED = {
    "format",
    "id",
    "by",
    "who",
    "coach",
    "code",
    "method",
    "kind",
    "rows",
    "zone",
    "profile",
    "signed_by",
    "completed_by",
    "payer",
    "role",
    "pronouns",
    "modifier",
    "base_code",
    "day",
}


def marked_lines():
    """The lines of a case with a word of its own in each free text, and how many there are."""
    lines, n = [], 0
    for line in text_in_full(SOURCE).split("\n"):
        found = _TEXT.match(line)
        if (
            found
            and (" " in found[2] or found[1] in ("name", "called", "member_id", "phone", "license", "tracking"))
            and found[1] not in _CODED
        ):
            line, n = f'{found[1]} = "zqmark{n:04d} {found[2][:20]}"', n + 1
        lines.append(line.replace("saoirse-villalobos-ng", "marked"))
    return lines, n


LINES, N_MARKS = marked_lines()
BREAKS = {
    "a key that is none": lambda line: f"zq{line}" if " = " in line else None,
    "text for a number": lambda line: (
        re.sub(r" = [\d.]+$", ' = "zqwrong"', line) if re.search(r" = [\d.]+$", line) else None
    ),
    "a number for a text": lambda line: re.sub(r' = ".*"$', " = 7", line) if _TEXT.match(line) else None,
    "another word": lambda line: re.sub(r'"(\w+)"$', '"zqwrong"', line) if re.search(r' = "[a-z_]+"$', line) else None,
    "no quote": lambda line: line[:-1] if _TEXT.match(line) else None,
    "a day that is none": lambda line: (
        re.sub(r"\d{4}-\d\d-\d\d$", "2026-02-31", line) if re.search(r" = \d{4}-\d\d-\d\d$", line) else None
    ),
}


def write(folder, lines, rows=None):
    target = folder / "marked"
    target.mkdir(exist_ok=True)
    (target / "case.toml").write_text("\n".join(lines), encoding="utf-8")
    for path in SOURCE.glob("*.csv"):
        text = path.read_text(encoding="utf-8") if rows is None or path.name != rows[0] else rows[1]
        (target / path.name).write_text(text, encoding="utf-8")
    return target


def problems(folder):
    try:
        read_case(folder)
    except UserError as failure:
        return failure.problems
    return ()


def marks(text):
    return set(re.findall(r"zqmark\d{4}", text))


def test_the_marked_case_is_a_case(tmp_path):
    assert N_MARKS > 80
    assert read_case(write(tmp_path, LINES)).case.client.name.startswith("zqmark")


@pytest.mark.parametrize("kind", BREAKS)
def test_a_message_about_a_line_shows_no_other_line(kind, tmp_path):
    broken = [(at, made) for at, line in enumerate(LINES) if (made := BREAKS[kind](line)) and made != line]
    assert len(broken) > 20
    told = 0
    for at, made in broken[:: max(1, len(broken) // 25)]:
        folder = write(tmp_path, [*LINES[:at], made, *LINES[at + 1 :]])
        for problem in problems(folder):
            text = str(problem)
            place = int(problem.where.rpartition(":")[2]) if problem.where.rpartition(":")[2].isdigit() else 0
            assert marks(text) <= marks(LINES[place - 1] if place else ""), text
            told += 1
    assert told >= 15


@pytest.mark.parametrize(
    "sheet, cell, column",
    [
        ("trial.csv", "zqwrong", "date"),
        ("trial.csv", "zqwrong", "method"),
        ("trial.csv", "7.5", "success"),
        ("trial.csv", "-1", "missed"),
        ("trial.csv", "", "task"),
        ("sessions.csv", "zqwrong", "date"),
        ("sessions.csv", "99", "stage"),
        ("sessions.csv", "zqwrong", "task"),
        ("sessions.csv", "perhaps", "skin"),
    ],
)
def test_a_message_about_a_cell_shows_no_other_cell(sheet, cell, column, tmp_path):
    with (SOURCE / sheet).open(encoding="utf-8", newline="") as file:
        names, *rows = csv.reader(file)
    made = []
    for at, cells in enumerate(rows):
        cells = [*cells[: len(names) - 1], f"zqmark{at:04d}"]
        if at == 3:
            cells[names.index(column)] = cell
        made.append(",".join(f'"{text}"' if "," in text else text for text in cells))
    with pytest.raises(UserError) as failure:
        read_case(write(tmp_path, LINES, (sheet, "\n".join([",".join(names), *made]) + "\n")))
    assert failure.value.problems and not any(marks(str(problem)) for problem in failure.value.problems)
    assert f"{sheet}:5" in str(failure.value)


def test_a_crash_tells_no_text_of_the_case(tmp_path):
    """A mistake of the program's own ends in a traceback: its lines are those of the program, with no values."""
    folder = write(tmp_path, LINES)
    script = (
        "import docgen.packet.write as w\ndef broken(*rest, **named):\n    raise ZeroDivisionError\n"
        "w.rendered = broken\n"
        "from docgen.cli import app\napp()"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, "build", str(folder), "--out", str(tmp_path / "out")],
        capture_output=True,
        text=True,
    )
    assert (
        "ZeroDivisionError" in done.stderr and not marks(done.stderr + done.stdout) and not (tmp_path / "out").exists()
    )
