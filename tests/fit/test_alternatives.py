"""What rules a device out, what does not, and when the simpler control is to be preferred."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from support import DEMO_FOLDERS

from cases import case_of, where
from docgen.case.read import read_case
from docgen.case.record import Row
from docgen.evidence.gather import evidence
from docgen.fit.alternatives import kinds, weigh
from docgen.fit.feature import features
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


@pytest.mark.parametrize("name", kinds())
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


# The conclusions a competent reviewer draws of the invented clients: which simpler control the record prefers, if any.
PREFERRED = {"anselm-kirawira-boone": {"hand_midline"}, "pilar-nakashima-holt": {"head_pads"}}


@pytest.mark.parametrize("path", DEMO_FOLDERS, ids=lambda path: path.name)
def test_a_demo_case_prefers_the_simpler_control_only_where_a_reviewer_would(path):
    case = read_case(path).case
    found = {one.alternative.id for one in weigh(case, evidence(case), fit(case, where)) if one.preferred}
    assert found == PREFERRED.get(path.name, set())
