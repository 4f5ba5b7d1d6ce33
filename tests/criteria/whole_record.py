"""What one small invented case records of a person, a chair and its trial, so that every criterion is met."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

GONE = object()  # a change to GONE takes the key, or the entry of a list, out of the case
TASKS = ("straight", "stop", "door", "table")
_SEEN = {"on": date(2026, 3, 3), "by": "ot"}


def _ruled_out(one: str, kind: str, **keys: Any) -> dict[str, Any]:
    by = {
        "ruled_out_by": "condition",
        "reason": f"The hands do not close on the {one}.",
        "measure": "0 of 5 tries",
        **_SEEN,
    }
    return {"id": one, "kind": kind, "name": f"the {one}"} | by | keys


def _pad(one: str) -> dict[str, Any]:
    return {
        "id": one,
        "part": f"{one} pad",
        "site": f"head_{one}",
        "at": "level with the ear",
        "gap_mm": 15,
        "gap_from_mm": 10,
        "gap_to_mm": 20,
        "mark": "line meets line",
        **_SEEN,
    }


WHOLE: dict[str, Any] = {
    "format": "docgen case 1",
    "id": "robin-example",
    "request": {"requested_on": date(2026, 5, 4), "kind": "new_chair"},
    "client": {"name": "Robin Example", "wants_it": True, "willing": "Asked to keep it."},
    "diagnoses": [{"code": "G80.3", "name": "dyskinetic cerebral palsy"}],
    "people": [
        {
            "id": "ot",
            "role": "evaluator",
            "name": "Jo Example",
            "credential": "OTR/L",
            "license": "OT-0",
            "experience": "Wheelchair evaluations since 2012.",
            "employed_by_supplier": False,
            "statement_on": date(2026, 4, 2),
        },
        {"id": "atp", "role": "supplier", "name": "Kim Example", "credential": "ATP"},
        {"id": "aunt", "role": "caregiver", "relation": "aunt"},
    ],
    "dates": {
        "written_on": date(2026, 4, 14),
        "encounter_on": date(2026, 2, 20),
        "supplier_assessed_on": date(2026, 3, 3),
        "home_visit_on": date(2026, 4, 1),
        "evaluated_on": date(2026, 4, 2),
        "accepted_on": date(2026, 4, 8),
        "ordered_on": date(2026, 4, 10),
    },
    "limits": [
        {"kind": "cognition", "found": False, "says": "Names the place first."},
        {"kind": "judgment", "found": True, "says": "Slowed in 8 of 10 walks.", "answer": "An adult near."},
        {"kind": "vision", "found": False, "says": "Follows at 3 m."},
        {"kind": "seizures", "found": False, "says": "None."},
    ],
    "findings": [
        {"id": "head_three_way", "says": "The head moves three ways.", "measure": "10 of 10 each"},
        {"id": "transfer_sling", "says": "Lifted in a sling.", "measure": "4 a day"},
        {"id": "pressure_risk", "says": "Cannot shift weight.", "measure": "0 of 5 tries"},
    ],
    "activities": [
        {
            "id": "toilet",
            "name": "reach the toilet",
            "at_home": True,
            "needed_for": "toileting",
            "barrier": "prevents",
            "before": "done_for",
            "with_device": "watched",
            "minutes_before": 18,
            "minutes_with": 6,
            "left": "His aunt lifts him onto the toilet and off it.",
        },
        {
            "id": "class",
            "name": "move in class",
            "at_home": False,
            "needed_for": "other",
            "barrier": "prevents",
            "before": "done_for",
            "with_device": "watched",
            "minutes_before": 20,
            "minutes_with": 9,
            "left": "An aide draws the chair back from a table.",
        },
    ],
    "goals": [{"id": "table", "says": "Get to the table.", "level": -2, "levels": ["a", "b", "c", "d", "e"]}],
    "spaces": [
        {
            "id": "bath",
            "name": "bathroom door",
            "kind": "doorway",
            "at_home": True,
            "clear_width_mm": 835,
            "clear_ahead_mm": 1300,
            "ahead_from": "chair",
            "threshold_mm": 12,
            "floor": "tile",
            "says": "It opens into the kitchen.",
            "profile": "indoor",
        },
        {
            "id": "kitchen",
            "name": "kitchen",
            "kind": "turning",
            "at_home": True,
            "turning_mm": 1600,
            "clear_ahead_mm": 900,
            "ahead_from": "chair",
            "floor": "wood",
            "profile": "indoor",
        },
    ],
    "weight_shift": {
        "tilt_deg": 35.0,
        "hold_min": 2.0,
        "every_min": 30.0,
        "starts": "driver",
        "how": "Head left.",
        "reminder": "a tone",
        "not_when": "After meals.",
        **_SEEN,
    },
    "conditions": [
        {"id": condition, "answers": [{"ask": name, "says": "As agreed.", **_SEEN} for name in asked]}
        for condition, asked in {
            "cerebral_palsy": ("reflexes", "hip_moves"),
            "pressure_injury": ("earlier_sore",),
            "spasm_or_dystonia": ("stop_in_spasm", "set_off_by", "bad_day", "new_rise_call", "after_medicine"),
            "thought_or_behavior": ("calm_end", "cue_words"),
        }.items()
    ],
    "sitting": {
        "pelvis": "back and level",
        "trunk": "between the side supports",
        "head": "on the headrest",
        "belts": "low on the hips",
        "marks": "The seam is at the line.",
        "drive_meanwhile": "locked",
        "commands": [{"moves": "the seat goes back", "input": "head back"}],
        "stuck": "Anyone, by the gray switch.",
        "while_off": "Wheels locked, key on, gray switch alone.",
        "not_at_all": "Two people lift Robin to bed within the half hour.",
        "stays_chosen": True,
        "moved_by": 2,
        "moving": ["Sling on.", "Then the belt."],
        "after": {"reached": "The head meets the pad.", "restart": "At a word.", "decides": "Robin."},
    },
    "transport": {
        "rides_in_chair": True,
        "vehicle": "a van",
        "trained": "the aunt",
        "chair_labeled": "yes",
        "four_tie_downs": "yes",
        "own_belt": "yes",
        "head_support": "yes",
        "back_deg": 10,
        "control": "swung_away",
        "loose_parts": "The bag comes off.",
    },
    "supervision": [
        {
            "place": "at home",
            "level": "same_room",
            "by": "an aunt",
            "covers": ["bath", "kitchen"],
            "stands": "in_the_room",
            "stops_with": "stop_switch",
            "reach_s": 1.0,
            "reach_on": "2026-03-26",
        }
    ],
    "alternatives": [
        _ruled_out("cane", "cane_or_walker"),
        _ruled_out("wheelchair", "manual_chair"),
        _ruled_out("scooter", "scooter"),
        _ruled_out("stick", "stick_by_hand", ruled_out_by="trial", method="stick"),
        _ruled_out("cup", "stick_by_chin"),
    ],
    "trial": {
        "methods": [
            {"id": "stick", "name": "joystick by hand", "standard_stick": True},
            {
                "id": "pads",
                "name": "head pads",
                "features": ["head_array", "proximity_sensing", "momentary_drive"],
                "speed_m_s": 0.4,
                "seat_deg": 5,
            },
        ],
        "tasks": [{"id": task, "name": task, "shows": "stop" if task == "stop" else "steer"} for task in TASKS],
    },
    "configuration": {
        "standard_parts": [{"part": "seat_switch", "comes": "with_base"}],
        "method": "pads",
        "latched": False,
        "seat_deg": 5,
        "worn": "glasses",
        "worn_checked_by": "ot",
        "chair": {
            "base_code": "K0856",
            "why": "Its electronics take the pads and it turns in the kitchen.",
            "seat_actuators": 1,
            "width_mm": 640,
            "length_mm": 1000,
            "turning_mm": 1220,
            "climbs_mm": 50,
            "most_tilt_deg": 50.0,
            "electronics_delay_s": 0.15,
            "deceleration_m_s2": 0.8,
        },
        "stop": {
            "driver": "head off",
            "power_off": "right armrest",
            "power_off_by": "helper",
            "helper": "red button",
            "stop_switch": "cheek",
            "after_stop": "waits",
            "set_back": "turn it out",
            "stop_switch_by": "both",
            "brakes": "They lock.",
            "backing": "Head off.",
        },
        "features": [
            {"id": "head_array", "because": ["head_three_way"]},
            {"id": "swing_away_mount", "because": ["transfer_sling"]},
            {"id": "proximity_sensing", "because": ["head_three_way"]},
            {"id": "seat_functions_by_drive_input", "because": ["pressure_risk"]},
        ],
        "items": [
            {
                "id": "array",
                "name": "head array",
                "code": "E2330",
                "why": "The head alone moves three ways.",
                "without": "Stays.",
                "features": ["head_array", "proximity_sensing"],
            },
            {
                "id": "controller",
                "name": "controller",
                "code": "E2377",
                "why": "The array works with no other controller.",
                "without": "Cannot.",
                "features": ["head_array"],
            },
            {
                "id": "harness",
                "name": "harness",
                "code": "E2313",
                "why": "Joins array and motors.",
                "without": "Cannot.",
                "features": ["head_array"],
            },
            {
                "id": "swing",
                "name": "swing hardware",
                "code": "E1028",
                "why": "The sling passes where the pads stand.",
                "without": "Blocked.",
                "because": ["transfer_sling"],
                "features": ["swing_away_mount"],
                "supports": "interface",
                "purpose": "a sling transfer",
                "serves": "transfer",
                "payer_says": "2026-05-04, by phone: this code.",
            },
            {
                "id": "tilt",
                "name": "power tilt",
                "code": "E1002",
                "why": "No push of the arms shifts weight.",
                "without": "Sore skin.",
                "because": ["pressure_risk"],
            },
            {
                "id": "link",
                "name": "seat connection",
                "code": "E2310",
                "why": "The head works the tilt too.",
                "without": "Cannot.",
                "features": ["seat_functions_by_drive_input"],
            },
        ],
        "programmable": ["speed", "tremor_dampening", "acceleration", "braking"],
        "mounting": [_pad("back"), _pad("left"), _pad("right")],
        "profiles": [
            {
                "id": "indoor",
                "name": "indoor",
                "speed_m_s": 0.4,
                "turn_deg_s": 15,
                "used": "home",
                "why": "Stops in the kitchen.",
            }
        ],
    },
    "taught": [
        {
            "who": "aunt",
            "what": "set-up and stop",
            "skills": ["setup", "standby", "stop", "ride"],
            "on": date(2026, 3, 24),
        }
    ],
    "training": {
        "start_on": date(2026, 8, 10),
        "sessions_a_week": 3,
        "minutes": 20,
        "place": "hall",
        "coach": "aunt",
        "stage": "each_way",
    },
    "follow_up": [{"after_weeks": 2, "what": "fit"}, {"after_weeks": 13, "what": "goals"}],
}


def attempts(method: str, done: str, days: int = 2, release_s: float | None = 0.6) -> list[dict[str, Any]]:
    """Attempts of one method as rows: "1" done, "0" not, tasks in turn, spread evenly over the days."""
    first = date(2026, 3, 3)
    return [
        {
            "date": first + timedelta(days=i * days // len(done)),
            "method": method,
            "task": TASKS[i % len(TASKS)],
            "success": mark == "1",
            "release_s": release_s,
            "fatigue_before": 2,
            "fatigue_after": 3,
        }
        for i, mark in enumerate(done)
    ]


WHOLE["trial"]["tasks"][1]["within_m"] = 1.0
for _item in WHOLE["configuration"]["items"]:
    _item["modifier"] = "KX"
for _part in (*WHOLE["findings"], *WHOLE["limits"]):
    _part |= _SEEN

ROWS = attempts("stick", "0001" * 4) + attempts("pads", "1" * 24)
