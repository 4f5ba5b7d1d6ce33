"""What `weight_shift_is_set` says of each record."""

from __future__ import annotations

from emergencies import NECK, SEEN
from records import Records
from whole_case import GONE

KEYS = ("tilt_deg", "hold_min", "every_min", "starts", "how", "reminder", "not_when", "by", "on")

SIGN = {"says": "headache, red face or neck; sweat", "moves": "upright", "serves": ["autonomic_dysreflexia.signs"]}
SIGNS = ("emergency", {"signs": [SIGN | SEEN]})
ALARM = (
    "conditions.+",
    {"id": "autonomic_dysreflexia", "answers": [{"ask": "alarm_pressure", "number": 120, **SEEN}]},
)


def waits(words):
    """With dysreflexia and its signs, and an alarm pressure, the weight shift waits at these words."""
    return [NECK, SIGNS, ALARM, ("weight_shift.not_when", words)]


RECORDS = Records(
    "weight_shift_is_set",
    met=[
        ("the whole case", []),
        ("by leaning, without the seat", [("weight_shift", {}), ("sitting.leans", "Leans forward by himself.")]),
        ("as far as the chair goes", [("weight_shift.tilt_deg", 50.0)]),
        ("in steps", [("weight_shift.how", GONE), ("weight_shift.steps", ["Head left.", "Wait."])]),
        ("every sign and the pressure", waits("Headache, red face, sweat, or above 120: up first.")),
        ("every sign by one word", waits("Any sign of the emergency page, or above 120: up first.")),
        ("a helper too, who sees it", [("weight_shift.helper", "The aunt."), ("weight_shift.seen", "The marks meet.")]),
    ],
    not_met=[
        ("two of the signs", waits("A headache or a red face, or above 120: up first.")),
        ("every sign, and no pressure", waits("Headache, red face, sweat: up first.")),
        ("none of the signs", [NECK, SIGNS, ("weight_shift.not_when", "After meals.")]),
        ("further than the chair goes", [("weight_shift.tilt_deg", 51.0)]),
        ("recline alone", [("weight_shift.tilt_deg", GONE), ("weight_shift.recline_deg", 120.0)]),
    ],
    cannot_tell=[
        *((f"not said: {key}", [(f"weight_shift.{key}", GONE)]) for key in KEYS),
        ("a helper who cannot see how far", [("weight_shift.helper", "The aunt.")]),
        ("not said how far the chair goes", [("configuration.chair.most_tilt_deg", GONE)]),
        ("no finding", [("findings", [])]),
        (
            "no risk of the skin, and not said how often: it may be a rest",
            [("findings.2.id", "transfer_slide"), ("conditions", []), ("weight_shift.every_min", GONE)],
        ),
    ],
    does_not_apply=[("no risk of the skin", [("findings.2.id", "transfer_slide"), ("conditions", [])])],
    ready={"does_not_apply": [], "cannot_tell": [(("findings",), [])]},
    rests_on=(*(f"weight_shift.{key}" for key in KEYS), "configuration.chair.most_tilt_deg", "findings"),
)

test_each_record_gets_its_answer = RECORDS.test()
