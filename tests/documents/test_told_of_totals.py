"""What a letter says of a trial of which only totals of a day were kept: nothing that only single rows show."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from docgen.case.model import Case
from docgen.case.read import CaseFile
from docgen.case.totals import DayTotal
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import load
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees

TASKS = ({"id": "hall", "name": "hall", "shows": "steer"}, {"id": "stop", "name": "stop", "shows": "stop"})


def letter(*totals: DayTotal, **trial: object) -> str:
    tables = {
        "client": {"called": "Robin", "pronouns": "she"},
        "configuration": {"method": "pads"},
        "trial": {"methods": ({"id": "pads", "name": "pads"},), "tasks": TASKS} | trial,
    }
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", **tables}, strict=False).with_totals(totals)
    grounds = Grounds(case, evidence(case), fit(case, lambda *path: "case.toml"))
    told = Assessed(CaseFile(case, Path("robin"), {}, ""), grounds.evidence, grounds, load("general", ""), ())
    return " ".join(trees(told, ["letter"])["letter"].plain().split())


def stops(line: int, day: int, slowest_s: float | None = None) -> DayTotal:
    return DayTotal(line, date(2026, 7, day), "pads", "stop", 9, 9, slowest_release_s=slowest_s)


def test_a_slowest_release_is_told_with_the_days_on_which_any_was_timed():
    """That of one day was told as of all three."""
    told = letter(stops(2, 20), stops(3, 21), stops(4, 24, 1.1))
    assert (
        "Releases were timed on July 24, 2026; on July 20 and 21, 2026 she was asked to stop and no release time is "
        "recorded." in told
    )
    assert "Releases were timed" not in letter(stops(2, 20, 0.9), stops(3, 21, 1.1))
    assert "Releases were timed" not in letter(stops(2, 20), stops(3, 21))  # a gap says so


def test_what_done_meant_in_totals_is_not_said_for_the_clinic_that_counted():
    said = "is not counted as done."
    assert said not in letter(stops(2, 20)) and "when a try counts as done" in letter(stops(2, 20))
    ruled = ({"id": "stop", "name": "stop", "shows": "stop", "rule": "stands within one meter"},)
    told = letter(stops(2, 20), tasks=ruled)
    assert "without a collision or a missed stop" not in told
    assert "whether an attempt with a collision, hands-on help or a missed stop counted as done" in told
    strict = letter(stops(2, 20), tasks=ruled, done_rule="no_contact_no_help")
    assert "when the rule of the task is met without a collision, hands-on help or a missed stop." in strict


def test_rows_are_offered_where_there_are_rows_and_the_totals_where_there_are_totals():
    assert "On request I send these records and the counts of each day of the trial." in letter(stops(2, 20))
    assert "On request I send these records." in letter()
