"""What is doubtful of a row is doubtful of a day total, and names its line there."""

from datetime import date

import pytest
from whole_case import WHOLE, ask, grounds

from docgen.case.totals import DayTotal
from docgen.criteria.criterion import Grounds
from docgen.evidence.gather import evidence


def with_totals(*totals):
    base = grounds(WHOLE, rows=())
    case = base.case.with_totals(totals)
    return Grounds(case, evidence(case), base.fit)


def total(line=2, method="pads", task=None, attempts=10, done=8, day=3, **more):
    task = task or next(entry["id"] for entry in WHOLE["trial"]["tasks"] if entry["shows"] != "stop")
    return DayTotal(line, date(2026, 3, day), method, task, attempts, done, **more)


STOP = next(entry["id"] for entry in WHOLE["trial"]["tasks"] if entry.get("shows") == "stop")


@pytest.mark.parametrize(
    ("criterion", "more", "says"),
    [
        ("values_are_usual", {"slowest_release_s": 500.0}, "slowest_release_s of totals.csv, 1 of 1 values: 500"),
        ("values_are_usual", {"releases_s": (0.5, 500.0)}, "releases_s of totals.csv, 1 of 2 values: 500"),
        ("values_agree", {"distance_m": 4000.0, "minutes": 3.0}, "4000 m in 3 min are"),
        ("done_as_defined", {"attempts": 10, "done": 10, "contacts": 3}, "written down as done with a collision"),
    ],
)
def test_a_doubt_of_a_total_is_told(criterion, more, says):
    answer = ask(criterion, with_totals(total(**more)))
    assert answer.status == "not_met" and says in answer.reason


def test_the_lines_of_totals_are_told_apart_from_those_of_rows():
    answer = ask("values_are_usual", with_totals(total(line=7, slowest_release_s=500.0)))
    assert (answer.rows, answer.totals) == ((), (7,))


@pytest.mark.parametrize(("enough", "n_stops"), [(True, 6), (False, 4)])
def test_totals_show_enough_or_not(enough, n_stops):
    answer = ask(
        "asked_for_shown_enough",
        with_totals(total(), total(line=3, day=4, stops_asked=n_stops, stops_made=n_stops)),
    )
    assert (answer.status == "met") is enough
    assert f"20 attempts on 2 days and {n_stops} stops" in answer.reason
    assert answer.totals == (() if enough else (2, 3))


@pytest.mark.parametrize(("slowest_s", "status"), [(0.5, "met"), (9.0, "not_met")])
def test_all_stops_made_with_a_slowest_release_that_runs_too_far(slowest_s, status):
    answer = ask(
        "releases_fit_stops",
        with_totals(total(line=4, task=STOP, attempts=5, done=5, slowest_release_s=slowest_s, speed_m_s=0.4)),
    )
    assert (answer.status, answer.totals) == (status, () if status == "met" else (4,))
