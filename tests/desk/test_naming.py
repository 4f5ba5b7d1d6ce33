"""A new entry has a name in the file that says who or what it is, and nobody's own name."""

from __future__ import annotations

import json

import pytest

from docgen.case.read import read_case
from docgen.desk.topics import topic_of


def _add(visitor, at, of_list, **keys):
    path = [*of_list.split(".")]
    fields = {f"key.{name}": text for name, text in keys.items()}
    return visitor.post(f"{at}/{topic_of(tuple(path)).id}/add", path=json.dumps(path), **fields)


@pytest.mark.parametrize(
    ("of_list", "keys", "head"),
    [
        ("people", {"role": "caregiver", "relation": "mother"}, "people.mother"),
        ("people", {"role": "school", "relation": "teacher"}, "people.teacher"),
        ("people", {"role": "other", "relation": "mother"}, "people.other"),  # the name alone would say caregiver
        ("people", {"role": "respiratory"}, "people.respiratory"),
        ("spaces", {"name": "front door", "kind": "doorway"}, "spaces.front_door"),
        ("spaces", {"name": "elevator door", "kind": "elevator"}, "spaces.elevator"),
        ("goals", {"says": "Drive to the mailbox and back alone."}, "goals.drive_to_the_mailbox_and"),
        ("visits", {"on": "2026-01-12"}, "visits.visit_2026_01_12"),
    ],
)
def test_a_new_entry_is_named_by_what_it_is(of_list, keys, head, visitor, at, case):
    before = read_case(case).case
    assert _add(visitor, at, of_list, **keys).status == 303
    text = (case / "case.toml").read_text()
    assert f"\n[{head}]\n" in text
    assert len(getattr(read_case(case).case, of_list)) == len(getattr(before, of_list)) + 1


def test_a_second_of_a_kind_has_a_number(visitor, at, case):
    for _ in range(2):
        assert _add(visitor, at, "people", role="caregiver", relation="aunt").status == 303
    assert [person.id for person in read_case(case).case.people][-2:] == ["aunt", "aunt_2"]


def test_names_of_people_stay_out_of_the_name_of_an_entry(visitor, at, case):
    called = read_case(case).case.client.called
    assert _add(visitor, at, "goals", says=f"{called} drives to the mailbox.").status == 303
    assert read_case(case).case.goals[-1].id == "drives_to_the_mailbox"


def test_the_form_of_a_new_person_asks_who_it_is_to_the_client(visitor, at):
    page = visitor.get(f"{at}/who").text
    form = page.partition("to: People</span></summary>")[2].partition("</form>")[0]
    assert 'name="key.role"' in form and 'name="key.relation"' in form
