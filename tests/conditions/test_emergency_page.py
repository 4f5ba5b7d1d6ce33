"""The emergency page: two states side by side, and what a crew is told only where that was agreed."""

from __future__ import annotations

import re
from datetime import date

import pytest

from conditions.made import ask, case_of, pages
from docgen.case.emergency import Accepted
from docgen.fit.condition import rows

UP, DOWN = "A headache:", "Gray, no headache:"
SHARED = {"says": "Wheels off.", "moves": "drive_off"}
STEPS = [
    SHARED,
    {"says": "Seat up.", "moves": "upright", "if_seen": UP},
    {"says": "Seat back.", "moves": "back", "if_seen": DOWN},
    {"says": "Call the nurse.", "moves": "nobody"},
    {"says": "Shoes off.", "moves": "straps_off", "if_seen": UP},
]
CREW = {"medicine": "Two drops at noon.", "allergies": "Latex.", "address": "12 Example Way, floor two."}
AGREED = {"given_by": "Robin", "names_condition": False, "may_hang": "on the chair"}


def page(**emergency):
    return pages(case_of("autonomic_dysreflexia", **emergency), ("emergency",))["emergency"].replace("\n", " ")


def test_two_states_stand_side_by_side_and_what_holds_in_both_stands_below_once():
    text = page(steps=STEPS)
    assert text.index("Wheels off.") < text.index("Then do this, in this order")
    order = text.split("in this order")[1].split("Who to call")[0]
    assert order.count("Call the nurse.") == 1 and order.count("Shoes off.") == order.count("Seat up.") == 1
    assert order.index(UP) < order.index(DOWN) < order.index("2.") < order.index("Seat up.") < order.index("Seat back.")
    assert (
        order.index("Seat back.")
        < order.index("Call the nurse.")
        < order.index(f"Go on. {UP}")
        < order.index("Shoes off.")
    )


def test_a_last_step_with_its_own_sign_stays_the_last():
    """Two signs that move nobody in two ways are no look-alikes: abreast, the call would stand beside the first."""
    says = ("Sit up.", "Suction.", "Cough machine.")
    steps = [{"says": words, "moves": "nobody", "if_seen": "Choking:"} for words in says]
    steps[0] |= {"moves": "upright"}
    text = page(steps=[SHARED, *steps, {"says": "Call 911.", "moves": "nobody", "if_seen": "Lips blue:"}])
    places = [text.index(words) for words in ("Wheels off.", *says, "Call 911.")]
    assert places == sorted(places) and text.rindex("Lips blue:") > text.index("Cough machine.")


@pytest.mark.parametrize("alone", ["Leave them on.", None])
def test_what_one_alone_does_stands_before_what_two_do_or_a_gap(alone):
    steps = [dict(step) for step in STEPS]
    steps[1] |= {"needs": 2} | ({"alone": alone} if alone else {})
    order = page(steps=steps).split("in this order")[1]
    first = alone or "ot recorded: what one helper alone does at this step"
    assert order.count("With a second person: Seat up.") == 1
    assert order.index(first) < order.index("With a second person: Seat up.")


def test_a_step_for_one_alone_has_what_a_second_helper_makes_possible_after_it():
    steps = [dict(step) for step in STEPS]
    steps[1] |= {"with_help": "Lift her."}
    order = page(steps=steps).split("in this order")[-1]
    assert order.index("Seat up.") < order.index("With a second person: Lift her.") < order.index("Call the nurse.")


@pytest.mark.parametrize(
    ("at_once", "told"),
    [
        ("blue lips; no breath", ("Call 555-0100 at once if", "Blue lips.", "No breath.")),
        (None, ("ot recorded: at which limits help is called",)),
    ],
)
def test_the_limits_of_a_call_at_once_stand_each_by_itself_before_the_steps_they_hold_for(at_once, told):
    call = {"name": "nurse line", "phone": "555-0100", "answers": "always", "at_once": at_once}
    text = page(steps=STEPS, calls=[call])
    places = [text.index(words) for words in (*told, "in this order")]
    assert places == sorted(places) and places[-1] < text.rindex("Seat up.")


@pytest.mark.parametrize(("up", "down", "told"), [("RED: a rash:", "GRAY: pale:", "Go on. RED"), (UP, DOWN, UP)])
def test_a_column_is_named_by_the_word_before_its_signs(up, down, told):
    """ "Left column" was said of a table that stood further down than the one beside it."""
    steps = [step | ({"if_seen": {UP: up, DOWN: down}[step["if_seen"]]} if "if_seen" in step else {}) for step in STEPS]
    order = page(steps=steps).split("in this order")[-1]
    assert order.index(up) < order.index(down) < order.rindex(told) < order.index("Shoes off.")


@pytest.mark.parametrize(("any_one", "told"), [(True, "Any one of these: gray, cold"), (False, "Gray, cold")])
def test_whether_one_sign_alone_is_enough_is_told(any_one, told):
    sign = {"says": "gray, cold", "first": "seat back", "moves": "back", "any_one": any_one}
    text = page(steps=STEPS, signs=[sign])
    assert told in text and text.count("Any one of these") == int(any_one)


def test_a_row_of_a_file_may_come_after_who_is_meant_here():
    steps = [SHARED, {"row": "C1-07", "says": "Here: the nurse line.", "by": "nurse", "on": date(2026, 3, 3)}]
    case = case_of("autonomic_dysreflexia", steps=steps)
    accepted = Accepted(row="C1-07", prints=rows()["C1-07"].prints, by="Nim Example, RN", on=date(2026, 3, 4))
    text = pages(case.with_accepted((accepted,)), ("emergency",))["emergency"]
    assert re.search(r"Here: the nurse line\.\s*Call a professional, even if the signs go\.", text.replace("**", ""))


@pytest.mark.parametrize(
    ("restart_by", "told"),
    [
        ("nurse", "No one drives until Nim Example says so."),
        (["nurse", "aunt"], "so, in this order. 1: Nim Example. 2: Aud Example. Write it down."),
    ],
)
def test_whoever_must_say_that_driving_may_begin_again_is_named_in_order(restart_by, told):
    assert told in page(steps=STEPS, after="Look.", restart_by=restart_by)


def test_whoever_must_say_so_and_has_no_name_on_record_is_not_left_out():
    case = case_of("autonomic_dysreflexia", steps=STEPS, after="Look.", restart_by=["nurse", "aunt"])
    nameless = (case.people[0], case.people[1].model_copy(update={"name": None}))
    text = pages(case.model_copy(update={"people": nameless}), ("emergency",))["emergency"].replace("\n", " ")
    assert "so, in this order. 1: Nim Example. 2: ______________. Write it down." in text


def test_the_address_is_that_of_the_home_and_elsewhere_the_place_is_said():
    told = page(steps=STEPS, **CREW, consent={**AGREED, "on": "2026-03-03", "names_medicine": True})
    assert told.index("At home, say:") < told.index(CREW["address"]) < told.index("Else: say where.")


def test_the_drive_goes_off_before_what_is_seen_is_sorted_out():
    told = page(steps=STEPS, signs=({"says": "gray", "first": "seat back", "moves": "back"},))
    assert told.index("Wheels off.") < told.index("What do you see?") and "Then do this" in told
    told = page(steps=STEPS[3:], signs=({"says": "gray", "first": "seat back", "moves": "back"},))
    assert "You seeDo this first" in told


@pytest.mark.parametrize("states", [{}, {1: UP}, {1: UP, 2: DOWN, 4: "A rash:"}])
def test_one_state_or_three_are_one_list(states):
    steps = [{k: v for k, v in step.items() if k != "if_seen"} for step in STEPS]
    for at, state in states.items():
        steps[at]["if_seen"] = state
    order = page(steps=steps).split("Then the signs below.")[1].split("Who to call")[0]
    assert [order.index(step["says"]) for step in steps] == sorted(order.index(step["says"]) for step in steps)
    assert order.count("Call the nurse.") == 1 and all(order.count(state) == 1 for state in states.values())


def test_a_step_that_nobody_gave_is_a_gap_in_its_column():
    steps = [dict(step) for step in STEPS]
    steps[2] |= {"row": "C1-03"}  # read, and accepted by nobody here
    assert page(steps=steps).count("not recorded: the step, in the words of whoever gives it") == 1


@pytest.mark.parametrize(
    ("agreed", "shown", "status"), [(True, True, "met"), (False, False, "not_met"), (None, False, "cannot_tell")]
)
def test_medicine_allergies_and_address_are_told_only_where_that_was_agreed(agreed, shown, status):
    consent = {**AGREED, "on": "2026-03-03"} | ({} if agreed is None else {"names_medicine": agreed})
    emergency = {**CREW, "consent": consent}
    assert all((words in page(**emergency)) is shown for words in CREW.values())
    assert ask("emergency_page_agreed", case_of("autonomic_dysreflexia", **emergency)).status == status


SEEN = {"by": "doctor", "on": "2026-03-03"}
NO_BREATH = {
    "says": "blue lips",
    "any_one": True,
    "say": "no breath",
    "then": "Do as they say.",
    "moves": "nobody",
    **SEEN,
}


CALLED = NO_BREATH | {"first": "call 911"}


@pytest.mark.parametrize(("sign", "is_first"), [({"first": "call 911"}, True), ({"first": "open the collar"}, False)])
def test_whoever_does_not_breathe_is_called_for_before_the_lever(sign, is_first):
    """The page had the first step before the one sign at which seconds count, and said nothing of the call there."""
    case = case_of("autonomic_dysreflexia", steps=STEPS, signs=[NO_BREATH | sign])
    case = case.model_copy(update={"client": case.client.model_copy(update={"emergency_number": "911"})})
    text = pages(case, ("emergency",))["emergency"].replace("\n", " ")
    told = "Chair not moving? Call 911 first for: blue lips."
    assert (told in text) is is_first
    assert not is_first or text.index(told) < text.index("Wheels off.") < text.index("What do you see?")


def test_a_page_of_a_chair_that_is_not_there_yet_says_so_before_all_else():
    """It stood in the last line, below levers and keys that another chair has elsewhere."""
    text = page(steps=STEPS, consent={**AGREED, "on": "2026-03-03"})
    assert text.index("Only for the chair shown here, from: ________.") < text.index("Stop the chair first: step 1.")


def test_rows_in_which_the_call_comes_first_are_told_together_where_the_chair_stands_still():
    case = case_of("autonomic_dysreflexia", steps=STEPS, signs=[CALLED, CALLED | {"says": "No answer"}])
    case = case.model_copy(update={"client": case.client.model_copy(update={"emergency_number": "911"})})
    text = pages(case, ("emergency",))["emergency"].replace("\n", " ")
    assert text.count("Call 911 first for: blue lips; no answer.") == 1


def test_a_step_in_lines_has_a_row_for_each_of_them():
    steps = [dict(step) for step in STEPS]
    steps[1]["says"] = "Let go. Seat up.\nLegs down."
    steps[2]["says"] = "Seat back.\nLegs up."
    order = page(steps=steps).split("in this order")[-1]
    assert re.search(r"2a\.\s*Let go\. Seat up\. Seat fully up: .*Seat back\.\s*2b\.\s*Legs down\.\s*Legs up\.", order)


def test_what_both_columns_begin_with_stands_at_the_head_of_the_row():
    steps = [dict(step) for step in STEPS]
    steps[1]["says"] = "Seat up.\nSling: keep her up."
    steps[2]["says"] = "Seat back.\nSling: lay her down."
    order = page(steps=steps).split("in this order")[-1]
    assert re.search(r"2b\. Sling\s*Keep her up\.\s*Lay her down\.", order)
    assert f"Go on. {UP} 4. {DOWN} only what its column says." in order


@pytest.mark.parametrize("cannot", ["move her legs", "cannot move her legs", "She can't move her legs"])
def test_what_the_person_cannot_do_is_told_once_however_it_begins(cannot):
    text = page(steps=STEPS, cannot=cannot)
    assert "cannot move her legs" in text and "cannot cannot" not in text and "can't" not in text
