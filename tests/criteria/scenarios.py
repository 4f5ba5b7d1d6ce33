"""Sixteen invented requests and what the published rules say of each: one full case, overlays, expected answers.

A rule is named by the short id under which it was noted from its text. RULES says which rows of a payer carry it;
NARROWED asks a criterion with settings of its own, where a row asks more than the rule; ELSEWHERE names the test of a
rule that is not about one case; NOT_MODELLED says why a rule has none.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from whole_case import GONE, WHOLE, attempts, changed

MET, FAIL, UNKNOWN, NA = "met", "not_met", "cannot_tell", "does_not_apply"

# rule -> rows of medicare_part_b that carry it; of several the worst answer counts
RULES: dict[str, tuple[str, ...]] = {
    "NCD-0": ("grounds",),
    "NCD-1": ("need",),
    "NCD-2": ("limits_screened",),
    "NCD-3": ("limits_answered",),
    "NCD-4": ("safe_driver", "driving_shown"),
    "NCD-5": ("simpler_mobility",),
    "NCD-6": ("home",),
    "NCD-7": ("simpler_mobility",),
    "NCD-8": ("simpler_mobility",),
    "NCD-9": ("reason_for_each_option",),
    "NCD-9c": ("caregiver_drives",),
    "SEL-1": ("elevation_ground",),
    "SEL-2": ("elevation_ground",),
    "ORD-1": ("order_whole",),
    "ORD-2": ("order_first",),
    "ORD-3": ("one_practitioner",),
    "ORD-4": ("items_on_order",),
    "ORD-5": ("signer",),
    "ORD-6": ("order_first",),
    "F2F-1": ("encounter", "encounter_held"),
    "F2F-2": ("encounter_held",),
    "F2F-3": ("encounter_narrative",),
    "F2F-4": ("encounter_answers",),
    "F2F-5": ("need_apart",),
    "F2F-6": ("encounter_signed",),
    "LCMP-1": ("no_tie",),
    "LCMP-2": ("report_accepted",),
    "DOC-1": ("claims_in_record",),
    "DOC-2": ("claims_in_record",),
    "DOC-3": ("encounter_narrative", "history"),
    "DOC-4": ("history",),
    "DOC-5": ("reason_for_each_option", "driving_shown"),
    "DOC-6": ("only_what_bears",),
    "PMD-A": ("need",),
    "PMD-B": ("simpler_mobility",),
    "PMD-C": ("simpler_mobility",),
    "PMD-POV": ("simpler_mobility",),
    "PMD-JK": ("safe_driver", "driving_shown"),
    "PMD-L": ("weight",),
    "PMD-M": ("home",),
    "PMD-N": ("gain",),
    "PMD-O": ("willing",),
    "PMD-DUR": ("lasting_need",),
    "PMD-OUT": ("need",),
    "PMD-SPO": ("single_power_base",),
    "PMD-MPO": ("multiple_power_base",),
    "PMD-G3": ("group_3",),
    "PMD-G3P": ("group_3", "single_power_base", "multiple_power_base"),
    "PMD-G4": ("base_for_home",),
    "PMD-G5": ("growth",),
    "PMD-SPEC": ("evaluator", "reason_for_each_option"),
    "PMD-FIN": ("no_tie",),
    "PMD-ATP": ("specialist", "specialist_record"),
    "PMD-ATPD": ("specialist_later",),
    "PMD-HOME": ("home_report",),
    "PMD-SEAT": ("seat_parts",),
    "PMD-ONE": ("one_chair",),
    "PMD-CODED": ("base_code",),
    "PA-1": ("authorization",),
    "PA-2": ("delivery_in_time",),
    "ACC-1": ("items", "electronics_trigger"),
    "ACC-2": ("standard_joystick",),
    "ACC-3": ("simpler_controls",),
    "ACC-4": ("leisure",),
    "ACC-5": ("upgrade_base",),
    "ACC-6": ("electronics",),
    "ACC-7": ("electronics_trigger",),
    "ACC-8": ("connection",),
    "ACC-9": ("seat_by_drive",),
    "ACC-10": ("excluded_codes",),
    "ACC-11": ("second_control",),
    "ACC-12": ("caregiver_drives",),
    "ACC-13": ("included_parts",),
    "ACC-14": ("hardware_purpose",),
    "ACC-15": ("hardware_code",),
    "ACC-16": ("included_parts",),
    "ACC-17": ("parts_with_controls",),
    "ACC-18": ("own_code",),
    "ACC-19": ("repair_codes",),
    "ACC-20": ("modifiers",),
    "ACC-21": ("modifiers",),
    "ACC-22": ("other_devices",),
    "ACC-23": ("settings",),
    "ACC-24": ("others_stop",),
    "ACC-25": ("joystick_class",),
    "ACC-26": ("seat_ground",),
    "SEA-1": ("seat_parts",),
    "SEA-2": ("headrest_and_array",),
    "ACC-28": ("evaluator", "no_tie", "specialist", "specialist_record"),
    "SUP-1": ("taught",),
    "SUP-2": ("delivery_proof",),
    "SUP-3": ("papers_kept",),
    "SUP-5": ("training",),
    "SUP-6": ("specialist_own",),
    "CON-1": ("electronics_trigger", "connection"),
    "CON-2": ("electronics_trigger",),
    "CON-3": ("specialist_record",),
    "CON-4": ("specialist_not_on_paper",),
    "CON-6": ("authorization_packet",),
    "CON-7": ("request_items",),
    "CON-8": ("request_base",),
    "CON-9": ("authorization_replacement",),
    "HIP-1": ("only_what_bears",),
    "HIP-4": ("only_what_bears",),
    "HIP-5": ("told_with_consent",),
    "T-1": ("encounter",),
    "T-2": ("order_first",),
    "T-3": ("order_first", "items_on_order"),
    "T-4": ("report_accepted",),
    "T-5": ("specialist_later",),
    "T-6": ("home_report",),
    "T-7": ("decision_time",),
    "T-8": ("delivery_in_time",),
    "T-10": ("claims_in_record",),
    "T-11": ("lasting_need",),
    "T-13": ("papers_kept",),
    "T-16": ("hardware_code",),
    "T-17": ("codes_in_force",),
    "T-X": (
        "order_seven_elements",
        "order_received_45_days",
        "delivery_120_days",
        "detailed_description",
        "encounter_45_days",
    ),
    "C-1": ("head_hardware",),
    "C-2": ("order_missing",),
    "C-3": ("replacement_encounter",),
    "C-4": ("attendant_line",),
    "C-5": ("motor_count",),
    "C-6": ("base_on_no_list",),
}
# rule -> rows of medicaid_under_21
YOUNG_RULES: dict[str, tuple[str, ...]] = {
    "MCD-1": ("daily_life",),
    "MCD-2": ("signer",),
    "MCD-3": ("encounter",),
    "MCD-4": ("yearly_review",),
    "MCD-5": ("unlisted_items",),
    "MCD-6": ("state_rules",),
    "EPS-1": ("corrects",),
    "EPS-3": ("growth",),
    "PMD-G5": ("growth",),
    "T-18": ("encounter",),
    "T-19": ("yearly_review",),
    "ACC-5": ("upgrade_base",),
    "ACC-6": ("electronics",),
    "C-6": ("base_on_no_list",),
}
NARROWED: dict[str, tuple[str, dict[str, Any]]] = {
    # the row `weight` asks it of every base; the rule is for bases without a power option, of group 1 or 2
    "PMD-G12": ("weight_within_class", {"groups": ["1", "2"], "options": ["none"]}),
}
# rules that are not about one case -> the test that holds the program to them
ELSEWHERE = {
    "F2F-7": "test_a_control_for_a_chair_already_there_needs_no_new_encounter",
    "HIP-2": "test_each_document_names_its_reader_and_what_it_may_show",
    "HIP-3": "test_each_document_names_its_reader_and_what_it_may_show",
    "HIP-6": "test_no_document_shows_what_its_reader_does_not_need",
    "HIP-7": "test_every_demo_person_is_invented",
}
NOT_MODELLED = {
    "PMD-CUST": (
        "a custom base is described one by one, by what every other base lacked; no key holds that comparison, "
        "and base_on_no_list queries K0013"
    ),
    "ACC-27": (
        "angles, back height and capacity of a power seat stand in the maker's sheet, which goes with the quote "
        "and not with the evaluation"
    ),
    "SUP-4": "for a chair handed over in a facility before discharge; no key for the day of discharge",
    "T-14": "the same",
    "CON-5": "a permission, not a demand: an employment that ended later changes nothing",
    "EPS-2": "a cap is the payer's, and nothing in a case",
    "T-9": "the advance determination of customised items is requested instead of this request",
    "T-12": "for rental and repair",
    "T-15": "for wear of the chair in use; its day of issue stands in the payer's claims, and no key holds it",
}

# ---- S1: cervical cord injury, proximity head array, tilt and recline run from it -----------------------------------

NOTED = {"on": date(2026, 3, 11), "by": "ot"}


def ruled_out(one: str, kind: str, **keys: Any) -> dict[str, Any]:
    """A device that no limb movement rules out, unless a trial did."""
    return {
        "id": one,
        "kind": kind,
        "name": f"the {one}",
        "ruled_out_by": "condition",
        "reason": "No limb moves.",
        **NOTED,
    } | keys


def line(code: str, **keys: Any) -> dict[str, Any]:
    """A line of the order with its reason."""
    return {
        "id": code.lower(),
        "name": code,
        "code": code,
        "why": "Needed.",
        "without": "Stays.",
        "modifier": "KX",
        "because": ["pressure_risk" if code.startswith("E100") else "head_three_way"],
    } | keys


def ordered(base: str, *lines: dict[str, Any]) -> tuple[tuple[str, Any], ...]:
    """Changes by which case, order and request for authorization all name this base and these lines."""
    codes = [base, *(one["code"] for one in lines)]
    return (
        ("configuration.chair.base_code", base),
        ("configuration.items", list(lines)),
        ("order.codes", codes),
        ("authorization.codes", codes),
    )


CONTROLLER, HARNESS = line("E2377"), line("E2313")
FIRST: tuple[tuple[str, Any], ...] = (
    (
        "request",
        {
            "requested_on": date(2026, 3, 26),
            "kind": "new_chair",
            "months_needed": 99,
            "keeps_other_chair": False,
            "chair_now": "None.",
        },
    ),
    (
        "client",
        WHOLE["client"]
        | {"born_on": date(1982, 1, 10), "weight_kg": 78.0, "function": "Nothing below the neck moves."},
    ),
    (
        "diagnoses",
        [
            {
                "code": "S14.114A",
                "name": "complete cervical cord injury",
                "since": "2024",
                "course": "stable",
                "group": "neurological",
            }
        ],
    ),
    ("people.0.statement_on", date(2026, 3, 11)),
    ("people.1.employment", GONE),
    ("people.2.informed_on", GONE),
    (
        "dates",
        {
            "encounter_on": date(2026, 3, 4),
            "evaluated_on": date(2026, 3, 11),
            "supplier_assessed_on": date(2026, 3, 11),
            "accepted_on": date(2026, 3, 18),
            "ordered_on": date(2026, 3, 20),
            "home_visit_on": date(2026, 5, 12),
            "delivered_on": date(2026, 5, 19),
        },
    ),
    (
        "limits",
        [
            {"kind": kind, "found": False, "says": "None.", **NOTED}
            for kind in ("cognition", "judgment", "vision", "seizures")
        ],
    ),
    (
        "alternatives",
        [
            ruled_out("cane", "cane_or_walker"),
            ruled_out("chair", "manual_chair"),
            ruled_out("scooter", "scooter"),
            ruled_out("hand", "stick_by_hand"),
            ruled_out("cup", "stick_by_chin", ruled_out_by="trial", method="chin"),
            ruled_out("breath", "breath_control", ruled_out_by="trial", method="breath"),
        ],
    ),
    (
        "trial.methods",
        [
            {"id": "chin", "name": "joystick at the chin", "standard_stick": True},
            {"id": "breath", "name": "breath control"},
            {"id": "pads", "name": "head pads"},
        ],
    ),
    (
        "configuration.features",
        [
            {"id": "head_array", "because": ["head_three_way"]},
            {"id": "proximity_sensing", "because": ["head_three_way"]},
            {"id": "stop_switch", "because": ["alone_hours"]},
        ],
    ),
    (
        "findings.+",
        {"id": "spasm_sudden", "says": "Loses the stick in a spasm.", "measure": "6 contacts in 10 runs", **NOTED},
    ),
    (
        "findings.+",
        {"id": "alone_hours", "says": "Alone at noon.", "measure": "2 hours a day, calls by phone", **NOTED},
    ),
    ("configuration.latched", True),
    ("configuration.stop.stop_switch", "left cheek"),
    ("configuration.chair.seat_actuators", 2),
    *ordered("K0861", line("E1007"), line("E2330"), CONTROLLER, HARNESS, line("E2311")),
    ("encounter.sent_on", date(2026, 3, 6)),
    ("order.received_on", date(2026, 3, 20)),
    ("order.base_looked_up_on", date(2026, 3, 19)),
    (
        "authorization",
        {
            "requested_on": date(2026, 3, 26),
            "decided_on": date(2026, 4, 7),
            "decision": "affirmed",
            "tracking": "0000",
            "codes": ["K0861", "E1007", "E2330", "E2377", "E2313", "E2311"],
        },
    ),
    (
        "delivery",
        {"signed_by": "client", "signed_on": date(2026, 5, 19), "lists_items": True, "keep_until": date(2033, 5, 19)},
    ),
)
FIRST_ROWS = attempts("chin", "0010" * 4, days=3) + attempts("breath", "1010" * 4) + attempts("pads", "1" * 40, days=4)

FIRST_EXPECTED: dict[str, str] = (
    dict.fromkeys([*RULES, *NARROWED], MET)
    | {"SUP-6": UNKNOWN, "HIP-5": UNKNOWN}
    | dict.fromkeys(
        (
            "NCD-3",
            "NCD-9c",
            "SEL-1",
            "SEL-2",
            "PMD-G12",
            "PMD-SPO",
            "PMD-G5",
            *(f"ACC-{n}" for n in (10, 11, 12, 14, 15, 16, 17, 18, 20, 22, 25)),
            "SEA-1",
            "SEA-2",
            "CON-4",
            "CON-9",
            "T-11",
            "T-16",
            "T-17",
            "T-X",
            "C-1",
            "C-2",
            "C-3",
            "C-4",
            "C-5",
            "C-6",
        ),
        NA,
    )
)
# "no line is of that kind" is met where the rule, which starts from such a line, does not arise; a need that stays is
# long enough
ABSENT = ("ACC-10", "ACC-11", "ACC-16", "ACC-17", "ACC-18", "ACC-20", "ACC-22", "SEA-1", "T-11", "T-17")

# ---- overlays: changes of S1, its rows where they differ, and what then differs from S1
# -------------------------------

NO_SEAT = (("configuration.chair.seat_actuators", 0),)
NO_SEAT_RULES = dict.fromkeys(("PMD-MPO", "ACC-8", "ACC-9", "ACC-26"), NA)
TRIED_BY_HAND = (
    (
        "alternatives",
        [
            ruled_out("cane", "cane_or_walker"),
            ruled_out("chair", "manual_chair"),
            ruled_out("scooter", "scooter"),
            ruled_out("hand", "stick_by_hand", ruled_out_by="trial", method="hand"),
            ruled_out("cup", "stick_by_chin"),
        ],
    ),
    (
        "trial.methods",
        [
            {"id": "hand", "name": "joystick by hand", "standard_stick": True},
            {"id": "pads", "name": "what is requested"},
        ],
    ),
)
HAND_FAILS = attempts("hand", "0001" * 4) + attempts("pads", "1" * 40, days=4)
HAND_WORKS = attempts("hand", "1" * 40, days=4)
MOMENTARY = (("configuration.latched", False),)
ONE_SEAT_MOTOR = (("configuration.chair.seat_actuators", 1),)


def measured(force_and_travel: str) -> tuple[tuple[str, Any], ...]:
    """A finding of the hand with its measure."""
    return (
        (
            "findings.+",
            {"id": "hand_weak_graded", "says": "Moves a light stick.", "measure": force_and_travel, **NOTED},
        ),
    )


def table_or_transfer(serves: str, purpose: str) -> tuple[tuple[str, Any], ...]:
    """S8: a compact joystick on swing-away hardware that serves this, in words too."""
    return (
        *TRIED_BY_HAND,
        *ONE_SEAT_MOTOR,
        *measured("hand force 400 g, range 16 mm"),
        *ordered(
            "K0856",
            line("E1002"),
            line("E2310"),
            line("E2373", because=["hand_weak_graded"]),
            CONTROLLER,
            HARNESS,
            line("E1032", supports="interface", serves=serves, purpose=purpose),
        ),
    )


SCENARIOS: dict[str, dict[str, Any]] = {
    "S1": {"changes": ()},
    "S2 special control as the only power option": {
        "changes": (
            *TRIED_BY_HAND,
            *NO_SEAT,
            *MOMENTARY,
            *measured("pinch 35 g, finger range 6 mm"),
            ("diagnoses.0.group", "myopathy"),
            *ordered("K0856", line("E2312", because=["hand_weak_graded"]), CONTROLLER),
        ),
        "rows": HAND_FAILS,
        "expected": dict.fromkeys(("PMD-G3", "PMD-SPO", "PMD-G3P", "ACC-2", "ACC-5", "ACC-7", "ACC-25"), MET)
        | NO_SEAT_RULES
        | {"ACC-6": FAIL, "ACC-24": NA, "CON-1": NA},
    },
    "S3 controller without a trigger": {
        "changes": (
            *TRIED_BY_HAND,
            *ONE_SEAT_MOTOR,
            *MOMENTARY,
            ("configuration.method", "hand"),
            *ordered("K0856", line("E1002"), line("E2310"), CONTROLLER, HARNESS),
        ),
        "rows": HAND_WORKS,
        "expected": dict.fromkeys(("PMD-SPO", "ACC-8", "ACC-26"), MET)
        | dict.fromkeys(("ACC-7", "CON-1", "ACC-1"), FAIL)
        | dict.fromkeys(("PMD-MPO", "ACC-2", "ACC-3", "ACC-6", "ACC-23", "ACC-24", "CON-2"), NA)
        | {"C-5": UNKNOWN},
    },
    "S4 breath control taken apart": {
        "changes": (
            ("configuration.method", "breath"),
            ("alternatives.5", GONE),
            ("trial.methods.2", GONE),
            *ordered(
                "K0861",
                line("E1006"),
                line("E2325"),
                line("E2326"),
                CONTROLLER,
                HARNESS,
                line("E2311"),
                line("E1032", supports="interface"),
                line("K0108", name="emergency stop switch"),
            ),
        ),
        "rows": attempts("chin", "0010" * 4, days=3) + attempts("breath", "1" * 40, days=4),
        "expected": dict.fromkeys(("ACC-2", "ACC-6", "ACC-7", "ACC-8"), MET)
        | dict.fromkeys(("ACC-13", "ACC-16", "ACC-18"), FAIL),
    },
    "S5 late order, other signer": {
        "changes": (
            ("dates.encounter_on", date(2025, 9, 2)),
            ("encounter.by", "physician"),
            ("order.signed_by", "doctor"),
            ("order.completed_by", "doctor"),
            ("people.3.credential", "PA"),
            ("people.+", {"id": "physician", "role": "practitioner", "credential": "MD"}),
        ),
        "expected": {"F2F-1": FAIL, "T-1": FAIL, "ORD-3": FAIL, "ORD-1": MET, "ORD-2": MET, "ORD-5": MET},
    },
    "S6 evaluator and specialist": {
        "changes": (
            ("people.0.employed_by_supplier", True),
            ("people.0.statement_on", GONE),
            ("people.1.took_part", "video"),
            ("people.1.own_record", GONE),
        ),
        "expected": {
            "PMD-FIN": FAIL,
            "LCMP-1": FAIL,
            "PMD-ATP": FAIL,
            "CON-3": FAIL,
            "CON-6": FAIL,
            "ACC-28": FAIL,
            "CON-4": FAIL,
            "PMD-ATPD": MET,
        },
    },
    "S7 thin file": {
        "changes": (
            ("alternatives.5", ruled_out("breath", "breath_control")),
            ("alternatives.4", GONE),
            ("alternatives.3", GONE),
            ("trial.methods.0", GONE),
            ("dates.home_visit_on", GONE),
            ("spaces", []),
            ("authorization", {}),
            ("limits", []),
            ("configuration.items.1.why", GONE),
        ),
        "rows": (),
        "expected": dict.fromkeys(
            (
                "ACC-2",
                "ACC-3",
                "ACC-1",
                "PMD-HOME",
                "PMD-M",
                "NCD-2",
                "NCD-3",
                "NCD-4",
                "NCD-6",
                "PMD-JK",
                "PA-1",
                "PA-2",
                "T-6",
                "T-7",
                "T-8",
                "DOC-5",
            ),
            UNKNOWN,
        ),
    },
    "S8 swing-away for the table": {
        "changes": table_or_transfer("surface", "roll under kitchen table"),
        "rows": HAND_FAILS,
        "expected": dict.fromkeys(("PMD-SPO", "ACC-2", "ACC-6", "ACC-7", "ACC-8", "ACC-15", "ACC-25"), MET)
        | {"ACC-14": FAIL, "PMD-MPO": NA},
    },
    "S8b swing-away for a transfer": {
        "changes": table_or_transfer("transfer", "clear the path for a slide transfer to bed"),
        "rows": HAND_FAILS,
        "expected": dict.fromkeys(("PMD-SPO", "ACC-2", "ACC-6", "ACC-7", "ACC-8", "ACC-14", "ACC-15", "ACC-25"), MET)
        | {"PMD-MPO": NA},
    },
    "S10 second driver and extras": {
        "changes": ordered(
            "K0861",
            line("E1007"),
            line("E2330"),
            CONTROLLER,
            HARNESS,
            line("E2311"),
            line("E2331"),
            line("E2351"),
            line("K0108", purpose="run lamps and TV"),
        ),
        "expected": dict.fromkeys(("ACC-11", "ACC-22", "ACC-18"), FAIL) | {"C-4": UNKNOWN},
    },
    "S11 wrong base": {
        "changes": (
            *TRIED_BY_HAND,
            *NO_SEAT,
            ("client.weight_kg", 144.2),
            *ordered("K0823", line("E2321"), CONTROLLER, HARNESS, line("E2603")),
        ),
        "rows": HAND_FAILS,
        "expected": {"ACC-5": FAIL, "PMD-L": FAIL, "PMD-SEAT": FAIL, "PMD-G12": FAIL}
        | dict.fromkeys(("PMD-G3", "PMD-G3P", "PMD-SPO"), NA)
        | NO_SEAT_RULES,
    },
    "S12 standard joystick called special": {
        "changes": (
            *NO_SEAT,
            *MOMENTARY,
            ("configuration.method", "chin"),
            ("alternatives.4.ruled_out_by", "nothing"),
            ("alternatives.5", GONE),
            ("trial.methods.2", GONE),
            ("trial.methods.1", GONE),
            *ordered("K0857", line("E2374"), line("E2324")),
        ),
        "rows": attempts("chin", "1" * 40, days=4),
        "expected": dict.fromkeys(("PMD-SPO", "PMD-G3P", "ACC-2", "ACC-19"), FAIL)
        | NO_SEAT_RULES
        | {"ACC-17": MET}
        | dict.fromkeys(("ACC-3", "ACC-6", "ACC-7", "ACC-24"), NA),
    },
    "S13 a caregiver drives": {
        "changes": (
            ("configuration.method", GONE),
            *MOMENTARY,
            (
                "limits.0",
                {"kind": "cognition", "found": True, "says": "Severe.", "answer": "The spouse drives.", **NOTED},
            ),
            (
                "attendant",
                {
                    "drives": True,
                    "by": "aunt",
                    "client_cannot": "Does not start or stop.",
                    "cannot_push": "Shoulder disease.",
                    "drives_safely": "40 minutes, no contact.",
                    "willing": True,
                },
            ),
            *ordered("K0861", line("E1007"), line("E2311"), line("E2331")),
        ),
        "expected": dict.fromkeys(("NCD-3", "NCD-4", "NCD-9c", "PMD-JK", "ACC-12"), MET)
        | {"C-4": UNKNOWN}
        | dict.fromkeys(("ACC-2", "ACC-3", "ACC-5", "ACC-6", "ACC-7", "ACC-11", "ACC-23", "ACC-24"), NA),
    },
    "S14 privacy": {
        "changes": (
            ("diagnoses.+", {"code": "L20.9", "name": "atopic dermatitis", "since": "2019", "course": "stable"}),
            ("client.function", "Nothing below the neck moves. An old note on substance use is in the record."),
        ),
        "expected": dict.fromkeys(("HIP-1", "HIP-4", "DOC-6"), FAIL),
    },
    "S15 late delivery": {
        "changes": (
            ("dates.delivered_on", date(2026, 10, 12)),
            ("delivery.signed_on", date(2026, 10, 12)),
            ("delivery.keep_until", date(2033, 10, 12)),
        ),
        "expected": {"PA-2": FAIL, "T-8": FAIL, "T-1": MET, "T-2": MET, "T-6": MET},
    },
    "S16 month end": {
        "changes": (
            ("dates.encounter_on", date(2025, 8, 31)),
            ("dates.ordered_on", date(2026, 2, 28)),
            ("order.received_on", date(2026, 2, 28)),
            ("dates.accepted_on", date(2026, 2, 20)),
            ("dates.evaluated_on", date(2026, 2, 12)),
            ("dates.supplier_assessed_on", date(2026, 2, 12)),
        ),
        "rows": [row | {"date": row["date"] - timedelta(days=35)} for row in FIRST_ROWS],
        "expected": {"F2F-1": MET, "T-1": MET, "T-4": MET, "T-5": MET},
    },
}

# ---- S9: a child under Medicaid -----------------------------------------------------------------------------------

CHILD = (
    (
        "request",
        {
            "requested_on": date(2026, 4, 1),
            "kind": "new_chair",
            "corrects": "Keeps what moving teaches.",
            "growth": "Seat grows 50 mm.",
        },
    ),
    ("client.born_on", date(2016, 10, 1)),
    ("client.weight_kg", 26.3),
    ("diagnoses.0.code", "G80.3"),
    ("dates.encounter_on", date(2026, 1, 15)),
    ("dates.delivered_on", GONE),
    ("delivery", {"service_on": date(2026, 6, 30)}),
    ("people.3.credential", "MD"),
    *ordered("K0890", line("E2322"), CONTROLLER, HARNESS),
)
CHILD_EXPECTED = dict.fromkeys(
    ("MCD-1", "MCD-2", "MCD-3", "T-18", "EPS-1", "EPS-3", "PMD-G5", "ACC-5", "ACC-6"), MET
) | dict.fromkeys(("MCD-4", "MCD-5", "MCD-6"), UNKNOWN)

# ---- where this program answers otherwise, and why
# -----------------------------------------------------------------------

_ANY_CONTROL = "asked of every control, latched or not: others must be able to stop the chair whatever drives it"
_SAME_ROW = "one row answers both: which electronics are called for, and by which control"
_NOT_ORDERED = "nothing is ordered that the rule is about; the published answer is that of the full case, kept over"
_NEW_LINE = (
    "the overlay orders hardware, so the rule arises; the published answer is that of the full case, which has none"
)
DIFFERS: dict[tuple[str, str], tuple[str, str]] = {
    **{(one, "ACC-24"): (MET, _ANY_CONTROL) for one in ("S2", "S3", "S12", "S13")},
    **{
        ("S7", rule): (UNKNOWN, "without an entry for the authorization nobody can tell what the request named")
        for rule in ("CON-7", "CON-8")
    },
    ("S7", "ACC-4"): (UNKNOWN, "the overlay takes the reason of a line away, and what it is for cannot be told"),
    ("S2", "CON-1"): (MET, _SAME_ROW),
    ("S3", "CON-2"): (FAIL, _SAME_ROW),
    ("S11", "SEA-1"): (FAIL, "one row answers headrest and cushion on a captain's chair"),
    ("S4", "ACC-14"): (UNKNOWN, "the overlay orders hardware and gives no purpose, and silence is no pass"),
    **{("S4", rule): (MET, _NEW_LINE) for rule in ("ACC-15", "T-16")},
    **{(one, "T-16"): (MET, _NEW_LINE) for one in ("S8", "S8b")},
    **{("S12", rule): (NA, _NOT_ORDERED) for rule in ("ACC-5", "ACC-23", "CON-1", "CON-2")},
    ("S13", "CON-2"): (NA, _NOT_ORDERED),
}


def scenario(changes: tuple[tuple[str, Any], ...]) -> dict[str, Any]:
    """The full case with an overlay."""
    return changed(*FIRST, *changes)
