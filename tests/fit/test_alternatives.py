"""What rules a device out, what does not, and when the simpler control is to be preferred."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each
from msgspec.structs import replace
from support import DEMO_FOLDERS

from cases import case_of, where
from docgen.case.need import Finding
from docgen.case.read import read_case
from docgen.case.record import Row
from docgen.case.tried import Alternative
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.gather import evidence
from docgen.fit.alternatives import Weighed, did_worse, kinds, weigh
from docgen.fit.feature import Against, features
from docgen.fit.finding import vocabulary
from docgen.fit.match import fit, site_of

METHODS = ({"id": "stick", "name": "a stick"}, {"id": "pads", "name": "head pads"})


def rows(method: str, done: str, first: int = 2) -> tuple[Row, ...]:
    """A row an attempt, five a day."""
    return tuple(
        Row(line=first + n, date=date(2026, 3, 3) + timedelta(n // 5), method=method, task="door", success=one == "1")
        for n, one in enumerate(done)
    )


def weighed(findings, asked, alternative, records=()):
    case = case_of(
        findings,
        asked,
        alternatives=({"id": "one", "name": "a device", **alternative},),
        trial={"methods": METHODS, "tasks": ({"id": "door", "name": "a door"},)},
        configuration={"method": "pads"},
    )
    case = case.with_records(tuple(records))
    [found] = weigh(case, evidence(case), fit(case, where))
    return found


PADS = ["head_array", "proximity_sensing"]


@of_each("name", kinds())
def test_a_kind_names_features_and_findings_that_exist(name):
    kind = kinds()[name]
    assert set(kind.features) <= set(features())
    assert {no.finding for no in kind.spoken_against_by} <= set(vocabulary())
    assert set(kind.sites) <= {"hand", "head", "chin", "mouth", "foot"}


def test_every_kind_of_control_a_case_can_name_is_known():
    from typing import get_args

    from docgen.case.tried import AlternativeKind

    assert set(get_args(AlternativeKind)) - {"cane_or_walker", "manual_chair", "scooter"} == set(kinds())


def test_a_trial_that_did_worse_is_a_ground_and_one_that_did_as_well_is_none():
    stick = {"kind": "stick_by_hand", "method": "stick", "ruled_out_by": "trial"}
    worse = weighed(["head_three_way"], PADS, stick, rows("stick", "0" * 18 + "11") + rows("pads", "1" * 20, 40))
    assert worse.grounds == ("trial",) and not worse.preferred
    as_good = weighed(["head_three_way"], PADS, stick, rows("stick", "1" * 20) + rows("pads", "1" * 20, 40))
    assert not as_good.grounds


def test_features_are_a_ground_where_a_finding_speaks_against_one():
    found = weighed(["hand_none", "head_three_way"], PADS, {"kind": "stick_by_hand"})
    assert found.grounds == ("feature",)
    assert [no.finding for _, no in found.against] == ["hand_none"]


@of_each(
    ("side", "limb", "against_it"),
    [
        ("left", "right", []),
        ("left", "left", ["hand_none"]),
        ("left", None, ["hand_none"]),
        (None, "right", ["hand_none"]),
        ("both", "right", ["hand_none"]),
    ],
)
def test_a_finding_of_one_hand_is_not_held_against_a_device_for_the_other(side, limb, against_it):
    device = Alternative.model_validate({"id": "stick", "kind": "stick_by_hand", "name": "a joystick", "limb": limb})
    finding = Finding.model_validate({"id": "hand_none", "says": "The hand does not move.", "side": side})
    case = case_of(asked=PADS).model_copy(update={"findings": (finding,), "alternatives": (device,)})
    [found] = weigh(case, evidence(case), fit(case, where))
    assert [no.finding for _, no in found.against] == against_it


def test_needs_left_unmet_are_a_ground_but_not_those_of_a_site_it_leaves_alone():
    found = weighed(["tone_rises_effort", "head_three_way"], PADS, {"kind": "foot_control"})
    assert found.unmet == ("tone_rises_effort",) and site_of("head_three_way") == "head"


def test_a_condition_needs_its_reason():
    assert not weighed(["head_three_way"], PADS, {"kind": "scooter", "ruled_out_by": "condition"}).grounds
    assert weighed(
        ["head_three_way"], PADS, {"kind": "scooter", "ruled_out_by": "condition", "reason": "Cannot sit."}
    ).grounds == ("condition",)


AS_GOOD = rows("stick", "1" * 18 + "00") + rows("pads", "1" * 16 + "0000", 40)


@pytest.mark.parametrize(
    ("findings", "alternative", "records", "preferred"),
    [
        (["head_three_way"], {"kind": "stick_by_hand", "method": "stick"}, AS_GOOD, True),
        (
            ["head_three_way"],
            {"kind": "stick_by_hand", "method": "stick"},
            rows("stick", "0" * 20) + rows("pads", "1" * 20, 40),
            False,
        ),
        (
            ["head_three_way", "hand_none"],
            {"kind": "stick_by_hand", "method": "stick"},
            AS_GOOD,
            False,
        ),  # a need left unmet
        (["head_three_way"], {"kind": "stick_by_hand"}, AS_GOOD, False),  # not tried
        (["head_three_way"], {"kind": "manual_chair", "method": "stick"}, AS_GOOD, False),  # no control at all
    ],
    ids=["as good", "worse", "a need unmet", "not tried", "no control"],
)
def test_the_simpler_control_is_preferred_only_if_it_meets_every_need_and_is_not_worse(
    findings, alternative, records, preferred
):
    assert weighed(findings, PADS, alternative, records).preferred is preferred


def test_a_try_that_was_not_a_fair_one_is_no_ground_and_prefers_nothing():
    unfair = {"kind": "stick_by_hand", "method": "stick", "ruled_out_by": "not_a_fair_try", "reason": "Five minutes."}
    worse = rows("stick", "0" * 20) + rows("pads", "1" * 20, 40)
    assert weighed(["head_three_way"], PADS, unfair | {"ruled_out_by": "trial"}, worse).grounds == ("trial",)
    assert weighed(["head_three_way"], PADS, unfair, worse).grounds == ()
    assert weighed(["head_three_way"], PADS, unfair, AS_GOOD).preferred is False


def test_a_control_that_the_client_refuses_is_not_preferred():
    stick = {"kind": "stick_by_hand", "method": "stick", "reason": "She does not want it."}
    assert weighed([], PADS, {**stick, "ruled_out_by": "trial"}, AS_GOOD).preferred
    refused = weighed([], PADS, {**stick, "ruled_out_by": "refusal"}, AS_GOOD)
    assert refused.grounds == ("refusal",) and not refused.preferred


def test_a_control_after_the_one_asked_for_is_not_simpler():
    case = case_of(
        ["head_three_way"],
        ["proportional_control"],
        trial={"methods": METHODS, "tasks": ({"id": "door", "name": "a door"},)},
        configuration={"method": "stick"},
        alternatives=({"id": "one", "kind": "head_control", "name": "pads", "method": "pads"},),
    )
    case = case.with_records(AS_GOOD)
    [found] = weigh(case, evidence(case), fit(case, where))
    assert not found.simpler and not found.preferred


# ---- each condition by itself, at its edge ---------------------------------------------------------------------

RISK = Against(finding="hand_none", risk="No hand can reach it.", safety=True)
LESSER = Against(finding="hand_weak", risk="It is not pushed to its end.")


def compared(low: float | None, name: str, verdict: str) -> Fact:
    return Fact(f"difference.{name}", "comparing", "difference", "difference", 0.2, 40, low=low, verdict=verdict)


@of_each(
    ("changed", "preferred"),
    [
        ({}, True),
        ({"simpler": False}, False),
        ({"difference": None}, False),
        ({"difference": compared(0.1, "stick", "worse_so_far")}, False),
        ({"difference": compared(0.1, "stick", "clearly_worse")}, False),
        ({"difference": compared(0.1, "stick", "clearly_better")}, True),
        ({"features": ()}, False),
        ({"unmet": ("tone_rises_effort",)}, False),
        ({"against": ((None, RISK),)}, False),
        ({"against": ((None, LESSER),)}, True),
        ({"against": ((None, LESSER), (None, RISK))}, False),
    ],
)
def test_a_simpler_control_is_preferred_while_nothing_speaks_against_it(changed, preferred):
    stick = Weighed(
        Alternative(id="one", kind="stick_by_hand", name="a stick"),
        (features()["proportional_control"],),
        {},
        (),
        (),
        compared(-0.1, "stick", "not_told_apart"),
        (),
        True,
    )
    assert replace(stick, **changed).preferred is preferred


@of_each(
    ("low", "verdict", "n_stick", "n_pads", "worse"),
    [
        (0.01, "worse_so_far", 5, 5, True),
        (0.01, "clearly_worse", 5, 5, True),
        (0.01, "clearly_worse", 4, 5, False),
        (0.01, "clearly_worse", 5, 4, False),
        (0.01, "clearly_worse", 5, None, False),
        (0.01, "clearly_worse", None, 5, False),
        (0.0, "clearly_worse", 5, 5, False),
        (None, "clearly_worse", 5, 5, False),
        (0.01, "not_told_apart", 5, 5, False),
        (0.01, None, 5, 5, False),
    ],
)
def test_a_control_did_worse_where_its_interval_says_so_and_both_were_used_often_enough(
    low, verdict, n_stick, n_pads, worse
):
    """Five attempts each are the fewest of which it is said."""
    facts = [] if verdict is None else [compared(low, "stick", verdict)]
    for name, n in (("stick", n_stick), ("pads", n_pads)):
        facts += [] if n is None else [Fact(f"success.{name}", "passing", "done", "proportion", 0.5, n)]
    case = case_of(configuration={"method": "pads"})
    assert did_worse(case, Evidence(iter(facts)), "stick") is worse


SAID = {"reason": "It will not do.", "measure": "0 of 5 tries"}


@of_each(
    ("alternative", "grounds"),
    [
        ({"ruled_out_by": "feature", **SAID}, ("feature",)),
        ({"ruled_out_by": "feature", "reason": "It will not do."}, ()),
        ({"ruled_out_by": "feature", "measure": "0 of 5 tries"}, ()),
        ({"ruled_out_by": "condition", "reason": "It will not do."}, ("condition",)),
        ({"ruled_out_by": "condition"}, ()),
        ({"ruled_out_by": "refusal", "reason": "It will not do."}, ("refusal",)),
        ({"ruled_out_by": "refusal"}, ()),
        ({"ruled_out_by": "nothing", **SAID}, ()),
        (SAID, ()),
    ],
)
def test_what_is_said_to_rule_a_device_out_is_a_ground_with_its_reason(alternative, grounds):
    assert weighed(["head_three_way"], PADS, {"kind": "scooter"} | alternative).grounds == grounds


@pytest.mark.parametrize(
    ("method", "asked", "simpler"),
    [
        ("stick", "pads", True),
        ("pads", "pads", False),
        ("pads", "stick", False),
        (None, "pads", False),
        ("stick", None, False),
    ],
)
def test_a_control_is_simpler_where_the_trial_has_it_before_the_one_asked_for(method, asked, simpler):
    case = case_of(
        trial={"methods": METHODS},
        configuration={"method": asked},
        alternatives=({"id": "one", "kind": "other_control", "name": "a control", "method": method},),
    )
    [alternative] = weigh(case, evidence(case), fit(case, where))
    assert alternative.simpler is simpler


@of_each(
    ("findings", "asked", "alternative", "answered", "against", "unmet"),
    [
        # a hand that cannot grade speaks against a stick in the hand, and not against one at the foot
        (["hand_ungraded"], ["head_array"], {"kind": "stick_by_hand"}, (), ("hand_ungraded",), ()),
        (["hand_ungraded"], ["head_array"], {"kind": "foot_control"}, (), (), ()),
        # its kind bars what its features would answer
        (["hand_weak"], ["head_array"], {"kind": "stick_by_hand"}, (), ("hand_weak",), ()),
        # a device that brings no feature leaves no need open
        (["tone_rises_effort"], PADS, {"kind": "scooter"}, (), (), ()),
        (["tone_rises_effort"], PADS, {"kind": "stick_by_hand"}, (), (), ("tone_rises_effort",)),
        # its own features say where it is driven, and not its kind
        (["hand_ungraded"], ["head_array"], {"kind": "stick_by_hand", "features": ("foot_site",)}, (), (), ()),
        # a control chosen at the same site for a finding leaves that finding to it
        (
            ["hand_tremor"],
            {"joystick_position": ["hand_tremor"]},
            {"kind": "mini_stick"},
            (),
            (),
            ("hand_tremor",),
        ),
        (["hand_tremor"], {"joystick_position": []}, {"kind": "mini_stick"}, (), ("hand_tremor",), ("hand_tremor",)),
        # a part goes with one of its hosts, and with none of the others
        (
            ["fatigue_daily"],
            [*PADS, "latched_drive"],
            {"kind": "breath_control"},
            ("fatigue_daily",),
            (),
            (),
        ),
        (["fatigue_daily"], [*PADS, "latched_drive"], {"kind": "stick_by_hand"}, (), (), ("fatigue_daily",)),
        # a movement that it leaves unused is no need
        (
            ["head_three_way"],
            ["head_array"],
            {"kind": "other_control", "features": ("force_threshold_pad",)},
            (),
            (),
            (),
        ),
        # a movement counts only at a site that drives it
        (["head_three_way"], ["head_array"], {"kind": "head_control"}, ("head_three_way",), (), ()),
        (["head_three_way"], ["head_array"], {"kind": "breath_control"}, (), (), ()),
    ],
)
def test_findings_are_held_against_the_site_and_the_features_of_a_device(
    findings, asked, alternative, answered, against, unmet
):
    found = weighed(findings, asked, alternative)
    assert tuple(found.answers) == answered
    assert tuple(dict.fromkeys(risk.finding for _, risk in found.against)) == against
    assert found.unmet == unmet


# The conclusions a competent reviewer draws of the invented clients: which simpler control the record prefers, if any.
PREFERRED = {"anselm-kirawira-boone": {"hand_midline"}, "pilar-nakashima-holt": {"head_pads"}}


@pytest.mark.parametrize("path", DEMO_FOLDERS, ids=lambda path: path.name)
def test_a_demo_case_prefers_the_simpler_control_only_where_a_reviewer_would(path):
    case = read_case(path).case
    found = {one.alternative.id for one in weigh(case, evidence(case), fit(case, where)) if one.preferred}
    assert found == PREFERRED.get(path.name, set())
