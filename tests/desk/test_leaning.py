"""An entry that others name is not taken out: the desk says where it is named, with a way to each."""

from __future__ import annotations

import json
import re

import pytest

from docgen.case.keys import value_at
from docgen.case.read import read_case
from docgen.desk.topics import topic_of


def _refused(visitor, at, entry):
    return visitor.post(f"{at}/{topic_of(entry).id}/remove", path=json.dumps(entry))


@pytest.mark.parametrize("entry", [("people", 0), ("visits", 0), ("trial", "methods", 0)])
def test_what_names_an_entry_is_told_with_a_way_to_each(entry, visitor, at, case):
    before = (case / "case.toml").read_text()
    answer = _refused(visitor, at, entry)
    assert (answer.status, "Others name this entry." in answer.text) == (422, True)
    assert (case / "case.toml").read_text() == before
    told = answer.text.partition('id="trouble"')[2].partition("</ul>")[0]
    links = re.findall(rf'href="{at}/(\w+)#([\w-]+)">', told)
    assert links and len(links) == len(set(links))
    name = value_at(read_case(case).case, entry).id
    for topic, anchor in links:
        assert f'id="{anchor}"' in visitor.get(f"{at}/{topic}").text
        path = tuple(int(part) if part.isdigit() else part for part in anchor.split("-"))
        holds = value_at(read_case(case).case, path)
        assert name in ((holds,) if isinstance(holds, str) else holds)
    assert (f'href="{at}/rows"' in told) == (entry[-2] == "methods")


def test_an_entry_is_taken_out_once_nobody_names_it(visitor, at, case):
    keys = {"key.role": "caregiver", "key.relation": "aunt"}
    assert visitor.post(f"{at}/who/add", path=json.dumps(["people"]), **keys).status == 303
    people = read_case(case).case.people
    place, before = len(people) - 1, "\n".join(read_case(case).case.supervision[0].who)
    named = {"path": json.dumps(["supervision", 0, "who"]), "value": [*before.split("\n"), "aunt"], "was": before}
    assert visitor.post(f"{at}/safety/answer", **named).status == 303
    assert f'href="{at}/safety#supervision-0-who"' in _refused(visitor, at, ("people", place)).text
    assert visitor.post(f"{at}/safety/back").status == 303
    assert _refused(visitor, at, ("people", place)).status == 303
    assert read_case(case).case.people == people[:-1]
