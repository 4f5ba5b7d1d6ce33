"""What `alone_is_provided_for` says of each record."""

from __future__ import annotations

import pytest
from ready_case import changed_ready, ready_grounds
from records import Records
from whole_case import GONE, ROWS, ask, changed, grounds

PROVIDED = {
    "place": "at home, alone",
    "level": "on_call",
    "by": "the aunt",
    "chair_state": "off",
    "calls_by": "By voice, and by a bell at the cheek.",
    "call_needs_chair": False,
    "help_after_min": 10,
    "fire_plan": "The neighbor comes.",
    "settled": ["call_without_voice", "call_fails", "fire", "weight_shifts", "no_answer"],
}

STUCK = {"chair_state": "seat_only", "if_stuck": "Calls by voice."}
LEVER = ("configuration.stop.drive_off", "yellow key")
REACHED = [(f"configuration.mounting.{at}.gap_moved", "as in the driving place") for at in range(3)]
FAINTS = ("conditions.+", {"id": "spinal_cord_injury", "answers": [{"ask": "faints_on_sitting_up", "yes": True}]})
STAYS = {"for_now": "The aunt stays until it is signed."}


def alone(**keys):
    """Hours alone, with other keys."""
    return ("supervision.+", {key: value for key, value in (PROVIDED | keys).items() if value is not GONE})


RECORDS = Records(
    "alone_is_provided_for",
    met=[
        ("off", [alone()]),
        ("the seat alone moves, and the control was reached", [alone(**STUCK), LEVER, *REACHED]),
        ("faints, and what is done in one is settled", [alone(settled=[*PROVIDED["settled"], "faint"]), FAINTS]),
        ("the voice may fail, and someone stays until that is settled", [alone(settled=["fire"], **STAYS)]),
        ("the reach is not measured, and someone stays", [alone(**STUCK, **STAYS), LEVER]),
        ("it may drive", [alone(chair_state="drives")]),
    ],
    not_met=[
        (
            "it rests, and a signal wakes it, once a minute unintended",
            [alone(chair_state="rests")],
            [row | {"unintended": 1, "minutes": 1.0} for row in ROWS],
        ),
        ("it rests, and a signal wakes it", [alone(chair_state="rests", for_now="She must not.")]),
        ("the voice may fail", [alone(settled=["fire"])]),
        ("faints, and what is done in one is not settled", [alone(), FAINTS]),
        ("a call that fails and is not settled", [alone(settled=["call_without_voice", "fire"])]),
        ("a fire that is not settled", [alone(settled=["call_without_voice", "call_fails"])]),
        ("a toilet that is not settled", [alone(toilet_and_drink="Before and after.")]),
        ("an unanswered call that is still open", [alone(no_answer="It calls 911.", settled=PROVIDED["settled"][:4])]),
        ("a night that is not settled", [alone(), ("cautions", [{"about": "bed", "says": "Her aunt looks in."}])]),
        ("the seat alone moves, and nobody measured the reach", [alone(**STUCK), LEVER]),
        ("help is called through the chair", [alone(call_needs_chair=True)]),
    ],
    cannot_tell=[
        ("no place", [("supervision", [])]),
        *((f"not said: {key}", [alone(**{key: GONE})]) for key in tuple(PROVIDED)[3:-1]),
        ("no word of a fire, and a call without the voice is open", [alone(fire_plan=GONE, settled=[])]),
        ("a lever that is not on record", [alone(for_now="Lock it with the blue lever.")]),
        ("the seat alone, and nothing that locks the drive", [alone(**STUCK)]),
        ("the seat alone, and no word of what is done when stuck", [alone(chair_state="seat_only"), LEVER]),
    ],
    does_not_apply=[("the whole case", [])],
    ready={
        "does_not_apply": [],
        "met": [(("supervision",), lambda places: [*places, PROVIDED | {"settled": [*PROVIDED["settled"], "night"]}])],
        "cannot_tell": [(("supervision",), lambda places: [*places, PROVIDED | {"chair_state": None}])],
    },
    rests_on=("supervision.*",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_how_often_it_was_set_off_is_told_for_an_hour():
    """3 unintended in 24 attempts of half a minute: 12 minutes, so 15 an hour."""
    rows = [row | {"minutes": 0.5, "unintended": 1 if at < 3 else 0} for at, row in enumerate(ROWS[-24:])]
    answer = ask("alone_is_provided_for", grounds(changed(alone(chair_state="rests")), rows))
    assert "about 15 times an hour" in answer.reason and "no safeguard" in answer.reason


@pytest.mark.parametrize("level", ["on_call", "alone"])
def test_silence_about_hours_alone_holds_a_ready_case(level):
    bare = {"place": "in the evening", "level": level, "by": "nobody"}
    answer = ask("alone_is_provided_for", ready_grounds(changed_ready((("supervision",), lambda p: [*p, bare]))))
    assert (
        answer.status == "cannot_tell"
        and "whether the client is in the chair then, and what state it is in" in answer.reason
    )
