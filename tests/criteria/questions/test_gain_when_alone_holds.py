"""What `gain_when_alone_holds` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

OFF = {
    "place": "at home, alone",
    "level": "on_call",
    "by": "an aunt",
    "chair_state": "off",
    "for_now": "Nobody drives then.",
}
REST, SEAT, DRIVES = (OFF | {"chair_state": state} for state in ("rests", "seat_only", "drives"))
UNTOLD = {name: value for name, value in OFF.items() if name != "chair_state"}
ALONE, WHEN = "supervision.+", "activities.0.when_alone"
SET_UP = ("activities.0.with_device", "set_up")
SET_AGAIN = ("activities.0.left", "Someone sets the tube, again after a spasm.")
NO_LESS_TIME = ("activities.0.minutes_with", 18)

RECORDS = Records(
    "gain_when_alone_holds",
    met=[
        ("alone, and nothing claimed for it", [(ALONE, OFF), (WHEN, "no")]),
        ("alone at rest, and claimed for rest", [(ALONE, REST), (WHEN, "at_rest")]),
        ("alone and driving", [(ALONE, DRIVES), (WHEN, "drives")]),
        ("alone with the seat alone, and claimed for rest", [(ALONE, SEAT), (WHEN, "at_rest")]),
        ("alone and driving, and claimed for rest", [(ALONE, DRIVES), (WHEN, "at_rest")]),
        (
            "alone, and no gain that could be claimed",
            [(ALONE, OFF), ("activities.0.with_device", "done_for"), ("activities.0.minutes_with", 18)],
        ),
        ("alone, claimed for rest, and set up once", [(ALONE, SEAT), (WHEN, "at_rest"), SET_UP]),
        ("set again and again, and not claimed for hours alone", [(ALONE, SEAT), (WHEN, "no"), SET_UP, SET_AGAIN]),
        *(
            (f"alone, no less time, and no level {key}", [(ALONE, OFF), (f"activities.0.{key}", GONE), NO_LESS_TIME])
            for key in ("before", "with_device")
        ),
    ],
    not_met=[
        ("claimed for driving, and the chair is off", [(ALONE, OFF), (WHEN, "drives")]),
        ("claimed for driving, and the chair is at rest", [(ALONE, REST), (WHEN, "drives")]),
        ("claimed for rest, and the chair is off", [(ALONE, OFF), (WHEN, "at_rest")]),
        ("claimed for rest, and set again by someone", [(ALONE, SEAT), (WHEN, "at_rest"), SET_UP, SET_AGAIN]),
        ("claimed for driving, and only the seat moves", [(ALONE, SEAT), (WHEN, "drives")]),
    ],
    cannot_tell=[
        ("alone, and not said for which hours", [(ALONE, OFF)]),
        ("claimed, and who may be near is not said", [(WHEN, "drives")]),
        ("claimed for driving, and the state of the chair is not said", [(ALONE, UNTOLD), (WHEN, "drives")]),
        (
            "claimed for rest, and that it is off stands in free words alone",
            [(ALONE, UNTOLD | {"for_now": "The chair is off while she is alone."}), (WHEN, "at_rest")],
        ),
        (
            "alone, and a gain in minutes that does not say for which hours",
            [(ALONE, OFF), ("activities.0.with_device", "done_for")],
        ),
        (
            "alone, and a gain in level that does not say for which hours",
            [(ALONE, OFF), ("activities.0.minutes_with", 18)],
        ),
    ],
    does_not_apply=[("the whole case", [])],
    ready={"does_not_apply": []},
    rests_on=("activities",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_both_sides_are_told_with_their_keys():
    answer = ask("gain_when_alone_holds", grounds(changed((ALONE, OFF), (WHEN, "drives"))))
    assert "reach the toilet" in answer.reason and "at home, alone: the chair is off then" in answer.reason
    assert set(answer.where) == {("activities", 0, "when_alone"), ("supervision", 1, "chair_state")}
