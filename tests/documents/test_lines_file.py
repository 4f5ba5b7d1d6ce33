"""lines.csv: one row a line, what the order shows and no more, and nothing that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import shutil
import subprocess
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from gathered import of_each
from support import ASSESSED, DEMO_FOLDERS

from docgen.case.nobody.birth import Oldest, YearOnly
from docgen.documents.lines_file import harmless, lines_file
from docgen.packet.data_files import LINES
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

WORDS = language_words()
# leading characters that OWASP, CSV Injection (read from memory), names as starting a formula, and their wide forms
FORMULAS = [
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "\t=1+1",
    "\r=1+1",
    " =1+1",
    '=cmd|"/c calc"!A1',
    '=HYPERLINK("http://x.invalid","y")',
    "＝1+1",
]
LINE: dict[str, Any] = {
    "number": 1,
    "code": "E2330",
    "without_code": False,
    "name": "head array",
    "described": "",
    "quantity": 1,
    "unit": "each",
    "modifiers": "NU KX",
    "billed": "yes",
    "diagnoses": "G80.3",
    "months": 60,
    "why": "It drives the chair.",
    "payer_says": "APPROVED, 1 EA",
    "payer_said_on": date(2026, 5, 15),
}


def _rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def _file(*lines: dict[str, Any], may_show: Any = tuple(LINE)) -> bytes:
    return lines_file(lines, may_show, WORDS, "Draft")


def test_a_line_is_one_row_with_empty_places_for_the_supplier():
    [row] = _rows(_file(LINE))
    assert row == {
        "Line": "1",
        "Code": "E2330",
        "Description": "Head array",
        "Class of the base": "not applicable",
        "Quantity": "1",
        "Unit": "each",
        "Modifiers 1": "NU",
        "Modifiers 2": "KX",
        "Modifiers 3": "not applicable",
        "Modifiers 4": "not applicable",
        "Billed separately": "yes",
        "Diagnosis codes": "G80.3",
        "Months needed": "60",
        "Reason": "It drives the chair.",
        "Payer's answer": "APPROVED, 1 EA",
        "Date of the answer": "2026-05-15",
        "Manufacturer": "",
        "Model": "",
        "Part number": "",
        "Draft": "yes",
        "Status": "Draft",
    }


ORDER: dict[str, Any] = {
    "client": "Robin Example",
    "born_on": date(2016, 11, 2),
    "member_id": "KBC-3391",
    "payer": "A Plan",
    "ordered_on": date(2026, 4, 16),
    "recorded_on": date(2026, 4, 17),
}


def _with_order(*lines: dict[str, Any], **changed: Any) -> list[dict[str, str]]:
    return _rows(lines_file(lines, tuple(LINE), WORDS, "Draft", ORDER | changed))


def test_a_row_says_by_itself_whose_it_is_of_which_order_and_has_a_key_of_its_own():
    first, second = _with_order(LINE, LINE | {"number": 2})
    assert [first["Key"], second["Key"]] == ["KBC-3391-2026-04-16-1", "KBC-3391-2026-04-16-2"]
    assert list(first)[:7] == ["Key", "Client", "Date of birth", "Member number", "Payer", "Order date", "Record date"]
    told = ("Client", "Date of birth", "Member number", "Payer", "Order date", "Record date")
    assert [second[head] for head in told] == [
        "Robin Example",
        "2016-11-02",
        "KBC-3391",
        "A Plan",
        "2026-04-16",
        "2026-04-17",
    ]


@pytest.mark.parametrize("lacking", ["member_id", "ordered_on"])
def test_no_key_is_made_of_half_of_what_it_needs(lacking):
    [row] = _with_order(LINE, **{lacking: None})
    assert row["Key"] == "not recorded"


def test_of_a_copy_about_nobody_the_year_of_birth_alone_is_told():
    assert _with_order(LINE, born_on=YearOnly(2016, 1, 1))[0]["Date of birth"] == "2016"
    assert _with_order(LINE, born_on=Oldest(1930, 1, 1))[0]["Date of birth"] == ""


@pytest.mark.parametrize(
    ("recorded", "cells"),
    [
        ("", ["", "", "", ""]),
        ("KX", ["KX", *["not applicable"] * 3]),
        ("NU, KX", ["NU", "KX", *["not applicable"] * 2]),
        ("NU KX RR GA", ["NU", "KX", "RR", "GA"]),
        ("NU KX RR GA LT", ["NU", "KX", "RR", "GA LT"]),
    ],
)
def test_each_modifier_has_a_column_and_none_is_lost(recorded, cells):
    [row] = _rows(_file(LINE | {"modifiers": recorded}))
    assert [row[f"Modifiers {at}"] for at in range(1, 5)] == cells


def test_the_first_heading_is_read_as_it_is_by_a_strict_program():
    """A mark of UTF-8 at its head (RFC 3629, 6) would become part of the heading."""
    data = lines_file([LINE], tuple(LINE), WORDS, "Draft", ORDER | {"client": "Zo\u00eb"})
    assert data.startswith(b"Key,") and "Zo\u00eb" in data.decode("utf-8")


def test_a_short_form_is_written_out_in_each_row():
    [row] = _rows(_file(LINE | {"name": "interface to the SGD"}))
    assert row["Description"] == "Interface to the speech generating device"


def test_what_is_missing_is_told_and_a_line_without_a_code_says_so():
    lacking = LINE | {"quantity": None, "diagnoses": None, "payer_says": None, "payer_said_on": None}
    first, second = _rows(_file(lacking, LINE | {"code": None, "without_code": True}))
    assert first["Quantity"] == first["Diagnosis codes"] == "not recorded" and first["Payer's answer"] == "not recorded"
    assert second["Code"] == "no code"


def test_the_file_tells_no_more_than_the_order_shows():
    [row] = _rows(_file(LINE, may_show=("number", "code", "name")))
    assert list(row) == ["Line", "Code", "Description", "Manufacturer", "Model", "Part number", "Draft", "Status"]


@of_each("text", [*FORMULAS, "head array", 'a "wide", one', "two\nlines", "5 = 5"])
def test_no_cell_begins_a_formula_and_none_has_two_lines(text):
    [row] = _rows(_file(LINE | {"name": text}))
    assert not row["Description"].startswith(("=", "+", "-", "@", "\t", "\r", "＝")) and "\n" not in row["Description"]
    shown, given = (
        row["Description"].lower(),
        " ".join(text.split()).lower(),
    )  # it begins with a capital, as on the page
    assert shown.removeprefix("'") == given
    assert (shown != given) is (text in FORMULAS)
    assert harmless(row["Description"]) == row["Description"]


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_the_packet_has_the_lines_of_its_order(source):
    assessed = ASSESSED[source.name]
    files = render(assessed, ["html"], ["order"])
    rows, items = _rows(files[LINES]), assessed.file.case.configuration.items
    assert [row["Code"] for row in rows[1:]] == [item.code for item in items] and len(rows) == len(items) + 1
    case = assessed.file.case
    assert {row["Client"] for row in rows} == {case.client.name} and len({row["Key"] for row in rows}) in (1, len(rows))
    assert files == render(assessed, ["html"], ["order"])
    assert LINES not in render(assessed, ["html"], ["plan"])


def _calc_is_here() -> bool:
    office = shutil.which("soffice")
    return bool(office and list(Path(office).resolve().parent.glob("libsc*lo.*")))


@pytest.mark.skipif(not _calc_is_here(), reason="the spreadsheet of LibreOffice is not here")
def test_libreoffice_opens_one_line_a_row_and_runs_no_formula(tmp_path: Path):
    lines = [LINE | {"number": number, "name": text} for number, text in enumerate([*FORMULAS, "two\nlines"], 1)]
    (tmp_path / LINES).write_bytes(_file(*lines))
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    subprocess.run(
        ["soffice", profile, "--headless", "--convert-to", "fods", "--outdir", str(tmp_path), str(tmp_path / LINES)],
        check=True,
        capture_output=True,
        timeout=120,
    )
    import lxml.etree

    office = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
    sheet = lxml.etree.parse(str(tmp_path / "lines.fods"))
    rows = [row for row in sheet.iter(f"{office}table-row") if "".join(row.itertext()).strip()]
    assert len(rows) == len(lines) + 1
    assert not [cell for cell in sheet.iter(f"{office}table-cell") if cell.get(f"{office}formula")]


def test_the_file_tells_what_was_known_on_the_day_of_the_order():
    """The payer answered Saoirse's request after her order was written: neither tells it."""
    assessed = ASSESSED["saoirse-villalobos-ng"]
    answered = [item.payer_says for item in assessed.file.case.configuration.items]
    assert any(answered)
    rows = csv.DictReader(io.StringIO(render(assessed, ("html",), ("order",))[LINES].decode("utf-8-sig")))
    assert {row["Payer's answer"] for row in rows} == {"not recorded"}


@pytest.mark.parametrize(
    ("name", "state"),
    [
        ("ilmari-okonjo-vale", "not needed"),
        ("marisol-quenneville-tran", "needed, requested with this packet on March 27, 2026, no decision recorded"),
        ("saoirse-villalobos-ng", "needed, requested on March 30, 2026, no decision recorded"),
    ],
)
def test_each_row_says_where_prior_authorization_stands_and_which_company_supplies(name, state):
    rows = _rows(render(ASSESSED[name], ["html"], ["order"])[LINES])
    supplier = ASSESSED[name].file.case.with_role("supplier")[0]
    assert {row["Prior authorization"] for row in rows} == {state}
    assert {(row["Supplier"], row["Supplier's contact"]) for row in rows} == {(supplier.organisation, supplier.name)}


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_cover_order_and_file_tell_one_state_of_prior_authorization(source):
    """In the same words, on the day of the request: a clerk sees one thing on three papers."""
    assessed = ASSESSED[source.name]
    pages = {name: tree.plain() for name, tree in trees(assessed, ["cover", "order"]).items()}
    [says] = {row["Prior authorization"] for row in _rows(render(assessed, ["html"], ["order"])[LINES])}
    in_order = "not recorded: whether" if says.startswith("not recorded") else f"{says[:1].upper()}{says[1:]}"
    assert says in pages["cover"] and in_order in pages["order"]


def test_a_row_says_that_it_is_a_draft_until_it_is_reviewed():
    def drafts(status: str) -> str:
        return _rows(lines_file([LINE], tuple(LINE), WORDS, status))[0]["Draft"]

    reviewed = WORDS["reviewed"].format(by="Robin Example, OTR/L", day="April 21, 2026")
    assert [drafts(status) for status in (WORDS["unsigned"], WORDS["changed"], reviewed)] == ["yes", "yes", "no"]


def test_codes_of_diagnoses_have_one_mark_between_them_and_a_name_begins_as_on_the_page():
    [row] = _rows(_file(LINE | {"diagnoses": "S14.114D and G82.51"}))
    assert (row["Diagnosis codes"], row["Description"]) == ("S14.114D; G82.51", "Head array")


def test_what_no_case_holds_is_told_as_not_recorded_and_the_rows_are_counted():
    first, second = _with_order(LINE, LINE | {"number": 2})
    assert {first["Payer ID"], second["Practitioner's NPI"]} == {"not recorded"}
    assert {first["Number of lines"], second["Number of lines"]} == {"2"}
