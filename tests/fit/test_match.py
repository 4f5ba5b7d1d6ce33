"""What is called for, met, missing and at odds; and that neither a finding nor an item more hides anything."""

from __future__ import annotations

from contextlib import nullcontext

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st

from cases import case_of, fit_of, where
from docgen.case.model import Case
from docgen.case.need import Finding
from docgen.errors import UserError
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.fit.match import against, driving_sites, fit, may_be_of_other_side, site_of, spared_by

FINDINGS = st.lists(st.sampled_from(sorted(vocabulary())), max_size=8, unique=True)
FEATURES = st.lists(st.sampled_from(sorted(features())), max_size=8, unique=True)


def called(found):
    return {(one.finding, one.part, feature.id) for one in found.missing for feature in one.features}


@given(FINDINGS, st.sampled_from(sorted(vocabulary())), FEATURES)
@settings(max_examples=150, deadline=None)
def test_a_finding_more_removes_nothing_that_another_finding_calls_for(findings, more, asked):
    before, after = fit_of(findings, asked), fit_of([*findings, more], asked)
    for finding, met in before.answers.items():
        assert after.answers[finding] == met
    assert called(before) <= called(after)
    assert set(before.unmet) <= set(after.unmet)
    for one, same in zip(before.chosen, after.chosen, strict=True):
        assert set(one.calling) <= set(same.calling) and set(one.at_odds) <= set(same.at_odds)


@given(FINDINGS, FEATURES, st.data())
@settings(max_examples=150, deadline=None)
def test_a_feature_less_makes_no_unmet_need_disappear(findings, asked, data):
    before = fit_of(findings, asked)
    left = [one for one in asked if one != data.draw(st.sampled_from(asked or ["none"]))]
    after = fit_of(findings, left)
    assert set(before.unmet) <= set(after.unmet) and set(before.unused) <= set(after.unused)


@given(FINDINGS, FEATURES, st.data())
@settings(max_examples=100, deadline=None)
def test_an_item_less_makes_no_unmet_need_disappear(findings, asked, data):
    items = tuple({"id": f"item_{n}", "name": "a part", "because": (finding,)} for n, finding in enumerate(findings))
    kept = data.draw(
        st.lists(st.sampled_from(items or ({},)), unique_by=lambda item: item.get("id"), max_size=len(items))
    )
    full = fit_of(findings, asked, configuration={"items": items})
    fewer = fit_of(findings, asked, configuration={"items": tuple(item for item in kept if item)})
    assert set(full.unmet) <= set(fewer.unmet)


@given(FINDINGS, FEATURES)
@settings(max_examples=100, deadline=None)
def test_each_finding_is_met_unmet_or_calls_for_nothing(findings, asked):
    found = fit_of(findings, asked)
    for finding in findings:
        callers = [feature for feature in features().values() if finding in feature.called_for_by]
        assert (finding in found.answers) + (finding in found.unmet) + (finding in found.unused) == bool(callers)


def test_a_movement_that_nothing_uses_is_no_unmet_need():
    found = fit_of(["foot_graded", "tone_rises_effort"], ["head_array"])
    assert found.unused == ("foot_graded",) and found.unmet == ("tone_rises_effort",)


def test_the_therapists_reasons_and_the_files_are_kept_apart():
    found = fit_of(
        ["head_three_way", "neck_pain"], {"proximity_sensing": ["head_three_way"], "auditory_feedback": ["neck_pain"]}
    )
    pads, sounds = found.chosen
    assert pads.because == ("head_three_way",) and set(pads.calling) == {"head_three_way", "neck_pain"}
    assert sounds.because == ("neck_pain",) and not sounds.calling
    assert [chosen.feature.id for chosen in found.uncalled] == ["auditory_feedback"]


def test_a_finding_that_an_item_answers_is_not_unmet():
    item = {"id": "tilt", "name": "power tilt", "because": ("pressure_risk",)}
    assert fit_of(["pressure_risk"]).unmet == ("pressure_risk",)
    assert not fit_of(["pressure_risk"], configuration={"items": (item,)}).unmet


@pytest.mark.parametrize(
    ("asked", "lacks"),
    [
        (["latched_drive"], {"stop_switch"}),
        (["latched_drive", "stop_switch"], set()),
        (["head_array"], {"standby"}),
        (["head_array", "standby"], set()),
    ],
)
def test_what_a_feature_must_not_go_without_is_named(asked, lacks):
    found = fit_of(["head_rests_back", "head_three_way"], asked)
    assert {other for chosen in found.chosen for need in chosen.lacking for other in need.any_of} == lacks


def test_a_gap_measured_at_rest_does_as_well_as_a_rest_state():
    rear = {"id": "rear", "part": "rear pad", "site": "head_back", "gap_mm": 12.0}
    [pads] = fit_of(["head_rests_back"], ["head_array"], configuration={"mounting": (rear,)}).chosen
    assert not pads.lacking
    [pads] = fit_of(["head_rests_back"], ["head_array"], configuration={"mounting": (rear | {"gap_mm": 0.0},)}).chosen
    assert pads.lacking


@of_each(
    ("finding", "site"),
    [
        ("hand_none", "hand"),
        ("grip_release_slow", "hand"),
        ("foot_graded", "foot"),
        ("leg_spasm", "foot"),
        ("neck_pain", "head"),
        ("rear_lost_in_turn", "head"),
        ("lip_seal_poor", "mouth"),
        ("tone_rises_effort", None),
        ("many_caregivers", None),
    ],
)
def test_a_finding_knows_the_site_it_is_about(finding, site):
    assert site_of(finding) == site


def test_a_hand_says_nothing_against_a_stick_at_the_foot_but_much_against_one_in_the_hand():
    stick = features()["proportional_control"]
    assert not against(stick, ["hand_ungraded"], {"foot"})
    assert [no.finding for no in against(stick, ["hand_ungraded"], {"hand"})] == ["hand_ungraded"]


@of_each(
    ("of_finding", "limb", "at_odds"),
    [
        ({}, "right", True),
        ({"side": "left"}, "right", False),
        ({"side": "right"}, "right", True),
        ({"side": "both"}, "right", True),
        ({"side": "left"}, None, True),
        ({"only_in_bed": True}, "right", False),
    ],
)
def test_a_finding_of_the_other_limb_or_of_the_bed_is_held_against_nothing(of_finding, limb, at_odds):
    stiff = {"id": "leg_contracture", "says": "The foot is stiff.", **of_finding}
    stick = {"id": "stick", "part": "joystick", "site": "foot", "limb": limb}
    case = case_of(asked=["foot_site"], configuration={"mounting": (stick,)})
    [foot] = fit(case.model_copy(update={"findings": (Finding(**stiff),)}), where).chosen
    assert bool(foot.at_odds) is at_odds


@of_each(
    ("of_finding", "limbs", "may_be"),
    [
        ({}, ["right"], True),
        ({}, ["left", "right"], False),
        ({}, [], False),
        ({"side": "right"}, ["right"], False),
        ({"id": "head_three_way"}, ["right"], False),
    ],
)
def test_a_finding_without_its_side_may_be_of_the_other_limb(of_finding, limbs, may_be):
    stiff = Finding(**{"id": "leg_contracture", "says": "The foot is stiff.", **of_finding})
    sticks = tuple({"id": f"stick_{limb}", "part": "joystick", "site": "foot", "limb": limb} for limb in limbs)
    case = case_of(asked=["foot_site"], configuration={"mounting": sticks}).model_copy(update={"findings": (stiff,)})
    assert may_be_of_other_side(case, stiff.id) is may_be


def test_what_has_no_site_is_held_against_every_finding():
    assert {"hand", "head", "foot", "mouth"} <= driving_sites([features()["proportional_control"]])
    assert driving_sites([features()["foot_site"], features()["proportional_control"]]) == {"foot"}


def test_unknown_words_are_told_all_at_once_with_the_nearest():
    with pytest.raises(UserError) as caught:
        fit(case_of(["head_tree_way", "burn_scar"], ["proximity_sensin"]), where)
    told = [str(problem) for problem in caught.value.problems]
    assert len(told) == 3
    assert "findings.0.id" in told[0] and "Did you mean 'head_three_way'?" in told[0]
    assert "unknown finding 'burn_scar'" in told[1]
    assert "Did you mean 'proximity_sensing'?" in told[2]


def test_a_finding_of_ones_own_is_taken_and_calls_for_nothing():
    found = fit_of(["own_burn_scar"], {"head_array": ["own_burn_scar"]})
    assert not found.unmet and not found.answers and not found.unanswered


@pytest.mark.parametrize(
    ("asked", "needed"), [("single_switch_scanning", True), ("latched_drive", True), ("head_array", False)]
)
def test_a_feature_that_another_must_not_go_without_is_needed(asked, needed):
    assert ("stop_switch" in fit_of([], [asked]).needed) is needed


def test_a_need_that_does_not_arise_makes_nothing_needed():
    [(feature, need), *_] = [(one, need) for one in features().values() for need in one.needs if need.when]
    assert not set(need.any_of) & fit_of([], [feature.id]).needed
    assert set(need.any_of) <= fit_of([need.when[0]], [feature.id]).needed


@given(FINDINGS, FEATURES)
@settings(max_examples=100, deadline=None)
def test_a_part_is_called_for_only_beside_a_control_it_goes_with(findings, asked):
    for _, _, feature in called(fit_of(findings, asked)):
        assert not features()[feature].goes_with or {*features()[feature].goes_with} & {*asked}


def test_what_goes_with_any_control_is_called_for_where_nothing_is_asked_for():
    names = {name for finding in vocabulary() for _, _, name in called(fit_of([finding], []))}
    assert names and all(not features()[name].goes_with for name in names)


@of_each("name", sorted(features()))
def test_only_a_finding_that_calls_for_a_control_at_a_site_is_spared_by_it(name):
    feature = features()[name]
    reasons = sorted(vocabulary())
    spared = set(feature.called_for_by) if feature.part == "control" and feature.sites else set()
    assert spared_by([(feature, reasons)]) == spared & set(reasons)


def test_a_need_is_left_open_unless_it_is_a_reason_or_speaks_against_what_is_asked_for():
    found = fit_of(["memory_poor", "computer_user", "breath_weak"], {"standby": ("computer_user",)})
    assert set(found.unmet) == {"memory_poor", "computer_user", "breath_weak"}  # memory_poor speaks against standby
    assert found.left_open == ("breath_weak",)


@pytest.mark.parametrize(
    ("item", "reasons", "unexplained"),
    [
        ({}, ("breath_weak",), True),
        ({"because": ("breath_weak",)}, (), False),
        ({"features": ("standby",)}, ("breath_weak",), False),
        ({"features": ("standby",)}, (), True),  # a feature that nothing is the reason of explains nothing
    ],
)
def test_an_item_is_explained_by_a_finding_or_by_a_feature_with_a_reason(item, reasons, unexplained):
    items = ({"id": "part", "name": "part", **item},)
    found = fit_of(["breath_weak"], {"standby": reasons}, configuration={"items": items})
    assert found.unexplained == ("part",) * unexplained


def test_a_finding_is_answered_by_an_item_or_as_a_reason_and_else_by_nothing():
    item = {"id": "tilt", "name": "power tilt", "because": ("pressure_risk",)}
    found = fit_of(
        ["pressure_risk", "neck_pain", "head_three_way"],
        {"head_array": ["head_three_way"]},
        configuration={"items": (item,)},
    )
    assert found.by_item == ("pressure_risk",) and found.unanswered == ("neck_pain",)


@of_each(
    ("finding", "words"),
    [
        ({"id": "hand_none", "own": True}, "'hand_none' is a word of the vocabulary"),
        (
            {"id": "own_scar", "calls_for": ("standby",)},
            "calls_for is of a finding of one's own, and 'own_scar' is not",
        ),
        ({"id": "own_scar", "speaks_against": ("standby",)}, "speaks_against is of a finding of one's own"),
        ({"id": "own_scar", "own": True, "calls_for": ("standby",)}, ""),
        ({"id": "own_scar", "own": True}, ""),
        ({"id": "hand_none"}, ""),
    ],
)
def test_a_finding_of_ones_own_is_marked_as_one_and_has_an_id_of_its_own(finding, words):
    case = Case.model_validate({"format": "docgen case 1", "id": "x", "findings": ({"says": "Seen."} | finding,)})
    with pytest.raises(UserError) if words else nullcontext() as refused:
        fit(case, where)
    assert not words or [words in str(problem) for problem in refused.value.problems] == [True]


def test_any_one_of_its_findings_brings_a_need():
    brought = [(feature, need) for feature in features().values() for need in feature.needs if len(need.when) > 1]
    assert brought
    for feature, need in brought:
        for finding in need.when:
            assert set(need.any_of) <= fit_of([finding], [feature.id]).needed, (feature.id, finding)


def test_what_is_no_control_is_held_against_findings_about_a_site_that_does_not_drive_too():
    """Only a way of driving that can stand anywhere leaves a site alone; a mount or a latch does not."""
    held = [
        (feature, risk)
        for feature in features().values()
        if feature.part != "control" and not feature.sites
        for risk in feature.spoken_against_by
        if site_of(risk.finding) not in (None, "foot")
    ]
    assert held
    for feature, risk in held:
        assert risk in against(feature, [risk.finding], {"foot"}), (feature.id, risk.finding)


def test_any_one_of_its_features_meets_a_need():
    met = [(feature, need) for feature in features().values() for need in feature.needs if len(need.any_of) > 1]
    assert met
    for feature, need in met:
        for other in need.any_of:
            [chosen, *_] = fit_of(need.when[:1], [feature.id, other]).chosen
            assert need not in chosen.lacking, (feature.id, other)
        [chosen] = fit_of(need.when[:1], [feature.id]).chosen
        assert need in chosen.lacking, feature.id


TONE = [("tone_rises_effort", part) for part in ("control", "stop_behavior", "stop", "mount")]
NECK = [("neck_fatigues", part) for part in ("fitting", "stop_behavior")]


@pytest.mark.parametrize(
    ("asked", "answered_by_item", "missing"),
    [
        (["head_array"], "pressure_risk", TONE + NECK),
        (["head_array", "proximity_sensing"], "pressure_risk", TONE[1:] + NECK),  # the control is there
        (["head_array"], "tone_rises_effort", TONE[1:] + NECK),  # an item answers it in place of a control
    ],
)
def test_what_more_is_called_for_is_told_part_by_part_for_the_sites_that_drive(asked, answered_by_item, missing):
    """A hand does not drive here, and a movement calls for nothing; what a finding calls for stands in its files."""
    item = {"id": "part", "name": "a part", "because": (answered_by_item,)}
    findings = ["head_three_way", "tone_rises_effort", "neck_fatigues", "hand_tremor", answered_by_item]
    found = fit_of(findings, asked, configuration={"items": (item,)})
    assert [(more.finding, more.part) for more in found.missing if more.finding != "pressure_risk"] == missing
    parts = {feature.id: feature.part for feature in features().values()}
    for more in found.missing:
        assert {parts[feature.id] for feature in more.features} == {more.part}
        assert all(more.finding in feature.called_for_by for feature in more.features)


def test_a_reason_that_is_enough_meets_its_finding_and_calls_for_nothing_in_others():
    asked = fit_of(["aac_user"], ["external_device_control"])
    assert [feature.id for feature in asked.answers["aac_user"]] == ["external_device_control"] and not asked.uncalled
    assert "external_device_control" not in {feature for *_, feature in called(fit_of(["aac_user"], ["head_array"]))}
    assert "external_device_control" in {feature for *_, feature in called(fit_of(["aac_shares_site"], ["head_array"]))}
