"""Orders written out as published rules see them: which lines pass, which fail, which cannot be told.

Every order and every fact about a person is invented. The verdicts follow from the texts named beside each rule.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from gathered import of_each
from whole_case import WHOLE, ask, changed, grounds

# rule -> the criterion that asks it, with its settings
A52504 = "article A52504, export of 2026-09-12"
CLARIFICATION = "Power Wheelchair Electronics Clarification of one contractor, with its reprints of 2010 and 2011"
RULES: dict[str, tuple[str, dict[str, Any]]] = {
    "special control with E2377 and E2313": ("control_and_electronics_match", {}),  # A52504, definitions
    "E2377 and E2313 only with a special control or three seat motors": (
        "electronics_have_a_trigger",
        {},
    ),  # CLARIFICATION
    "E2377 on a base that takes it": ("base_takes_the_controller", {}),  # A52504
    "one connection by the number of motors": ("connection_code_fits_motors", {}),  # A52504, CLARIFICATION
    "standing": ("codes_payable", {"reasons": ["excluded"]}),  # A52504
    "no second control": ("second_control_left_out", {}),  # A52504
    "included parts": ("nothing_listed_twice", {}),  # A52504
    "tube kit and chin cup with their control": ("parts_have_their_control", {}),  # A52504
    "hardware for a transfer": ("hardware_serves_transfer", {}),  # A52504, L33792
    "hardware code by day": ("hardware_code_fits_day", {}),  # joint contractor notice of 2025-03-13
    "K0108 only where no code fits": ("own_code_needed", {}),  # A52504, A55426
    "repair codes": ("codes_payable", {"reasons": ["for_repair"]}),  # A52504
    "KC": ("modifiers_fit", {}),  # contractor page on KC
    "a modifier on each line": ("modifiers_fit", {"on_each_line": True}),  # A52504
    "speech device and appliances": ("other_devices_left_out", {}),  # L33792, A52504
    "base with one power option": ("power_option_has_ground", {"options": ["single"]}),  # L33789, II
    "base with several power options": ("power_option_has_ground", {"options": ["multiple"]}),  # L33789, III
    "base of group 4": ("codes_payable", {"reasons": ["beyond_home"]}),  # L33789, VI
    "parts on a captain's chair": ("seat_parts_fit_base", {}),  # L33789 misc., L33312
    "codes in force": ("codes_payable", {"reasons": ["not_in_force", "never_listed"]}),  # A52504
    "head control hardware": (
        "unclear_lines_settled",
        {"points": ["head_hardware"]},
    ),  # A52504 against the text of E1032
    "attendant control": ("unclear_lines_settled", {"points": ["attendant"]}),  # A52504 against L33792
    "motors counted": ("unclear_lines_settled", {"points": ["motor_count"]}),  # A52504 against CLARIFICATION
    "code of the control": ("control_code_fits_control", {}),  # A52504, texts of the codes
}
ELECTRONICS = ("E2377", "E2313")
FINDINGS = [{"id": "head_three_way", "says": "The head moves three ways."}]
SEAT = {"id": "seat_functions_by_drive_input", "because": ["head_three_way"]}


def order(base: str, codes: tuple[Any, ...], senses: str | None = None, motors: int = 0, **more: Any) -> dict[str, Any]:
    """A case with this base, these lines (a code, or a code with what else the line holds) and this way of sensing."""
    lines = [{"code": code} if isinstance(code, str) else {"code": code[0]} | code[1] for code in codes]
    items = [
        {"id": f"line{n}", "name": f"line {n}", "why": "Needed.", "modifier": "KX"} | line
        for n, line in enumerate(lines)
    ]
    features = [{"id": senses, "because": ["head_three_way"]}] if senses else []
    if any(line["code"] in ("E2310", "E2311") for line in lines):
        features.append(SEAT)
    for line in items:
        features += [{"id": one, "because": []} for one in line.get("features", ()) if one != senses]
    chair = {"base_code": base, "seat_actuators": motors}
    configuration = {"method": "pads", "chair": chair, "items": items, "features": features}
    dates = {**WHOLE["dates"], "delivered_on": date(2026, 5, 19)}
    return {**WHOLE, "findings": FINDINGS, "configuration": configuration, "dates": dates} | more


# spinal cord injury, proximity head array, tilt and recline run from it
CLEAN = ("E1007", "E2330", *ELECTRONICS, "E2311")
ORDERS = {
    "clean": order("K0861", CLEAN, "proximity_sensing", 2),
    "mini joystick without harness": order("K0856", ("E2312", "E2377"), "mini_joystick"),
    "controller without a trigger": order("K0856", ("E1002", "E2310", *ELECTRONICS), motors=1),
    "sip-and-puff taken apart": order(
        "K0861",
        (
            "E1006",
            "E2325",
            "E2326",
            *ELECTRONICS,
            "E2311",
            ("E1032", {"name": "arm of the mouthpiece", "supports": "interface"}),
            ("K0108", {"name": "emergency stop switch"}),
        ),
        "pneumatic_four_command",
        2,
    ),
    "swing-away for the table": order(
        "K0856",
        (
            "E1002",
            "E2310",
            "E2373",
            *ELECTRONICS,
            ("E1032", {"supports": "interface", "serves": "surface", "purpose": "roll under kitchen table"}),
        ),
        "compact_joystick",
        1,
    ),
    "swing-away for a transfer": order(
        "K0856",
        (
            "E1002",
            "E2310",
            "E2373",
            *ELECTRONICS,
            (
                "E1032",
                {
                    "supports": "interface",
                    "serves": "transfer",
                    "purpose": "clear the path for a slide transfer to bed",
                },
            ),
        ),
        "compact_joystick",
        1,
    ),
    "second driver and extras": order(
        "K0861", (*CLEAN, "E2331", "E2351", ("K0108", {"purpose": "run lamps and TV"})), "proximity_sensing", 2
    ),
    "wrong base": order("K0823", ("E2321", *ELECTRONICS, "E2603"), "nonproportional_control"),
    "standard joystick at the chin": order("K0857", ("E2374", "E2324")),
}
PASS, FAIL, UNKNOWN, NOT_ASKED = "met", "not_met", "cannot_tell", "does_not_apply"

# a claim that something is not ordered is met where nothing of the kind is ordered
VERDICTS = {
    "clean": {
        PASS: [
            "special control with E2377 and E2313",
            "E2377 and E2313 only with a special control or three seat motors",
            "E2377 on a base that takes it",
            "one connection by the number of motors",
            "included parts",
            "repair codes",
            "a modifier on each line",
            "base with several power options",
            "base of group 4",
            "parts on a captain's chair",
            "codes in force",
            "code of the control",
            "standing",
            "no second control",
            "K0108 only where no code fits",
            "speech device and appliances",
            "tube kit and chin cup with their control",
        ],
        NOT_ASKED: [
            "hardware for a transfer",
            "hardware code by day",
            "base with one power option",
            "head control hardware",
            "attendant control",
            "motors counted",
        ],
    },
    "mini joystick without harness": {
        PASS: [
            "E2377 on a base that takes it",
            "E2377 and E2313 only with a special control or three seat motors",
            "base with one power option",
            "code of the control",
        ],
        FAIL: ["special control with E2377 and E2313"],
        NOT_ASKED: ["base with several power options", "one connection by the number of motors"],
    },
    "controller without a trigger": {
        PASS: ["base with one power option", "one connection by the number of motors", "E2377 on a base that takes it"],
        FAIL: ["E2377 and E2313 only with a special control or three seat motors"],
        UNKNOWN: ["motors counted"],
        NOT_ASKED: ["base with several power options", "special control with E2377 and E2313", "code of the control"],
    },
    "sip-and-puff taken apart": {
        PASS: [
            "special control with E2377 and E2313",
            "E2377 and E2313 only with a special control or three seat motors",
            "one connection by the number of motors",
            "tube kit and chin cup with their control",
            "code of the control",
        ],
        FAIL: ["included parts", "K0108 only where no code fits"],
    },
    "swing-away for the table": {
        PASS: [
            "base with one power option",
            "special control with E2377 and E2313",
            "one connection by the number of motors",
            "E2377 and E2313 only with a special control or three seat motors",
            "hardware code by day",
            "included parts",
        ],
        FAIL: ["hardware for a transfer"],
        NOT_ASKED: ["base with several power options", "head control hardware"],
    },
    "swing-away for a transfer": {PASS: ["hardware for a transfer", "hardware code by day"]},
    "second driver and extras": {
        PASS: [
            "special control with E2377 and E2313",
            "E2377 and E2313 only with a special control or three seat motors",
        ],
        FAIL: ["no second control", "speech device and appliances", "K0108 only where no code fits"],
        UNKNOWN: ["attendant control"],
    },
    "wrong base": {
        FAIL: ["E2377 on a base that takes it", "parts on a captain's chair"],
        NOT_ASKED: [
            "base with one power option",
            "base with several power options",
            "one connection by the number of motors",
        ],
    },
    "standard joystick at the chin": {
        PASS: ["tube kit and chin cup with their control"],
        FAIL: ["base with one power option", "repair codes"],
        NOT_ASKED: [
            "base with several power options",
            "special control with E2377 and E2313",
            "one connection by the number of motors",
            "E2377 and E2313 only with a special control or three seat motors",
        ],
    },
}


@of_each(
    ("name", "status", "rule"),
    [
        (name, status, rule)
        for name, verdicts in VERDICTS.items()
        for status, rules in verdicts.items()
        for rule in rules
    ],
)
def test_an_order_gets_the_verdict_that_the_published_rule_gives(name, status, rule):
    criterion, settings = RULES[rule]
    answer = ask(criterion, grounds(ORDERS[name]), **settings)
    assert answer.status == status, answer.reason


def test_every_rule_is_tried_by_an_order():
    tried = {rule for verdicts in VERDICTS.values() for rules in verdicts.values() for rule in rules}
    assert tried | {"KC"} == set(RULES)
    assert ask("modifiers_fit", grounds(changed(("configuration.items.0.modifier", "KC")))).status == FAIL


def test_the_sip_and_puff_order_names_both_lines_that_are_included():
    answer = ask("nothing_listed_twice", grounds(ORDERS["sip-and-puff taken apart"]))
    assert {path[2] for path in answer.where} == {1, 6, 7}  # the control, its hardware, the stop switch
    assert "E1032" in answer.to_settle and "K0108" in answer.to_settle


def test_a_link_without_a_speech_device_cannot_be_told_and_with_one_is_met():
    raw = order("K0861", (*CLEAN, "E2351"), "proximity_sensing", 2)
    assert ask("other_devices_left_out", grounds(raw)).status == UNKNOWN
    raw["findings"] = [*FINDINGS, {"id": "aac_user", "says": "Speaks with a device."}]
    assert ask("other_devices_left_out", grounds(raw)).status == PASS


# ---- the published electronics examples ----------------------------------------------------------------


@of_each(
    ("motors", "codes", "trigger", "connection"),
    [
        # electronics clarification of one contractor: one power option E2310, two E2311, neither with E2377 or E2313;
        # three or more are E2311 with E2377 and E2313
        (1, ("E2310",), NOT_ASKED, PASS),  # clarification, and A52504: one power option: E2310 alone
        (1, ("E2310", *ELECTRONICS), FAIL, PASS),  # clarification, and A52504: one power option: no E2377, no E2313
        (1, ("E2311",), NOT_ASKED, FAIL),  # clarification, and A52504: E2311 is for two or more
        (2, ("E2311",), NOT_ASKED, PASS),  # clarification, and A52504: two power options: E2311 alone
        (2, ("E2311", *ELECTRONICS), FAIL, PASS),  # clarification, and A52504: two power options: no E2377, no E2313
        (2, ("E2310",), NOT_ASKED, FAIL),  # clarification, and A52504: E2310 is for one
        (2, ("E2310", "E2311"), NOT_ASKED, FAIL),  # clarification, and A52504: never both
        (2, (("E2310", {"quantity": 2}),), NOT_ASKED, FAIL),  # clarification, and A52504: never two
        (
            3,
            ("E2311", *ELECTRONICS),
            PASS,
            PASS,
        ),  # clarification, and A52504: three power options: E2311, E2377 and E2313
        (3, ("E2311",), FAIL, PASS),  # clarification, and A52504: three power options need E2377 and E2313
        (4, ("E2311", *ELECTRONICS), PASS, PASS),  # clarification, and A52504: three or more
    ],
)
def test_one_two_and_three_power_options_have_the_published_codes(motors, codes, trigger, connection):
    here = grounds(order("K0861", codes, motors=motors))
    assert ask("electronics_have_a_trigger", here).status == trigger
    assert ask("connection_code_fits_motors", here).status == connection


@pytest.mark.parametrize("control", ["E2325", "E2327", "E2328", "E2329", "E2330", "E2312", "E2321", "E2373", "E2322"])
def test_a_special_control_calls_for_the_electronics_whatever_the_seat(control):
    # electronics clarification, list of controls read in the reprints of 2010 and 2011
    whole = grounds(order("K0856", (control, *ELECTRONICS)))
    assert ask("electronics_have_a_trigger", whole).status == PASS
    assert ask("control_and_electronics_match", whole).status == PASS
    for missing in ELECTRONICS:
        bare = grounds(order("K0856", (control, *(code for code in ELECTRONICS if code != missing))))
        assert ask("control_and_electronics_match", bare).status == FAIL


@of_each(
    ("control", "senses", "status"),
    [
        # texts of the codes; which feature is which code is our reading
        ("E2330", "proximity_sensing", PASS),
        ("E2330", "contact_switch_sensing", FAIL),
        ("E2329", "contact_switch_sensing", PASS),
        ("E2329", "proximity_sensing", FAIL),
        ("E2329", "switch_type_by_site", PASS),
        ("E2330", "switch_type_by_site", PASS),
        ("E2325", "pneumatic_four_command", PASS),
        ("E2312", "mini_joystick", PASS),
        ("E2373", "mini_joystick", FAIL),
        ("E2373", "compact_joystick", PASS),
        ("E2312", "compact_joystick", FAIL),
        ("E2330", "force_graded_speed", FAIL),
        ("E2328", "force_graded_speed", PASS),
        ("E2327", "head_angle_proportional", PASS),
        ("E2322", "optical_beam_sensing", FAIL),
        ("E2321", "nonproportional_control", PASS),
        ("E2312", "nonproportional_control", FAIL),
        ("E2321", "compact_joystick", FAIL),
        ("E2330", "proportional_control", FAIL),
        ("E2330", None, UNKNOWN),
        ("E2322", "finger_switch_array", UNKNOWN),
        ("E2322", "contact_switch_sensing", PASS),
        ("E2330", "head_array", UNKNOWN),
    ],
)
def test_the_code_of_a_control_fits_how_it_senses(control, senses, status):
    answer = ask("control_code_fits_control", grounds(order("K0856", (control, *ELECTRONICS), senses)))
    assert answer.status == status, answer.reason


# ---- days ----------------------------------------------------------------------------------------------


@of_each(
    ("code", "on", "status"),
    [
        ("E2300", date(2024, 3, 31), PASS),
        ("E2300", date(2024, 4, 1), FAIL),  # article A52504: E2298 from 2024-04-01
        ("E2298", date(2024, 3, 31), FAIL),
        ("E2298", date(2024, 4, 1), PASS),
        ("E1033", date(2025, 3, 31), FAIL),
        ("E1033", date(2025, 4, 1), PASS),  # joint contractor notice of 2025-03-13
        ("E2399", date(2017, 6, 1), FAIL),
        ("E2399", date(2026, 5, 4), FAIL),  # in no code list of 2017, 2018, 2019, 2025
    ],
)
def test_a_code_is_judged_by_the_day_that_counts(code, on, status):
    raw = order("K0861", (code,))
    raw["dates"] = {**raw["dates"], "delivered_on": on}
    assert ask("codes_payable", grounds(raw)).status == status


@of_each(
    ("code", "supports", "on", "status"),
    [
        # joint contractor notice of 2025-03-13: by the date of service, and by the part that is held
        ("E1028", "interface", date(2025, 3, 31), PASS),
        ("E1028", "interface", date(2025, 4, 1), FAIL),
        ("E1032", "interface", date(2025, 3, 31), FAIL),
        ("E1032", "interface", date(2025, 4, 1), PASS),
        ("E1028", "headrest", date(2025, 4, 1), FAIL),
        ("E1033", "headrest", date(2025, 4, 1), PASS),
        ("E1028", "trunk", date(2025, 4, 1), FAIL),
        ("E1034", "trunk", date(2025, 4, 1), PASS),
        ("E1028", "other", date(2025, 4, 1), PASS),
        ("E1032", "other", date(2025, 4, 1), FAIL),
        ("E1028", None, date(2025, 3, 31), PASS),
        ("E1028", None, date(2025, 4, 1), UNKNOWN),
        ("E1032", None, date(2025, 4, 1), UNKNOWN),
    ],
)
def test_hardware_has_the_code_of_its_part_on_that_day(code, supports, on, status):
    line = (code, {"supports": supports} if supports else {})
    raw = order("K0856", ("E2373", *ELECTRONICS, line), "compact_joystick")
    raw["dates"] = {**raw["dates"], "delivered_on": on}
    assert ask("hardware_code_fits_day", grounds(raw)).status == status


@pytest.mark.parametrize("code", ["E1028", "E1032"])
def test_hardware_of_a_head_control_is_let_pass_by_day_and_stays_a_question_for_the_payer(code):
    # the text of E1032 against article A52504, which keeps E2327 to E2330 under E1028
    raw = order(
        "K0861",
        (*CLEAN, (code, {"supports": "interface", "serves": "transfer", "purpose": "a sling transfer"})),
        "proximity_sensing",
        2,
    )
    assert ask("hardware_code_fits_day", grounds(raw)).status == PASS
    open_ = ask("unclear_lines_settled", grounds(raw), points=["head_hardware"])
    assert open_.status == UNKNOWN and "E1032" in open_.reason and "A52504" in open_.reason
    raw["configuration"]["items"][-1]["payer_says"] = "2026-05-04, by phone: this code."
    assert ask("unclear_lines_settled", grounds(raw), points=["head_hardware"]).status == PASS


# ---- what is near to a rule and not it -----------------------------------------------------------------

BEAMS = ("K0108", {"features": ["optical_beam_sensing"]})
NO_KIND = {"request": {"requested_on": date(2026, 5, 4)}}


@of_each(
    ("rule", "raw", "status"),
    [
        (
            "E2377 and E2313 only with a special control or three seat motors",
            order("K0856", (("E2377", {"features": ["proximity_sensing"]}),), "proximity_sensing"),
            FAIL,
        ),
        ("base with one power option", order("K0856", (BEAMS, *ELECTRONICS), "optical_beam_sensing"), PASS),
        ("base with one power option", order("K0856", ("E1010",)), FAIL),
        ("K0108 only where no code fits", order("K0856", (BEAMS,), "optical_beam_sensing"), PASS),
        (
            "K0108 only where no code fits",
            order("K0856", (("K0108", {"features": ["compact_joystick"]}),), "compact_joystick"),
            FAIL,
        ),
        ("repair codes", order("K0856", ("E2330",), **NO_KIND), PASS),
        ("repair codes", order("K0856", ("E2374",), **NO_KIND), UNKNOWN),
        (
            "repair codes",
            order("K0856", ("E2374",), request={"kind": "replacement", "requested_on": date(2026, 5, 4)}),
            PASS,
        ),
        ("motors counted", order("K0861", ("E1008", "E2311", *ELECTRONICS), motors=3), NOT_ASKED),
        ("motors counted", order("K0861", ("E1007", "E1012", "E2311", *ELECTRONICS), motors=3), UNKNOWN),
        ("included parts", order("K0856", ("E2373", "E1028")), PASS),
        ("included parts", order("K0856", ("E2325", ("E1028", {"supports": "other"}))), PASS),
        ("included parts", order("K0856", ("E2312", ("K0108", {"name": "stop switch"}))), PASS),
        ("included parts", order("K0856", ("E2330", ("K0108", {"name": "tray"}))), PASS),
        ("no second control", order("K0856", ("E2331",)), FAIL),
        # LCD L33312: a headrest with tilt or recline, or with a posture that calls for it
        ("parts on a captain's chair", order("K0856", (("E0955", {"because": ["head_three_way"]}),)), PASS),
        ("parts on a captain's chair", order("K0856", ("E0955", "E1002")), PASS),
        ("parts on a captain's chair", order("K0856", ("E0955",)), UNKNOWN),
        ("parts on a captain's chair", order("K0856", ("E2603",)), PASS),
        ("speech device and appliances", order("K0856", (("K0108", {"name": "light touch pad"}),)), PASS),
    ],
)
def test_what_is_near_to_a_rule_gets_its_own_verdict(rule, raw, status):
    criterion, settings = RULES[rule]
    answer = ask(criterion, grounds(raw), **settings)
    assert answer.status == status, answer.reason


def test_an_attendant_control_beside_a_control_is_second_even_where_no_method_is_named():
    raw = order("K0861", (*CLEAN, "E2331"), "proximity_sensing", 2)
    del raw["configuration"]["method"]
    assert ask("second_control_left_out", grounds(raw)).status == FAIL


@pytest.mark.parametrize(
    ("seating", "refused"),
    [
        (
            ("E2301",),
            {"E2301", "E2310"},
        ),  # article A52504: a connection for standing alone, and standing itself, are not covered
        (("E2301", "E1002"), {"E2301"}),  # the connection runs the tilt too
        (("E1002",), set()),
    ],
)
def test_a_connection_is_refused_where_it_runs_power_standing_alone(seating, refused):
    raw = order("K0856", (*seating, "E2310"), motors=len(seating))
    answer = ask("codes_payable", grounds(raw), reasons=["excluded"])
    assert answer.status == (FAIL if refused else PASS)
    assert {raw["configuration"]["items"][path[2]]["code"] for path in answer.where if len(path) == 4} == refused
