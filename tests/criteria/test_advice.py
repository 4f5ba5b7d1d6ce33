"""The shortest way to ready: put back exactly the keys it names, and the case is ready; leave one out, and it is
not."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from whole_case import GONE, WHOLE, changed, grounds, key_paths

from docgen.case.keys import entries_at, table_at, value_at, with_value
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.advice import shortest_way
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, criteria, met
from docgen.criteria.forms import form, stand_ins
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.payer import load
from docgen.criteria.run import Verdict, blocking, verdicts

ON = date(2026, 5, 4)
GENERAL = load("general", "")


def answers(on: Grounds):
    return verdicts(on, GENERAL, ON)


def blocks(raw: dict[str, Any]) -> set[str]:
    return {verdict.requirement.id for verdict in blocking(answers(grounds(raw)))}


def steps(raw: dict[str, Any]):
    on = grounds(raw)
    return shortest_way(on, answers(on))


def _typed(path: str) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in path.split("."))


def _optional(path: str) -> bool:
    *table, key = _typed(path)
    model = table_at(tuple(table))
    return (
        model is not None
        and str(key) in model.model_fields
        and not model.model_fields[str(key)].is_required()
        and not entries_at(_typed(path))
    )


@cache
def blocking_keys() -> list[str]:
    """Optional keys of the whole case without which something cannot be told that blocks."""
    found = []
    for path in key_paths(WHOLE):
        if _optional(path) and table_at(_typed(path)) is None:
            opened = blocking(answers(grounds(changed((path, GONE)))))
            if opened and all(verdict.answer.status == "cannot_tell" for verdict in opened):
                found.append(path)
    return found


@cache
def steps_without(path: str):
    """The shortest way for the whole case without one key."""
    return steps(changed((path, GONE)))


def test_the_whole_case_is_ready_and_needs_no_step():
    assert not blocks(WHOLE) and not steps(WHOLE)
    assert len(blocking_keys()) >= 30  # else the tests below would try little


def test_a_key_taken_out_is_the_key_to_fill_in():
    def is_told(path: str) -> bool:
        *table, key = _typed(path)
        told = {(step.table, name) for step in steps_without(path) for name, _ in step.keys if step.kind == "fill"}
        return (tuple(table), key) in told or {step.kind for step in steps_without(path)} == {"do"}

    assert [path for path in blocking_keys() if not is_told(path)] == []


def test_most_keys_are_told_as_keys_and_few_as_work():
    told = [path for path in blocking_keys() if any(step.kind == "fill" for step in steps_without(path))]
    assert len(told) >= 0.8 * len(blocking_keys())


@settings(max_examples=25, deadline=None)
@given(st.deferred(lambda: st.sets(st.sampled_from(blocking_keys()), min_size=1, max_size=6)))
def test_putting_back_the_keys_named_makes_the_case_ready_and_none_can_be_spared(paths):
    left = set(paths)
    for _ in range(3):  # what is put back, such as a code, can raise one more question
        raw = changed(*((path, GONE) for path in left))
        found = steps(raw)
        assert {one for step in found for one in step.settles} == blocks(raw)
        if not found or any(step.kind != "fill" for step in found):
            break
        named = {".".join(map(str, (*step.table, key))) for step in found for key, _ in step.keys}
        assert named <= left  # nothing is requested that was there
        for one in named:
            assert blocks(changed(*((path, GONE) for path in (left - named) | {one})))
        left -= named
    assert not found or any(step.kind == "do" for step in found)


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


def test_a_form_shows_how_to_write_a_value_and_none_of_its_content():
    def is_form(path: str) -> bool:
        shown, examples = form(_typed(path)), table_at(_typed(path)[:-1]).model_fields[str(_typed(path)[-1])].examples
        told_apart = isinstance(examples[0], (bool, list)) or "or" in shown or str(examples[0]) not in shown
        return "<" in shown and shown.strip('[]"').endswith(">") and told_apart

    assert [path for path in blocking_keys() if not is_form(path)] == []


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
