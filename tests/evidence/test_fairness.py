"""Signs of an unfair comparison: each is seen at its threshold and not beside it."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.facts import comparing
from docgen.evidence.fairness import signs


def rows(method, days=(1,), n=2, task="door", order=1, **more):
    return [Row(2, date(2026, 3, day), method, task, True, order=order, **more) for day in days for _ in range(n)]


def codes(chosen, other):
    return [sign.code for sign in signs(chosen, other)]


@of_each(
    "chosen, other, seen",
    [
        (rows("a"), rows("b"), []),
        (rows("a", (1,)), rows("b", (2,)), ["no_shared_day"]),
        (rows("a", order=1), rows("b", order=2), ["always_first"]),
        (rows("a", order=2), rows("b", order=1), ["always_last"]),
        (rows("a", order=1), rows("b", order=1), []),
        (rows("a"), rows("b", order=None), ["order_unknown"]),
        (rows("a", order=None), rows("b", order=None), ["order_unknown"]),
        (rows("a", (1, 2), order=None), rows("b", (3,), order=None), ["no_shared_day", "more_days"]),
        (rows("a") + rows("a", order=3), rows("b", order=2), []),
        (rows("a", order=2), rows("b") + rows("b", order=3), []),
        (rows("a", (1,), order=1) + rows("a", (2,), order=2), rows("b", (1,), order=2) + rows("b", (2,), order=1), []),
        (rows("a", (1, 2)), rows("b", (1,)), ["more_days"]),
        (rows("a", (1,)), rows("b", (1, 2)), []),
        (rows("a"), rows("b", task="ramp"), ["other_tasks"]),
        (rows("a", supervisor="x"), rows("b", supervisor="y"), ["other_helper"]),
        (rows("a", supervisor="x"), rows("b"), []),
        (rows("a", supervisor="x"), rows("b", supervisor="x"), []),
        (rows("a", speed_m_s=0.4), rows("b", speed_m_s=0.5), ["other_speed"]),
        (rows("a", distance_m=20.0), rows("b", distance_m=10.0), ["more_metres"]),
        (rows("a", distance_m=19.9), rows("b", distance_m=10.0), []),
        (rows("a", n=4, distance_m=10.0), rows("b", n=2, distance_m=10.0), []),
        (rows("a", distance_m=20.0), rows("b"), []),
        (rows("a"), rows("b", distance_m=20.0), []),
    ],
)
def test_a_sign_is_seen_where_it_holds(chosen, other, seen):
    assert codes(chosen, other) == seen


@pytest.mark.parametrize(
    "more, verdict",
    [
        ({}, "clearly_worse"),
        ({"task": "ramp"}, "clearly_worse"),
        ({"task": "ramp", "supervisor": "y"}, "worse_so_far"),
    ],
)
def test_clearly_stands_beside_one_sign_and_not_beside_two(more, verdict):
    """Common practice, no source."""
    asked = rows("a", n=30, supervisor="x")
    other = [replace(row, success=False) for row in rows("b", n=30, **({"supervisor": "x"} | more))]
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "x",
            "trial": {
                "methods": ({"id": "a", "name": "a"}, {"id": "b", "name": "b"}),
                "tasks": ({"id": "door", "name": "door"}, {"id": "ramp", "name": "ramp"}),
            },
            "configuration": {"method": "a"},
        },
        strict=False,
    ).with_records((*asked, *other))
    facts = {fact.id: fact for fact in comparing.facts(case)}
    assert len(more) == len(codes(asked, other)) and facts["difference.b"].verdict == verdict


def test_the_metres_told_are_metres_an_attempt():
    [sign] = signs(rows("a", n=4, distance_m=30.0), rows("b", n=2, distance_m=10.0))
    assert sign.text.startswith("30 m an attempt with the requested control, 10 m with the other")
