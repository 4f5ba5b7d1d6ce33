"""Each criterion: a case that meets it, one that does not, one that cannot tell; and that silence is never a pass."""

from __future__ import annotations

import copy
import tomllib
from datetime import date

import pytest
from support import DEMO_FOLDERS, each_key_gone
from trail_cases import TRAIL

from docgen.case.model import Case
from docgen.case.read import _frozen, read_case
from docgen.criteria.criterion import PARTS, Grounds, criteria
from docgen.evidence.gather import evidence
from docgen.fit.match import fit

SOURCE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")
RAW = tomllib.loads((SOURCE / "case.toml").read_text(encoding="utf-8"))
ROWS = read_case(SOURCE).case.records


def grounds(raw, rows=ROWS) -> Grounds:
    case = Case.model_validate(_frozen(raw)).with_records(rows)
    return Grounds(case, evidence(case), fit(case, lambda *path: "case.toml:1"))


def changed(*changes):
    """The ready demo with these changes: (key path, value); None takes the key away, a function changes it."""
    raw = copy.deepcopy(RAW)
    for path, value in changes:
        node = raw
        for part in path[:-1]:
            node = node[part]
        if value is None:
            del node[path[-1]]
        else:
            node[path[-1]] = value(node[path[-1]]) if callable(value) else value
    return raw


def place(table, key, value):
    """Index of the entry in which key has this value."""
    node = RAW
    for part in table.split("."):
        node = node[part]
    return next(i for i, entry in enumerate(node) if entry[key] == value)


def without(**wanted):
    """A change that drops the entries of a list in which a key has this value."""
    ((key, value),) = wanted.items()
    return lambda entries: [e for e in entries if e.get(key) != value]


def feature(feature_id, because):
    return lambda features: [*features, {"id": feature_id, "because": because}]


def only(code):
    """A change that leaves the lines with this code."""
    return lambda items: [item for item in items if item["code"] == code]


def line(code, **keys):
    """A change that adds a line with this code."""
    return lambda items: [*items, {"id": "more", "name": "one more", "code": code, "why": "Needed.", **keys}]


ALT = "alternatives"
STICK = place(ALT, "id", "hand_stick")
FEATURES, ITEMS, MOUNTS = ("configuration", "features"), ("configuration", "items"), ("configuration", "mounting")
BASE, SEAT_MOTORS = ("configuration", "chair", "base_code"), ("configuration", "chair", "seat_actuators")
HARDWARE = place("configuration.items", "code", "E1028")
EVALUATOR = place("people", "role", "evaluator")
SUPPLIER = place("people", "role", "supplier")
NO_ROWS = "no rows"
PROFILES = ("configuration", "profiles")
LATCHED = [(("configuration", "latched"), True), (("configuration", "latched_now"), "It is off.")]

# criterion -> status -> changes to the ready demo, which itself gives "met" where nothing else is said
CASES = {
    "lesser_mobility_ruled_out": {
        "met": [],
        "cannot_tell": [((ALT,), without(kind="scooter"))],
        "not_met": [((ALT, place(ALT, "kind", "scooter"), "ruled_out_by"), "nothing")],
    },
    "standard_stick_ruled_out": {
        "met": [],
        "cannot_tell": [((ALT,), without(kind="stick_by_chin"))],
        "not_met": [((ALT, STICK, "ruled_out_by"), "nothing")],
    },
    "simpler_controls_compared": {
        "met": [],
        "cannot_tell": [(("configuration", "method"), None)],
        "not_met": [(("configuration", "method"), "force_pads")],
        "does_not_apply": [(("configuration", "method"), "hand_stick")],
    },
    "ruling_has_ground": {
        "met": [],
        "cannot_tell": [((ALT, STICK, "ruled_out_by"), None)],
        "not_met": [(("configuration", "method"), "force_pads")],
    },
    "features_have_findings": {
        "met": [],
        "not_met": [((*FEATURES, 0, "because"), [])],
        "cannot_tell": [(FEATURES, None), (ITEMS, None)],
    },
    "findings_answered": {
        "met": [],
        "cannot_tell": [(("findings",), [])],
        "not_met": [(("findings",), lambda f: [*f, {"id": "vision_low", "says": "Sees little."}])],
    },
    "drives_reliably": {
        "met": [],
        "cannot_tell": [(("configuration", "method"), None)],
        "not_met": [(("configuration", "method"), "hand_stick")],
    },
    "stops_on_request": {
        "met": [],
        "cannot_tell": [(("trial", "tasks", 1, "shows"), "other")],
        "not_met": [(("supervision", 0, "level"), "alone")],
    },
    "lessons_can_begin": {"met": [], "cannot_tell": [(("configuration", "method"), None)]},
    "latch_is_limited": {
        "met": [
            *LATCHED,
            (PROFILES, lambda found: [{**one, "latched": True, "latch_timeout_s": 8.0} for one in found]),
        ],
        "cannot_tell": LATCHED,
        "does_not_apply": [],
    },
    "stops_within_space": {
        "met": [],
        "cannot_tell": [(("configuration", "chair", "deceleration_m_s2"), None)],
        "not_met": [(("configuration", "profiles", 1, "speed_m_s"), 1.2)],
    },
    "limits_screened": {"met": [], "cannot_tell": [(("limits",), without(kind="vision"))]},
    "limits_answered": {
        "met": [],
        "cannot_tell": [(("limits", place("limits", "kind", "judgment"), "answer"), None)],
        "does_not_apply": [(("limits", place("limits", "kind", "judgment"), "found"), False)],
    },
    "no_unanswered_risk": {
        "met": [],
        "cannot_tell": [(FEATURES, [])],
        "not_met": [(FEATURES, feature("force_graded_speed", ["head_three_way"]))],
    },
    "supervision_stated": {"met": [], "cannot_tell": [(("supervision", 0, "by"), None)]},
    "others_can_stop_it": {"met": [], "cannot_tell": [(("configuration", "stop", "power_off"), None)]},
    "fits_the_home": {
        "met": [],
        "cannot_tell": [(("dates", "home_visit_on"), None)],
        "not_met": [(("spaces", 0, "clear_width_mm"), 620)],
    },
    "need_at_home": {"met": [], "cannot_tell": [(("activities",), lambda a: [x for x in a if not x["at_home"]])]},
    "independence_gained": {
        "met": [],
        "cannot_tell": [(("activities",), [])],
        "not_met": [
            (
                ("activities",),
                lambda a: [{**x, "with_device": x["before"], "minutes_with": x["minutes_before"]} for x in a],
            )
        ],
    },
    "client_willing": {
        "met": [],
        "cannot_tell": [(("client", "willing"), None)],
        "not_met": [(("client", "wants_it"), False)],
    },
    "training_planned": {"met": [], "cannot_tell": [(("training", "coach"), None)]},
    "follow_up_planned": {
        "met": [],
        "cannot_tell": [(("follow_up",), [])],
        "not_met": [(("follow_up",), lambda f: [x for x in f if x["after_weeks"] > 6])],
    },
    "caregivers_taught": {"met": [], "cannot_tell": [(("taught",), [])]},
    "goals_set": {"met": [], "cannot_tell": [(("goals", 0, "levels"), [])]},
    "evaluator_named": {"met": [], "cannot_tell": [(("people", EVALUATOR, "license"), None)]},
    "evaluator_independent": {
        "met": [],
        "cannot_tell": [(("people", EVALUATOR, "statement_on"), None)],
        "not_met": [(("people", EVALUATOR, "employed_by_supplier"), True)],
    },
    "supplier_saw_client": {
        "met": [],
        "cannot_tell": [(("people", SUPPLIER, "credential"), None)],
        "not_met": [(("dates", "supplier_assessed_on"), date(2026, 2, 1))],
    },
    "encounter_before_order": {
        "met": [],
        "cannot_tell": [(("dates", "encounter_on"), None)],
        "not_met": [(("dates", "encounter_on"), date(2025, 10, 1))],
    },
    "days_in_order": {
        "met": [],
        "cannot_tell": [(("dates", "written_on"), None)],
        "not_met": [(("dates", "evaluated_on"), date(2025, 4, 2))],
    },
    "evaluation_before_order": {
        "met": [],
        "cannot_tell": [(("dates", "accepted_on"), None)],
        "not_met": [(("dates", "accepted_on"), date(2026, 4, 20))],
    },
    "items_described": {"met": [], "cannot_tell": [((*ITEMS, 0, "why"), None)]},
    "mounting_recorded": {"met": [], "cannot_tell": [((*MOUNTS, 0, "mark"), None)]},
    "settings_recorded": {"met": [], "cannot_tell": [(("configuration", "profiles", 0, "turn_deg_s"), None)]},
    "control_and_electronics_match": {
        "met": [],
        "cannot_tell": [(("request", "kind"), None)],
        "not_met": [(ITEMS, without(code="E2313"))],
        "does_not_apply": [(ITEMS, lambda items: [i for i in items if i["code"] == "E1028"])],
    },
    "electronics_have_a_trigger": {
        "met": [],
        "cannot_tell": [(ITEMS, without(code="E2330")), (SEAT_MOTORS, None)],
        "not_met": [(ITEMS, without(code="E2330"))],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    "base_takes_the_controller": {
        "met": [],
        "cannot_tell": [(BASE, None)],
        "not_met": [(BASE, "K0823")],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    "connection_code_fits_motors": {
        "met": [(ITEMS, line("E2310")), (SEAT_MOTORS, 1)],
        "cannot_tell": [(ITEMS, line("E2310")), (SEAT_MOTORS, None)],
        "not_met": [(ITEMS, line("E2311")), (SEAT_MOTORS, 1)],
        "does_not_apply": [],
    },
    "nothing_listed_twice": {
        "met": [],
        "cannot_tell": [((*ITEMS, 1, "code"), None)],
        "not_met": [(ITEMS, line("K0108", features=["stop_switch"]))],
    },
    "parts_have_their_control": {
        "met": [],
        "cannot_tell": [(ITEMS, line("E2326")), (("request", "kind"), None)],
        "not_met": [(ITEMS, line("E2326"))],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    "hardware_serves_transfer": {
        "met": [],
        "cannot_tell": [((*ITEMS, HARDWARE, "purpose"), None)],
        "not_met": [((*ITEMS, HARDWARE, "purpose"), "roll under the kitchen table")],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    "hardware_code_fits_day": {
        "met": [],
        "cannot_tell": [((*ITEMS, HARDWARE, "supports"), None)],
        "not_met": [((*ITEMS, HARDWARE, "supports"), "headrest")],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    "own_code_needed": {
        "met": [],
        "cannot_tell": [(ITEMS, line("K0108"))],
        "not_met": [((*ITEMS, 0, "code"), "K0108")],
    },
    "codes_payable": {
        "met": [],
        "cannot_tell": [(("request", "requested_on"), None), (("dates", "ordered_on"), None)],
        "not_met": [(ITEMS, line("E2300"))],
    },
    "codes_known": {"met": [], "cannot_tell": [(ITEMS, line("E0117"))]},
    "second_control_left_out": {
        "met": [],
        "cannot_tell": [(ITEMS, [])],
        "not_met": [(ITEMS, line("E2331"))],
        "does_not_apply": [(ITEMS, lambda items: line("E2331")([])), (("configuration", "method"), None)],
    },
    "other_devices_left_out": {
        "met": [],
        "cannot_tell": [(ITEMS, line("E2351")), (("findings",), without(id="aac_user"))],
        "not_met": [(ITEMS, line("K0108", purpose="run lamps and TV"))],
    },
    "control_code_fits_control": {
        "met": [],
        "cannot_tell": [(FEATURES, without(id="proximity_sensing")), ((*ITEMS, 0, "features"), [])],
        "not_met": [((*ITEMS, 0, "code"), "E2329")],
        "does_not_apply": [(ITEMS, only("E1028"))],
    },
    "unclear_lines_settled": {
        "met": [],
        "cannot_tell": [((*ITEMS, HARDWARE, "payer_says"), None)],
        "does_not_apply": [(ITEMS, without(code="E1028"))],
    },
    "power_option_has_ground": {
        "met": [],
        "cannot_tell": [(BASE, None)],
        "not_met": [(ITEMS, only("E1028"))],
        "does_not_apply": [(BASE, "K0848")],
    },
    "seat_parts_fit_base": {
        "met": [],
        "cannot_tell": [(ITEMS, line("E0955"))],
        "not_met": [(ITEMS, line("E2603")), (BASE, "K0857"), (("configuration", "chair", "seat_type"), None)],
    },
    "diagnosis_codes_valid": {
        "met": [],
        "cannot_tell": [(("diagnoses", 0, "code"), None)],
        "not_met": [(("diagnoses", 0, "code"), "G35")],
    },
    "modifiers_fit": {
        "met": [(ITEMS, lambda items: [{**i, "modifier": "KX"} for i in items])],
        "cannot_tell": [((*ITEMS, 0, "modifier"), "KX")],
        "not_met": [((*ITEMS, 0, "modifier"), "KC")],
        "does_not_apply": [],
    },
}
# A claim of the form "this is recorded" is met or cannot be told: nothing recorded can contradict it.
ONLY_RECORDED = {
    "limits_screened",
    "limits_answered",
    "supervision_stated",
    "others_can_stop_it",
    "need_at_home",
    "training_planned",
    "caregivers_taught",
    "goals_set",
    "evaluator_named",
    "items_described",
    "mounting_recorded",
    "settings_recorded",
    "codes_known",
    "unclear_lines_settled",
    "lessons_can_begin",
    "latch_is_limited",
}


@pytest.mark.parametrize("criterion_id, status", [(c, s) for c, statuses in CASES.items() for s in statuses])
def test_a_criterion_gives_the_expected_answer(criterion_id, status):
    criterion = criteria()[criterion_id]
    answer = criterion.ask(grounds(changed(*CASES[criterion_id][status])), **criterion.settings)
    assert answer.status == status, answer.reason
    assert answer.reason.endswith(".") and "None" not in answer.reason
    assert bool(answer.mend) == (status in ("not_met", "cannot_tell"))
    assert answer.where


def test_every_criterion_has_its_cases():
    """Here, or for the paper trail and the rules of single payers in trail_cases."""
    assert set(CASES) | set(TRAIL) == set(criteria()) and not set(CASES) & set(TRAIL)
    for name, statuses in CASES.items():
        assert {"met", "cannot_tell"} <= set(statuses)
        assert ("not_met" in statuses) != (name in ONLY_RECORDED)


@pytest.mark.parametrize("criterion_id", list(criteria()))
def test_silence_is_never_a_pass(criterion_id):
    criterion = criteria()[criterion_id]
    answer = criterion.ask(grounds({"format": "docgen case 1", "id": "empty"}, ()), **criterion.settings)
    assert answer.status == "cannot_tell" and answer.mend


@pytest.mark.parametrize("criterion_id", list(criteria()))
def test_a_criterion_says_what_it_asks_why_what_settles_it_and_its_source(criterion_id):
    criterion = criteria()[criterion_id]
    assert set(criterion.text) == set(PARTS) and all(criterion.text.values())
    assert criterion.claim and not criterion.claim.endswith(".")


def test_taking_any_one_key_away_turns_no_answer_into_met():
    """The ready demo with each key gone in turn: what could not be told, or was not met, does not become met."""

    def statuses(raw):
        here = grounds(raw)
        return {c.id: c.ask(here, **c.settings).status for c in criteria().values()}

    weak = changed((("limits", 2, "answer"), None), (("people", EVALUATOR, "license"), None), (("goals",), []))
    before = statuses(weak)
    for path, gone in each_key_gone(weak):
        try:
            after = statuses(gone)
        except ValueError:
            continue  # a key its table cannot do without
        risen = {c for c in before if before[c] != "met" and after[c] == "met"}
        assert not risen, (path, risen)
