"""Sixteen invented requests and what the published rules say of each: one full case, overlays, expected answers.

A rule is named by the short id under which it was noted from its text. RULES says which rows of a payer carry it;
NOT_MODELLED says why a rule has none; ELSEWHERE lists rules on codes, which test_codes_scenarios.py asks.
"""

from __future__ import annotations

from datetime import date
from typing import Any

from whole_case import GONE, WHOLE, attempts, changed

MET, FAIL, UNKNOWN, NA = "met", "not_met", "cannot_tell", "does_not_apply"

# rule -> rows of medicare_part_b that carry it; of several the worst answer counts
RULES: dict[str, tuple[str, ...]] = {
    "NCD-0": ("grounds",), "NCD-1": ("need",), "NCD-2": ("limits_screened",), "NCD-3": ("limits_answered",), "NCD-4": ("safe_driver",),
    "NCD-5": ("simpler_mobility",), "NCD-6": ("home",), "NCD-7": ("simpler_mobility",), "NCD-8": ("simpler_mobility",),
    "NCD-9": ("reason_for_each_option",), "NCD-9c": ("caregiver_drives",), "SEL-1": ("elevation_ground",), "SEL-2": ("elevation_ground",),
    "ORD-1": ("order_whole",), "ORD-2": ("order_first",), "ORD-3": ("one_practitioner",), "ORD-4": ("items_on_order",), "ORD-5": ("signer",),
    "ORD-6": ("order_first",),
    "F2F-1": ("encounter", "encounter_held"), "F2F-2": ("encounter_held",), "F2F-3": ("encounter_narrative",), "F2F-4": ("encounter_answers",),
    "F2F-5": ("need_apart",), "F2F-6": ("encounter_signed",),
    "LCMP-1": ("no_tie",), "LCMP-2": ("report_accepted",),
    "DOC-1": ("claims_in_record",), "DOC-2": ("claims_in_record",), "DOC-3": ("encounter_narrative", "history"), "DOC-4": ("history",), "DOC-5": ("gain",),
    "PMD-A": ("need",), "PMD-B": ("simpler_mobility",), "PMD-C": ("simpler_mobility",), "PMD-POV": ("simpler_mobility",), "PMD-JK": ("safe_driver",),
    "PMD-L": ("weight",), "PMD-M": ("home",), "PMD-N": ("gain",), "PMD-O": ("willing",), "PMD-DUR": ("lasting_need",), "PMD-OUT": ("need",),
    "PMD-SPO": ("single_power_base",), "PMD-MPO": ("multiple_power_base",), "PMD-G3": ("group_3",),
    "PMD-G3P": ("group_3", "single_power_base", "multiple_power_base"), "PMD-G5": ("growth",),
    "PMD-SPEC": ("evaluator", "reason_for_each_option"), "PMD-FIN": ("no_tie",), "PMD-ATP": ("specialist", "specialist_record"),
    "PMD-ATPD": ("specialist_later",), "PMD-HOME": ("home_report",), "PMD-SEAT": ("seat_parts",), "PMD-ONE": ("one_chair",), "PMD-CODED": ("base_code",),
    "PA-1": ("authorization",), "PA-2": ("delivery_in_time",),
    "ACC-1": ("items",), "ACC-2": ("standard_joystick",), "ACC-3": ("simpler_controls",), "ACC-12": ("caregiver_drives",), "ACC-23": ("settings",),
    "ACC-24": ("others_stop",), "ACC-26": ("seat_ground",), "ACC-28": ("evaluator", "no_tie", "specialist", "specialist_record"),
    "SUP-1": ("taught",), "SUP-2": ("delivery_proof",), "SUP-3": ("papers_kept",), "SUP-5": ("training",), "SUP-6": ("specialist_own",),
    "CON-3": ("specialist_record",), "CON-4": ("specialist_not_on_paper",), "CON-6": ("authorization_packet",), "CON-7": ("request_items",),
    "CON-8": ("request_base",), "CON-9": ("authorization_replacement",), "HIP-5": ("told_with_consent",),
    "T-1": ("encounter",), "T-2": ("order_first",), "T-3": ("order_first", "items_on_order"), "T-4": ("report_accepted",), "T-5": ("specialist_later",),
    "T-6": ("home_report",), "T-7": ("decision_time",), "T-8": ("delivery_in_time",), "T-10": ("claims_in_record",), "T-13": ("papers_kept",),
    "C-2": ("order_missing",), "C-3": ("replacement_encounter",), "C-6": ("base_on_no_list",),
}
# rule -> rows of medicaid_under_21
YOUNG_RULES: dict[str, tuple[str, ...]] = {
    "MCD-1": ("daily_life",), "MCD-2": ("signer",), "MCD-3": ("encounter",), "MCD-4": ("yearly_review",), "MCD-5": ("unlisted_items",),
    "MCD-6": ("state_rules",), "EPS-1": ("corrects",), "EPS-3": ("growth",), "PMD-G5": ("growth",), "T-18": ("encounter",), "T-19": ("yearly_review",),
    "ACC-5": ("upgrade_base",), "ACC-6": ("electronics",), "C-6": ("base_on_no_list",),
}
ELSEWHERE = {f"ACC-{n}" for n in (5, 6, 7, 8, 9, 10, 11, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22)} | {
    "CON-1", "CON-2", "SEA-1", "SEA-2", "PMD-G4", "T-16", "T-17", "C-1", "C-4", "C-5"}
NOT_MODELLED = {
    "F2F-7": "no row: the question on the encounter does not apply to a control for a chair that is there",
    "DOC-6": "what a document shows is fixed by its front matter, not by the case", "HIP-1": "the same", "HIP-2": "the same", "HIP-3": "the same",
    "HIP-4": "the same", "HIP-6": "the same", "HIP-7": "the key `invented` marks a made-up person; no payer asks for it",
    "PMD-G12": "adds nothing to the weight and the general rows", "PMD-CUST": "no key says why no other base will do",
    "ACC-4": "leisure cannot be told from the words of a line", "ACC-25": "force and range stand in findings as words, not as numbers",
    "ACC-27": "no keys for the angles and sizes of a power seat", "SUP-4": "no key for the day of discharge", "T-14": "the same",
    "CON-5": "no key for an employment that ended", "EPS-2": "a cap is the payer's, and nothing in a case",
    "T-9": "advance determination of customised items is not asked for", "T-11": "asked with the length of need", "T-12": "for rental and repair",
    "T-15": "no key for the day the chair in use was issued", "T-X": "rows that ended, kept in the payer file",
}

# ---- S1: cervical cord injury, proximity head array, tilt and recline run from it -----------------------------------

NOTED = {"on": date(2026, 3, 11), "by": "ot"}


def ruled_out(one: str, kind: str, **keys: Any) -> dict[str, Any]:
    """A device that no limb movement rules out, unless a trial did."""
    return {"id": one, "kind": kind, "name": f"the {one}", "ruled_out_by": "condition", "reason": "No limb moves.", **NOTED} | keys


def line(code: str, **keys: Any) -> dict[str, Any]:
    """A line of the order with its reason."""
    return {"id": code.lower(), "name": code, "code": code, "why": "Needed.", "without": "Stays.", "modifier": "KX",
            "because": ["pressure_risk" if code.startswith("E100") else "head_three_way"]} | keys


def ordered(base: str, *lines: dict[str, Any]) -> tuple[tuple[str, Any], ...]:
    """Changes by which case, order and request for authorization all name this base and these lines."""
    codes = [base, *(one["code"] for one in lines)]
    return (("configuration.chair.base_code", base), ("configuration.items", list(lines)), ("order.codes", codes), ("authorization.codes", codes))


CONTROLLER, HARNESS = line("E2377"), line("E2313")
FIRST: tuple[tuple[str, Any], ...] = (
    ("request", {"requested_on": date(2026, 3, 26), "kind": "new_chair", "months_needed": 99, "keeps_other_chair": False, "chair_now": "None."}),
    ("client", WHOLE["client"] | {"born_on": date(1982, 1, 10), "weight_kg": 78.0, "function": "Nothing below the neck moves."}),
    ("diagnoses", [{"code": "S14.114A", "name": "complete cervical cord injury", "since": "2024", "course": "stable", "group": "neurological"}]),
    ("people.0.statement_on", date(2026, 3, 11)), ("people.1.employment", GONE), ("people.2.informed_on", GONE),
    ("dates", {"encounter_on": date(2026, 3, 4), "evaluated_on": date(2026, 3, 11), "supplier_assessed_on": date(2026, 3, 11),
               "accepted_on": date(2026, 3, 18), "ordered_on": date(2026, 3, 20), "home_visit_on": date(2026, 5, 12),
               "delivered_on": date(2026, 5, 19)}),
    ("limits", [{"kind": kind, "found": False, "says": "None.", **NOTED} for kind in ("cognition", "judgment", "vision", "seizures")]),
    ("alternatives", [ruled_out("cane", "cane_or_walker"), ruled_out("chair", "manual_chair"), ruled_out("scooter", "scooter"),
                      ruled_out("hand", "stick_by_hand"), ruled_out("cup", "stick_by_chin", ruled_out_by="trial", method="chin"),
                      ruled_out("breath", "breath_control", ruled_out_by="trial", method="breath")]),
    ("trial.methods", [{"id": "chin", "name": "joystick at the chin", "standard_stick": True}, {"id": "breath", "name": "breath control"},
                       {"id": "pads", "name": "head pads"}]),
    ("configuration.features", [{"id": "rear_side_pads", "because": ["head_three_way"]}, {"id": "proximity_sensing", "because": ["head_three_way"]}]),
    ("configuration.chair.seat_actuators", 2),
    *ordered("K0861", line("E1007"), line("E2330"), CONTROLLER, HARNESS, line("E2311")),
    ("encounter.sent_on", date(2026, 3, 6)), ("order.received_on", date(2026, 3, 20)), ("order.base_looked_up_on", date(2026, 3, 19)),
    ("authorization", {"requested_on": date(2026, 3, 26), "decided_on": date(2026, 4, 7), "decision": "affirmed", "tracking": "0000",
                       "codes": ["K0861", "E1007", "E2330", "E2377", "E2313", "E2311"]}),
    ("delivery", {"signed_by": "client", "signed_on": date(2026, 5, 19), "lists_items": True, "keep_until": date(2033, 5, 19)}),
)
FIRST_ROWS = attempts("chin", "0010" * 4, days=3) + attempts("breath", "1010" * 4) + attempts("pads", "1" * 40, days=4)

FIRST_EXPECTED: dict[str, str] = dict.fromkeys(RULES, MET) | {"SUP-6": UNKNOWN, "HIP-5": UNKNOWN} | dict.fromkeys(
    ("NCD-3", "NCD-9c", "SEL-1", "SEL-2", "PMD-SPO", "PMD-G5", "ACC-12", "CON-4", "CON-9", "C-2", "C-3", "C-6"), NA)

# ---- overlays: changes of S1, its rows where they differ, and what then differs from S1 -------------------------------

NO_SEAT = (("configuration.chair.seat_actuators", 0),)
NO_TRIAL_OF_CHIN = (
    ("alternatives", [ruled_out("cane", "cane_or_walker"), ruled_out("chair", "manual_chair"), ruled_out("scooter", "scooter"),
                      ruled_out("hand", "stick_by_hand", ruled_out_by="trial", method="hand"), ruled_out("cup", "stick_by_chin")]),
    ("trial.methods", [{"id": "hand", "name": "joystick by hand", "standard_stick": True}, {"id": "pads", "name": "what is asked for"}]))
HAND_FAILS = attempts("hand", "0001" * 4) + attempts("pads", "1" * 40, days=4)
HAND_WORKS = attempts("hand", "1" * 40, days=4)
STANDARD = (("configuration.method", "hand"),)
ONE_SEAT_MOTOR = (("configuration.chair.seat_actuators", 1),)

SCENARIOS: dict[str, dict[str, Any]] = {
    "S1": {"changes": ()},
    "S2 special control as the only power option": {
        "changes": (*NO_TRIAL_OF_CHIN, *NO_SEAT, ("diagnoses.0.group", "myopathy"), *ordered("K0856", line("E2312"), CONTROLLER)),
        "rows": HAND_FAILS, "expected": {"PMD-G3": MET, "PMD-SPO": MET, "PMD-G3P": MET, "ACC-2": MET, "PMD-MPO": NA, "ACC-26": NA}},
    "S3 controller without a trigger": {
        "changes": (*NO_TRIAL_OF_CHIN, *ONE_SEAT_MOTOR, *STANDARD, *ordered("K0856", line("E1002"), line("E2310"), CONTROLLER, HARNESS)),
        "rows": HAND_WORKS,
        "expected": {"PMD-SPO": MET, "ACC-26": MET, "PMD-MPO": NA, "ACC-2": NA, "ACC-3": NA, "ACC-23": NA, "ACC-24": NA}},
    "S4 breath control taken apart": {
        "changes": (("configuration.method", "breath"), ("alternatives.5", GONE), ("trial.methods.2", GONE), *ordered(
            "K0861", line("E1006"), line("E2325"), line("E2326"), CONTROLLER, HARNESS, line("E2311"), line("E1032"), line("K0108"))),
        "rows": attempts("chin", "0010" * 4, days=3) + attempts("breath", "1" * 40, days=4), "expected": {}},
    "S5 late order, other signer": {
        "changes": (("dates.encounter_on", date(2025, 9, 2)), ("encounter.by", "physician"), ("order.signed_by", "doctor"), ("order.completed_by", "doctor"),
                    ("people.3.credential", "PA"), ("people.+", {"id": "physician", "role": "practitioner", "credential": "MD"})),
        "expected": {"F2F-1": FAIL, "T-1": FAIL, "ORD-3": FAIL, "ORD-1": MET, "ORD-2": MET, "ORD-5": MET}},
    "S6 evaluator and specialist": {
        "changes": (("people.0.employed_by_supplier", True), ("people.0.statement_on", GONE), ("people.1.took_part", "video"), ("people.1.own_record", GONE)),
        "expected": {"PMD-FIN": FAIL, "LCMP-1": FAIL, "PMD-ATP": FAIL, "CON-3": FAIL, "CON-6": FAIL, "ACC-28": FAIL, "CON-4": FAIL, "PMD-ATPD": MET}},
    "S7 thin file": {
        "changes": (("alternatives.5", ruled_out("breath", "breath_control")), ("alternatives.4", GONE), ("alternatives.3", GONE), ("trial.methods.0", GONE),
                    ("dates.home_visit_on", GONE), ("spaces", []), ("authorization", {}), ("limits", []), ("configuration.items.1.why", GONE),
                    ("activities.0.with_device", GONE), ("activities.0.minutes_with", GONE), ("activities.1.with_device", GONE),
                    ("activities.1.minutes_with", GONE)),
        "rows": (), "expected": dict.fromkeys(
            ("ACC-2", "ACC-3", "ACC-1", "PMD-HOME", "PMD-M", "NCD-2", "NCD-3", "NCD-4", "NCD-6", "PMD-JK", "PA-1", "PA-2", "T-6", "T-7", "T-8", "DOC-5"),
            UNKNOWN)},
    "S8 swing-away for the table": {
        "changes": (*NO_TRIAL_OF_CHIN, *ONE_SEAT_MOTOR, *ordered("K0856", line("E1002"), line("E2310"), line("E2373"), CONTROLLER, HARNESS, line("E1032"))),
        "rows": HAND_FAILS, "expected": {"PMD-SPO": MET, "ACC-2": MET, "PMD-MPO": NA}},
    "S10 second driver and extras": {
        "changes": ordered("K0861", line("E1007"), line("E2330"), CONTROLLER, HARNESS, line("E2311"), line("E2331"), line("E2351"), line("K0108")),
        "expected": {}},
    "S11 wrong base": {
        "changes": (*NO_TRIAL_OF_CHIN, *NO_SEAT, ("client.weight_kg", 144.2), *ordered("K0823", line("E2321"), CONTROLLER, HARNESS, line("E2603"))),
        "rows": HAND_FAILS,
        "expected": {"PMD-L": FAIL, "PMD-SEAT": FAIL} | dict.fromkeys(("PMD-G3", "PMD-G3P", "PMD-SPO", "PMD-MPO", "ACC-26"), NA)},
    "S12 standard joystick called special": {
        "changes": (*NO_SEAT, ("configuration.method", "chin"), ("alternatives.4.ruled_out_by", "nothing"), ("alternatives.5", GONE),
                    ("trial.methods.2", GONE), ("trial.methods.1", GONE), *ordered("K0857", line("E2374"), line("E2324"))),
        "rows": attempts("chin", "1" * 40, days=4),
        "expected": {"PMD-SPO": FAIL, "PMD-G3P": FAIL, "ACC-2": FAIL} | dict.fromkeys(("PMD-MPO", "ACC-3", "ACC-24", "ACC-26"), NA)},
    "S13 a caregiver drives": {
        "changes": (("configuration.method", GONE), ("limits.0", {"kind": "cognition", "found": True, "says": "Severe.", "answer": "The spouse drives.", **NOTED}),
                    ("attendant", {"drives": True, "by": "aunt", "client_cannot": "Does not start or stop.", "cannot_push": "Shoulder disease.",
                                   "drives_safely": "40 minutes, no contact.", "willing": True}),
                    *ordered("K0861", line("E1007"), line("E2311"), line("E2331"))),
        "expected": dict.fromkeys(("NCD-3", "NCD-4", "NCD-9c", "PMD-JK", "ACC-12"), MET) | dict.fromkeys(("ACC-2", "ACC-3", "ACC-23", "ACC-24"), NA)},
    "S15 late delivery": {
        "changes": (("dates.delivered_on", date(2026, 10, 12)), ("delivery.signed_on", date(2026, 10, 12)), ("delivery.keep_until", date(2033, 10, 12))),
        "expected": {"PA-2": FAIL, "T-8": FAIL, "T-1": MET, "T-2": MET, "T-6": MET}},
    "S16 month end": {
        "changes": (("dates.encounter_on", date(2025, 8, 31)), ("dates.ordered_on", date(2026, 2, 28)), ("order.received_on", date(2026, 2, 28)),
                    ("dates.accepted_on", date(2026, 2, 20)), ("dates.evaluated_on", date(2026, 2, 12)), ("dates.supplier_assessed_on", date(2026, 2, 12))),
        "expected": {"F2F-1": MET, "T-1": MET, "T-4": MET, "T-5": MET}},
}
# S14 quotes what a document shows; see HIP in NOT_MODELLED, and tests/documents/test_audience.py

# ---- S9: a child under Medicaid -----------------------------------------------------------------------------------

CHILD = (
    ("request", {"requested_on": date(2026, 4, 1), "kind": "new_chair", "corrects": "Keeps what moving teaches.", "growth": "Seat grows 50 mm."}),
    ("client.born_on", date(2016, 10, 1)), ("client.weight_kg", 26.3), ("diagnoses.0.code", "G80.3"), ("dates.encounter_on", date(2026, 1, 15)),
    ("dates.delivered_on", GONE), ("delivery", {"service_on": date(2026, 6, 30)}), ("people.3.credential", "MD"),
    *ordered("K0890", line("E2322"), CONTROLLER, HARNESS),
)
CHILD_EXPECTED = dict.fromkeys(("MCD-1", "MCD-2", "MCD-3", "T-18", "EPS-1", "EPS-3", "PMD-G5", "ACC-5", "ACC-6"), MET) | dict.fromkeys(
    ("MCD-4", "MCD-5", "MCD-6"), UNKNOWN)

# ---- where this program answers otherwise, and why -----------------------------------------------------------------------

_OWN_RECORD = "asked of every specialist, and met by one who came in person; the text speaks only of one who signed the therapist's report"
_GONE_TOO = "the overlay takes away what this rule rests on, and silence is no pass"
_ALWAYS = "asked of every request, and met here: recorded settings and ways to stop do no harm where the rule does not call for them"
DIFFERS: dict[tuple[str, str], tuple[str, str]] = {
    ("S3", "ACC-23"): (MET, _ALWAYS), ("S3", "ACC-24"): (MET, _ALWAYS), ("S12", "ACC-24"): (MET, _ALWAYS),
    **{("S7", rule): (UNKNOWN, _GONE_TOO) for rule in ("DOC-1", "DOC-2", "T-10", "PMD-N", "CON-7", "CON-8")},
    ("S13", "ACC-23"): (MET, _ALWAYS), ("S13", "ACC-24"): (MET, _ALWAYS),
    **{(name.split()[0], "CON-4"): (MET, _OWN_RECORD) for name in SCENARIOS if not name.startswith("S6 ")},
}


def scenario(changes: tuple[tuple[str, Any], ...]) -> dict[str, Any]:
    """The full case with an overlay."""
    return changed(*FIRST, *changes)
