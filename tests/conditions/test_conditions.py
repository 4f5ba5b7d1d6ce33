"""One case a condition: found without being named, held until it is asked, and pages that hold and lack what they must.

What each must ask and print was taken from the published texts that the rows of docgen/conditions name.
"""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each

from conditions.made import NAMES, ask, case_of, expected, grounds_of, pages
from docgen.case.asked import ChosenFeature
from docgen.case.need import Finding
from docgen.criteria.payer import load
from docgen.criteria.run import verdicts
from docgen.fit.condition import conditions, conflicts_of, of_case, rows
from docgen.fit.condition_asked import asked_of

EACH = of_each("name", NAMES)


def test_each_condition_has_its_case():
    missing = [f"tests/conditions/cases/{name}.toml" for name in sorted(conditions()) if name not in NAMES]
    assert not missing, (
        f"add {', '.join(missing)} in the form of its neighbours: each condition has a case to try it on"
    )
    assert not set(NAMES) - set(conditions()), "cases of conditions that are no more"


@EACH
def test_it_is_found_without_being_named(name):
    found = set(of_case(case_of(name, answered=False)))
    assert set(expected(name)["recognised"]) <= found
    assert found - set(expected(name)["recognised"]) <= {"autonomic_dysreflexia"}


@EACH
def test_what_must_be_asked_is_asked_and_holds_until_it_is_answered(name):
    bare = case_of(name, answered=False)
    asked = {question.id: question for condition, question in asked_of(bare) if condition.id == name}
    assert set(expected(name)["asked"]) <= set(asked)
    holding = [question for question in asked.values() if question.holds]
    answer = ask("conditions_answered", bare)
    assert answer.status == ("cannot_tell" if holding else "does_not_apply") and answer.danger is bool(holding)
    assert ask("conditions_answered", case_of(name)).status in ("met", "does_not_apply")
    if page := conditions()[name].page:
        lacking = ask("emergency_page_complete", bare)
        assert lacking.status == "cannot_tell" and all(topic.says in lacking.reason for topic in page)
        assert ask("emergency_page_complete", case_of(name)).status == "met"


@EACH
def test_its_pages_hold_what_they_must_and_nothing_that_nobody_gave(name):
    made = pages(case_of(name), ("card", "guide", "log", "plan", "emergency"))
    assert ("emergency" in made) is bool(expected(name).get("holds"))
    for words in expected(name).get("holds", ()):
        assert words.lower() in made["emergency"].lower()
    # a step stands on one sheet alone, and the booklet sends there first
    assert ("Then the emergency page." in made["guide"]) is ("emergency" in made)
    everywhere = " ".join(made.values()).lower()
    assert not [words for words in expected(name)["lacks"] if words.lower() in everywhere]
    for row in conditions()[name].rows:
        accepted = row.id in expected(name).get("accepted", ())
        assert accepted or row.says.lower() not in everywhere
        assert not row.prints or (row.prints.lower() in everywhere) is accepted


@EACH
def test_what_conflicts_with_what_the_control_needs_is_named(name):
    assert {conflict.id for _, conflict in conflicts_of(case_of(name))} == set(expected(name).get("conflicts", ()))


def test_only_what_was_read_has_words_to_print():
    assert {row.mark for row in rows().values() if row.prints} == {"read"}
    assert {row.mark for row in rows().values()} == {"read", "weak", "memory", "inference"}


def test_a_fact_in_two_files_is_the_same_fact():
    every_row = [row for condition in conditions().values() for row in condition.rows]
    assert all(rows()[row.id] == row for row in every_row)


# ---- two at once ------------------------------------------------------------------------------------------------

PAIRS = {
    ("autonomic_dysreflexia", "low_pressure_upright"): "K-01",
    ("fragile_bones", "epilepsy"): "C-81",
    ("autonomic_dysreflexia", "baclofen_pump"): "C-10",
}
SETTLED = "As the nurse says."


@pytest.mark.parametrize(("pair", "conflict"), PAIRS.items())
def test_two_conditions_that_conflict_hold_the_packet_until_they_are_settled(pair, conflict):
    steps = [
        {"says": "Wheels off.", "moves": "drive_off"},
        {"says": "Seat up.", "moves": "upright", "if_seen": "A headache:"},
        {"says": "Seat back.", "moves": "back", "if_seen": "Gray, no headache:"},
    ]
    signs = [
        {"says": "A headache", "first": "Seat up", "moves": "upright"},
        {"says": "Gray", "first": "Seat back", "moves": "back"},
    ]
    open_case = case_of(*pair, steps=steps, signs=signs)
    answer = ask("emergency_steps_agree", open_case)
    assert answer.status == "cannot_tell" and answer.danger and conflict in answer.to_settle
    judged = verdicts(grounds_of(open_case), load("general", ""), date(2026, 4, 14))
    assert [verdict.blocks for verdict in judged if verdict.criterion.id == "emergency_steps_agree"] == [True]
    settled = [{"conflict": conflict, "says": SETTLED}]
    assert ask("emergency_steps_agree", case_of(*pair, steps=steps, signs=signs, settled=settled)).status == "met"


def test_two_conditions_have_one_list_of_steps():
    """Two lists on a wall are read as a choice."""
    text = pages(case_of("fragile_bones", "epilepsy"), ("emergency",))["emergency"]
    assert text.count("o this, in this order") == 1
    first, bone, seizure = (text.index(words) for words in ("Wheels off, slowly.", "Do not move", "A hand under"))
    assert first < bone < seizure


@pytest.mark.parametrize(("base_code", "asked"), [("K0848", False), ("K0861", True), (None, True)])
def test_limits_of_a_power_seat_are_not_asked_of_a_base_that_has_none(base_code, asked):
    bare = case_of("arthrogryposis", answered=False)
    chair = bare.configuration.chair.model_copy(update={"base_code": base_code})
    configuration = bare.configuration.model_copy(update={"chair": chair})
    questions = {question.id for _, question in asked_of(bare.model_copy(update={"configuration": configuration}))}
    assert ("seat_limits" in questions) is asked and "site" in questions


@pytest.mark.parametrize(
    ("control", "finding", "asked"),
    [
        ("mini_joystick", "breath_weak", False),
        ("head_array", "breath_weak", True),
        ("mini_joystick", "neck_fatigues", False),
    ],
)
def test_how_long_the_neck_holds_is_asked_of_a_control_at_the_head_alone(control, finding, asked):
    bare = case_of("weak_neck_or_breathing", answered=False)
    configuration = bare.configuration.model_copy(update={"features": (ChosenFeature(id=control),)})
    findings = (Finding(id=finding, says="So it is."),)
    changed = bare.model_copy(update={"configuration": configuration, "findings": findings})
    assert ("neck_minutes" in {question.id for _, question in asked_of(changed)}) is asked
