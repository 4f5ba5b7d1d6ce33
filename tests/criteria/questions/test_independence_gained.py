"""What `independence_gained` says of each record."""

from __future__ import annotations

import pytest
from records import Records
from whole_case import GONE, ask, attempts, changed, grounds

BACKS = [("configuration.commands", [{"does": "back", "input": "head back twice"}])]
TABLE = [
    ("trial.tasks.2.name", "park at a table"),
    ("trial.tasks.2.shows", "place"),
    ("activities.1.at_home", True),
    ("activities.1.needed_for", "feeding"),
    ("activities.1.name", "come to the kitchen table"),
]
NO_REVERSE = [("configuration.has_reverse", False)]
TURNS = [*NO_REVERSE, ("activities.1.at_home", True), ("activities.1.name", "eat in the kitchen")]
BATH = [("spaces.0.ahead_from", "way_in"), ("spaces.0.clear_ahead_mm", 2500)]

RECORDS = Records(
    "independence_gained",
    met=[
        ("the whole case", []),
        (
            "a bathroom that it backs out of, which was not tried, and a kitchen",
            [
                *BACKS,
                *BATH,
                ("activities.1.at_home", True),
                ("activities.1.needed_for", "feeding"),
                ("activities.1.name", "eat in the kitchen"),
            ],
        ),
        ("the same room with the floor to turn on", [*BACKS, *BATH, ("spaces.0.turning_mm", 1600)]),
        (
            "a table at which it was not parked surely, and a bathroom",
            [*TABLE],
            attempts("pads", "111011001101"),
        ),
        ("a room to turn in that it names, no reverse, and no turn in place tried", TURNS),
        ("the same, and a task was to turn in place", [*TURNS, ("trial.tasks.2.turns", True)]),
        (
            "the same, and fewer than two of three turns were done",
            [*TURNS, ("trial.tasks.2.turns", True)],
            attempts("pads", "111011001101"),
        ),
        (
            "a bathroom that it drives into and leaves by turning",
            [*NO_REVERSE, *BATH, ("spaces.0.turning_mm", 1600)],
        ),
        (
            "a bathroom that it is pushed out of until it comes out reliably, and a kitchen",
            [
                *TURNS,
                *BATH,
                ("spaces.0.turning_mm", 1600),
                ("trial.tasks.2.turns", True),
                ("spaces.0.pushed_out", True),
            ],
        ),
        (
            "a kitchen that it leaves by turning or backward, and a task was to turn",
            [*BACKS, *TURNS[1:], ("trial.tasks.2.turns", True)],
        ),
        (
            "a place not measured, at which what is done is not done now, and a bathroom",
            [
                ("client.not_measured", ["the front door"]),
                ("activities.1.at_home", True),
                ("activities.1.name", "go to the front door"),
                ("activities.1.before", "not_done"),
            ],
        ),
        ("a table at which it was parked each time", [*TABLE], attempts("pads", "1" * 12)),
        (
            "more help with one activity, in level",
            [("activities.1.before", "watched"), ("activities.1.with_device", "done_for")],
        ),
        ("more help with one activity, in minutes", [("activities.1.minutes_with", 21)]),
        ("as many minutes with one activity", [("activities.1.minutes_with", 20)]),
        (
            "as much help with one activity",
            [("activities.1.with_device", "done_for"), ("activities.1.minutes_with", 20)],
        ),
        (
            "minutes of another activity beside those of an MRADL",
            [("activities.1.at_home", True)],
        ),
        ("levels and no minutes", [("activities.0.minutes_before", GONE), ("activities.0.minutes_with", GONE)]),
        (
            "a bathroom that it backs out of, and two activities at home, of one no minutes with the device",
            [
                *BACKS,
                *BATH,
                ("activities.1.at_home", True),
                ("activities.1.needed_for", "feeding"),
                ("activities.1.name", "eat in the kitchen"),
                ("activities.1.minutes_with", GONE),
            ],
        ),
        ("one level", [("activities.0.with_device", "hands_on"), ("activities.0.minutes_with", 18)]),
        ("minutes and no level", [("activities.0.with_device", GONE)]),
        ("an activity that is not done now", [("activities.0.before", "not_done")]),
        (
            "help with one activity, at no minutes",
            [
                ("activities.0.minutes_before", 0),
                ("activities.0.minutes_with", 0),
                ("activities.0.with_device", "watched"),
            ],
        ),
        *(
            (
                f"one activity at no minutes, with the device {level or 'at no level'}",
                [
                    ("activities.1.at_home", True),
                    ("activities.1.minutes_before", 0),
                    ("activities.1.minutes_with", 0),
                    ("activities.1.with_device", level or GONE),
                ],
            )
            for level in ("alone", "set_up", None)
        ),
    ],
    not_met=[
        ("as much help as before", [("activities.0.with_device", "done_for"), ("activities.0.minutes_with", 18)]),
    ],
    cannot_tell=[
        (
            "one activity, not done now, at a place not measured",
            [
                ("client.not_measured", ["the front door"]),
                ("activities.0.name", "go to the front door"),
                ("activities.0.before", "not_done"),
                ("activities.0.minutes_before", GONE),
            ],
        ),
        ("nothing with the device", [("activities.0.with_device", GONE), ("activities.0.minutes_with", GONE)]),
        ("gains away from home alone", [("activities.0", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("activities",), [])],
        "not_met": [
            (
                ("activities",),
                lambda a: [{**x, "with_device": x["before"], "minutes_with": x["minutes_before"]} for x in a],
            )
        ],
    },
    rests_on=("activities.*.at_home",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_what_the_minutes_leave_out_is_said_and_the_gain_shown_in_part():
    answer = ask("independence_gained", grounds(changed(("activities.0.not_counted", "six shifts by hand."))))
    assert answer.stands == "in_part" and answer.reason.endswith("The minutes with it leave out six shifts by hand.")


@pytest.mark.parametrize(
    "changes",
    [
        [("activities.1.with_device", "not_done"), ("activities.1.minutes_with", 20)],
        [("activities.1.minutes_with", 40)],
    ],
    ids=["in level", "in minutes"],
)
def test_more_help_anywhere_is_said_beside_the_gain(changes):
    answer = ask("independence_gained", grounds(changed(*changes)))
    assert answer.status == "met" and "More help is needed to move in class." in answer.reason
