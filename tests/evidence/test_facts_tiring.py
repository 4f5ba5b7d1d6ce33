"""Rise of tiredness and stiffness within a session, and speed by push, by hand."""

from __future__ import annotations

import pytest
from small_trial import attempt, known, small_case

from docgen.evidence.facts import tiring

PUSH = {"configuration": {"features": [{"id": "force_graded_speed", "because": []}]}}


def warning(*rows, **more):
    fact = known(tiring.facts, small_case(rows, **(PUSH | more))).get("force_warning")
    return fact and fact.text.removeprefix("warning: ").removesuffix("; pushing harder to go faster delays the stop")


def test_the_largest_rise_of_a_scale_in_a_session_with_each_control_is_told():
    rows = [attempt(2, tone_before=1.0, tone_after=2.0), attempt(3, day=4, tone_before=1.0, tone_after=3.5)]
    rows += [attempt(4, day=5, tone_before=2.0, tone_after=2.0), attempt(5, "b", tone_before=1.0, tone_after=4.0)]
    facts = known(tiring.facts, small_case(rows))
    assert {name: (fact.value, fact.n, fact.rows) for name, fact in facts.items()} == {
        "tone_rise.a": (2.5, 3, (3, 3)),
        "tone_rise.b": (3.0, 1, (5, 5)),
    }


@pytest.mark.parametrize(
    ("rises", "words"),
    [((1, 2), "stiffness rose by 2 points"), ((2.5, 0), "stiffness rose by 2.5 points"), ((1.5, 1), None), ((), None)],
)
def test_speed_by_push_is_warned_of_from_two_points_of_stiffness_on(rises, words):
    rows = [attempt(at, day=at, tone_before=0.5, tone_after=0.5 + rise) for at, rise in enumerate(rises, 3)]
    assert warning(*rows, attempt(9, "b", tone_before=0.0, tone_after=4.0)) == words
    assert not rises or warning(*rows, configuration={}) is None


@pytest.mark.parametrize(
    ("pads", "sticks", "words"),
    [
        ((0.4, 0.9), (0.5, 0.7), "the slowest release was 0.9 s, with another control 0.7 s"),
        ((0.7,), (0.7,), None),
        ((0.6,), (0.7,), None),
        ((0.9,), (), None),
        ((), (0.7,), None),
    ],
)
def test_speed_by_push_is_warned_of_where_letting_go_was_slower_than_with_another_control(pads, sticks, words):
    rows = [attempt(at, release_s=seconds) for at, seconds in enumerate(pads, 2)]
    rows += [attempt(at, "b", release_s=seconds) for at, seconds in enumerate(sticks, 8)]
    assert warning(*rows) == words


def test_the_fastest_of_the_others_is_the_one_set_beside_it_and_the_rows_are_those_of_the_push():
    methods = [{"id": m, "name": m} for m in ("a", "b", "c", "d")]
    rows = [attempt(2, release_s=0.8), attempt(3), attempt(4, "b", release_s=0.9), attempt(5, "c", release_s=0.6)]
    case = small_case([*rows, attempt(6, "d")], trial={"methods": methods}, **PUSH)
    fact = known(tiring.facts, case)["force_warning"]
    assert "the slowest release was 0.8 s, with another control 0.6 s" in fact.text
    assert (fact.n, fact.rows) == (2, (2, 3))
