"""The shortest way to ready: put back exactly the keys it names, and the case is ready; leave one out, and it is
not."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace
from whole_case import GENERAL, GONE, WHOLE, answers, blocks, changed, grounds, steps

from docgen.case.keys import value_at, with_value
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.advice import shortest_way
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, criteria, met
from docgen.criteria.forms import stand_ins
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.run import Verdict


def test_a_key_that_several_findings_need_stands_once_with_all_of_them():
    found = steps(changed(("alternatives.3.ruled_out_by", GONE)))
    assert [(step.table, step.keys[0][0]) for step in found] == [(("alternatives", 3), "ruled_out_by")]
    assert set(found[0].settles) == {"standard_joystick", "grounds"}


def test_an_entry_taken_out_is_a_table_to_add_with_what_it_must_say():
    index = next(i for i, one in enumerate(WHOLE["alternatives"]) if one["kind"] == "scooter")
    (step,) = steps(changed((f"alternatives.{index}", GONE)))
    assert (step.kind, step.table, dict(step.keys)["kind"]) == ("add", ("alternatives",), '"scooter"')
    assert {"ruled_out_by", "reason"} <= set(dict(step.keys)) and "simpler_mobility" in step.settles


def test_two_findings_about_a_missing_person_ask_for_one_person():
    people = [person for person in WHOLE["people"] if person["role"] != "evaluator"]
    added = [
        step
        for step in steps(
            changed(
                ("people", people),
                *((f"configuration.mounting.{i}.by", GONE) for i in range(len(WHOLE["configuration"]["mounting"]))),
            )
        )
        if step.kind == "add"
    ]
    assert len(added) == 1 and set(added[0].settles) == {"evaluator", "no_tie", "basics_recorded"}
    assert {"name", "credential", "license", "employed_by_supplier", "statement_on"} <= set(dict(added[0].keys))


@pytest.mark.parametrize("key", ["encounter_on", "evaluated_on", "ordered_on", "supplier_assessed_on"])
def test_a_missing_day_is_a_key_to_fill_in_however_early_or_late_the_other_days_are(key):
    for year in (2019, 2033):
        days = {name: day.replace(year=year) for name, day in WHOLE["dates"].items()}
        found = steps(changed(*((f"dates.{name}", day) for name, day in days.items()), (f"dates.{key}", GONE)))
        assert {
            (step.kind, step.table, dict(step.keys).get(key))
            for step in found
            if "encounter" in step.settles or "evaluator" in step.settles or "specialist" in step.settles
        } == ({("fill", ("dates",), "<YYYY-MM-DD>")})


def test_what_no_key_settles_is_told_in_the_words_of_the_finding():
    (step,) = steps(changed(("client.wants_it", False)))
    assert step.kind == "do" and "what the client wants" in step.says and step.settles == ("willing",)


def test_an_empty_case_gets_steps_for_every_point_and_no_table_of_one_kind_twice():
    raw = {"format": "docgen case 1", "id": "robin-example"}
    found = steps(raw)
    assert {one for step in found for one in step.settles} == blocks(raw)
    added = [(step.table, step.keys) for step in found if step.kind == "add"]
    assert len(added) == len({(table, dict(keys).get("kind"), dict(keys).get("role")) for table, keys in added})


def _verdict(name: str, mend: Mend | str, *where: KeyPath) -> Verdict:
    """Of a criterion that the day of the order settles, and that says so with this mend."""

    def ask_of(on: Grounds, **settings: Any) -> Answer:
        if on.case.dates.ordered_on:
            return met("So.", ("dates",))
        return cannot_tell("Not recorded.", *where, mend=mend)

    criterion = replace(criteria()["goals_set"], ask=ask_of, settings={})
    row = next(row for row in GENERAL.requirements if row.criterion == "goals_set")
    row = row.model_copy(update={"id": name, "severity": "blocks", "settings": {}})
    return Verdict(row, criterion, ask_of(UNDATED))


UNDATED = grounds(changed(("dates.ordered_on", GONE)))
PLAIN, MORE = fill_in({"dates.ordered_on": ""}), fill_in({"dates.ordered_on": ""}, lead="Ask the doctor, and fill in")


@pytest.mark.parametrize(
    ("mends", "says"), [([PLAIN], ""), ([MORE], MORE.say), ([PLAIN, MORE], MORE.say), ([MORE, PLAIN], MORE.say)]
)
def test_a_key_is_told_with_a_sentence_only_where_the_key_is_not_all_there_is_to_do(mends, says):
    (step,) = shortest_way(UNDATED, [_verdict(f"row_{at}", mend, ("dates",)) for at, mend in enumerate(mends)])
    assert (step.kind, step.table, [key for key, _ in step.keys], step.says) == (
        "fill",
        ("dates",),
        ["ordered_on"],
        says,
    )
    assert step.settles == tuple(f"row_{at}" for at in range(len(mends)))


@pytest.mark.parametrize("where", [(), (("dates",), ("order",))])
def test_what_no_key_settles_stands_at_the_first_place_it_points_to_or_at_none(where):
    (step,) = shortest_way(UNDATED, [_verdict("row", "Ask the doctor.", *where)])
    assert (step.kind, step.table, step.says) == ("do", where[0] if where else (), "Ask the doctor.")


def test_stand_ins_leave_the_case_as_it_was():
    on = grounds(changed(("people.0.license", GONE), ("dates.encounter_on", GONE)))
    before = on.case.model_dump_json()
    assert shortest_way(on, answers(on)) and on.case.model_dump_json() == before


def test_a_value_is_put_at_its_path_and_nowhere_else():
    case: Case = grounds(WHOLE).case
    put = with_value(case, ("people", 0, "name"), "Sam Example")
    assert (
        value_at(put, ("people", 0, "name")) == "Sam Example"
        and value_at(case, ("people", 0, "name")) == WHOLE["people"][0]["name"]
    )
    assert with_value(put, ("people", 0, "name"), case.people[0].name) == case
    assert put.records == case.records
    assert (
        value_at(case, ("people", 99, "name"), default=0) == 0 and value_at(case, ("people", 0, "nme"), default=0) == 0
    )
    assert stand_ins(case, ("people", 0, "nme")) == ()
