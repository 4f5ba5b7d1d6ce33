"""What must never leave the house, each as a check that can fail: a record that lacks it, or holds it, is held back."""

from __future__ import annotations

import re
from datetime import date

import pytest
from criteria.emergencies import BACK, BOTH, FAINTS, NECK, SEIZURE, UPRIGHT
from criteria.whole_case import DELIVERED, GONE, changed, grounds
from criteria.whole_case import ask as ask_whole
from gathered import of_each

from conditions.made import NAMES, ask, case_of, expected, pages
from docgen.fit.condition import conditions, rows
from docgen.packet.assess import assess
from docgen.packet.trees import trees
from docgen.resources import folder


def whole(criterion, *changes):
    """The answer of a criterion about the whole case with these changes."""
    return ask_whole(criterion, grounds(changed(*changes)))


def without_answer(name, question):
    """The case of a condition with one answer taken away."""
    case = case_of(name)
    entries = tuple(
        entry.model_copy(update={"answers": tuple(a for a in entry.answers if a.ask != question)})
        for entry in case.conditions
    )
    return case.model_copy(update={"conditions": entries})


def without_topic(name, topic):
    """The case of a condition whose page has no step for one thing."""
    steps = [s for s in expected(name)["case"]["emergency"]["steps"] if f"{name}.{topic}" not in s.get("serves", ())]
    return case_of(name, steps=steps)


@pytest.mark.parametrize("topic", ["first_aid", "call"])
def test_q1_an_injury_at_t6_or_above_has_its_box(topic):
    assert ask("emergency_page_complete", without_topic("autonomic_dysreflexia", topic)).danger


@pytest.mark.parametrize(("level", "wanted"), [("T6", True), ("C4", True), ("T7", False), ("L1", False)])
def test_q1_the_level_decides(level, wanted):
    """At or above T6: Consortium for Spinal Cord Medicine 2001."""
    named = ("conditions", [{"id": "spinal_cord_injury", "level": level}])
    assert (whole("emergency_page_complete", named).status == "cannot_tell") is wanted


def test_q1_has_its_usual_pressure_and_no_bare_tilt_back():
    held = ask("conditions_answered", without_answer("autonomic_dysreflexia", "usual_pressure"))
    assert held.danger and "of autonomic_dysreflexia: usual_pressure" in held.to_settle
    bare = ("emergency", BOTH | {"steps": [SEIZURE["steps"][0], UPRIGHT, BACK | {"if_seen": None}]})
    assert whole("emergency_steps_agree", NECK, FAINTS, bare).status == "not_met"


@pytest.mark.parametrize("topic", ["fall", "oxygen", "steroid"])
def test_q2_duchenne_dystrophy_has_fall_oxygen_and_steroid(topic):
    says = next(entry.says for entry in conditions()["duchenne_dystrophy"].page if entry.id == topic)
    answer = ask("emergency_page_complete", without_topic("duchenne_dystrophy", topic))
    assert answer.danger and says in answer.reason


def test_q3_a_pump_has_its_day_to_come_and_its_number():
    assert ask("conditions_answered", without_answer("baclofen_pump", "refill_due")).danger
    late = case_of("baclofen_pump").model_copy(
        update={"dates": case_of("baclofen_pump").dates.model_copy(update={"written_on": date(2026, 6, 2)})}
    )
    assert ask("conditions_answered", late).status == "not_met"
    nobody = case_of("baclofen_pump", calls=[])
    assert "of baclofen_pump: team_phone" in ask("conditions_answered", nobody).to_settle


@pytest.mark.parametrize("question", ["minutes_alone", "minutes_without_machine", "trained", "kit"])
def test_q4_a_ventilator_has_minutes_people_and_kit(question):
    assert ask("conditions_answered", without_answer("ventilator", question)).danger


def test_q4_no_lesson_without_someone_trained():
    case = case_of("ventilator")
    other = case.model_copy(update={"training": case.training.model_copy(update={"coach": "nurse"})})
    answer = ask("conditions_answered", other)
    assert answer.status == "not_met" and "nobody trained" in answer.reason


def test_q5_a_latched_drive_has_a_second_stop():
    latched = ("configuration.latched", True)
    none = [("configuration.stop.stop_switch", GONE), ("configuration.stop.has_switch", False)]
    assert whole("others_can_stop_it", latched, *none).status == "not_met"


def test_q6_a_head_that_drops_is_not_the_only_stop():
    given = {"ask": "neck_recovers", "yes": False, "by": "doctor", "on": date(2026, 3, 3)}
    drops = ("conditions", [{"id": "fast_progressive_disease", "answers": [given]}])
    at_head = ("configuration.stop.stop_switch_site", "head_left")
    assert whole("dropped_head_still_stops", drops, at_head).status == "not_met"


def test_q7_the_weight_shift_has_the_same_numbers_in_every_paper():
    """Each number of the guide's section stands in the first lesson of the plan, which alone has the degrees: whoever
    helps goes by marks that meet at that tilt."""
    made = trees(assess(folder("cases") / "marisol-quenneville-tran"), ["guide", "plan"])
    guide, plan = (made[name].plain().replace("\n", " ") for name in ("guide", "plan"))
    box = guide.split("Shift the weight")[1].split("Do not shift weight when")[0]
    first_lesson = plan.split("before any driving: the")[1].split("Do not shift weight when")[0]
    assert [re.findall(r"\d+", text) for text in (box, first_lesson)] == [["30", "3"], ["30", "35", "3"]]


def test_q8_no_further_than_the_chair_goes():
    assert whole("weight_shift_is_set", ("weight_shift.tilt_deg", 51.0)).status == "not_met"


@pytest.mark.parametrize(("passed", "status"), [(None, "cannot_tell"), (date(2026, 8, 2), "not_met")])
def test_q9_and_q19_each_stop_was_tried_since_the_chair_came_or_was_changed(passed, status):
    known = [("configuration.stop.passed_on", passed)] if passed else []
    answer = whole("stop_tried_since_change", *DELIVERED, *known)
    assert answer.status == status and (answer.danger or status == "not_met")


def test_q12_no_slope_beyond_what_the_chair_takes():
    ramp = {"id": "ramp", "name": "ramp", "kind": "ramp", "slope_percent": 12.5}
    steep = [("spaces.+", ramp), ("configuration.chair.most_slope_percent", 10.5)]
    assert whole("slopes_within_rating", *steep).status == "not_met"


@pytest.mark.parametrize("demo", ["ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng"])
def test_q10_the_stop_test_has_the_part_that_must_move_and_the_part_that_must_not_start(demo):
    case = assess(folder("cases") / demo)
    text = trees(case, ["card"])["card"].plain()
    assert text.count("must move") >= 2 and "while it moves: it must stop." in text
    stop = case.file.case.configuration.stop
    # the stop; then what shuts driving off and what cuts the power, each pressed and set back
    assert text.lower().count("it must stay still") == (6 if stop.drive_off else 3)
    assert ("must not start" in text) is (stop.after_stop == "waits")


@pytest.mark.parametrize(
    ("criterion", "change"),
    [
        ("stops_within_space", ("spaces.1.clear_ahead_mm", 300)),
        ("fits_the_home", ("spaces.0.clear_width_mm", 600)),
        ("fits_the_home", ("spaces.1.turning_mm", 1000)),
    ],
)
def test_q11_room_to_stop_pass_and_turn(criterion, change):
    assert whole(criterion, change).status == "not_met"


def test_q13_a_foot_without_feeling_that_drives_has_its_shoe():
    held = ask("conditions_answered", without_answer("no_feeling_in_the_foot", "footwear"))
    assert held.danger and "of no_feeling_in_the_foot: footwear" in held.to_settle


def test_q14_a_child_has_someone_near_and_hours_alone_are_no_blank():
    assert ask("conditions_answered", case_of("growing_child", answered=False)).danger
    alone = ("supervision.+", {"place": "at home", "level": "alone", "by": "nobody"})
    assert whole("alone_is_provided_for", alone).status == "cannot_tell"


@pytest.mark.parametrize("says", ["It prevents pressure sores.", "It is failsafe.", "It complies with ISO 13850."])
def test_q15_no_claim_that_nobody_has_shown(says):
    assert whole("words_promise_nothing", ("letter.safety", says)).status == "not_met"


IN_CHAIR = {
    "rides_in_chair": True,
    "vehicle": "a van with a lap-and-shoulder belt",
    "trained": "an aunt",
    "chair_labeled": "yes",
    "four_tie_downs": "yes",
    "own_belt": "yes",
    "head_support": "yes",
    "back_deg": 10.0,
    "control": "swung_away",
    "loose_parts": "the tray",
}


@of_each(
    ("ride", "status"),
    [
        ({}, "met"),
        ({"control": "stays"}, "not_met"),
        ({"control": None}, "cannot_tell"),
        ({"head_support": "unknown"}, "cannot_tell"),
        ({"vehicle": "a van; the chest strap holds her"}, "not_met"),
        ({"vehicle": "a van with a lap-and-shoulder belt, the chest strap stays on"}, "met"),
    ],
)
def test_q16_pads_are_no_head_support_and_a_belt_for_posture_is_none_for_a_ride(ride, status):
    """A posture belt is no crash belt: a rehabilitation research center's guideline of 2006, as quoted."""
    answer = whole("rides_secured", ("transport", IN_CHAIR | ride))
    assert answer.status == status


def test_q17_a_call_that_needs_the_chair_is_no_call():
    alone = {"place": "at home", "level": "alone", "by": "nobody", "call_needs_chair": True}
    assert whole("alone_is_provided_for", ("supervision.+", alone)).status == "not_met"


@of_each("row", [row for row in rows().values() if row.mark != "read"], ids=lambda row: row.id)
def test_q18_what_was_not_read_never_prints(row):
    steps = [{"says": "Wheels off.", "moves": "drive_off"}, {"row": row.id}]
    case = case_of("epilepsy", steps=steps)
    assert ask("emergency_page_complete", case).status == "not_met"
    assert row.says not in pages(case, ("emergency",))["emergency"]


def test_q18_words_accepted_are_those_of_today():
    """A row that was worded anew is accepted anew."""
    case = case_of("duchenne_dystrophy")
    older = tuple(row.model_copy(update={"prints": f"{row.prints} Once more."}) for row in case.accepted)
    changed_since = case.with_accepted(older)
    assert ask("emergency_page_complete", changed_since).status == "cannot_tell"
    text = pages(changed_since, ("emergency",))["emergency"]
    assert "fat embolism" not in text and "not recorded: the step, in the words of whoever gives it" in text


@of_each("name", [name for name in NAMES if expected(name).get("holds")])
def test_q20_a_page_has_one_list_of_steps_and_the_drive_goes_off_first(name):
    text = pages(case_of(name), ("emergency",))["emergency"]
    assert len(re.findall(r"[Dd]o this, in this order", text)) == 1
    assert text.index("Stop the chair first: step 1.") < text.index("Wheels off")
