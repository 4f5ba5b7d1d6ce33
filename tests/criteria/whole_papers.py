"""The papers of the whole case, and the changes by which it is authorized and delivered, or driven by a caregiver."""

from __future__ import annotations

from datetime import date

from criteria.whole_record import GONE, WHOLE

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
    "authorization": {"needed": False},
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
