"""Emergency pages for the records of criteria: one of a seizure, and one of an injury of the neck, as changes."""

from __future__ import annotations

from datetime import date
from typing import Any

SEEN = {"by": "doctor", "on": date(2026, 3, 3)}
CONSENT = {"given_by": "Robin", "on": date(2026, 3, 3), "names_condition": True, "may_hang": "on the chair"}


def step(says: str, moves: str, *serves: str, **keys: Any) -> dict[str, Any]:
    """A step with who gave it and when."""
    return {"says": says, "moves": moves, "serves": list(serves), **SEEN, **keys}


SEIZURE: dict[str, Any] = {
    "cannot": "answer",
    "steps": [
        step("Push the red button.", "drive_off"),
        step("Keep the head from the pads.", "nobody", "epilepsy.seizure"),
    ],
    "calls": [{"name": "nurse line", "phone": "555-0100", "answers": "always", "at_once": "no better in 5 minutes"}],
    "consent": CONSENT,
}
UPRIGHT = step(
    "Seat all the way up.",
    "upright",
    "autonomic_dysreflexia.first_aid",
    "autonomic_dysreflexia.signs",
    "autonomic_dysreflexia.call",
    if_seen="A bad headache:",
)
BACK = step(
    "Tilt the seat back.",
    "back",
    "low_pressure_upright.faint",
    "low_pressure_upright.no_answer",
    if_seen="Gray, no headache:",
)
SIGNS = [
    {"says": "a bad headache", "first": "seat up", "moves": "upright", **SEEN},
    {"says": "gray, no headache", "any_one": False, "first": "seat back", "moves": "back", **SEEN},
]
BOTH: dict[str, Any] = SEIZURE | {
    "steps": [SEIZURE["steps"][0], UPRIGHT, BACK],
    "signs": SIGNS,
    "after": "Check the pads.",
    "restart_by": "doctor",
    "settled": [
        {"conflict": "K-01", "says": "Up with a headache, else back.", **SEEN},
        {"conflict": "K-12", "says": "The van stops first.", **SEEN},
    ],
}
NECK = ("diagnoses.0.code", "S14.114A")
FAINTS = ("conditions", [{"id": "low_pressure_upright"}])
