"""What can hurt someone stands in the feature files: contradictions, features that are never alone, and the skin
plan."""

from __future__ import annotations

import pytest
from gathered import of_each

from docgen.fit.feature import features

FEATURES = features()

each_feature = of_each("feature", FEATURES.values(), ids=list(FEATURES))

# Pairs that a checker always questions: feature, finding, what the question rests on.
ALWAYS_ASKED = [
    ("force_graded_speed", "tone_rises_effort"),
    ("force_graded_speed", "release_slow"),
    ("reverse_access.timed_hold", "release_slow"),
    ("acceptance_time", "release_slow"),
    ("pneumatic_four_command", "saliva_heavy"),
    ("pneumatic_four_command", "vent_mouthpiece"),
    ("two_site_commands.breath_and_head", "vent_mouthpiece"),
    ("chin_site", "vent_mouthpiece"),
    ("seat_functions_by_drive_input", "sequence_hard"),
    ("latched_drive", "seizure_active"),
    ("latched_drive", "impulsive"),
    ("head_array", "neck_restricted"),
    ("tremor_dampening", "release_slow"),
    ("drive_limit_when_tilted", "dizzy_upright"),
    ("lateral_pad_reach.reaches_forward", "field_cut"),
    ("latched_drive", "spasm_sudden"),
    ("fixed_rigid_mount", "spasm_sudden"),
    ("head_array", "field_cut"),
    ("head_array", "head_moves_involuntary"),
    ("proximity_sensing", "head_moves_involuntary"),
    ("foot_site", "foot_moves_involuntary"),
    ("proportional_control", "hand_moves_involuntary"),
    ("proportional_control", "grip_release_slow"),
    ("stop_on_lost_contact", "tone_rises_effort"),
    ("stop_on_lost_contact", "head_rests_back"),
    ("breakaway_mount", "moves_pads_history"),
]
# What a helper's stop and a stop of the driver's own are called for by, whatever the control.
STOP_NEEDED = {"tone_rises_effort", "release_slow", "head_rests_back"}
# Features that are never asked for alone: feature, what it must not go without, findings that bring the need (none:
# always).
NEVER_ALONE = [
    ("latched_drive", {"stop_switch"}, set()),
    ("head_array", {"standby"}, {"head_rests_back"}),
    ("forward_held_in_turn", {"standby"}, {"head_rests_back"}),
    ("swing_away_mount", {"alignment_marks"}, {"many_caregivers"}),
    ("momentary_drive", {"attendant_stop", "attendant_control"}, {"seizure_active"}),
    ("momentary_drive", {"stop_switch", "attendant_stop"}, {"tone_rises_effort", "release_slow", "spasm_sudden"}),
    ("proximity_sensing", {"standby"}, {"head_rests_back"}),
    ("head_array", {"suboccipital_support", "lateral_pad_reach.reaches_forward"}, {"head_control_emerging"}),
    ("breakaway_mount", {"alignment_marks"}, {"many_caregivers"}),
    ("pneumatic_four_command", {"standby", "swing_away_mount"}, set()),
    ("chin_site", {"swing_away_mount", "removable_for_travel"}, set()),
    ("single_switch_scanning", {"stop_switch", "momentary_drive"}, set()),
    ("proximity_sensing", {"standby"}, {"many_caregivers"}),
]
# Sites whose parts press on or stand against the head.
HEAD_PARTS = [
    "head_array",
    "two_site_commands.breath_and_head",
    "lateral_pad_reach.reaches_forward",
    "suboccipital_support",
    "contact_switch_sensing",
    "force_threshold_pad",
    "force_graded_speed",
    "surface_cue",
]


@each_feature
def test_what_answers_a_need_is_not_ruled_out_by_what_brings_it(feature):
    for need in feature.needs:
        for finding in need.when:
            able = [
                other
                for other in need.any_of
                if finding not in {one.finding for one in FEATURES[other].spoken_against_by}
            ]
            assert able, (finding, need.any_of)
            assert finding not in {one.finding for one in feature.spoken_against_by}, "asked twice"


@each_feature
def test_only_a_risk_of_injury_can_be_borne_out_by_a_sign(feature):
    assert all(one.safety for one in feature.spoken_against_by if one.signs)


@of_each(("feature", "finding"), ALWAYS_ASKED)
def test_a_pair_that_can_hurt_is_a_risk_of_injury(feature, finding):
    assert next(one for one in FEATURES[feature].spoken_against_by if one.finding == finding).safety


@of_each(("feature", "others", "when"), NEVER_ALONE)
def test_a_feature_that_is_never_alone_needs_its_other(feature, others, when):
    assert any(
        set(need.any_of) == others and when <= set(need.when) and bool(when) == bool(need.when) and need.safety
        for need in FEATURES[feature].needs
    )


@of_each("feature", HEAD_PARTS)
def test_what_presses_on_the_head_is_a_danger_to_skin_at_risk(feature):
    assert any(one.finding == "head_skin_risk" and one.safety for one in FEATURES[feature].spoken_against_by)


@of_each("feature", [name for name, one in FEATURES.items() if "mouth" in one.sites])
@of_each("finding", ["vent_mouthpiece", "mask_face", "saliva_heavy", "cough_frequent", "lip_seal_poor"])
def test_what_is_worked_by_the_mouth_is_a_danger_where_the_mouth_is_needed_or_fails(feature, finding):
    assert any(one.finding == finding and one.safety for one in FEATURES[feature].spoken_against_by)


def test_whatever_can_delay_the_stop_is_a_danger_to_a_slow_release():
    delaying = [
        "latched_drive",
        "tremor_dampening",
        "acceptance_time",
        "reverse_access.timed_hold",
        "force_graded_speed",
        "force_threshold_pad",
        "isometric_joystick",
        "forward_held_in_turn",
    ]
    for name in delaying:
        assert any(one.finding == "release_slow" and one.safety for one in FEATURES[name].spoken_against_by), name


@pytest.mark.parametrize("feature", ["stop_switch", "attendant_stop"])
def test_a_stop_is_called_for_where_letting_go_may_fail(feature):
    assert set(FEATURES[feature].called_for_by) >= STOP_NEEDED


def test_a_stop_that_a_spasm_can_take_away_is_not_the_answer_to_spasms():
    assert (
        "spasm_sudden" not in FEATURES["stop_switch"].called_for_by
        and "during a spasm" in FEATURES["stop_switch"].trial
    )
    assert {"stop_on_lost_contact", "attendant_stop", "breakaway_mount", "momentary_drive"} == {
        f.id for f in FEATURES.values() if "spasm_sudden" in f.called_for_by
    }
    # a spasm that takes the driver off the switch stops a momentary drive; one that presses it does not
    assert any(need.safety and "spasm_sudden" in need.when for need in FEATURES["momentary_drive"].needs)


def test_a_delay_is_for_brief_jerks_and_never_on_a_stop_switch():
    delay = FEATURES["acceptance_time"]
    assert {"spasm_sudden", "leg_spasm"} <= {one.finding for one in delay.spoken_against_by}
    assert "never on a stop switch" in delay.trial


def test_a_site_that_moves_without_intent_is_held_only_against_controls_of_that_site():
    for site, finding in (
        ("hand", "hand_moves_involuntary"),
        ("head", "head_moves_involuntary"),
        ("foot", "foot_moves_involuntary"),
    ):
        held = [f for f in FEATURES.values() if any(one.finding == finding for one in f.spoken_against_by)]
        assert held and all(f.part == "control" for f in held)
        assert all(one.safety and one.signs for f in held for one in f.spoken_against_by if one.finding == finding)
        near = (
            {"hand"}
            if site == "hand"
            else {"foot"}
            if site == "foot"
            else {"head_back", "head_left", "head_right", "chin", "mouth"}
        )
        assert all(set(f.sites) <= near for f in held)
