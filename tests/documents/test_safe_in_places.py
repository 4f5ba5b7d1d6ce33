"""What can hurt where somebody is alone, at night or on a slope: told by the record, or a gap, in both languages."""

from __future__ import annotations

import pytest
from made import assessed
from safe_pages import BOTH, PEOPLE, SEEN, pages, words

# ---- alone, and at night -------------------------------------------------------------------------

ALONE = {
    "place": "at home, alone",
    "level": "alone",
    "chair_state": "off",
    "calls_by": "By the pendant.",
    "call_needs_chair": False,
    "help_after_min": 5,
    "fire_plan": "The neighbor comes.",
    "settled": ("call_without_voice", "call_fails", "fire"),
}


@BOTH
@pytest.mark.parametrize("given", [True, False])
def test_the_call_is_tried_each_day_and_what_waits_meanwhile_is_told_or_a_gap(lang, given):
    place = ALONE | ({"toilet_and_drink": "Before and after."} if given else {})
    told = words(assessed(client={"called": "Robin"}, supervision=(place,)), lang)
    tried = {
        "en": "try this call once. Whoever it calls answers at once: then it calls nobody else.",
        "es": "pruebe una vez esta llamada. Quien la recibe contesta enseguida: así no llama a nadie más.",
    }
    needs = {"en": "Toilet, drink and medicine: ", "es": "Baño, bebida y medicina: "}[lang]
    assert tried[lang] in told and (f"{needs}Before and after." in told) is given
    assert tried[lang] not in words(assessed(client={"called": "Robin"}), lang)


@BOTH
@pytest.mark.parametrize(("state", "told"), [("off", False), ("seat_only", True)])
def test_a_seat_that_moves_while_alone_has_what_is_done_when_it_stays_back(lang, state, told):
    place = ALONE | {"chair_state": state, "if_stuck": "Call the neighbor."}
    label = {"en": "Seat tilted, and the control out of reach: ", "es": "Asiento inclinado y el control lejos: "}[lang]
    text = words(assessed(client={"called": "Robin"}, supervision=(place,)), lang)
    assert (f"{label}Call the neighbor." in text) is told


@BOTH
@pytest.mark.parametrize("given", [True, False])
def test_who_is_there_at_night_is_told_or_a_gap(lang, given):
    cautions = ({"about": "night", "says": "Next door."},) if given else ()
    told = words(assessed(client={"called": "Robin"}, cautions=cautions), lang, "card")
    label = {"en": "At night. ", "es": "De noche. "}[lang]
    assert (f"{label}Next door." in told) is given and label in told


@BOTH
def test_yes_no_and_pain_without_a_device_stand_on_page_one(lang):
    case = assessed(
        client={"called": "Robin"},
        people=PEOPLE,
        findings=({"id": "aac_user", "says": "x"},),
        conditions=({"id": "no_speech", "answers": ({"ask": "signals", "says": "Yes: eyes up.", **SEEN},)},),
    )
    assert {"en": "Yes, no and pain. ", "es": "Sí, no y dolor. "}[lang] + "Yes: eyes up." in pages(case, lang)[0]


# ---- slopes --------------------------------------------------------------------------------------

RAMP = {
    "id": "ramp",
    "name": "front ramp",
    "kind": "ramp",
    "slope_percent": 8.0,
    "rails": "one_side",
    "length_mm": 3000,
}
ON_IT = {
    "place": "on the ramp",
    "level": "arms_length",
    "stands": "behind",
    "stops_with": "stop_switch",
    "covers": ("ramp",),
    "needs": 2,
    "by": "two aunts",
    "driven": "Three runs up.",
    "pushed": "Not there.",
}


@pytest.mark.parametrize(
    ("most", "threshold", "beyond"), [(10.0, 20, False), (6.0, 20, True), (10.0, 80, True), (None, None, False)]
)
def test_a_slope_stands_beside_what_the_chair_takes_and_how_people_go_there(most, threshold, beyond):
    chair = {"climbs_mm": 50} | ({"most_slope_percent": most} if most else {})
    ramp = RAMP | ({"threshold_mm": threshold} if threshold else {})
    case = assessed(spaces=(ramp,), supervision=(ON_IT,), configuration={"chair": chair})
    told = words(case, "en", "plan").replace("\u00a0", " ").split("On a ramp or slope.")[1]
    takes = "10 percent" if most == 10 else "6 percent" if most else "not recorded: steepest slope that the chair takes"
    assert f"Front ramp: slope 8 percent, the chair takes {takes}" in told and "a handrail on one side" in told
    assert ("More than the chair takes: not driven, and not pushed there in the chair." in told) is beyond
    assert ("Driven so far: Three runs up. Being pushed: Not there." in told) is not beyond
    assert "Never with the brake release levers set to roll." in told


@BOTH
def test_the_guide_says_at_a_ramp_how_many_it_takes_and_what_was_driven(lang):
    told = words(assessed(client={"called": "Robin"}, spaces=(RAMP,), supervision=(ON_IT,)), lang)
    takes = {
        "en": "It takes two people. Driven so far: Three runs up. Being pushed: Not there.",
        "es": "Hacen falta dos personas. Lo que ya se manejó: Three runs up. Empujar la silla: Not there.",
    }
    assert takes[lang] in told
