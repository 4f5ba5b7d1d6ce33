"""Dialects drawn at random, habit by habit: the rows are those of the record, or something is asked; never else."""

from __future__ import annotations

import random
import zipfile
from datetime import date

import pytest
from dialects import METHODS, TASKS, Attempt, as_csv, as_xlsx, cells, comma, wanted

from docgen.errors import UserError
from docgen.spreadsheet.cells import grids_of
from docgen.spreadsheet.understand import understood

HEADINGS = (
    ("date", "method", "task", "success", "seconds", "contacts", "release_s", "note"),
    ("Date", "Device", "Activity", "Done", "Duration (sec)", "Collisions", "Release (s)", "Notes"),
    ("Datum", "Steuerung", "Aufgabe", "Erfolg", "Dauer [s]", "Kollisionen", "Loslassen (s)", "Bemerkung"),
    ("Jour", "Commande", "Tâche", "Réussi", "Durée (s)", "Collisions", "Relâchement (s)", "Remarques"),
    ("Fecha", "Mando", "Tarea", "Éxito", "Duración (s)", "Colisiones", "Soltar (s)", "Observaciones"),
)
DAYS = (
    lambda on: on.isoformat(),
    lambda on: f"{on:%d.%m.%Y}",
    lambda on: f"{on.month}/{on.day}/{on.year}",
    lambda on: f"{on:%d/%m/%Y}",
    lambda on: f"{on:%d.%m.%y}",
    lambda on: f"{on:%m-%d-%y}",
    lambda on: f"{on.day} {on:%b} {on.year}",
)
DONE = (
    ("1", "0"),
    ("yes", "no"),
    ("ja", "nein"),
    ("oui", "non"),
    ("sí", "no"),
    ("x", ""),
    ("TRUE", "FALSE"),
    ("\u2713", "-"),
)


def habit(seed):
    """A file in a dialect of its own, and the rows that it holds."""
    draw = random.Random(seed)
    days = [date(2026, draw.randint(1, 12), draw.randint(1, 28)) for _ in range(2)]
    attempts = [
        Attempt(
            draw.choice(days),
            draw.choice([*METHODS]),
            draw.choice([*TASKS]),
            draw.random() < 0.6,
            draw.choice([None, round(draw.uniform(1, 99), draw.randint(0, 3))]),
            draw.randint(0, 3),
            draw.choice([None, round(draw.uniform(0.1, 3), draw.randint(1, 3))]),
            draw.choice(["", "wall, left", "a; b", 'said "stop"', "total stop", "3,5 m", "mean dog"]),
        )
        for _ in range(draw.randint(1, 14))
    ]
    rows = cells(
        draw.choice(HEADINGS),
        attempts,
        day=draw.choice(DAYS),
        number=draw.choice((comma, lambda value: f"{value:g}")),
        done=draw.choice(DONE),
        method=draw.choice((str, METHODS.get, str.upper)),
        task=draw.choice((str, TASKS.get)),
    )
    if draw.random() < 0.3:
        merged, last = [rows[0]], ["", "", ""]
        for row in rows[1:]:
            merged.append(
                [*("" if value == before else value for value, before in zip(row[:3], last, strict=True)), *row[3:]]
            )
            last = row[:3]
        rows = merged
    if draw.random() < 0.4:
        total = sum(a.done for a in attempts) + draw.choice((0, 0, 0, 1))
        rows.append([draw.choice(("Total", "Summe", "")), "", "", str(total), "", "", "", ""])
    if draw.random() < 0.3:
        rows.insert(0, ["Head pads against joystick"])
    if draw.random() < 0.3:
        at = draw.randint(0, 7)
        rows = [
            [*row[:at], "" if len(row) < 8 else draw.choice(("4", "carpet")), *row[at:]] if len(row) >= 8 else row
            for row in rows
        ]
    if draw.random() < 0.2:
        return "a.xlsx", as_xlsx(("T", rows)), attempts
    charset = draw.choice(("utf-8", "utf-8-sig", "utf-16", "cp1252"))
    if "\u2713" in str(rows) and charset == "cp1252":
        charset = "utf-8"
    return "a.csv", as_csv(rows, draw.choice(",;\t|"), charset, end=draw.choice(("\n", "\r\n"))), attempts


@pytest.mark.parametrize("block", range(10))
def test_a_mixture_is_taken_rightly_or_asked_about(block, tmp_path):
    n_taken = 0
    for seed in range(block * 60, block * 60 + 60):
        name, data, attempts = habit(seed)
        path = tmp_path / name
        path.write_bytes(data)
        read = understood(grids_of(path), {"method": METHODS, "task": TASKS}, {})
        if not read.questions:
            n_taken += 1
            assert [*read.rows] == wanted(attempts), seed
    assert n_taken >= 5


@pytest.mark.parametrize("block", range(4))
def test_a_damaged_workbook_is_told_or_read(block, tmp_path):
    """A few bytes of a workbook changed: it is read, or it is said that it cannot be; nothing else comes of it."""
    whole = as_xlsx(("T", cells(day=lambda on: on, number=float, done=(1, 0))))
    path, n_refused = tmp_path / "a.xlsx", 0
    for seed in range(block * 25, block * 25 + 25):
        draw, data = random.Random(seed), bytearray(whole)
        for _ in range(draw.choice((1, 5, 50))):
            data[draw.randrange(len(data))] = draw.randrange(256)
        path.write_bytes(bytes(data[: draw.randrange(len(data))] if draw.random() < 0.2 else data))
        try:
            understood(grids_of(path), {"method": METHODS, "task": TASKS}, {})
        except UserError as failure:
            n_refused += 1
            assert str(path) in str(failure)
    assert n_refused >= 3


def test_a_workbook_that_unpacks_to_too_much_is_not_unpacked(tmp_path):
    path = tmp_path / "a.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", b"0" * 100_000_001)
    with pytest.raises(UserError, match="unpacked it is 100,000,001 bytes"):
        grids_of(path)
