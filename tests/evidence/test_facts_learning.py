"""How sure the rule of training is, and the score of goals: reference values of others."""

from __future__ import annotations

import pytest
from small_trial import known, small_case

from docgen.evidence.facts import learning


def test_how_sure_the_rule_is_stands_in_the_facts_as_reckoned():
    """Worked out apart from this program, 2026-11-28, to four decimals."""
    facts = known(learning.facts, small_case())
    for name, value in (
        ("moves_on.60", 0.0904),
        ("moves_on.65", 0.1882),
        ("moves_on.80", 0.7658),
        ("moves_on_far.90", 0.9206),
        ("changes.90", 0.0096),
        ("changes_far.60", 0.9362),
        ("changes.rising", 0.0033),
    ):
        assert facts[name].value == pytest.approx(value, abs=5.001e-5), name
    assert facts["tries_to_pass.90"].value == pytest.approx(5 * 2.956, abs=0.0051)
    assert facts["undecided.65"].value == pytest.approx(0.0493, abs=5.001e-5)
    assert facts["tries_to_change.80"].value == pytest.approx(5 * 4.920, abs=0.0051)
    assert facts["tries_to_look.90"].value == pytest.approx(370, abs=0.5)
    assert facts["stops_settled.90"].value == pytest.approx(13.5, abs=0.051)
    assert facts["stops_pass.80"].value == pytest.approx(0.289, abs=5.1e-4)
    for share, percent, stops in ((70, 8.2, 9.5), (95, 93.5, 12.5)):
        assert 100 * facts[f"stops_pass.{share}"].value == pytest.approx(percent, abs=0.0501)
        assert facts[f"stops_settled.{share}"].value == pytest.approx(stops, abs=0.0601)
    beside, far = (facts[f"moves_on{suffix}.60"].label for suffix in ("", "_far"))
    assert beside == "chance of being moved on, at 60% done alone" and far == f"{beside}, with nobody at arm's length"
    assert facts["shown.10"].value == pytest.approx(0.741, abs=5.1e-4)
    assert not any(fact.listed for fact in facts.values() if fact.id != "goals_t")


def test_goals_without_a_level_are_left_out_of_the_score():
    """One goal at +1: 50 + 10; two of weight 1 at +1 and -1: 50 (Kiresuk and Sherman 1968)."""
    goals = [{"id": name, "says": "x", "weight": 1} for name in ("p", "q", "r")]
    of_one = small_case(goals=[goals[0], goals[1] | {"level": 1}])
    fact = known(learning.facts, of_one)["goals_t"]
    assert (fact.value, fact.n, fact.keys) == (pytest.approx(60), 1, ("goals.1.level",))
    of_two = small_case(goals=[goals[0] | {"level": -1}, goals[1] | {"level": 1}, goals[2]])
    assert known(learning.facts, of_two)["goals_t"].value == pytest.approx(50)
    assert "goals_t" not in known(learning.facts, small_case(goals=goals))
