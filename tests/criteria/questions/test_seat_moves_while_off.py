"""What `seat_moves_while_off` says of each record."""

from __future__ import annotations

from emergencies import BOTH, FAINTS, NECK, SEEN
from records import Records
from whole_case import GONE

NO_SHIFT = ("weight_shift", {})
KEYS = ("while_off", "not_at_all", "stays_chosen")
BY_SWITCH = [("sitting.commands", []), ("sitting.seat_switch", "gray switch, middle of the back")]

HELD = (
    "conditions",
    [{"id": "autonomic_dysreflexia", "answers": [{"ask": "stop_pressed", "says": "F left, turn A out.", **SEEN}]}],
)
HOLDS = ("configuration.stop.holds_seat", True)
LETS_OUT = "Lever F left, key on. Dead: turn A out. Gray switch."

RECORDS = Records(
    "seat_moves_while_off",
    met=[
        ("a stop is let out", [NECK, HELD, HOLDS, ("sitting.while_off", LETS_OUT), ("sitting.no_power", LETS_OUT)]),
        ("the whole case", []),
        (
            "a stop that does not hold the seat",
            [NECK, HELD, ("configuration.stop.holds_seat", False), ("sitting.while_off", "F left, key on.")],
        ),
        (
            "no weight shift, and an emergency that moves the client by the seat",
            [NO_SHIFT, NECK, FAINTS, ("emergency", BOTH), *BY_SWITCH],
        ),
        (
            "a helper shifts the weight, so that nothing is chosen on the control",
            [("weight_shift.starts", "helper"), ("sitting.stays_chosen", GONE)],
        ),
        ("it rests by itself, and that is recorded", [("sitting.stays_chosen", False)]),
    ],
    not_met=[
        # the card pressed the stop, and its words for the seat never let it out: a dead switch in dysreflexia
        (
            "a stop that holds the seat stays pressed",
            [NECK, HOLDS, ("sitting.while_off", "F left, key on, gray switch.")],
        ),
    ],
    cannot_tell=[
        ("what a pressed stop takes, and not whether it holds the seat", [NECK, HELD]),
        *((f"not said: {key}", [(f"sitting.{key}", GONE)]) for key in KEYS),
        (
            "an injury of the neck without a weight shift",
            [NO_SHIFT, NECK, *BY_SWITCH, ("sitting.not_at_all", GONE)],
        ),
        ("no finding", [("findings", []), NO_SHIFT]),
    ],
    does_not_apply=[("nothing hangs on the seat", [NO_SHIFT])],
    rests_on=tuple(f"sitting.{key}" for key in KEYS),
)

test_each_record_gets_its_answer = RECORDS.test()
