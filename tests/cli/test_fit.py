"""docgen fit and docgen features: what they print, as text and as JSON, and how they refuse."""

from __future__ import annotations

import json

import pytest
from gathered import of_each
from support import DEMO_FOLDERS, SMALL, SMALL_ROWS
from typer.testing import CliRunner

from docgen.cli import app
from docgen.fit.feature import features

RUN = CliRunner()
BY_NAME = {path.name: path for path in DEMO_FOLDERS}


def run(*words, status=0):
    done = RUN.invoke(app, list(map(str, words)))
    assert done.exit_code == status, done.output
    return done.output


def small(tmp_path, more=""):
    """A small case with some findings more."""
    folder = tmp_path / "small"
    folder.mkdir()
    (folder / "case.toml").write_text(SMALL + more, encoding="utf-8")
    (folder / "trial.csv").write_text(SMALL_ROWS, encoding="utf-8")
    return folder


def flat(text):
    return " ".join(text.split())


@pytest.mark.parametrize("path", DEMO_FOLDERS, ids=lambda path: path.name)
def test_fit_tells_every_finding_and_every_device_of_a_demo_case(path):
    data = json.loads(run("fit", path, "--json"))
    told = flat(run("fit", path))
    assert data["format"] == "docgen fit 1" and data["case"] == path.name
    for finding in data["findings"]:
        assert f"{finding['id']}: " in told
    controls = [one for one in data["alternatives"] if one["features"]]
    assert told.count("Said to be ruled out by") == len(controls)
    assert "None" not in told and "qualified person" in told


def test_a_contra_indicated_request_is_told_first():
    told = flat(run("fit", BY_NAME["pilar-nakashima-holt"]))
    assert (
        told.index("the request is not supported")
        < told.index("can do harm to this client")
        < told.index("A risk of injury.")
    )
    assert "in the trial: muscle tone rises by 2 or more (2 points)" in told and "answer: not recorded" in told
    data = json.loads(run("fit", BY_NAME["pilar-nakashima-holt"], "--json"))
    [asked] = [one for one in data["features"] if one["id"] == "force_graded_speed"]
    assert {no["finding"] for no in asked["against"] if no["safety"]} >= {"tone_rises_effort", "release_slow"}


def test_where_two_controls_fit_the_simpler_one_is_preferred():
    told = flat(run("fit", BY_NAME["anselm-kirawira-boone"]))
    assert "is simpler, leaves no more needs open" in told and "-10 percentage points (-33 to 13)" in told
    data = json.loads(run("fit", BY_NAME["anselm-kirawira-boone"], "--json"))
    assert [one["id"] for one in data["alternatives"] if one["preferred"]] == ["hand_midline"]


@pytest.mark.parametrize("name", ["ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng"])
def test_a_ready_case_is_told_to_fit(name):
    told = flat(run("fit", BY_NAME[name]))
    assert (
        "not supported" not in told
        and "no answer is recorded" not in told
        and "No finding recorded calls for" not in told
    )


def test_before_a_choice_it_tells_what_the_findings_call_for(tmp_path):
    folder = small(
        tmp_path,
        '\n[[findings]]\nid = "head_three_way"\nsays = "The head moves three ways."\n\n'
        '[[findings]]\nid = "neck_restricted"\nsays = "No turning past 20 degrees."\n',
    )
    told = flat(run("fit", folder))
    assert "WHAT THE FINDINGS CALL FOR" in told
    assert (
        "head array: for isolated neck extension and bilateral rotation or lateral flexion with return to "
        "midline; against: cervical precautions"
    ) in told


def test_a_case_without_findings_is_told_what_to_do(tmp_path):
    assert "no finding is recorded" in run("fit", small(tmp_path))


def test_an_unknown_finding_is_one_sentence_with_its_line(tmp_path):
    more = '\n[[findings]]\nid = "head_tree_way"\nsays = "The head moves three ways."\n'
    line = (SMALL + more).split("\n").index('id = "head_tree_way"') + 1
    done = RUN.invoke(app, ["check", str(small(tmp_path, more))])
    assert done.exit_code == 2
    assert f"case.toml:{line}: unknown finding 'head_tree_way'. Did you mean 'head_three_way'?" in done.stderr


def test_features_lists_each_once_under_its_part():
    told = run("features")
    for name in features():
        assert sum(line.split()[:1] == [name] for line in told.splitlines()) == 1


@of_each("name", features())
def test_a_feature_is_told_in_full(name):
    told, feature = flat(run("features", name)), features()[name]
    for text in (
        feature.what,
        feature.trial,
        feature.justification,
        feature.without,
        feature.care,
        feature.training,
        feature.source,
    ):
        assert flat(text) in told
    assert all(f"{finding}: " in told for finding in feature.called_for_by)


def test_a_feature_that_does_not_exist_names_the_nearest():
    done = RUN.invoke(app, ["features", "proximity_sensin"])
    assert done.exit_code == 2 and "Did you mean 'proximity_sensing'?" in done.stderr
