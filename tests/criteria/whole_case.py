"""One small invented case that meets every criterion, and how to change it: what is needed to ask a question."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import date, timedelta
from functools import cache
from typing import Any

from pydantic import ValidationError

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.session import SessionRow
from docgen.criteria.advice import Step, shortest_way
from docgen.criteria.criterion import Answer, Grounds, criteria
from docgen.criteria.payer import load
from docgen.criteria.run import Verdict, blocking, verdicts
from docgen.evidence.gather import evidence
from docgen.fit.match import fit

GENERAL, ON = load("general", ""), date(2026, 5, 4)  # the rules that are asked, and the day
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

# the paper trail
_CODES = ["K0856", *(item["code"] for item in WHOLE["configuration"]["items"])]
WHOLE["request"] |= {
    "months_needed": 60,
    "chair_now": "A manual chair, goes back.",
    "chair_now_delivered_by": date(2020, 5, 31),
    "keeps_other_chair": False,
    "growth": "Pads move 40 mm.",
    "reviewed_on": date(2026, 2, 20),
    "local_rules": "Plan manual of 2026-01.",
    "local_rules_say": "It says nothing of drive controls.",
    "route": "Exception form.",
}
WHOLE["client"] |= {"born_on": date(1990, 1, 31), "weight_kg": 61.0, "function": "Moves the head."}
WHOLE["client"] |= {"between_rooms": "adjoin"}
WHOLE["diagnoses"][0] |= {"since": "birth", "course": "stable", "group": "neurological"}
WHOLE["people"].append({"id": "doctor", "role": "practitioner", "name": "Sam Example", "credential": "NP"})
WHOLE["people"][1] |= {"employment": "employee", "took_part": "in_person", "own_record": "Chose pads: no force."}
WHOLE["people"][2] |= {"informed_on": date(2026, 3, 3)}
WHOLE |= {
    "encounter": {
        "by": "doctor",
        "mode": "in_person",
        "narrative": True,
        "mobility_was_reason": True,
        "separates_home_and_outside": True,
        "signed": True,
        "sent_on": date(2026, 3, 2),
        "answers": ["what_limits", "cane_or_walker", "manual_chair", "scooter", "drives_safely"],
    },
    "order": {
        "signed_by": "doctor",
        "completed_by": "doctor",
        "received_on": date(2026, 4, 10),
        "in_plan_of_care": True,
        "codes": _CODES,
        "has": ["client", "items", "quantity", "date", "practitioner", "signature"],
        "base_looked_up_on": date(2026, 4, 9),
    },
}
# changes by which the chair is authorized, then delivered, and by which a caregiver drives instead
AUTHORIZED = (
    (
        "authorization",
        {
            "requested_on": date(2026, 4, 14),
            "decided_on": date(2026, 4, 24),
            "decision": "affirmed",
            "tracking": "0000",
            "codes": _CODES,
        },
    ),
)
DELIVERED = (
    *AUTHORIZED,
    ("dates.delivered_on", date(2026, 8, 3)),
    (
        "delivery",
        {"signed_by": "client", "signed_on": date(2026, 8, 3), "lists_items": True, "keep_until": date(2033, 8, 3)},
    ),
)
CAREGIVER_DRIVES = (
    ("configuration.method", GONE),
    (
        "attendant",
        {
            "drives": True,
            "by": "aunt",
            "client_cannot": "Does not start or stop.",
            "cannot_push": "Both shoulders.",
            "drives_safely": "40 minutes, no contact.",
            "willing": True,
        },
    ),
)

ROWS = attempts("stick", "0001" * 4) + attempts("pads", "1" * 24)


def changed(*changes: tuple[str, Any]) -> dict[str, Any]:
    """The whole case with each dotted key set to its value; GONE takes it out, "+" at the end adds an entry."""
    raw = pickle.loads(pickle.dumps(WHOLE))  # a quarter of the time of deepcopy
    for path, value in changes:
        *parents, last = path.split(".")
        node: Any = raw
        for part in parents:
            node = node[int(part)] if isinstance(node, list) else node.setdefault(part, {})
        value = value if value is GONE else copy.deepcopy(value)  # a later change may alter it
        if last == "+":
            node.append(value)
        elif value is GONE:
            del node[int(last) if isinstance(node, list) else last]
        else:
            node[int(last) if isinstance(node, list) else last] = value
    return raw


def _frozen(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _frozen(one) for key, one in value.items()}
    return tuple(_frozen(one) for one in value) if isinstance(value, list) else value


def _rows(rows: Iterable[dict[str, Any]]) -> tuple[Row, ...]:
    return tuple(Row(line=line, **row) for line, row in enumerate(rows, start=2))


@cache
def _own_rows() -> tuple[Row, ...]:
    """The rows that most of these cases have, read once: nobody can change a row."""
    return _rows(ROWS)


def grounds(raw: dict[str, Any], rows: Iterable[dict[str, Any]] = ROWS) -> Grounds:
    """All that an answer may rest on. Rows of a method or task that the case lacks are left out, as in reading."""
    raw = dict(raw)
    tries = raw.pop("sessions", ())  # rows of training, which stand in a file of their own
    case = Case.model_validate(_frozen(raw)).with_sessions(
        tuple(SessionRow(line=line, **row) for line, row in enumerate(tries, start=2))
    )
    named = {part.id for part in (*case.trial.methods, *case.trial.tasks)}
    read = _own_rows() if rows is ROWS else _rows(rows)
    case = case.with_records(tuple(row for row in read if {row.method, row.task} <= named))
    return Grounds(case, evidence(case), fit(case, lambda *path: "case.toml:1"))


def ask(criterion: str, on: Grounds, **settings: Any) -> Answer:
    """The answer of one criterion, with its own settings unless others are given."""
    asked = criteria()[criterion]
    return asked.ask(on, **{**asked.settings, **settings})


def key_paths(raw: Any, path: str = "") -> Iterator[str]:
    """Dotted path of every key and every entry of a list, outermost first."""
    pairs = raw.items() if isinstance(raw, dict) else enumerate(raw) if isinstance(raw, list) else ()
    for key, value in pairs:
        here = f"{path}.{key}" if path else str(key)
        yield here
        yield from key_paths(value, here)


def answers(on: Grounds) -> tuple[Verdict, ...]:
    """What the general rules say."""
    return verdicts(on, GENERAL, ON)


def blocks(raw: dict[str, Any]) -> set[str]:
    """Ids of the rows that hold a case back."""
    return {verdict.requirement.id for verdict in blocking(answers(grounds(raw)))}


def steps(raw: dict[str, Any]) -> tuple[Step, ...]:
    """The shortest way to ready."""
    on = grounds(raw)
    return shortest_way(on, answers(on))


@cache
def without_each_key() -> dict[str, tuple[Grounds, tuple[Verdict, ...]]]:
    """Key or entry of the whole case -> the case without it alone, and what the general rules say of that; where its
    table can do without. Once in a process: what needs it stands in test_each_key_left_out.py."""
    left = {}
    for path in key_paths(WHOLE):
        with suppress(ValidationError):
            without = grounds(changed((path, GONE)))
            left[path] = (without, answers(without))
    return left
