"""Forty-odd dialects of one record: each is taken as it is meant or asked about, and none becomes something else."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any

import pytest
from dialects import (
    HEAD,
    METHODS,
    OPEN,
    RECORD,
    TASKS,
    as_csv,
    as_ods,
    as_xlsx,
    cells,
    comma,
    spaced,
    wanted,
)

from docgen.case.record import TRIAL
from docgen.case.totals import TOTALS
from docgen.spreadsheet.cells import grids_of
from docgen.spreadsheet.understand import understood

GERMAN = ("Datum", "Steuerung", "Aufgabe", "Erfolg", "Dauer (s)", "Kollisionen", "Loslassen (s)", "Bemerkung")
FRENCH = ("Jour", "Commande", "Tâche", "Réussi", "Durée (s)", "Collisions", "Relâchement (s)", "Remarques")
SPANISH = ("Fecha", "Mando", "Tarea", "Éxito", "Duración (s)", "Colisiones", "Soltar (s)", "Observaciones")
US = (
    "Date",
    "Drive Control",
    "Task",
    "Success?",
    "Time to complete (sec)",
    "Collisions",
    "Release time (s)",
    "Comments",
)
HEAD_FR_MONTHS = {3: "mars", 4: "avril", 9: "septembre"}
HEAD_ES_MONTHS = {9: "septiembre"}
NAMED = {"hand_joystick": "Standard Joystick by Hand", "pads": "Proximity head pads"}
TOTAL_HEAD = ("date", "method", "task", "attempts", "done", "collisions", "slowest release (s)")


def dotted(on: date) -> str:
    return f"{on:%d.%m.%Y}"


def us(on: date) -> str:
    return f"{on.month}/{on.day}/{on.year}"


def british(on: date) -> str:
    return f"{on:%d/%m/%Y}"


def in_english(on: date) -> str:
    return f"{on:%A}, {on:%B} {on.day}, {on.year}"


def in_german(on: date) -> str:
    return f"Di, {on.day}. September {on.year}"


def in_french(on: date) -> str:
    return f"{on.day} {HEAD_FR_MONTHS[on.month]} {on.year}"


def in_spanish(on: date) -> str:
    return f"{on.day} de {HEAD_ES_MONTHS[on.month]} de {on.year}"


def with_total(rows: list[list[Any]], label: str = "Total", value: Any = "5") -> list[list[Any]]:
    return [*rows, [label, "", "", value, "", "", "", ""]]


def blank_below(rows: list[list[Any]], *places: int) -> list[list[Any]]:
    """Cells that say the same as those above left blank, as merged cells come."""
    kept, last = [rows[0]], {at: None for at in places}
    for row in rows[1:]:
        kept.append(["" if at in places and row[at] == last[at] else value for at, value in enumerate(row)])
        last = {at: row[at] for at in places}
    return kept


def summed() -> list[list[Any]]:
    rows: list[list[Any]] = [[*TOTAL_HEAD]]
    for on in sorted({a.on for a in RECORD}):
        for method in METHODS:
            mine = [a for a in RECORD if (a.on, a.method) == (on, method)]
            for task in TASKS:
                of_task = [a for a in mine if a.task == task]
                rows.append(
                    [on.isoformat(), method, task, 1, int(of_task[0].done), of_task[0].contacts, of_task[0].release_s]
                )
    return rows


TOTALS_WANTED = [
    {
        "date": a.on.isoformat(),
        "method": a.method,
        "task": a.task,
        "attempts": "1",
        "done": str(int(a.done)),
        "contacts": str(a.contacts),
        "slowest_release_s": f"{a.release_s:g}",
    }
    for a in RECORD
]
REST = "seconds contacts release_s note"
BY_NAME = {"method": NAMED.get, "task": TASKS.get}

# name -> file, its bytes, rows wanted; taken with no question
TAKEN: dict[str, tuple[str, bytes, list[dict[str, str]]]] = {
    "own columns, commas": ("a.csv", as_csv(cells()), wanted()),
    "own columns, Windows line ends": ("a.csv", as_csv(cells(), end="\r\n"), wanted()),
    "own columns, tabs": ("a.tsv", as_csv(cells(), "\t"), wanted()),
    "bars": ("a.txt", as_csv(cells(), "|"), wanted()),
    "a first line sep=;": ("a.csv", as_csv(cells(number=comma), ";", before="sep=;\r\n"), wanted()),
    "capitals and blanks in headings": ("a.csv", as_csv(cells([h.upper().replace("_", " ") for h in HEAD])), wanted()),
    "UTF-8 with its mark": ("a.csv", as_csv(cells(), charset="utf-8-sig"), wanted()),
    "UTF-16, tabs": ("a.csv", as_csv(cells(), "\t", "utf-16"), wanted()),
    "names instead of ids": ("a.csv", as_csv(cells(**BY_NAME)), wanted()),
    "ids with blanks": ("a.csv", as_csv(cells(method=spaced)), wanted()),
    "American headings, 9/22/2026": ("a.csv", as_csv(cells(US, day=us, done=("Yes", "No"))), wanted()),
    "American headings, Tuesday, September 22, 2026": (
        "a.csv",
        as_csv(cells(US, day=in_english, done=("Y", "N"))),
        wanted(),
    ),
    "British days, 22/09/2026": ("a.csv", as_csv(cells(US, day=british, done=("pass", "fail"))), wanted()),
    "22-Sep-2026": ("a.csv", as_csv(cells(US, day=lambda on: f"{on:%d-%b-%Y}")), wanted()),
    "2026/9/22": ("a.csv", as_csv(cells(day=lambda on: f"{on.year}/{on.month}/{on.day}")), wanted()),
    "20260922": ("a.csv", as_csv(cells(day=lambda on: f"{on:%Y%m%d}")), wanted()),
    "a time of day behind the day": ("a.csv", as_csv(cells(day=lambda on: f"{on} 14:30")), wanted()),
    "German, semicolons, decimal commas": (
        "a.csv",
        as_csv(cells(GERMAN, day=dotted, number=comma, done=("ja", "nein")), ";", "cp1252"),
        wanted(),
    ),
    "German, month in words, UTF-8": (
        "a.csv",
        as_csv(cells(GERMAN, day=in_german, number=comma, done=("Ja", "Nein")), ";"),
        wanted(),
    ),
    "French, Windows-1252": (
        "a.csv",
        as_csv(cells(FRENCH, day=in_french, number=comma, done=("oui", "non")), ";", "cp1252"),
        wanted(),
    ),
    "French, commas in quotes": (
        "a.csv",
        as_csv(cells(FRENCH, day=british, number=comma, done=("Oui", "Non")), ","),
        wanted(),
    ),
    "Spanish, semicolons": (
        "a.csv",
        as_csv(cells(SPANISH, day=in_spanish, number=comma, done=("sí", "no")), ";", "cp1252"),
        wanted(),
    ),
    "Spanish, tabs, UTF-16": (
        "a.csv",
        as_csv(cells(SPANISH, day=british, number=comma, done=("Sí", "No")), "\t", "utf-16"),
        wanted(),
    ),
    "ticks and crosses": ("a.csv", as_csv(cells(done=("\u2713", "\u2717"))), wanted()),
    "the unit behind each number": (
        "a.csv",
        as_csv(cells([*HEAD[:4], "duration", *HEAD[5:]], number=str))
        .replace(b"12.5,", b"12.5 s,")
        .replace(b"31.0,", b"31.0 s,")
        .replace(b"9.25,", b"9.25 s,")
        .replace(b"28.5,", b"28.5 s,")
        .replace(b"8.0,", b"8.0 s,"),
        wanted(),
    ),
    "milliseconds": (
        "a.csv",
        as_csv(
            [[*HEAD[:6], "release (ms)", "note"], *[[*r[:6], f"{float(r[6]) * 1000:.0f}", r[7]] for r in cells()[1:]]]
        ),
        wanted(),
    ),
    "a total that agrees": ("a.csv", as_csv(with_total(cells())), wanted()),
    "a German total": ("a.csv", as_csv(with_total(cells(), "Summe")), wanted()),
    "a sum without a word": ("a.csv", as_csv([*cells(), ["", "", "", "5", "", "", "", ""]]), wanted()),
    "a mean and a remark at the foot": (
        "a.csv",
        as_csv([*cells(), ["Mittelwert", "", "", "0.625", "", "", "", ""], ["counted from film by both therapists"]]),
        wanted(),
    ),
    "a title and blank lines above": ("a.csv", as_csv([["Trial of the drive control"], [], *cells()]), wanted()),
    "headings again on the second page": ("a.csv", as_csv([*cells()[:5], cells()[0], *cells()[5:]]), wanted()),
    "columns in another order": (
        "a.csv",
        as_csv([[row[at] for at in (3, 0, 2, 1, 7, 6, 5, 4)] for row in cells()]),
        wanted(),
    ),
    "columns that nobody knows": (
        "a.csv",
        as_csv(
            [
                [*row, *("surface" if at == 0 else "carpet",), *("weather" if at == 0 else "rain",)]
                for at, row in enumerate(cells())
            ]
        ),
        wanted(),
    ),
    "nothing written as a dash": ("a.csv", as_csv([[value or "-" for value in row] for row in cells()]), wanted()),
    "XLSX with its own days and numbers": (
        "a.xlsx",
        as_xlsx(("Trial", cells(day=lambda on: on, number=float, done=(1, 0)))),
        wanted(),
    ),
    "XLSX, true and false, midnights": (
        "a.xlsx",
        as_xlsx(
            ("Trial", cells(US, day=lambda on: datetime(on.year, on.month, on.day), number=float, done=(True, False)))
        ),
        wanted(),
    ),
    "XLSX with merged headings": (
        "a.xlsx",
        as_xlsx(
            (
                "Trial",
                [
                    ["Head pads against joystick", *[None] * 7],
                    ["", "", "", "", "Fatigue", "", "", ""],
                    ["date", "method", "task", "success", "before", "after", "contacts", "note"],
                    *[
                        [*row[:4], 2.0, 3.0, row[5], row[7]]
                        for row in cells(day=lambda on: on, number=float, done=(1, 0))[1:]
                    ],
                ],
            ),
            merged=["A1:H1", "E2:F2"],
        ),
        [{**row, "fatigue_before": "2", "fatigue_after": "3"} for row in wanted(columns="contacts note")],
    ),
    "XLSX with a sheet of remarks besides": (
        "a.xlsx",
        as_xlsx(("Read me", [["Kept by the clinic"]]), ("Trial", cells(day=lambda on: on, number=float, done=(1, 0)))),
        wanted(),
    ),
    "day totals": ("a.csv", as_csv(summed()), TOTALS_WANTED),
    "day totals in XLSX": ("a.xlsx", as_xlsx(("Days", summed())), TOTALS_WANTED),
}

# name -> file, its bytes, the questions asked, the answers, rows wanted then
ASKED: dict[str, tuple[str, bytes, set[str], dict[str, str], list[dict[str, str]]]] = {
    "03/04/2026 and 05/04/2026, day first": (
        "a.csv",
        as_csv(cells(US, OPEN, day=british)),
        {"date"},
        {"date": "day first"},
        wanted(OPEN),
    ),
    "3/4/2026, month first": (
        "a.csv",
        as_csv(cells(US, OPEN, day=us)),
        {"date"},
        {"date": "month first"},
        wanted(OPEN),
    ),
    "04.03.2026": (
        "a.csv",
        as_csv(cells(OPEN and GERMAN, OPEN, day=dotted, number=comma), ";"),
        {"date"},
        {"date": "day first"},
        wanted(OPEN),
    ),
    "22.09.26, two digits of the year": (
        "a.csv",
        as_csv(cells(GERMAN, day=lambda on: f"{on:%d.%m.%y}", number=comma), ";"),
        {"date"},
        {"date": "day first"},
        wanted(),
    ),
    "day numbers of a spreadsheet": (
        "a.csv",
        as_csv(cells(day=lambda on: str((on - date(1899, 12, 30)).days))),
        {f"date.{(on - date(1899, 12, 30)).days}" for on in {a.on for a in RECORD}},
        {f"date.{(a.on - date(1899, 12, 30)).days}": a.on.isoformat() for a in RECORD},
        wanted(),
    ),
    "day numbers in XLSX": (
        "a.xlsx",
        as_xlsx(("T", cells(day=lambda on: (on - date(1899, 12, 30)).days, number=float, done=(1, 0)))),
        {"date"},
        {"date": "number of a day"},
        wanted(),
    ),
    "a date nobody can read": (
        "a.csv",
        as_csv([[("the day before" if value == "2026-09-22" else value) for value in row] for row in cells()]),
        {"date.the day before"},
        {"date.the day before": "2026-09-22"},
        wanted(),
    ),
    "method and day merged downwards": (
        "a.xlsx",
        as_xlsx(("T", blank_below(cells(day=lambda on: on, number=float, done=(1, 0)), 0, 1))),
        {"blank.date", "blank.method"},
        {"blank.date": "above", "blank.method": "above"},
        wanted(),
    ),
    "a method under another name": (
        "a.csv",
        as_csv(cells(method=lambda name: "JS" if name == "hand_joystick" else name)),
        {"method.JS"},
        {"method.JS": "hand_joystick"},
        wanted(),
    ),
    "crosses that may mean either": (
        "a.csv",
        as_csv(cells(done=("x", "o?"))),
        {"success.x", "success.o?"},
        {"success.x": "yes", "success.o?": "no"},
        wanted(),
    ),
    "done marked, not done left blank": (
        "a.csv",
        as_csv(cells(done=("yes", ""))),
        {"blank.success"},
        {"blank.success": "no"},
        wanted(),
    ),
    "a duration without a unit": (
        "a.csv",
        as_csv(cells([*HEAD[:4], "Duration", *HEAD[5:]])),
        {"column.Duration"},
        {"column.Duration": "seconds:s"},
        wanted(),
    ),
    "a duration in minutes": (
        "a.csv",
        as_csv(
            [
                [*HEAD[:4], "Dauer (min)"],
                *[[*row[:4], f"{float(row[4]) / 60:.10f}" if row[4] else ""] for row in cells()[1:]],
            ]
        ),
        {"column.Dauer (min)"},
        {"column.Dauer (min)": "seconds:min"},
        wanted(columns="seconds"),
    ),
    "minutes and seconds with a colon": (
        "a.csv",
        as_csv([[*HEAD[:5]], *[[*row[:4], f"0:{float(row[4]):02.0f}" if row[4] else ""] for row in cells()[1:]]]),
        {"clock.seconds"},
        {"clock.seconds": "minutes:seconds"},
        [
            {**row, **({"seconds": f"{float(row['seconds']):.0f}"} if "seconds" in row else {})}
            for row in wanted(columns="seconds")
        ],
    ),
    "times as a workbook keeps them": (
        "a.xlsx",
        as_xlsx(
            (
                "T",
                [[*HEAD[:5]], *[[*r[:4], time(0, int(float(r[4]))) if r[4] else None] for r in cells(done=(1, 0))[1:]]],
            )
        ),
        {"clock.seconds"},
        {"clock.seconds": "hours:minutes"},
        [
            {**row, **({"seconds": f"{int(float(row['seconds'])) * 60}"} if "seconds" in row else {})}
            for row in wanted(columns="seconds")
        ],
    ),
    "1.234 in a sheet without another mark": (
        "a.csv",
        as_csv([[*HEAD[:4], "distance (m)"], *[[*row[:4], "1.234"] for row in cells()[1:]]], ";"),
        {"decimal"},
        {"decimal": "point"},
        [{**row, "distance_m": "1.234"} for row in wanted(columns="")],
    ),
    "points and commas in one sheet": (
        "a.csv",
        as_csv([[*HEAD[:4], "distance (m)", "minutes"], *[[*row[:4], "12,5", "3.5"] for row in cells()[1:]]], ";"),
        {"decimal"},
        {"decimal": "comma", "cell.minutes.3.5": "3.5"},
        [{**row, "distance_m": "12.5", "minutes": "3.5"} for row in wanted(columns="")],
    ),
    "a total that does not agree": (
        "a.csv",
        as_csv(with_total(cells(), value="6")),
        {"row.10"},
        {"row.10": "leave out"},
        wanted(),
    ),
    "a number that is none": (
        "a.csv",
        as_csv([[("about 30" if value == "31" else value) for value in row] for row in cells()]),
        {"cell.seconds.about 30"},
        {"cell.seconds.about 30": "31"},
        wanted(),
    ),
    "no heading for the method": (
        "a.csv",
        as_csv([row[:1] + row[2:] for row in cells(attempts=[a._replace(method="pads") for a in RECORD])]),
        {"which.method"},
        {"which.method": "all:pads"},
        wanted([a._replace(method="pads") for a in RECORD]),
    ),
    "a heading of its own for what was done": (
        "a.csv",
        as_csv(cells([*HEAD[:3], "how it went", *HEAD[4:]])),
        {"which.success"},
        {"which.success": "how it went"},
        wanted(),
    ),
    "two columns that would be one": (
        "a.csv",
        as_csv([[*row, "collisions" if at == 0 else "7"] for at, row in enumerate(cells())]),
        {"column.collisions"},
        {"column.collisions": "keep"},
        wanted(),
    ),
    "two sheets with rows": (
        "a.xlsx",
        as_xlsx(
            ("March", cells(attempts=OPEN, day=lambda on: on, number=float, done=(1, 0))),
            ("September", cells(day=lambda on: on, number=float, done=(1, 0))),
        ),
        {"sheet"},
        {"sheet": "September"},
        wanted(),
    ),
    "headings of nobody": (
        "a.csv",
        as_csv([["when", "with what", "what", "how it went"], *[row[:4] for row in cells()[1:]]]),
        {"head"},
        {
            "head": "1",
            "column.when": "date",
            "column.with what": "method",
            "column.what": "task",
            "column.how it went": "success",
        },
        wanted(columns=""),
    ),
}


def read(folder, name, data, answers):
    path = folder / name
    path.write_bytes(data)
    return understood(grids_of(path), {"method": METHODS, "task": TASKS}, answers)


@pytest.mark.parametrize("dialect", TAKEN)
def test_a_dialect_is_taken_as_it_is_meant(dialect, tmp_path):
    name, data, rows = TAKEN[dialect]
    taken = read(tmp_path, name, data, {})
    assert [str(question) for question in taken.questions] == []
    assert [*taken.rows] == rows
    assert taken.sheet is (TOTALS if "totals" in dialect else TRIAL)
    assert taken.says and taken.unused == ()


@pytest.mark.parametrize("dialect", ASKED)
def test_what_a_dialect_leaves_open_is_asked(dialect, tmp_path):
    name, data, keys, answers, rows = ASKED[dialect]
    asked = read(tmp_path, name, data, {})
    assert {question.key for question in asked.questions} == keys
    answered = read(tmp_path, name, data, answers)
    assert [str(question) for question in answered.questions] == []
    assert [*answered.rows] == rows and answered.unused == ()


@pytest.mark.parametrize("day", [lambda on: on, str])
def test_an_ods_file_is_taken(day, tmp_path):
    data = as_ods(cells(GERMAN, day=day, number=float, done=("ja", "nein")), tmp_path)
    taken = read(tmp_path, "a.ods", data, {})
    assert taken.questions == () and [*taken.rows] == wanted()


def test_there_are_forty_dialects():
    assert len(TAKEN) + len(ASKED) >= 40


def test_what_was_made_of_it_is_said(tmp_path):
    name, data, _ = TAKEN["German, semicolons, decimal commas"]
    says = "\n".join(read(tmp_path, name, data, {}).says)
    for sentence in (
        "'Dauer (s)' is seconds, in seconds",
        "'22.09.2026' is September 22, 2026, for '22.09.2026' can be read in no other order",
        "numbers have a decimal comma",
        "semicolons between the cells",
        "'ja' is done",
    ):
        assert sentence in says
    name, data, _ = TAKEN["French, Windows-1252"]
    assert "read as Windows-1252, semicolons" in read(tmp_path, name, data, {}).says[0]
    name, data, _ = TAKEN["ids with blanks"]
    assert "'hand joystick' is the method hand_joystick" in read(tmp_path, name, data, {}).says
    name, data, _ = TAKEN["a total that agrees"]
    assert "row 10 is a total: 5 successes, and the rows sum to 5" in read(tmp_path, name, data, {}).says


def test_columns_that_nobody_knows_are_kept_by_name(tmp_path):
    name, data, _ = TAKEN["columns that nobody knows"]
    taken = read(tmp_path, name, data, {})
    assert taken.kept[2] == {"surface": "carpet", "weather": "rain"} and len(taken.kept) == len(RECORD)


def test_a_span_of_time_is_asked_about_too(tmp_path):
    rows = [[*HEAD[:5]], ["2026-09-22", "pads", "door", 1, timedelta(minutes=2, seconds=5)]]
    asked = read(tmp_path, "a.xlsx", as_xlsx(("T", rows)), {})
    assert [question.key for question in asked.questions] == ["clock.seconds"]
