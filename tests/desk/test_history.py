"""Each change at the desk can be taken back with every file of it, and never together with a change of somebody else
unless that is asked for."""

from __future__ import annotations

import json
import shutil

import pytest

from docgen.desk import history, kept


def _answer(visitor, at, called, was):
    fields = {"path": json.dumps(["client", "called"]), "value": called, "was": was}
    assert visitor.post(f"{at}/who/answer", **fields).status == 303


def _was(visitor, at):
    field = visitor.get(f"{at}/who").text.partition('id="client-called"')[2].partition("</textarea>")[0]
    return field.partition(">")[2]


def test_what_somebody_else_changed_since_is_not_undone_silently(visitor, at, case):
    before, was = (case / "case.toml").read_text(), _was(visitor, at)
    _answer(visitor, at, "Jo", was)
    foreign = (case / "case.toml").read_text() + "# a note of somebody else\n"
    (case / "case.toml").write_text(foreign)
    refused = visitor.post(f"{at}/who/back")
    assert (refused.status, "case.toml was changed elsewhere after that" in refused.text) == (422, True)
    assert (case / "case.toml").read_text() == foreign
    assert 'name="all_the_same"' in refused.text and 'name="all_the_same"' not in visitor.get(f"{at}/who").text
    assert visitor.post(f"{at}/who/back", all_the_same="yes").status == 303
    assert (case / "case.toml").read_text() == before
    assert visitor.post(f"{at}/who/back").status == 303  # and what it then held can be had back
    assert (case / "case.toml").read_text() == foreign


def test_a_change_elsewhere_between_two_answers_stays_when_the_second_is_taken_back(visitor, at, case):
    _answer(visitor, at, "Jo", _was(visitor, at))
    foreign = (case / "case.toml").read_text() + "# a note of somebody else\n"
    (case / "case.toml").write_text(foreign)
    _answer(visitor, at, "Joy", "Jo")
    assert visitor.post(f"{at}/who/back").status == 303
    assert (case / "case.toml").read_text() == foreign
    assert visitor.post(f"{at}/who/back").status == 422


@pytest.mark.parametrize("mode", ["add", "replace"])
def test_rows_that_were_taken_in_can_be_taken_back(mode, visitor, at, case):
    before = {path.name: path.read_bytes() for path in case.iterdir() if path.is_file()}
    head, first, *_ = (case / "trial.csv").read_text().splitlines()
    cells = dict(zip(head.split(","), first.split(","), strict=True))
    text = f"date\tcontrol\ttask\tdone\n{cells['date']}\t{cells['method']}\t{cells['task']}\tyes"
    written = visitor.post(f"{at}/rows", text=text, mode=mode)
    assert "Written: trial.csv" in written.text and "Last change: rows taken in: trial.csv." in written.text
    assert visitor.post(f"{at}/rows/back").headers["location"].startswith(f"{at}/rows")
    assert {path.name: path.read_bytes() for path in case.iterdir() if path.is_file()} == before


def test_what_was_changed_is_still_told_after_the_desk_was_closed(visitor, at, case):
    _answer(visitor, at, "Jo", _was(visitor, at))
    assert history.says_last(case) == "answered: Name the client goes by"
    assert "Last change: answered: Name the client goes by." in visitor.get(f"{at}/who").text


def test_a_case_that_cannot_be_read_any_more_can_be_put_back(visitor, at, case):
    before = (case / "case.toml").read_text()
    _answer(visitor, at, "Jo", _was(visitor, at))
    (case / "case.toml").write_text("id = ")
    assert "Take the last change back (1 kept)" in visitor.get(at).text
    assert "Take it back all the same" in visitor.post(f"{at}/who/back").text
    assert visitor.post(f"{at}/who/back", all_the_same="yes").status == 303
    assert (case / "case.toml").read_text() == before


def test_a_change_of_which_only_half_was_kept_is_none(visitor, at, case):
    _answer(visitor, at, "Jo", _was(visitor, at))
    shutil.copytree(case / kept.FOLDER / "000001", case / kept.FOLDER / "000002")
    (case / kept.FOLDER / "000002" / "change.json").unlink()
    assert history.count(case) == 1
    _answer(visitor, at, "Joy", "Jo")
    assert history.count(case) == 2
