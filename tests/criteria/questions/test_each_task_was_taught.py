"""What `each_task_was_taught` says of each record."""

from __future__ import annotations

from records import Records

NO_RIDE = ("transport.rides_in_chair", False)
LEVERS = ("configuration.stop.freewheel", "two levers behind the seat")
SWITCH = ("sitting.seat_switch", "gray switch on the back")
PAGE = ("emergency.steps", [{"says": "Turn it off."}])
EPILEPSY = ("diagnoses.+", {"code": "G40.909", "name": "epilepsy"})  # beside palsy, which has no page


def taught(*skills: str) -> tuple[str, list[dict[str, object]]]:
    return ("taught", [{"who": "aunt", "what": "as said", "skills": list(skills)}])


RECORDS = Records(
    "each_task_was_taught",
    met=[
        ("the ride was shown, as in the whole case", []),
        ("the levers were shown", [NO_RIDE, LEVERS, taught("levers")]),
        ("the switch of the seat was shown", [NO_RIDE, SWITCH, taught("seat")]),
        ("the emergency page was shown", [NO_RIDE, PAGE, taught("emergency")]),
    ],
    cannot_tell=[
        ("no word of a ride, nor of anything else", [("transport", {})]),
        ("the ride was shown to nobody", [taught("setup")]),
        ("the levers were shown to nobody", [NO_RIDE, LEVERS, taught("setup")]),
        ("the switch of the seat was shown to nobody", [NO_RIDE, SWITCH, taught("setup")]),
        ("the emergency page was shown to nobody", [NO_RIDE, PAGE, taught("setup")]),
        ("a condition that has an emergency page was shown to nobody", [NO_RIDE, EPILEPSY, taught("setup")]),
    ],
    does_not_apply=[
        ("nothing is left to a helper", [NO_RIDE]),
        ("who is near a place is asked elsewhere", [NO_RIDE, ("supervision.0.who", ["neighbor"]), ("taught", [])]),
    ],
    ready={"met": []},
    only_recorded=True,
    rests_on=("taught.*.skills.*", "transport.rides_in_chair"),
)

test_each_record_gets_its_answer = RECORDS.test()
