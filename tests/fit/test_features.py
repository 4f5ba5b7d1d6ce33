"""The feature files: they load, name findings that exist, and speak plainly to caregivers and coaches."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from support import DEMO_FOLDERS

import docgen.fit.feature
from docgen.case.read import read_case
from docgen.fit.feature import features

FEATURES = features()
_VOCABULARY = Path(docgen.fit.feature.__file__).parent / "findings.toml"
FINDINGS = tomllib.loads(_VOCABULARY.read_text(encoding="utf-8"))
REQUEST_NOT_CALLED_FOR = "anselm-kirawira-boone"  # asks for a control that its findings do not call for
SOURCES = ("common practice, no source", "text read", "passage read", "abstract read", "seen in a summary")

each_feature = pytest.mark.parametrize("feature", FEATURES.values(), ids=list(FEATURES))


def sentences(text: str) -> list[str]:
    """Sentences of a text whose sentences end with a stop and a space."""
    return re.split(r"(?<=[.!?])\s+", text.strip())


def test_every_feature_file_is_a_feature():
    files = sorted(path.stem for path in (Path(docgen.__file__).parent / "features").iterdir())
    assert files == list(FEATURES)
    assert len(files) >= 50


def test_every_finding_says_what_it_means_and_what_to_record():
    for name, finding in FINDINGS.items():
        assert re.fullmatch(r"[a-z][a-z0-9_]{0,39}", name)
        assert set(finding) == {"says", "record"}, name
        assert finding["says"].endswith("."), name
        assert finding["record"] and not finding["record"].endswith("."), name


def test_every_finding_bears_on_some_feature():
    calling = {name for feature in FEATURES.values() for name in feature.called_for_by}
    against = {one.finding for feature in FEATURES.values() for one in feature.spoken_against_by}
    assert not set(FINDINGS) - calling - against


@each_feature
def test_a_feature_names_only_findings_of_the_vocabulary(feature):
    named = [*feature.called_for_by, *(one.finding for one in feature.spoken_against_by)]
    assert not set(named) - set(FINDINGS)


@each_feature
def test_at_least_one_finding_calls_for_a_feature_and_none_twice(feature):
    assert feature.called_for_by
    assert len(set(feature.called_for_by)) == len(feature.called_for_by)


@each_feature
def test_no_finding_both_calls_for_a_feature_and_speaks_against_it(feature):
    against = [one.finding for one in feature.spoken_against_by]
    assert len(set(against)) == len(against)
    assert not set(against) & set(feature.called_for_by)


@each_feature
def test_texts_that_stand_as_sentences_end_as_sentences(feature):
    texts = [feature.what, feature.justification, feature.without, feature.care, feature.training]
    assert all(text.endswith(".") for text in [*texts, *(one.risk for one in feature.spoken_against_by)])
    assert len(sentences(feature.what)) == len(sentences(feature.without)) == 1
    assert len(sentences(feature.justification)) <= 2


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


@pytest.mark.parametrize("path", DEMO_FOLDERS, ids=lambda path: path.name)
def test_findings_of_a_demo_case_are_of_the_vocabulary(path):
    assert not {finding.id for finding in read_case(path).case.findings} - set(FINDINGS)


@pytest.mark.parametrize("name", ["ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng"])
def test_a_ready_case_gives_each_feature_a_finding_that_calls_for_it_and_none_against_it(name):
    case = read_case(next(path for path in DEMO_FOLDERS if path.name == name)).case
    present = {finding.id for finding in case.findings}
    for wanted in case.configuration.features:
        feature = FEATURES[wanted.id]
        assert wanted.because and set(wanted.because) <= set(feature.called_for_by), wanted.id
        against = {one.finding for one in feature.spoken_against_by} & present
        assert not against or wanted.answer, wanted.id


def test_the_unsupported_request_is_called_for_by_none_of_its_findings():
    case = read_case(next(path for path in DEMO_FOLDERS if path.name == REQUEST_NOT_CALLED_FOR)).case
    present = {finding.id for finding in case.findings}
    assert case.configuration.features
    for wanted in case.configuration.features:
        assert not set(FEATURES[wanted.id].called_for_by) & present, wanted.id
