"""The feature files: they load, name findings that exist, and speak plainly to caregivers and coaches."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from pathlib import Path
from typing import get_args

import pytest
from gathered import of_each
from pydantic import ValidationError

import docgen.fit.feature
from docgen.case.mount import Mount
from docgen.codes.hcpcs import codes
from docgen.errors import UserError
from docgen.fit.feature import (
    PARTS,
    Feature,
    feature_entries,
    features,
    unknown_feature,
)
from docgen.fit.finding import Meaning
from docgen.fit.settings import drive_settings
from docgen.fit.signs import SIGNS

FEATURES = features()
FINDINGS = {
    path.stem: tomllib.loads(path.read_text(encoding="utf-8"))
    for path in (Path(docgen.fit.feature.__file__).parent.parent / "findings").glob("*.toml")
}
SOURCES = ("common practice, no source", "text read", "passage read", "abstract read", "seen in a summary")

# Features and findings of the trade, in the order a therapist meets them; common practice, no source.
FEATURE_IDS = """
proportional_control nonproportional_control momentary_drive latched_drive speed_by_increments mini_joystick
compact_joystick isometric_joystick joystick_handle joystick_position proximity_sensing contact_switch_sensing
force_threshold_pad force_graded_speed optical_beam_sensing pneumatic_four_command two_site_commands.breath_and_head
switch_type_by_site head_angle_proportional muscle_signal_switch single_switch_scanning head_array
forward_held_in_turn lateral_pad_reach.reaches_forward lateral_pad_reach.clears_ear pad_position_each_side
suboccipital_support chin_site foot_site extra_site_switch finger_switch_array mode_switch
reverse_access.direction_change reverse_access.timed_hold reverse_access.own_switch standby stop_switch
attendant_control attendant_stop seat_functions_by_drive_input drive_limit_when_tilted auditory_feedback
display_in_view surface_cue swing_away_mount alignment_marks fixed_rigid_mount external_device_control
expandable_electronics tremor_dampening acceptance_time veer_correction separate_profiles locked_settings
removable_for_travel rear_view_aid stop_on_lost_contact breakaway_mount forearm_support
""".split()
FINDING_IDS = """
hand_none hand_weak_graded hand_ungraded hand_tremor hand_overshoot hand_fatigues hand_pain hand_contracture
head_three_way head_two_way head_range_small head_rests_back head_rests_forward rear_lost_in_turn head_push_extends
release_slow neck_fatigues neck_pain neck_restricted head_skin_risk head_touch_aversion head_control_emerging
breath_graded breath_weak lip_seal_poor saliva_heavy cough_frequent vent_mouthpiece vent_trach mask_face chin_graded
jaw_moves_talking foot_graded foot_ungraded leg_spasm finger_isolated tone_rises_effort tone_rises_startle
spasm_sudden movement_involuntary reflex_head_turn grip_release_slow vision_low field_cut visual_processing
hearing_low touch_reduced needs_touch_feedback cause_effect_emerging sequence_hard memory_poor attention_short
impulsive judgment_limited fearful fatigue_daily fluctuates progressive_fast progressive_slow stable growth_expected
seizure_active pressure_risk dizzy_upright transfer_sling transfer_slide transfer_standing many_caregivers alone_hours
aac_user computer_user tight_home slopes_rough rides_in_vehicle wears_head_items sweats_wet moves_pads_history
seat_functions_needed school_setting hand_weak hand_moves_involuntary head_moves_involuntary foot_moves_involuntary
foot_none trunk_weak one_site_only young_driver aac_shares_site
""".split()
# Findings that no feature answers: they only rule sites out.
ONLY_AGAINST = {
    "oxygen_by_tube",
    "support_refused",
    "head_skin_risk",
    "lip_seal_poor",
    "saliva_heavy",
    "vent_mouthpiece",
    "vent_trach",
    "mask_face",
    "hand_none",
    "foot_none",
    "leg_contracture",
    "hand_moves_involuntary",
    "head_moves_involuntary",
    "foot_moves_involuntary",
    "grip_release_slow",
    "reflex_head_turn",
    "trunk_weak",
}
# Findings that bear on no feature: they say that nothing has to change.
BEARS_ON_NONE = {
    "stable",
    "transfer_standing",
    "vital_capacity_low",
    "vent_noninvasive",
    "cough_weak",
    "swallow_slow",
    "headache_morning",
}
# Features that stand at one site of the body, and the findings of that site which may call for them: a site that cannot
# be used is no evidence for another. The other callers are needs that the feature itself answers.
OF_ONE_SITE = {
    "head_array": {"head_three_way"},
    "head_angle_proportional": {"head_three_way"},
    "foot_site": {"foot_graded", "foot_ungraded"},
    "chin_site": {"chin_graded"},
    "pneumatic_four_command": {"breath_graded"},
    "finger_switch_array": {"finger_isolated"},
}

each_feature = of_each("feature", FEATURES.values(), ids=list(FEATURES))


def sentences(text: str) -> list[str]:
    """Sentences of a text whose sentences end with a stop and a space."""
    return re.split(r"(?<=[.!?])\s+", text.strip())


def test_every_feature_file_is_a_feature():
    files = sorted(path.stem for path in (Path(docgen.__file__).parent / "features").iterdir())
    assert files == sorted({feature_id.partition(".")[0] for feature_id in FEATURES})  # a file may hold several values
    assert len(files) >= 50


def test_every_feature_and_every_finding_of_the_trade_is_there():
    assert (
        set(FEATURE_IDS) <= set(FEATURES) and len(FEATURE_IDS) == len(set(FEATURE_IDS)) == 59
    )  # two_site_commands has further values
    assert set(FINDING_IDS) <= set(FINDINGS) and len(FINDING_IDS) == len(set(FINDING_IDS)) == 88


def test_every_finding_says_what_it_means_and_what_to_record():
    for name, finding in FINDINGS.items():
        assert re.fullmatch(r"[a-z][a-z0-9_]{0,39}", name)
        assert {"name", "says", "record"} <= set(finding) <= set(Meaning.model_fields), name
        assert finding.get("danger") is not True or not finding.get("able"), name
        assert finding["says"].endswith("."), name
        assert finding["record"] and not finding["record"].endswith("."), name


def test_every_finding_bears_on_some_feature():
    calling = {name for feature in FEATURES.values() for name in feature.called_for_by}
    against = {one.finding for feature in FEATURES.values() for one in feature.spoken_against_by}
    assert set(FINDINGS) - calling - against == BEARS_ON_NONE


@of_each("name", OF_ONE_SITE)
def test_a_control_at_one_site_is_called_for_by_what_that_site_can_do(name):
    assert set(FEATURES[name].called_for_by) == OF_ONE_SITE[name]
    assert all(FINDINGS[finding].get("able") for finding in FEATURES[name].called_for_by)


@of_each(
    "finding",
    ["hand_none", "foot_none", "neck_pain", "hand_moves_involuntary", "movement_involuntary", "grip_release_slow"],
)
def test_a_site_that_fails_calls_for_no_control_at_another(finding):
    own = finding.partition("_")[0].replace("neck", "head")
    assert not [
        f.id
        for f in FEATURES.values()
        if finding in f.called_for_by
        and f.part == "control"
        and f.sites
        and not any(site.startswith(own) for site in f.sites)
    ]


def test_a_finding_that_calls_for_nothing_is_one_that_only_rules_out():
    calling = {name for feature in FEATURES.values() for name in feature.called_for_by}
    assert set(FINDINGS) - calling == ONLY_AGAINST | BEARS_ON_NONE


@each_feature
def test_a_feature_names_only_findings_of_the_vocabulary(feature):
    named = [
        *feature.called_for_by,
        *feature.grounded_by,
        *(one.finding for one in feature.spoken_against_by),
        *(name for need in feature.needs for name in need.when),
    ]
    assert not set(named) - set(FINDINGS)


@each_feature
def test_a_feature_names_only_features_sites_settings_codes_and_signs_that_exist(feature):
    others = {*feature.goes_with, *(other for need in feature.needs for other in need.any_of)}
    assert others <= set(FEATURES) - {feature.id}
    assert feature.part in PARTS
    assert {*feature.sites, *(need.or_gap for need in feature.needs if need.or_gap)} <= set(
        get_args(Mount.model_fields["site"].annotation)
    )
    assert set(feature.settings) <= set(drive_settings())
    assert {name for one in feature.spoken_against_by for name in one.signs} <= set(SIGNS)
    for named in (
        feature.goes_with,
        feature.sites,
        feature.settings,
        feature.codes,
        *(need.any_of for need in feature.needs),
    ):
        assert len(set(named)) == len(named)


@each_feature
def test_a_feature_rests_in_codes_that_can_be_ordered(feature):
    known = codes()
    assert set(feature.codes) <= set(known)
    assert all(known[code].status == "in_use" for code in feature.codes)


@of_each(("code", "feature"), [(code, sensed) for code, entry in codes().items() for sensed in entry.senses])
def test_a_feature_that_a_code_is_of_rests_in_that_code(code, feature):
    assert code in FEATURES[feature].codes


@each_feature
def test_a_host_is_not_itself_waiting_for_this_feature(feature):
    assert all(feature.id not in FEATURES[host].goes_with for host in feature.goes_with)


@each_feature
def test_at_least_one_finding_calls_for_a_feature_and_none_twice(feature):
    assert feature.called_for_by
    assert len(set(feature.reasons)) == len(feature.reasons)


@each_feature
def test_no_finding_both_calls_for_a_feature_and_speaks_against_it(feature):
    against = [one.finding for one in feature.spoken_against_by]
    assert len(set(against)) == len(against)
    assert not set(against) & set(feature.reasons)


@each_feature
def test_texts_that_stand_as_sentences_end_as_sentences(feature):
    texts = [feature.what, feature.justification, feature.without, feature.care, feature.training]
    risks = [one.risk for one in (*feature.spoken_against_by, *feature.needs)]
    assert all(text.endswith(".") and len(sentences(text)) <= 1 for text in risks)
    assert all(text.endswith(".") for text in texts)
    assert len(sentences(feature.what)) == len(sentences(feature.without)) == 1
    assert len(sentences(feature.justification)) <= 2


@of_each("key", ["name", "what", "trial", "justification", "without", "care"])
def test_no_two_features_share_a_text(key):
    times = Counter(getattr(feature, key) for feature in FEATURES.values() if getattr(feature, key) != "not applicable")
    assert [text for text, n in times.items() if n > 1] == []


@each_feature
def test_the_words_for_the_letter_say_nothing_about_one_person(feature):
    said = f"{feature.justification} {feature.without}"
    assert not re.search(
        r"\b(he|she|him|his|her|hers|client|patient|your?|this driver|the child)\b", said, re.IGNORECASE
    )
    assert not re.search(r"\d", said), "a number is a fact of a case or of a source"


@each_feature
def test_care_uses_no_word_of_the_trade(feature):
    trade = re.compile(
        r"\b(lateral|proximity|momentary|latched|profile|standby|tone|attendant|array|proportional|pneumatic|"
        r"suboccipital|actuator|interface|controller|calibrat\w*|activation|sensor dial|mode)\b",
        re.IGNORECASE,
    )
    assert not trade.search(feature.care)


@each_feature
def test_every_part_of_a_source_says_how_far_it_was_read_or_that_there_is_none(feature):
    for part in feature.source.split("; "):
        assert any(mark in part for mark in SOURCES), part


@each_feature
def test_care_and_training_are_short(feature):
    care, training = sentences(feature.care), sentences(feature.training)
    assert len(care) <= 3 and len(training) <= 2
    assert sum(len(sentence.split()) for sentence in care) / len(care) <= 15
    assert max(len(sentence.split()) for sentence in care) <= 18


@each_feature
def test_care_reads_at_grade_six_or_below(feature):
    # textstat 0.7.8 as the outside measure; grade 6 for patient instructions: widely advised, from memory
    textstat = pytest.importorskip("textstat")
    assert textstat.flesch_kincaid_grade(feature.care) <= 6


@each_feature
def test_the_words_of_a_feature_hold_nothing_that_the_documents_read_as_markup(feature):
    texts = [
        feature.name,
        feature.what,
        feature.trial,
        feature.justification,
        feature.without,
        feature.care,
        feature.training,
    ]
    texts += [one.risk for one in (*feature.spoken_against_by, *feature.needs)]
    assert not [text for text in texts if re.search(r"[~*|`{}\[\]<>#_^\\]", text)]


@pytest.mark.parametrize(("until", "taken"), [(-1, False), (0, True), (8, True), (9, False)])
def test_a_feature_is_trained_until_one_of_the_steps_there_are(until, taken):
    feature = next(iter(features().values()))
    assert Feature.model_fields["until"].default == 8
    if taken:
        assert Feature.model_validate(feature.model_dump() | {"until": until}).until == until
    else:
        with pytest.raises(ValidationError, match="until"):
            Feature.model_validate(feature.model_dump() | {"until": until})


def test_a_value_of_a_feature_is_said_to_stand_in_the_file_of_the_feature():
    valued = next(feature for name, feature in features().items() if "." in name)
    assert valued.where == f"docgen/features/{valued.id.partition('.')[0]}.toml"


def test_a_feature_is_looked_for_by_its_plain_name_too_where_it_has_one(monkeypatch, tmp_path):
    assert {entry.id: entry.synonyms[0] for entry in feature_entries()}["head_array"] == FEATURES["head_array"].plain
    words = (Path(docgen.fit.feature._FOLDER) / "alignment_marks.toml").read_text(encoding="utf-8")
    bare = re.sub(r"^plain = .*\n", "", words, flags=re.MULTILINE)
    (tmp_path / "alignment_marks.toml").write_text(bare, encoding="utf-8")
    monkeypatch.setattr(docgen.fit.feature, "_FOLDER", tmp_path)
    [entry] = feature_entries()
    assert entry.synonyms == FEATURES["alignment_marks"].synonyms


def test_an_unknown_feature_is_answered_with_the_nearest_and_an_old_one_with_its_new_name():
    clause, advice = unknown_feature("head_arry")
    assert clause == "unknown feature 'head_arry'" and "'docgen find WORD'" in advice
    clause, advice = unknown_feature("compact_stick")
    assert clause == "'compact_stick' is now 'compact_joystick'" and "docgen find" not in advice


def test_the_mistakes_of_all_files_of_features_are_told_at_once(monkeypatch, tmp_path):
    for name in ("first", "second"):
        (tmp_path / f"{name}.toml").write_text(f'id = "{name}"\n', encoding="utf-8")
    monkeypatch.setattr(docgen.fit.feature, "_FOLDER", tmp_path)
    with pytest.raises(UserError) as refused:
        features()
    assert [Path(str(problem).partition(":1:")[0]).name for problem in refused.value.problems] == [
        "first.toml",
        "second.toml",
    ]
    assert all("unknown key 'id'" in str(problem) for problem in refused.value.problems)
