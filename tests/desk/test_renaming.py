"""An entry has another name in every place of the case and its rows: shown first, one save, taken back as one."""

from __future__ import annotations

import json
import re

import pytest
from support import DEMO_FOLDERS

from docgen.case.keys import value_at
from docgen.case.read import read_case
from docgen.desk import history
from docgen.desk.leaning import keys_that_name, name_in_file
from docgen.desk.topics import topic_of


def _files(case):
    return {path.name: path.read_bytes() for path in case.iterdir() if path.is_file()}


def _ask(visitor, at, entry, **fields):
    return visitor.post(f"{at}/{topic_of(entry).id}/rename", path=json.dumps(entry), **fields)


def _shown(page):
    return re.search(r'name="shown" value="([0-9a-f]+)"', page)[1]


@pytest.mark.parametrize(
    "entry",
    [("people", 0), ("visits", 0), ("trial", "methods", 0), ("trial", "tasks", 1), ("alternatives", 0), ("spaces", 0)],
)
def test_an_entry_is_renamed_in_every_place_as_one_change(entry, visitor, at, case):
    before, file = _files(case), read_case(case)
    old = value_at(file.case, entry).id
    keys = [*keys_that_name(file.case, entry[:-1], old)]
    looked = _ask(visitor, at, entry, name="another_name")
    assert looked.status == 200 and "Nothing is written yet." in looked.text
    assert looked.text.count("<li><a href") - looked.text.partition("</header>")[0].count("<li><a href") == len(
        set(keys)
    )
    assert _files(case) == before
    assert _ask(visitor, at, entry, name="another_name", shown=_shown(looked.text)).status == 303
    case_now = read_case(case).case
    assert value_at(case_now, entry).model_copy(update={"id": old}) == value_at(file.case, entry)
    assert [*keys_that_name(case_now, entry[:-1], "another_name")] == keys
    assert not [*keys_that_name(case_now, entry[:-1], old)]
    n_rows = sum(old in (row.method, row.task) for row in file.case.records)
    assert sum("another_name" in (row.method, row.task) for row in case_now.records) == n_rows
    if entry[0] == "trial":
        assert n_rows and f"{n_rows} rows of trial.csv" in looked.text
    assert history.count(case) == 1
    assert visitor.post(f"{at}/who/back").status == 303
    assert _files(case) == before


def test_nothing_but_the_name_changes_in_the_text(visitor, at, case):
    before, file = (case / "case.toml").read_text(), read_case(case)
    entry = ("trial", "methods", 0)
    old = value_at(file.case, entry).id
    looked = _ask(visitor, at, entry, name="zz_other")
    _ask(visitor, at, entry, name="zz_other", shown=_shown(looked.text))
    after = (case / "case.toml").read_text()
    new_lines = set(after.replace("zz_other", old).splitlines()) - set(before.splitlines())
    assert new_lines <= {f'name = "{value_at(file.case, entry).name}"'}  # which the old name said


def test_a_change_since_it_was_shown_is_shown_again(visitor, at, case):
    looked = _ask(visitor, at, ("people", 0), name="another_name")
    text = (case / "case.toml").read_text() + "# a note\n"
    (case / "case.toml").write_text(text)
    again = _ask(visitor, at, ("people", 0), name="another_name", shown=_shown(looked.text))
    assert again.status == 200 and "Nothing is written yet." in again.text
    assert (case / "case.toml").read_text() == text


@pytest.mark.parametrize("name", ["", "Two Words", "1st", "x" * 41, "../x", '"><script>'])
def test_what_is_no_name_is_refused(name, visitor, at, case):
    before = _files(case)
    answer = _ask(visitor, at, ("people", 0), name=name)
    assert answer.status == 422 and "<script>" not in answer.text
    assert _files(case) == before


def test_a_name_that_another_entry_has_is_refused(visitor, at, case):
    taken = read_case(case).case.people[1].id
    answer = _ask(visitor, at, ("people", 0), name=taken)
    assert answer.status == 422 and "is the name of another entry" in answer.text


def test_a_finding_of_the_vocabulary_has_no_name_of_its_own(visitor, at, case):
    assert name_in_file(read_case(case).case, ("findings", 0)) == ""
    assert _ask(visitor, at, ("findings", 0), name="another_name").status == 422


def test_another_person_is_put_in_place_of_one_and_that_one_is_taken_out(visitor, at, case):
    before, keys = _files(case), {"key.role": "caregiver", "key.relation": "aunt"}
    assert visitor.post(f"{at}/who/add", path=json.dumps(["people"]), **keys).status == 303
    with_aunt, file = _files(case), read_case(case)
    entry = ("people", 0)
    old = file.case.people[0].id
    refused = visitor.post(f"{at}/who/remove", path=json.dumps(entry))
    assert '<option value="aunt">' in refused.text and "Show what would change" in refused.text
    looked = _ask(visitor, at, entry, name="aunt", takes_out="yes")
    assert looked.status == 200 and "is taken out, and" in looked.text
    assert _files(case) == with_aunt
    assert _ask(visitor, at, entry, name="aunt", takes_out="yes", shown=_shown(looked.text)).status == 303
    case_now = read_case(case).case
    assert old not in {person.id for person in case_now.people} and len(case_now.people) == len(file.case.people) - 1
    assert len([*keys_that_name(case_now, ("people",), "aunt")]) == len([*keys_that_name(file.case, ("people",), old)])
    for _ in range(2):
        assert visitor.post(f"{at}/who/back").status == 303
    assert _files(case) == before


def test_rows_of_a_control_never_become_those_of_another(visitor, at, case):
    other = read_case(case).case.trial.methods[1].id
    refused = _ask(visitor, at, ("trial", "methods", 0), name=other, takes_out="yes")
    assert refused.status == 422 and "rows of the trial, which are of nothing else" in refused.text
    told = visitor.post(f"{at}/trial/remove", path=json.dumps(["trial", "methods", 0])).text
    assert "Others name this entry." in told and "Show what would change" not in told


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_every_first_entry_of_a_demo_can_be_renamed(source, visitor, at, case):
    file, n_renamed = read_case(case), 0
    for of_list in (("people",), ("configuration", "items"), ("configuration", "mounting"), ("goals",)):
        entry = (*of_list, 0)
        if not name_in_file(file.case, entry):
            continue
        looked = _ask(visitor, at, entry, name="another_name")
        assert looked.status == 200, looked.text.partition('id="trouble"')[2][:300]
        n_renamed += 1
    assert n_renamed
