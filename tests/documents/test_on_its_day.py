"""The papers of a request tell what was known on their own day; what came later stands in later documents."""

from __future__ import annotations

import re
import sys
from datetime import date

import pytest
from made import FOLDERS, MARISOL, SAOIRSE
from msgspec.structs import replace
from support import assess

from docgen.case.known_on import known_on
from docgen.packet.assess import on_its_day
from docgen.packet.trees import trees

MONTHS = dict(zip(("April", "May", "June", "July", "August", "September", "October"), range(4, 11), strict=True))
DAY = re.compile(r"\b(" + "|".join(MONTHS) + r") (\d+), (\d{4})")


@pytest.mark.parametrize("source", [SAOIRSE, MARISOL])
@pytest.mark.parametrize("document", ["letter", "cover", "order"])
def test_no_paper_of_a_request_names_a_later_day(document, source):
    """But in the box by which a later copy says that it is one."""
    case = assess(FOLDERS[source]).file.case
    tree = trees(assess(FOLDERS[source]), [document])[document]
    words = tree.plain()
    for box in (node.plain() for node in tree.walk() if node.kind == "callout"):
        words = words.replace(box if "A later copy" in box else "\0", "")
    # what a rule gives until is worked out on the day
    ahead = re.sub(r"(?:the last day is|had to follow by) \w+ \d+, \d{4}", "", words)
    days = {date(int(year), MONTHS[month], int(day)) for month, day, year in DAY.findall(ahead)}
    asked_on = max(filter(None, (case.dates.written_on, case.request.requested_on)))
    assert {on for on in days if on > asked_on} <= {case.training.start_on}


@pytest.mark.parametrize(
    ("source", "says"),
    [
        (SAOIRSE, "chair delivered on July 6, 2026"),
        (SAOIRSE, "Each stop was tried and passed"),
        (SAOIRSE, "visits were held"),
        (SAOIRSE, "affirmed on April 10"),
        (SAOIRSE, "Progress Report"),
        (MARISOL, "Appeal"),
    ],
)
@pytest.mark.parametrize("document", ["letter", "cover", "order"])
def test_what_came_later_is_in_no_paper_of_the_request(document, source, says):
    assert says.lower() not in trees(assess(FOLDERS[source]), [document])[document].plain().lower()


def test_later_documents_tell_what_came_later():
    assert "delivered July 6, 2026" in trees(assess(FOLDERS[SAOIRSE]), ["progress"])["progress"].plain()
    assert trees(assess(FOLDERS[MARISOL]), ["appeal"])["appeal"].children


def test_a_denial_of_before_stays_in_the_papers_of_a_request_that_came_after_it():
    case = assess(FOLDERS[MARISOL]).file.case
    assert known_on(case, date(2026, 3, 27)).denial.denied_on is None
    assert known_on(case, date(2026, 6, 1)) is case


def test_a_stop_measured_on_a_slope_since_is_told_by_later_papers_alone():
    told = {name: trees(on_its_day(assess(FOLDERS[SAOIRSE])), [name])[name].plain() for name in ("letter", "plan")}
    now = trees(assess(FOLDERS[SAOIRSE]), ["plan"])["plan"].plain()
    assert "stopping on this slope has not been measured" in told["letter"]
    assert "(1200 mm) (July 20, 2026)" in now and "(1200 mm) (July 20, 2026)" not in told["plan"]


def test_lessons_held_by_a_day_are_known_on_it():
    case = assess(FOLDERS[SAOIRSE]).file.case
    then = known_on(case, date(2026, 7, 31))
    assert then.dates.delivered_on == case.dates.delivered_on
    assert then.sessions == tuple(row for row in case.sessions if row.date <= date(2026, 7, 31)) != case.sessions


@pytest.mark.parametrize("source", [SAOIRSE, MARISOL])
def test_each_state_of_the_record_is_assessed_once_whatever_is_made_of_it(source, monkeypatch):
    module = sys.modules[on_its_day.__module__]  # the package gives a function under this name
    assessed, gathered = module.assess(FOLDERS[source]), []
    gather = module.evidence
    monkeypatch.setattr(module, "evidence", lambda case: gathered.append(case) or gather(case))
    for _ in range(2):
        trees(assessed, ["letter", "cover", "order"])
    assert gathered
    assert not any(case == other for at, case in enumerate(gathered) for other in gathered[at + 1 :])


def test_where_no_day_is_recorded_nothing_is_later():
    assessed = assess(FOLDERS[SAOIRSE])
    case = assessed.file.case
    undated = case.model_copy(
        update={
            "dates": case.dates.model_copy(update={"written_on": None}),
            "request": case.request.model_copy(update={"requested_on": None}),
        }
    )
    nothing_known = replace(assessed, file=replace(assessed.file, case=undated))
    assert on_its_day(nothing_known) is nothing_known
    assert on_its_day(assessed).file.case.sessions == ()
