"""One small case changed in one way at a time: criterion -> the records that do not meet it, leave it open or do not raise it."""

from __future__ import annotations

from datetime import date

from whole_case import GONE, ROWS, WHOLE, attempts

GOOD = attempts("pads", "1" * 24)
STICK = ROWS[:16]
AS_GOOD = attempts("stick", "1" * 16) + GOOD
ONE_STOP_MISSED = STICK + attempts("pads", "1" * 21 + "011")
NO_STOP = STICK + [row | {"success": row["task"] != "stop"} for row in GOOD]
ALONE = ("supervision.0.level", "alone")
OTHER_STICK = {"id": "moved", "name": "joystick in the midline", "standard_stick": True}
RAMP = {"id": "yard", "name": "yard", "kind": "ramp", "slope_percent": 8, "clear_ahead_mm": 100, "profile": "indoor"}
FAST = {"id": "street", "name": "street", "speed_m_s": 1.5, "turn_deg_s": 15, "used": "street", "why": "far"}
GATE = {"id": "gate", "name": "gate", "kind": "doorway", "at_home": False, "clear_width_mm": 500}
CHIN_TRIED = WHOLE["alternatives"][4] | {"ruled_out_by": "trial", "method": "pads"}
NECK = ("findings.+", {"id": "neck_restricted", "says": "No turning past 20 degrees."})
LINE = {"id": "more", "name": "one more", "code": "E0117", "why": "Needed.", "modifier": "KX"}
NO_PROFILE = [("configuration.profiles", []), ("spaces.0.profile", GONE), ("spaces.1.profile", GONE)]

# criterion -> what the record then holds, the changes, and the rows where they are not those of the whole case
NOT_MET = {
    "days_in_order": [
        ("born after the trial", [("client.born_on", date(2026, 9, 2))]),
        ("a report older than the rows it rests on", [("dates.evaluated_on", date(2025, 4, 2))]),
        ("a finding later than the report", [("findings.0.on", date(2026, 4, 3))]),
        ("documents older than the report", [("dates.written_on", date(2026, 4, 1))]),
    ],
    "lesser_mobility_ruled_out": [
        ("a scooter that is not ruled out", [("alternatives.2.ruled_out_by", "nothing")]),
        (
            "of two manual chairs the first not ruled out",
            [
                ("alternatives.1.ruled_out_by", "nothing"),
                ("alternatives.+", WHOLE["alternatives"][1] | {"id": "light"}),
            ],
        ),
    ],
    "standard_stick_ruled_out": [
        ("a joystick that did as well", [], AS_GOOD),
        (
            "a joystick in a better place than the one pointed to",
            [("trial.methods.+", OTHER_STICK)],
            STICK + GOOD + attempts("moved", "1" * 10 + "01"),
        ),
        ("a joystick tried but not marked as one", [("trial.methods.0.standard_stick", False)], AS_GOOD),
        ("a joystick as what is asked for", [("trial.methods.1.standard_stick", True)]),
        ("what is asked for as the joystick at the chin", [("alternatives.4", CHIN_TRIED)]),
        ("a joystick that is not ruled out", [("alternatives.4.ruled_out_by", "nothing")]),
    ],
    "simpler_controls_compared": [
        ("a simpler control that cannot be told apart", [], attempts("stick", "1" * 15 + "0") + GOOD),
        ("a simpler control that is better", [], attempts("stick", "1" * 16) + attempts("pads", "01" * 12)),
    ],
    "ruling_has_ground": [("a ruling by a trial that does not bear it out", [], AS_GOOD)],
    "features_have_findings": [
        ("a feature with no finding", [("configuration.features.1.because", [])]),
        ("a feature whose finding does not call for it", [("configuration.features.1.because", ["head_three_way"])]),
        ("an item with nothing behind it", [("configuration.items.3.because", [])]),
    ],
    "findings_answered": [
        ("a finding that nothing answers", [("findings.+", {"id": "aac_user", "says": "Speaks with a device."})]),
    ],
    "mounting_plausible": [
        ("two sides far apart", [("configuration.mounting.1.gap_mm", 45)]),
        ("a head wider than any of 6068 adults", [("client.head", {"width_mm": 190})]),
        ("a neck that turns too far", [("client.head", {"turn_left_deg": 95})]),
    ],
    "settings_within_evidence": [("a speed that the room does not bear", [("spaces.0.clear_ahead_mm", 300)])],
    "drives_reliably": [("fewer than eight of ten", [], STICK + attempts("pads", "10" * 12))],
    "stops_on_request": [
        ("most stops missed, with someone near", [], NO_STOP),
        ("a stop missed where the client is alone", [ALONE], ONE_STOP_MISSED),
        ("a stop missed and no supervision", [("supervision", [])], ONE_STOP_MISSED),
    ],
    "stops_within_space": [
        ("less room than the chair needs", [("spaces.1.clear_ahead_mm", 390)]),
        ("a slow release", [], STICK + attempts("pads", "1" * 24, release_s=3.0)),
        ("less room on a slope than the chair needs", [("spaces.+", RAMP)]),
    ],
    "no_unanswered_risk": [
        ("a danger without an answer", [NECK]),
        (
            "speed by push where effort raises tone",
            [
                ("findings.+", {"id": "tone_rises_effort", "says": "Pushing stiffens."}),
                ("configuration.features.+", {"id": "force_graded_speed", "because": ["head_three_way"]}),
            ],
        ),
        ("latched drive without a stop switch", [("configuration.latched", True)]),
        ("one latched profile without a stop switch", [("configuration.profiles.0.latched", True)]),
        (
            "the head at rest on the pad that drives",
            [("findings.+", {"id": "head_rests_back", "says": "Rests back."}), ("configuration.mounting.0.gap_mm", 0)],
        ),
    ],
    "others_can_stop_it": [
        (
            "latched, and no stop switch at all",
            [
                ("configuration.latched", True),
                ("configuration.stop.stop_switch", GONE),
                ("configuration.stop.has_switch", False),
            ],
        ),
    ],
    "fits_the_home": [
        ("a door narrower than the chair", [("spaces.0.clear_width_mm", 630)]),
        ("a room too small to turn in", [("spaces.1.turning_mm", 1200)]),
        ("a threshold higher than the chair takes", [("spaces.0.threshold_mm", 60)]),
    ],
    "independence_gained": [
        ("as much help as before", [("activities.0.with_device", "done_for"), ("activities.0.minutes_with", 18)]),
    ],
    "follow_up_planned": [("a first visit after half a year", [("follow_up", [{"after_weeks": 26, "what": "fit"}])])],
    "encounter_before_order": [
        ("an order before the encounter", [("dates.ordered_on", date(2026, 2, 19))]),
        ("an order too long after the encounter", [("dates.ordered_on", date(2026, 8, 21))]),
    ],
    "evaluation_before_order": [
        ("an evaluation after the order", [("dates.ordered_on", date(2026, 4, 1))]),
        ("an acceptance before the evaluation", [("dates.accepted_on", date(2026, 4, 1))]),
        ("an acceptance after the order", [("dates.accepted_on", date(2026, 4, 11))]),
    ],
    "evaluator_independent": [
        ("an evaluator paid by the supplier", [("people.0.employed_by_supplier", True)]),
        (
            "a second evaluator paid by the supplier",
            [("people.+", {"id": "second", "role": "evaluator", "employed_by_supplier": True})],
        ),
    ],
    "supplier_saw_client": [
        ("a specialist who came before the encounter", [("dates.supplier_assessed_on", date(2026, 2, 19))]),
    ],
    "control_and_electronics_match": [
        ("no harness on a new chair", [("configuration.items.2", GONE)]),
        ("two harnesses", [("configuration.items.3.code", "E2313")]),
    ],
    "electronics_have_a_trigger": [
        ("one seat motor and no special control", [("configuration.items.0", GONE)]),
        (
            "three seat motors through the drive control and no controller",
            [
                ("configuration.items.0", GONE),
                ("configuration.items.0", GONE),
                ("configuration.items.0", GONE),
                ("configuration.chair.seat_actuators", 3),
            ],
        ),
    ],
    "base_takes_the_controller": [
        ("a base of group 2 without power options", [("configuration.chair.base_code", "K0823")])
    ],
    "connection_code_fits_motors": [
        ("the code of two motors with one", [("configuration.items.5.code", "E2311")]),
        ("two connections in one line", [("configuration.items.5.quantity", 2)]),
        ("both connections", [("configuration.items.+", LINE | {"code": "E2311"})]),
        ("no connection", [("configuration.items.5", GONE)]),
        ("fewer motors than the seat brings", [("configuration.chair.seat_actuators", 0)]),
    ],
    "nothing_listed_twice": [
        ("hardware that the control includes", [("configuration.items.0.code", "E2325")]),
        (
            "hardware of a drive control by its own code",
            [("configuration.items.0.code", "E2325"), ("configuration.items.3.code", "E1032")],
        ),
        (
            "a stop switch by its feature",
            [
                ("configuration.items.+", LINE | {"code": "K0108", "features": ["stop_switch"]}),
                ("configuration.features.+", {"id": "stop_switch", "because": []}),
            ],
        ),
        ("a stop switch by its name", [("configuration.items.+", LINE | {"code": "K0108", "name": "Stop switches"})]),
        ("armrests that come with the tilt", [("configuration.items.+", LINE | {"code": "K0020"})]),
    ],
    "parts_have_their_control": [
        ("a tube kit without its control", [("configuration.items.+", LINE | {"code": "E2326"})]),
        ("a chin cup without a stick", [("configuration.items.+", LINE | {"code": "E2324"})]),
        ("headrest hardware without a headrest", [("configuration.items.3.code", "E1033")]),
    ],
    "hardware_serves_transfer": [("a table", [("configuration.items.3.purpose", "to get close to tables")])],
    "hardware_code_fits_day": [
        ("headrest hardware by the code of other parts", [("configuration.items.3.supports", "headrest")]),
        ("the code of a headrest for a control", [("configuration.items.3.code", "E1033")]),
        (
            "a code that had not begun",
            [("configuration.items.3.code", "E1032"), ("request.requested_on", date(2025, 3, 31))],
        ),
    ],
    "own_code_needed": [
        (
            "a control that has a code",
            [("configuration.items.0.code", "K0108"), ("configuration.items.0.features", ["proximity_sensing"])],
        ),
        (
            "a direction switch that comes with the control",
            [("configuration.items.+", LINE | {"code": "K0108", "name": "direction switch"})],
        ),
        ("lights", [("configuration.items.+", LINE | {"code": "K0108", "purpose": "run the lights"})]),
    ],
    "codes_payable": [
        ("a code that ended", [("configuration.items.4.code", "E2300")]),
        ("a code that was in no list", [("configuration.items.+", LINE | {"code": "E2399"})]),
        ("power standing", [("configuration.items.+", LINE | {"code": "E2301"})]),
        ("a part for repair on a new chair", [("configuration.items.+", LINE | {"code": "E2376"})]),
        ("a base of group 4", [("configuration.chair.base_code", "K0871")]),
        (
            "a code that had not begun",
            [("configuration.items.4.code", "E2298"), ("request.requested_on", date(2024, 3, 31))],
        ),
    ],
    "second_control_left_out": [("an attendant control", [("configuration.items.+", LINE | {"code": "E2331"})])],
    "other_devices_left_out": [
        ("a door opener", [("configuration.items.+", LINE | {"code": "A9270", "name": "door opener"})]),
    ],
    "control_code_fits_control": [
        ("pushed switches for pads that sense", [("configuration.items.0.code", "E2329")]),
        ("a proportional code for pads that are on or off", [("configuration.items.0.code", "E2328")]),
        (
            "a code of on and off for a compact stick",
            [
                ("configuration.features.2", {"id": "compact_stick", "because": []}),
                ("configuration.items.0.code", "E2321"),
            ],
        ),
    ],
    "power_option_has_ground": [
        ("nothing but leg elevation", [("configuration.items", [LINE | {"code": "E1012"}])]),
        ("a base for several with tilt alone", [("configuration.chair.base_code", "K0861")]),
    ],
    "seat_parts_fit_base": [
        (
            "a cushion on a captain's chair",
            [("configuration.chair.base_code", "K0857"), ("configuration.items.+", LINE | {"code": "E2603"})],
        ),
        (
            "a headrest on a seat recorded as a captain's chair",
            [
                ("configuration.chair.base_code", GONE),
                ("configuration.chair.seat_type", "captains"),
                ("configuration.items.+", LINE | {"code": "E0955"}),
            ],
        ),
        ("a seat that the base does not have", [("configuration.chair.seat_type", "captains")]),
    ],
    "diagnosis_codes_valid": [
        ("a heading", [("diagnoses.0.code", "G82.5")]),
        ("a code of no list", [("diagnoses.0.code", "G99.9")]),
        ("a heading among good codes", [("diagnoses.+", {"code": "G35", "name": "multiple sclerosis"})]),
    ],
    "modifiers_fit": [("a modifier of replacement on a new chair", [("configuration.items.1.modifier", "KX KC")])],
}

UNTOLD = {
    "days_in_order": [
        ("no day of the report", [("dates.evaluated_on", GONE)]),
        ("no day of the documents", [("dates.written_on", GONE)]),
    ],
    "lesser_mobility_ruled_out": [
        ("no scooter", [("alternatives.2", GONE)]),
        ("a ruling without a reason", [("alternatives.0.reason", GONE)]),
        ("a reason without a ruling", [("alternatives.1.ruled_out_by", GONE)]),
    ],
    "standard_stick_ruled_out": [
        ("nothing about the chin", [("alternatives.4", GONE)]),
        ("nothing about the hand", [("alternatives.3", GONE)]),
        ("no reason at the chin", [("alternatives.4.reason", GONE)]),
        ("no ruling at the hand", [("alternatives.3.ruled_out_by", GONE)]),
    ],
    "simpler_controls_compared": [
        ("no rows of the simpler control", [], GOOD),
        ("no rows of the control asked for", [], STICK),
        ("no control asked for", [("configuration.method", GONE)]),
    ],
    "ruling_has_ground": [
        ("no alternative", [("alternatives", [])]),
        ("no ruling", [("alternatives.4.ruled_out_by", GONE)]),
        ("a trial without rows", [], GOOD),
        ("a trial without its method", [("alternatives.3.method", GONE)]),
        ("a condition without a reason", [("alternatives.4.reason", GONE)]),
    ],
    "features_have_findings": [("nothing asked for", [("configuration.features", []), ("configuration.items", [])])],
    "findings_answered": [
        ("no finding", [("findings", []), ("configuration.features", []), ("configuration.items", [])]),
    ],
    "drives_reliably": [
        ("no rows", [], STICK),
        ("one day", [], STICK + attempts("pads", "1" * 24, days=1)),
        ("nine attempts", [], STICK + attempts("pads", "1" * 9)),
        ("no control asked for", [("configuration.method", GONE)]),
    ],
    "stops_on_request": [
        ("no task that shows a stop", [("trial.tasks.1.shows", "steer")]),
        ("four stops", [], STICK + attempts("pads", "1" * 16)),
        ("six stops of six, and alone", [ALONE]),
    ],
    "stops_within_space": [
        ("no profile", NO_PROFILE),
        ("no space ahead", [("spaces.0.clear_ahead_mm", GONE), ("spaces.1.clear_ahead_mm", GONE)]),
        ("no release time", [], STICK + attempts("pads", "1" * 24, release_s=None)),
        ("no deceleration", [("configuration.chair.deceleration_m_s2", GONE)]),
        ("no speed", [("configuration.profiles.0.speed_m_s", GONE)]),
        ("a space without its profile", [("spaces.1.profile", GONE)]),
        ("a faster profile without a space", [("configuration.profiles.+", FAST)]),
        ("nothing but a slope", [("spaces", [RAMP | {"clear_ahead_mm": 9000}])]),
    ],
    "limits_screened": [
        ("no screening of vision", [("limits.2", GONE)]),
        ("a screening without what was seen", [("limits.2.says", GONE)]),
    ],
    "limits_answered": [("no screening", [("limits", [])]), ("a limit without an answer", [("limits.1.answer", GONE)])],
    "supervision_stated": [("no place", [("supervision", [])]), ("nobody named", [("supervision.0.by", GONE)])],
    "no_unanswered_risk": [
        ("no features", [("configuration.features", []), ("configuration.items", [])]),
        (
            "speed by push, answered, where the trial did not look at tone",
            [
                ("findings.+", {"id": "tone_rises_effort", "says": "Pushing stiffens."}),
                (
                    "configuration.features.+",
                    {"id": "force_graded_speed", "because": ["head_three_way"], "answer": "Watched."},
                ),
            ],
        ),
    ],
    "others_can_stop_it": [
        ("no power switch", [("configuration.stop.power_off", GONE)]),
        ("nothing for a helper", [("configuration.stop.helper", GONE)]),
        ("no stop switch, and not said that there is none", [("configuration.stop.stop_switch", GONE)]),
        ("latched with no stop switch", [("configuration.latched", True), ("configuration.stop.stop_switch", GONE)]),
        (
            "one latched profile with no stop switch",
            [("configuration.profiles.0.latched", True), ("configuration.stop.stop_switch", GONE)],
        ),
    ],
    "fits_the_home": [
        ("no home visit", [("dates.home_visit_on", GONE)]),
        ("no door at home", [("spaces.0.at_home", False)]),
        ("a door not measured", [("spaces.0.clear_width_mm", GONE)]),
        ("a second door not measured", [("spaces.+", {"id": "bed", "name": "bedroom door", "kind": "doorway"})]),
        ("no room to turn in measured", [("spaces.1.turning_mm", GONE)]),
        ("no width of the chair", [("configuration.chair.width_mm", GONE)]),
        ("no turning circle of the chair", [("configuration.chair.turning_mm", GONE)]),
        ("no threshold of a door", [("spaces.0.threshold_mm", GONE)]),
        ("no floor of a room", [("spaces.1.floor", GONE)]),
        ("a threshold, and not how high a one the chair takes", [("configuration.chair.climbs_mm", GONE)]),
    ],
    "need_at_home": [
        ("no activity at home", [("activities.0", GONE)]),
        ("only another kind of activity", [("activities.0.needed_for", "other")]),
        ("no barrier", [("activities.0.barrier", GONE)]),
        ("no help before", [("activities.0.before", GONE)]),
    ],
    "independence_gained": [
        ("nothing with the device", [("activities.0.with_device", GONE), ("activities.0.minutes_with", GONE)]),
        ("gains away from home alone", [("activities.0", GONE)]),
    ],
    "client_willing": [("no words", [("client.willing", GONE)])],
    "training_planned": [("no coach", [("training.coach", GONE)]), ("no plan", [("training", GONE)])],
    "follow_up_planned": [("no visit", [("follow_up", [])])],
    "caregivers_taught": [
        ("nobody taught", [("taught", [])]),
        ("no day", [("taught.0.on", GONE)]),
        ("a caregiver left out", [("people.+", {"id": "uncle", "role": "caregiver", "relation": "uncle"})]),
    ],
    "goals_set": [("no goal", [("goals", [])]), ("four levels", [("goals.0.levels.0", GONE)])],
    "encounter_before_order": [
        ("no encounter", [("dates.encounter_on", GONE)]),
        ("no order", [("dates.ordered_on", GONE)]),
    ],
    "evaluation_before_order": [
        ("no evaluation", [("dates.evaluated_on", GONE)]),
        ("no acceptance", [("dates.accepted_on", GONE)]),
    ],
    "evaluator_independent": [
        ("no evaluator", [("people.0.role", "other")]),
        ("no word on pay", [("people.0.employed_by_supplier", GONE)]),
        ("no statement", [("people.0.statement_on", GONE)]),
        ("a second evaluator without a statement", [("people.+", {"id": "second", "role": "evaluator"})]),
    ],
    "evaluator_named": [
        ("no license", [("people.0.license", GONE)]),
        ("no name", [("people.0.name", GONE)]),
        ("no experience", [("people.0.experience", GONE)]),
    ],
    "supplier_saw_client": [
        ("no specialist", [("people.1.role", "other")]),
        ("no credential", [("people.1.credential", GONE)]),
        ("no day", [("dates.supplier_assessed_on", GONE)]),
    ],
    "control_and_electronics_match": [
        ("no item", [("configuration.items", [])]),
        ("no kind of request", [("request.kind", GONE)]),
        ("a harness without its code", [("configuration.items.2.code", GONE)]),
    ],
    "electronics_have_a_trigger": [
        (
            "no special control and no number of motors",
            [
                ("configuration.items", WHOLE["configuration"]["items"][1:3]),
                ("configuration.chair.seat_actuators", GONE),
            ],
        ),
    ],
    "base_takes_the_controller": [
        ("no base", [("configuration.chair.base_code", GONE)]),
        ("a base of no list", [("configuration.chair.base_code", "K0899")]),
    ],
    "connection_code_fits_motors": [
        (
            "no number of motors",
            [("configuration.chair.seat_actuators", GONE), ("configuration.items.4.code", "E1010")],
        ),
        ("a connection without its code", [("configuration.items.5.code", GONE)]),
    ],
    "nothing_listed_twice": [
        ("a line without a code", [("configuration.items.4.code", GONE)]),
        (
            "hardware of an unknown part beside a control that swings",
            [("configuration.items.0.code", "E2325"), ("configuration.items.3.supports", GONE)],
        ),
    ],
    "parts_have_their_control": [
        ("no kind of request", [("request.kind", GONE), ("configuration.items.+", LINE | {"code": "E2326"})]),
        ("a controller without its code", [("configuration.items.1.code", GONE)]),
    ],
    "hardware_serves_transfer": [
        ("no purpose", [("configuration.items.3.purpose", GONE)]),
        ("a table and a transfer", [("configuration.items.3.purpose", "sling transfers and the table")]),
        ("a purpose that is neither", [("configuration.items.3.purpose", "comfort")]),
    ],
    "hardware_code_fits_day": [
        ("no part", [("configuration.items.3.supports", GONE)]),
        ("no day", [("request.requested_on", GONE), ("dates.ordered_on", GONE)]),
    ],
    "own_code_needed": [
        ("a line of which nothing shows a control", [("configuration.items.+", LINE | {"code": "K0108"})]),
        (
            "a control that has no code, without a reason",
            [
                ("configuration.features.+", {"id": "optical_beam_sensing", "because": []}),
                (
                    "configuration.items.+",
                    {"id": "beams", "name": "beams", "code": "K0108", "features": ["optical_beam_sensing"]},
                ),
            ],
        ),
    ],
    "codes_payable": [
        ("no code of the list", [("configuration.items", [LINE])]),
        ("no day", [("request.requested_on", GONE), ("dates.ordered_on", GONE)]),
        (
            "a part for repair and no kind of request",
            [("request.kind", GONE), ("configuration.items.+", LINE | {"code": "E2376"})],
        ),
    ],
    "codes_known": [("a code outside the list", [("configuration.items.+", LINE)])],
    "second_control_left_out": [("no item", [("configuration.items", [])])],
    "other_devices_left_out": [("no speech device", [("configuration.items.+", LINE | {"code": "E2351"})])],
    "control_code_fits_control": [("no feature that senses", [("configuration.features.2", GONE)])],
    "unclear_lines_settled": [
        ("hardware of a head control", [("configuration.items.3.payer_says", GONE)]),
        ("an attendant control", [("configuration.items.+", LINE | {"code": "E2331"})]),
        ("electronics by the number of motors alone", [("configuration.items.0", GONE)]),
        (
            "electronics for a control without a code",
            [("configuration.items.0.code", "K0108"), ("configuration.items.0.features", ["proximity_sensing"])],
        ),
    ],
    "power_option_has_ground": [
        ("no base", [("configuration.chair.base_code", GONE)]),
        (
            "a control without its code",
            [("configuration.items", [LINE | {"code": "E2313"}, {"id": "pads", "name": "pads"}])],
        ),
    ],
    "seat_parts_fit_base": [
        (
            "a cushion on an unknown seat",
            [("configuration.chair.base_code", GONE), ("configuration.items.+", LINE | {"code": "E2603"})],
        ),
        (
            "a headrest without tilt, recline or a finding",
            [("configuration.items.4.code", "E2313"), ("configuration.items.+", LINE | {"code": "E0955"})],
        ),
    ],
    "diagnosis_codes_valid": [
        ("no diagnosis", [("diagnoses", [])]),
        ("no code", [("diagnoses.0.code", GONE)]),
    ],
    "modifiers_fit": [
        ("one line without", [("configuration.items.2.modifier", GONE)]),
        (
            "a modifier of replacement and no kind of request",
            [("request.kind", GONE), ("configuration.items.1.modifier", "KC KX")],
        ),
    ],
    "items_described": [
        ("no item", [("configuration.items", [])]),
        ("no code", [("configuration.items.0.code", GONE)]),
        ("no reason", [("configuration.items.3.why", GONE)]),
        ("no reason for the base", [("configuration.chair.why", GONE)]),
    ],
    "mounting_recorded": [
        ("no part", [("configuration.mounting", [])]),
        ("no gap", [("configuration.mounting.1.gap_mm", GONE)]),
        ("no mark", [("configuration.mounting.1.mark", GONE)]),
        ("one pad of three left out", [("configuration.mounting.2", GONE)]),
    ],
    "mounting_plausible": [("no part", [("configuration.mounting", [])])],
    "settings_within_evidence": [
        ("no space ahead", [("spaces", [])]),
        ("no delay", [("configuration.chair.electronics_delay_s", GONE)]),
    ],
    "settings_recorded": [
        ("no profile", NO_PROFILE),
        ("no turn rate", [("configuration.profiles.0.turn_deg_s", GONE)]),
    ],
}

NOT_ASKED = [
    ("limits_answered", [("limits.1.found", False)], ROWS),
    ("simpler_controls_compared", [("trial.methods.0", GONE), ("alternatives.3", GONE)], GOOD),
    ("control_and_electronics_match", [("configuration.items", WHOLE["configuration"]["items"][3:])], ROWS),
    ("electronics_have_a_trigger", [("configuration.items", WHOLE["configuration"]["items"][3:])], ROWS),
    ("base_takes_the_controller", [("configuration.items", WHOLE["configuration"]["items"][3:])], ROWS),
    ("base_takes_the_controller", [("request.kind", "control_only"), ("configuration.chair.base_code", GONE)], ROWS),
    ("connection_code_fits_motors", [("configuration.items.5", GONE), ("configuration.features.3", GONE)], ROWS),
    ("parts_have_their_control", [("request.kind", "control_only")], ROWS),
    ("hardware_serves_transfer", [("configuration.items.3", GONE)], ROWS),
    ("hardware_code_fits_day", [("configuration.items.3", GONE)], ROWS),
    (
        "second_control_left_out",
        [("configuration.items", [LINE | {"code": "E2331"}]), ("configuration.method", GONE)],
        ROWS,
    ),
    ("control_code_fits_control", [("configuration.items.0", GONE)], ROWS),
    ("unclear_lines_settled", [("configuration.items.3", GONE)], ROWS),
    ("power_option_has_ground", [("configuration.chair.base_code", "K0848")], ROWS),
    ("modifiers_fit", [("configuration.items", [LINE | {"code": "E2330", "modifier": None}])], ROWS),
]
