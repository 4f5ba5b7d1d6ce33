"""Features in a case: what the record of a case calls for, speaks against or argues with."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from gathered import of_each
from support import DEMO_FOLDERS

from docgen.case.keys import bare_kind
from docgen.case.model import Case
from docgen.case.read import read_case
from docgen.case.who import Diagnosis
from docgen.fit.feature import (
    Against,
    Feature,
    Need,
    SaidIf,
    TermSource,
    features,
)
from docgen.fit.finding import Meaning, vocabulary
from docgen.fit.match import against, driving_sites

FEATURES = features()


REQUEST_NOT_CALLED_FOR = "anselm-kirawira-boone"  # asks for a control that its findings do not call for


@pytest.mark.parametrize("path", DEMO_FOLDERS, ids=lambda path: path.name)
def test_findings_of_a_demo_case_are_of_the_vocabulary(path):
    assert not {finding.id for finding in read_case(path).case.findings} - vocabulary().keys()


@pytest.mark.parametrize("name", ["ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng"])
def test_a_ready_case_gives_each_feature_a_finding_that_calls_for_it_and_none_against_it(name):
    case = read_case(next(path for path in DEMO_FOLDERS if path.name == name)).case
    present = {finding.id for finding in case.findings}
    sites = driving_sites(FEATURES[wanted.id] for wanted in case.configuration.features)
    for wanted in case.configuration.features:
        feature = FEATURES[wanted.id]
        assert wanted.because and set(wanted.because) <= set(feature.called_for_by), wanted.id
        assert not against(feature, present, sites) or wanted.answer, wanted.id


def test_the_unsupported_request_is_called_for_by_none_of_its_findings():
    case = read_case(next(path for path in DEMO_FOLDERS if path.name == REQUEST_NOT_CALLED_FOR)).case
    present = {finding.id for finding in case.findings}
    assert case.configuration.features
    for wanted in case.configuration.features:
        assert not set(FEATURES[wanted.id].called_for_by) & present, wanted.id


@of_each(
    ("courses", "found", "says"),
    [
        ((), (), "It runs a control other than a standard joystick."),
        (("stable",), (), "It runs a control other than a standard joystick."),
        (("recovering",), ("seat_functions_needed",), "It runs a control other than a standard joystick."),
        (("stable",), ("growth_expected",), "when the body changes."),
        (("stable", "slow_progressive"), (), "when the condition changes."),
        ((), ("progressive_fast",), "when the condition changes."),
    ],
)
def test_a_change_is_argued_with_only_where_the_record_expects_it(courses, found, says):
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "robin-example",
            "diagnoses": [{"name": "a condition", "course": course} for course in courses],
            "findings": [{"id": name, "says": "Seen."} for name in found],
        }
    )
    assert features()["expandable_electronics"].justified(case).endswith(says)


@of_each("feature", features().values(), ids=lambda feature: feature.id)
def test_words_of_every_case_speak_of_no_change_to_come(feature):
    """Courses and findings of `said_if` are those there are."""
    assert not re.search(r"(condition|body) (may )?changes|as .* grows", feature.justification)
    known = get_args(bare_kind(Diagnosis.model_fields["course"].annotation))
    for said in feature.said_if:
        assert {*said.courses} <= {*known} and {*said.findings} <= vocabulary().keys()
        assert said.courses or said.findings


def test_what_a_file_does_not_say_is_no_risk_of_injury_and_no_public_term():
    assert not Against(finding="hand_none", risk="It is not reached.").safety
    assert not Need(any_of=("standby",), risk="It drives as it wakes.").safety
    assert not TermSource(source=("a text",)).read
    assert Feature.model_fields["until"].default == 8  # the last stage of training: its words always help
    bare = Meaning(name="A finding", says="Seen.", record="What was seen.", synonyms=("seen",))
    assert not bare.able and not bare.danger


def _record(courses: tuple[str, ...], findings: tuple[str, ...]) -> Case:
    return Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "robin-example",
            "diagnoses": tuple({"code": "G80.9", "name": "palsy", "course": course} for course in courses),
            "findings": tuple({"id": name, "says": "As seen."} for name in findings),
        }
    )


@of_each(
    ("courses", "findings", "holds"),
    [
        (("fast_progressive",), (), True),
        (("stable", "fast_progressive"), (), True),
        (("stable",), (), False),
        ((), ("growing",), True),
        (("stable",), ("steady", "growing"), True),
        ((), ("steady",), False),
        ((), (), False),
    ],
)
def test_words_of_a_change_hold_where_a_course_or_a_finding_of_the_record_brings_it(courses, findings, holds):
    said = SaidIf(says="Will change.", courses=("fast_progressive",), findings=("growing",))
    assert said.holds(_record(courses, findings)) is holds
