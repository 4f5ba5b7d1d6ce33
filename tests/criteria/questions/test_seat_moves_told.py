"""What `seat_moves_told` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

NO_COMMANDS = [("sitting.commands", []), ("configuration.features.3", GONE)]
KEYS = ("drive_meanwhile", "stuck", "after.reached", "after.restart", "after.decides", "commands")
BOTH_WAYS = [
    {"moves": "the seat goes back", "input": "head back", "kept": "held"},
    {"moves": "the seat comes up", "input": "head left", "kept": "held"},
]

RECORDS = Records(
    "seat_moves_told",
    met=[
        ("the whole case", []),
        ("slow meanwhile", [("sitting.drive_meanwhile", "slow")]),
        ("a seat that the control does not move", NO_COMMANDS),
        ("one command", [("sitting.commands", BOTH_WAYS[:1])]),
        (
            "two commands, of one of which it is told",
            [("sitting.commands", [BOTH_WAYS[0], BOTH_WAYS[1] | {"any_of": False}])],
        ),
        ("two commands, each of which may come", [("sitting.commands", [one | {"any_of": True} for one in BOTH_WAYS])]),
    ],
    not_met=[("it drives as ever meanwhile", [("sitting.drive_meanwhile", "drives")])],
    cannot_tell=[
        *((f"not said: {key}", [(f"sitting.{key}", GONE)]) for key in KEYS),
        ("two commands, and not whether one comes after the other", [("sitting.commands", BOTH_WAYS)]),
        ("no chair asked for, and no shift of weight", [("configuration", {}), ("weight_shift", {})]),
    ],
    does_not_apply=[("no move of the seat", [*NO_COMMANDS, ("weight_shift", {})])],
    rests_on=(
        "sitting.drive_meanwhile",
        "sitting.stuck",
        "sitting.after.reached",
        "sitting.after.restart",
        "sitting.after.decides",
        "sitting.commands.*",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()
