"""What `stops_on_request` says of each record."""

from __future__ import annotations

import pytest
from changes import GOOD, STICK
from records import Records
from whole_case import ask, attempts, changed, grounds

ONE_STOP_MISSED = STICK + attempts("pads", "1" * 21 + "011")
NO_STOP = STICK + [row | {"success": row["task"] != "stop"} for row in GOOD]
HALF = STICK + attempts("pads", "".join("0" if i in (1, 5, 9) else "1" for i in range(24)))
ALONE = ("supervision.0.level", "alone")
SETTLED = (
    "supervision.+",
    {
        "place": "in her own room",
        "level": "alone",
        "by": "nobody",
        "chair_state": "off",
        "calls_by": "By a bell at the cheek.",
        "call_needs_chair": False,
        "help_after_min": 10,
        "fire_plan": "The neighbor comes.",
        "settled": ["call_without_voice", "call_fails", "fire", "weight_shifts", "no_answer"],
    },
)

RECORDS = Records(
    "stops_on_request",
    met=[
        ("the whole case", []),
        ("six stops of six, and alone with the chair off", [ALONE, ("supervision.0.chair_state", "off")]),
        (
            "a stop missed, and the chair off while alone",
            [ALONE, ("supervision.0.chair_state", "off")],
            ONE_STOP_MISSED,
        ),
        ("a stop missed, and nobody is alone", [], ONE_STOP_MISSED),
        ("a stop missed, and hours alone provided for, with the chair off", [SETTLED], ONE_STOP_MISSED),
        (
            "a stop missed, and hours alone provided for, where the seat alone moves",
            [
                ("supervision.+", SETTLED[1] | {"chair_state": "seat_only", "if_stuck": "Calls."}),
                ("configuration.stop.drive_off", "yellow key"),
                *((f"configuration.mounting.{at}.gap_moved", "as in the driving place") for at in range(3)),
            ],
            ONE_STOP_MISSED,
        ),
    ],
    not_met=[
        ("most stops missed, with someone near", [], NO_STOP),
        ("half of the stops missed", [], HALF),
        (
            "a stop missed where the client is alone",
            [ALONE, ("supervision.0.chair_state", "drives")],
            ONE_STOP_MISSED,
        ),
        (
            "a stop missed where the client is alone, in the chair or not",
            [ALONE],
            ONE_STOP_MISSED,
        ),
        ("a stop missed and no supervision", [("supervision", [])], ONE_STOP_MISSED),
    ],
    cannot_tell=[
        ("no task that shows a stop", [("trial.tasks.1.shows", "steer")]),
        ("four stops", [], STICK + attempts("pads", "1" * 16)),
        ("six stops of six, and alone", [ALONE]),
    ],
    settings=[
        ({"least_stops": 7}, [], "cannot_tell"),
        ({"least_stops": 6}, [], "met"),
        ({"least_share": 1.0}, [], "met"),
        ({"least_stops_alone": 6}, [ALONE], "met"),
        ({"least_stops_alone": 7}, [ALONE], "cannot_tell"),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("trial", "tasks", 1, "shows"), "other")],
        "not_met": [(("supervision", 0, "level"), "alone")],
    },
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks.*.shows"),
    rows_suffice=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_place_alone_now_is_named_before_one_where_something_else_holds_for_now():
    later, now = (
        {"place": place, "level": "alone", **more}
        for place, more in (("at work", {"for_now": "The chair is off."}), ("at home", {}))
        for more in ({"chair_state": "drives"} | more,)
    )
    answer = ask("stops_on_request", grounds(changed(("supervision", [later, now])), ONE_STOP_MISSED))
    assert answer.status == "not_met" and "at home the client drives without anyone near" in answer.reason
    answer = ask("stops_on_request", grounds(changed(("supervision", [later])), ONE_STOP_MISSED))
    assert "later on nobody is to be near at work" in answer.reason


@pytest.mark.parametrize(
    ("levels", "says"),
    [
        (("same_room", "arms_length"), "someone is near wherever the client drives"),
        (("in_sight", "in_sight"), "someone has the client in sight wherever the client drives"),
        (("in_sight", "same_room"), "someone is near or has the client in sight wherever the client drives"),
    ],
)
def test_who_has_the_client_in_sight_is_not_called_near(levels, says):
    places = [{"place": f"place {at}", "level": level, "by": "aunt"} for at, level in enumerate(levels)]
    assert says in ask("stops_on_request", grounds(changed(("supervision", places)), ONE_STOP_MISSED)).reason
