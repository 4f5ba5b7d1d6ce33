"""Successful attempts by control and task, and what day totals cannot tell."""

from __future__ import annotations

import pytest
from small_trial import attempt, known, of_day, small_case

from docgen.evidence.facts import driving


def test_attempts_are_counted_with_each_control_and_in_each_task_that_was_tried():
    rows = [attempt(2), attempt(3, done=False), attempt(4, task="ramp", day=4), attempt(5, "b")]
    facts = known(driving.facts, small_case(rows, [of_day(2, 6, 3, day=5)]))
    counted = {name: (fact.k, fact.n) for name, fact in facts.items() if name.startswith("success.")}
    assert counted == {
        "success.a": (5, 9),
        "success.a.door": (4, 8),
        "success.a.ramp": (1, 1),
        "success.b": (1, 1),
        "success.b.door": (1, 1),
    }
    assert (facts["days.a"].value, facts["attempts.a"].value) == (3, 9)
    assert facts["from_totals.a"].text == "6 of the 9 attempts" and "from_totals.b" not in facts


@pytest.mark.parametrize(
    ("totals", "slowest_alone"),
    [
        ([{"slowest_release_s": 0.9}], True),
        ([{"releases_s": (0.5, 0.9)}], False),
        ([{"slowest_release_s": 0.9, "releases_s": (0.5, 0.9)}], False),
        ([{}], False),
        ([{"slowest_release_s": 0.9}, {"releases_s": (0.5,)}], True),
    ],
)
def test_what_a_total_does_not_tell_is_said(totals, slowest_alone):
    days = [of_day(at, 5, 4, day=at, **more) for at, more in enumerate(totals, 2)]
    assert known(driving.facts, small_case(totals=days))["from_totals.a"].note == (
        "from totals: no time of an attempt and no shortest touch"
        + (", of releases only the slowest of a day" if slowest_alone else "")
        + "; their order is not known, so no change within a day"
    )


def test_attempts_are_counted_apart_before_and_since_a_change_of_the_control():
    rows = [attempt(2), attempt(3, done=False, day=4), attempt(4, day=5), attempt(5, "b", day=5)]
    methods = [{"id": "a", "name": "pads", "changed_on": "2026-03-05"}, {"id": "b", "name": "stick"}]

    def counted(rows):
        facts = known(
            driving.facts, small_case(rows, trial={"methods": methods, "tasks": [{"id": "door", "name": "door"}]})
        )
        return {name: (fact.k, fact.n) for name, fact in facts.items() if name.startswith(("success_", "success.a"))}

    assert counted(rows) == {
        "success.a": (2, 3),
        "success.a.door": (2, 3),
        "success_until.a": (1, 2),
        "success_since.a": (1, 1),
    }
    assert not any(name.startswith("success_") for name in counted(rows[:2]))  # nothing was driven since
