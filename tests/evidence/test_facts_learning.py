"""Mastery of a stage and the score of goals: published checks of the plan, and orders of attempts by hand."""

from __future__ import annotations

import pytest
from small_trial import attempt, known, of_day, small_case

from docgen.evidence.facts import learning


def test_the_table_looked_at_to_24_attempts_errs_as_often_as_its_plan_says():
    """0.6 against 0.9, errors 10%: moved on by chance 0.0838, held by chance 0.0433, as in docgen.evidence.mastery."""
    facts = known(learning.facts, small_case())
    assert facts["moved_by_chance"].value == pytest.approx(0.0838, abs=5.001e-5)
    assert facts["held_by_chance"].value == pytest.approx(0.0433, abs=5.001e-5)
    assert (facts["move_on.6"].value, facts["move_on.6"].note) == (6, "")  # Wald 1945, by hand
    impossible = [fact for fact in facts.values() if fact.note == "not possible with so few attempts"]
    assert {fact.value for fact in impossible} <= {None} and not [
        f for f in facts.values() if f.value is None and not f.note
    ]


@pytest.mark.parametrize(
    ("outcomes", "numbered", "words"),
    [
        ((True,) * 8, True, "move on, reached at attempt 6"),
        ((True,) * 8, False, "move on, reached at attempt 6"),  # alike, so in any order
        ((True, False, True), False, "not known: the order of the attempts is not recorded"),
        ((True, False, True), True, "keep going"),
    ],
)
def test_the_order_of_attempts_counts_only_where_they_differ(outcomes, numbered, words):
    rows = [attempt(at, done=done, attempt=at if numbered else None) for at, done in enumerate(outcomes, 2)]
    assert known(learning.facts, small_case(rows))["mastery.a"].text == words
    with_total = known(learning.facts, small_case(rows, [of_day(2, 3, 3, day=5)]))["mastery.a"]
    assert with_total.text.startswith("cannot be told from totals")


def test_goals_without_a_level_are_left_out_of_the_score():
    """One goal at +1: 50 + 10; two of weight 1 at +1 and -1: 50 (Kiresuk and Sherman 1968)."""
    goals = [{"id": name, "says": "x", "weight": 1} for name in ("p", "q", "r")]
    of_one = small_case(goals=[goals[0], goals[1] | {"level": 1}])
    fact = known(learning.facts, of_one)["goals_t"]
    assert (fact.value, fact.n, fact.keys) == (pytest.approx(60), 1, ("goals.1.level",))
    of_two = small_case(goals=[goals[0] | {"level": -1}, goals[1] | {"level": 1}, goals[2]])
    assert known(learning.facts, of_two)["goals_t"].value == pytest.approx(50)
    assert "goals_t" not in known(learning.facts, small_case(goals=goals))
