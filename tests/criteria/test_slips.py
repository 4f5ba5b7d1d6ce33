"""One wrong value in a demo is told with its slip, and plausible changes of a demo say nothing.

The slips (slips.toml) were written by hand, as a pen, a keyboard or another unit makes them.
"""

from __future__ import annotations

import csv
import io
import pickle
import tomllib
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from in_full import tables_in_full
from support import DEMO_FOLDERS
from variations import QUESTIONS, varied

from docgen.case.read import _validated, read_case
from docgen.case.rows import read_rows
from docgen.criteria.criterion import Grounds, criteria
from docgen.criteria.payer import load
from docgen.criteria.run import Verdict, verdicts
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import asked_on

SLIPS: list[dict[str, Any]] = tomllib.loads(Path(__file__).with_name("slips.toml").read_text())["slip"]
FOLDERS = {folder.name[0]: folder for folder in DEMO_FOLDERS}


@cache
def _raw(demo: str) -> bytes:
    return pickle.dumps(tables_in_full(FOLDERS[demo]))


@cache
def _before(demo: str) -> dict[str, str]:
    """What the demo as it is says of each question."""
    return {v.requirement.id: v.answer.reason for v in _asked(demo, pickle.loads(_raw(demo)), None)[1]}


def _asked(demo: str, raw: dict[str, Any], cells: str | None) -> tuple[str, tuple[Verdict, ...]]:
    """What reading refuses the changed demo for, "" where it does not, and what is then asked."""
    case, problems = _validated(raw, lambda *path: "case.toml:1", frozenset())
    rows = read_case(FOLDERS[demo]).case.records
    if cells is not None:
        rows, refused = read_rows(cells, "trial.csv", None, None)
        problems += refused
    if problems or case is None:
        return "\n".join(map(str, problems)), ()
    case = case.with_records(rows).with_sessions(read_case(FOLDERS[demo]).case.sessions)
    grounds = Grounds(case, evidence(case), fit(case, lambda *path: "case.toml:1"))
    payer = load(case.request.payer, "case.toml:1")
    return "", verdicts(grounds, payer, asked_on(case, payer))


@pytest.mark.parametrize("slip", SLIPS, ids=lambda s: f"{s['demo']} {s.get('at') or s['column']} {s['is']}")
def test_a_slip_is_told_by_its_name_and_holds_what_hangs_on_it(slip):
    raw, cells = pickle.loads(_raw(slip["demo"])), None
    if "at" in slip:
        *table, key = slip["at"].split(".")
        node: Any = raw
        for part in table:
            node = node[int(part) if part.isdigit() else part]
        assert node[key] == slip["was"], "the demo has changed: write the slip anew"
        node[key] = slip["is"]
    else:
        cells = _with_cell(slip)
    refused, answered = _asked(slip["demo"], raw, cells)
    said = [v for v in answered if v.open and v.answer.reason != _before(slip["demo"]).get(v.requirement.id)]
    assert slip["names"] in refused or any(slip["names"] in v.answer.reason for v in said), (
        refused,
        [v.answer.reason for v in said],
    )
    if slip.get("holds") and not refused:
        assert any(v.blocks and slip["names"] in v.answer.reason for v in said)


def _with_cell(slip: dict[str, Any]) -> str:
    """trial.csv of the demo with another value in one cell; `filled` counts rows in which the column is filled."""
    sheet = [*csv.reader(io.StringIO((FOLDERS[slip["demo"]] / "trial.csv").read_text(encoding="utf-8")))]
    at = sheet[0].index(slip["column"])
    rows = [row for row in sheet[1:] if row[at]] if slip.get("filled") else sheet[1:]
    rows[slip["row"]][at] = slip["is"]
    written = io.StringIO()
    csv.writer(written).writerows(sheet)
    return written.getvalue()


def test_the_slips_are_sixty_of_every_kind():
    assert len(SLIPS) >= 60
    assert len({(s["demo"], s.get("at") or (s["column"], s["row"]), str(s["is"])) for s in SLIPS}) == len(SLIPS)
    assert sum(bool(s.get("holds")) for s in SLIPS) >= 30


@pytest.mark.parametrize("demo", sorted(FOLDERS))
def test_the_demos_as_they_are_say_nothing(demo):
    answered = {v.criterion.id: v.answer for v in _asked(demo, pickle.loads(_raw(demo)), None)[1]}
    assert {name: answered[name].status for name in QUESTIONS} == dict.fromkeys(QUESTIONS, "met")


@pytest.mark.parametrize("seed", range(40))
def test_a_plausible_variation_of_a_demo_says_nothing(seed):
    """tests/bench/plausible.py holds two hundred."""
    grounds = varied(seed)
    answers = {name: criteria()[name].ask(grounds, **criteria()[name].settings) for name in QUESTIONS}
    assert not {name: answer.reason for name, answer in answers.items() if answer.status != "met"}


@pytest.mark.parametrize("demo", sorted(FOLDERS))
def test_release_times_all_ten_times_too_short_hold_the_packet(demo):
    sheet = [*csv.reader(io.StringIO((FOLDERS[demo] / "trial.csv").read_text(encoding="utf-8")))]
    at = sheet[0].index("release_s")
    for row in sheet[1:]:
        row[at] = row[at] and f"{float(row[at]) / 10:g}"
    written = io.StringIO()
    csv.writer(written).writerows(sheet)
    refused, answered = _asked(demo, pickle.loads(_raw(demo)), written.getvalue())
    (verdict,) = [v for v in answered if v.criterion.id == "values_are_usual"]
    assert not refused and verdict.blocks and "ten times too small" in verdict.answer.reason


def test_a_child_of_1906_with_245_kg_is_not_ready_and_each_value_is_told():
    raw = pickle.loads(_raw("i"))
    raw["client"] |= {"born_on": date(1906, 11, 2), "weight_kg": 245.0}
    raw["configuration"]["chair"]["deceleration_m_s2"] = 8.0
    blocked = {v.criterion.id: v.answer.reason for v in _asked("i", raw, None)[1] if v.blocks}
    assert set(blocked) >= {"values_are_usual", "weight_within_class", "years_fit"}
    assert "24.5 kg" in blocked["values_are_usual"] and "0.8 m/s2" in blocked["values_are_usual"]
    assert "0 to 125 lb" in blocked["weight_within_class"] and "119 years old" in blocked["years_fit"]
