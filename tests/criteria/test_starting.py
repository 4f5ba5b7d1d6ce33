"""The keys that a new case begins with: those of the payer's own rows, and those of the kind of request."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from typing import Any

import pytest

from docgen.case.by_name import spread
from docgen.case.model import Case
from docgen.case.starter import starter
from docgen.criteria.payer import Payer, Requirement, load
from docgen.criteria.starting import asked


def _payer(*criteria: str) -> Payer:
    rows = tuple(
        Requirement.model_validate(
            {
                "id": f"row_{criterion}",
                "criterion": criterion,
                "severity": "query",
                "from": date(2020, 1, 1),
                "citation": "text",
                "known": "read",
            }
        )
        for criterion in criteria
    )
    days = {"reviewed_on": date(2026, 1, 1), "review_by": date(2027, 1, 1)}
    return Payer(id="harbour", name="Harbour Plan", requirements=rows, **days)


@pytest.mark.parametrize(
    ("criterion", "keys"),
    [
        ("need_lasts", {"request.months_needed"}),
        ("need_reviewed", {"request.requested_on", "request.reviewed_on"}),
        ("local_rules_known", {"request.local_rules", "request.local_rules_say"}),
    ],
)
def test_a_row_that_only_queries_brings_its_keys_and_no_row_brings_none(criterion, keys):
    without, bound = (asked([_payer(*rows)], "new_chair", None).paths for rows in ((), (criterion,)))
    assert bound - without == keys


@pytest.mark.parametrize(
    ("kind", "there", "missing"),
    [
        ("control_only", {"electronics_now", "takes_input", "name"}, set()),
        ("new_chair", {"name", "deceleration_m_s2"}, {"electronics_now", "takes_input"}),
        (None, set(), {"electronics_now", "takes_input", "name", "deceleration_m_s2"}),
    ],
)
def test_a_kind_of_request_brings_its_own_keys(kind, there, missing):
    new = asked([_payer()], kind, None)
    assert {f"configuration.chair.{key}" for key in there} <= new.paths
    assert not {f"configuration.chair.{key}" for key in missing} & new.paths
    assert new.filled["request"].get("kind") == (kind and f'"{kind}"')


def test_what_settles_an_answer_is_there_as_found_by_trying_each_new_entry_once():
    new = asked([load("medicare_part_b", "")], "new_chair", None)
    kinds = [entry["kind"].strip('"') for entry in new.entries["alternatives"]]
    assert kinds == ["cane_or_walker", "manual_chair", "scooter", "stick_by_hand", "stick_by_chin"]
    assert {"order.codes", "diagnoses.group", "client.willing"} <= new.paths


@pytest.mark.parametrize(
    ("control", "known", "hint"),
    [
        ("head_array", ["head_three_way"], None),
        ("foot_site", [], "what calls for foot_site, if the client has it: foot_graded, foot_ungraded"),
        ("compact_joystick", [], "what calls for compact_joystick, if the client has it: foot_graded, chin_graded, "),
    ],
)
def test_a_finding_that_only_some_of_a_control_have_is_named_and_not_asked_of_all(control, known, hint):
    new = asked([_payer()], "new_chair", control)
    assert [entry["id"].strip('"') for entry in new.entries.get("findings", ())] == known
    told = new.hints.get("findings")
    day = "the day of the visit named under each is printed with every line"
    assert told.startswith(hint or day) and day in told
    assert " ".join(told.split()) in re.sub(r"\s*\n#\s*", " ", starter("robin", new))


def test_each_later_payer_has_its_entry_and_one_payer_alone_brings_none():
    keys = {"request.later_payers.payer_name", "request.later_payers.member_id"}
    first, second, third = _payer(), load("general", ""), load("charity_or_school", "")
    alone, several = asked([first], "new_chair", None), asked([first, second, third], "new_chair", None)
    assert not keys & alone.paths and "request.later_payers" not in {*alone.filled, *alone.entries}
    assert keys <= several.paths and several.filled["request.later_payers"] == {}
    assert several.entries["request.later_payers"] == ({"payer": '"general"'}, {"payer": '"charity_or_school"'})
    assert alone.paths <= several.paths


def test_what_is_known_of_a_control_stands_above_its_lists_and_is_never_filled_in():
    new = asked([_payer()], "new_chair", "pneumatic_four_command")
    assert new.hints["configuration.features"] == (
        "what pneumatic_four_command must not go without: standby or swing_away_mount; stop_on_lost_contact, "
        "stop_switch or attendant_stop where there is spasm_sudden"
    )
    assert "E2325 or E2326" in new.hints["configuration.items"] and "configuration.items" not in new.entries
    assert [entry["id"] for entry in new.entries["configuration.features"]] == ['"pneumatic_four_command"']


def test_each_short_form_that_is_shown_is_one_that_the_case_takes_as_it_stands():
    """Every example is read under the head above it, and gives one entry of its list."""
    text = starter("robin", asked([load("general", "")], "new_chair", "head_array"))
    assert max(map(len, text.split("\n"))) <= 110
    head, shown = "", []
    for line in text.split("\n"):
        head = line[1:-1] if line.startswith("[") else head
        if line.startswith("#   in short: "):
            shown.append((head, line.removeprefix("#   in short: ")))
    assert len(shown) > 10 and len({path for path, _ in shown}) > 8
    for path, line in shown:
        tables = spread(tomllib.loads(f"[{path}]\n{line}\n"), {}, Case, lambda *path: "")
        entries: Any = tables.tables
        for key in path.split("."):
            entries = entries[key]
        assert len(entries) == 1 and len(entries[0]) >= 2 and not tables.problems, (path, line)
