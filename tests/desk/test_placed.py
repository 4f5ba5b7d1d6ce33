"""A table that the desk writes stands where its part belongs in the order of the work, and all else stays as it was."""

from __future__ import annotations

import json
from datetime import time

import pytest
from asking import Visitor, address_of

from docgen.case.edit import with_entry, with_key
from docgen.case.lines import spans_of
from docgen.case.new import start
from docgen.case.read import read_case, read_text
from docgen.case.starter import first_line
from docgen.desk.placed import in_their_place
from docgen.desk.topics import topic_of
from docgen.filling import asked_of_new
from docgen.recording_sheet import clipboard_pdf

_BY_HAND = """\
# Somebody's own order.
format = "docgen case 2"
id = "robin-example"

[letter]
person = "A chair for every day."

# who
[request]
payer = "general"
# more to come

[people.therapist]
name = "Jo Example"
# her second number is in the book

# the rest
[cautions]
skin = "Watch it."
"""


def _heads(text):
    return [path for path, _ in spans_of(text)[1]]


@pytest.fixture
def by_hand(tmp_path):
    (tmp_path / "robin-example").mkdir()
    (tmp_path / "robin-example" / "trial.csv").write_text(first_line())
    return read_text(_BY_HAND, tmp_path / "robin-example")


@pytest.mark.parametrize(
    ("of_list", "keys", "behind"),
    [
        ("people", {"id": "mother", "role": "caregiver"}, "# her second number is in the book\n"),
        ("diagnoses", {"name": "post-polio"}, "# more to come\n"),
        ("visits", {"id": "visit", "on": "2026-01-12"}, "# her second number is in the book\n"),
        ("goals", {"id": "mailbox", "says": "To the mailbox."}, "# her second number is in the book\n"),
        ("taught", {"who": "therapist", "what": "the stop"}, 'skin = "Watch it."\n'),
    ],
)
def test_a_new_entry_stands_behind_the_last_table_that_comes_before_it(of_list, keys, behind, by_hand):
    text = in_their_place(by_hand, with_entry(by_hand, (of_list,), keys)).text
    at = text.index(behind) + len(behind)
    new = text[at:].lstrip("\n").partition("\n\n")[0].rstrip("\n")
    assert new.startswith(f"[{of_list}.")
    assert text.replace(f"\n{new}\n", "", 1) == by_hand.text


def test_a_table_that_comes_before_all_stands_on_top(by_hand, tmp_path):
    lines = by_hand.text.replace('[request]\npayer = "general"\n# more to come\n\n', "")
    file = read_text(lines, tmp_path / "robin-example")
    text = in_their_place(file, with_key(file, ("request", "payer"), "general")).text
    assert _heads(text)[0] == ("request",)
    assert text.replace('[request]\npayer = "general"\n\n', "", 1) == lines


def test_a_table_within_an_entry_stands_behind_that_entry(by_hand, tmp_path):
    places = '[supervision.home]\nlevel = "in_sight"\n\n[supervision.school]\nlevel = "in_sight"\n\n# the rest'
    file = read_text(by_hand.text.replace("# the rest", places), tmp_path / "robin-example")
    added = with_entry(file, ("supervision", 0, "hours"), {"starts_at": time(14), "ends_at": time(16)})
    placed = in_their_place(file, added)
    assert placed.file.case == added.file.case
    heads = [".".join(map(str, path)) for path in _heads(placed.text)]
    at = heads.index("supervision.school")
    assert heads[at - 2] == "supervision.home" and heads[at - 1].startswith("supervision.home.hours")


def test_entries_of_a_case_begun_at_the_desk_stand_below_their_heading(tmp_path):
    asked = asked_of_new(["charity_or_school"], "control_only", "mini_joystick")
    case = start(tmp_path / "robin-example", clipboard_pdf, asked=asked)
    before = (case / "case.toml").read_text()
    visitor = Visitor(tmp_path).enter()
    at = address_of(visitor.get("/").text, case.name)
    for of_list, keys in (
        (["goals"], {"says": "To the mailbox."}),
        (["trial", "tasks"], {"name": "the hall"}),
        (["people"], {"role": "caregiver", "relation": "mother"}),
        (["people"], {"role": "evaluator"}),
        (["sheets", "handed_out"], {"what": "card", "edition": "1"}),
    ):
        fields = {f"key.{name}": text for name, text in keys.items()}
        path = json.dumps(of_list)
        assert visitor.post(f"{at}/{topic_of(tuple(of_list)).id}/add", path=path, **fields).status == 303
    text = (case / "case.toml").read_text()
    heads = [".".join(map(str, path)) for path in _heads(text)]
    for new, other in {
        "people.mother": "people", "people.therapist": "people.mother", "goals.to_the_mailbox": "goals",
        "trial.tasks.the_hall": "trial.tasks",
    }.items():  # fmt: skip
        assert heads[heads.index(new) - 1] == other
    assert len(read_case(case).case.people) == 2
    old, kept = iter(before.splitlines()), [line for line in text.splitlines() if line]
    assert all(line in kept for line in old if line)
