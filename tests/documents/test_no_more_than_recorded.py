"""What a letter says beside a gap: nothing that the record does not hold, and a danger as what can be."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import Any

from docgen.case.model import Case
from docgen.case.read import CaseFile
from docgen.case.record import Row
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import load
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees

TASKS = ({"id": "hall", "name": "hall", "shows": "steer"}, {"id": "stop", "name": "stop", "shows": "stop"})
EXTENDS = "Pushing back brings extension of the whole body."


def letter(*rows: Row, features: tuple[dict[str, Any], ...] = (), **tables: Any) -> str:
    whole = {
        "client": {"called": "Robin", "pronouns": "she"},
        "findings": ({"id": "head_push_extends", "says": EXTENDS},),
        "configuration": {"method": "pads", "features": features},
        "trial": {"methods": ({"id": "pads", "name": "pads"},), "tasks": TASKS},
    } | tables
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", **whole}, strict=False).with_records(rows)
    grounds = Grounds(case, evidence(case), fit(case, lambda *path: "case.toml"))
    told = Assessed(CaseFile(case, Path("robin"), {}, ""), grounds.evidence, grounds, load("general", ""), ())
    return " ".join(trees(told, ["letter"])["letter"].plain().split())


def tried(line: int, marked: bool | None = None) -> Row:
    return Row(line, date(2026, 7, 20), "pads", "hall", True, contacts=0, prompt_marked=marked)


def test_marks_of_verbal_help_are_told_as_the_least_there_was_among_the_limits():
    told = letter(tried(2, True), tried(3), tried(4, True))
    assert "Limitations. With the pads, at least 2 in 3 attempts had verbal help, by the marks on the rows" in told
    assert "verbal help" not in letter(tried(2), tried(3))


def test_a_try_that_the_strict_reading_leaves_out_is_told_once_as_that():
    told = letter(tried(2), tried(3))
    assert "when a try counts as done, and the rule of each task" in told
    assert told.count("is not counted as done") == 1 and "the strict reading of the rows holds" in told


def test_a_reason_that_is_a_danger_of_another_feature_is_told_as_both():
    """Pushing back that extends the body was the reason of one pad and the danger of the other, one line apart."""
    array = {"id": "head_array", "because": ()}
    sensing = {"id": "proximity_sensing", "because": ("head_push_extends",)}
    both = "The same is a danger with the head array, and the reason to ask for proximity switch mechanism with it."
    told = letter(features=(array, sensing))
    assert f"{EXTENDS} {both}" in told and "can bring the whole body into extension" in told
    assert both not in letter(features=(array | {"answer": "The pads stand at the sides alone."}, sensing))
    assert both not in letter(features=(sensing,))


def test_help_counted_as_a_whole_is_told_as_of_every_kind():
    told = letter(help_a_day={"minutes_before": 70})
    assert "Help of every kind together takes 70 minutes a day now." in told and "night" not in told


def test_a_count_of_one_kind_of_help_is_told_with_how_it_was_counted():
    pushed = {"name": "minutes someone pushes her", "per": "day", "before": 70, "source": "her mother, over one week"}
    assert "Minutes someone pushes her: 70 now (counted: her mother, over one week); with" in letter(counts=(pushed,))
    assert "(counted" not in letter(counts=({"name": "pushed", "per": "week", "before": 7},))


def test_a_gap_ends_as_a_sentence_does_where_a_danger_follows_it():
    told = letter(features=({"id": "head_array", "because": ()},))
    assert re.search(r"a finding that calls for head array\. [^:]*\. What can go wrong with it:", told)
