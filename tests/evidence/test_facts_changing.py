"""Change from session to session and within one, and the longest session, worked out by hand."""

from __future__ import annotations

import pytest
from small_trial import attempt, known, of_day, small_case
from statsmodels.stats.proportion import confint_proportions_2indep

from docgen.evidence.facts import changing

# of the pads 1 of 2, 3 of 4 and 2 of 2; of the stick 1 of 2 and 3 of 4
PADS = [of_day(2, 2, 1, day=3), of_day(3, 4, 3, day=4), of_day(4, 2, 2, day=5)]
STICK = [of_day(5, 2, 1, "b", day=3), of_day(6, 4, 3, "b", day=4)]


@pytest.mark.parametrize(
    ("asked", "other", "k"),
    [
        ("a", "b", 4.0),  # 1 of 2 ties once; 3 of 4 is better once and ties once; 2 of 2 is better twice
        ("b", "a", 2.0),
    ],
)
def test_each_session_with_the_one_is_set_beside_each_with_the_other(asked, other, k):
    apart = known(changing.facts, small_case(totals=[*PADS, *STICK, of_day(9, 3, 3, "c")], asked=asked))
    assert [name for name in apart if name.startswith("overlap")] == [f"overlap.{other}"]
    fact = apart[f"overlap.{other}"]
    assert (fact.n, fact.k, fact.value) == (6, k, pytest.approx(k / 6)) and fact.totals == (2, 5, 3, 6, 4)


@pytest.mark.parametrize("totals", [[*PADS, STICK[0]], [PADS[0], *STICK]])
def test_one_session_with_either_is_no_pair_of_sessions(totals):
    assert "overlap.b" not in known(changing.facts, small_case(totals=totals))


def test_a_trend_takes_three_sessions_and_an_interval_more():
    facts = known(changing.facts, small_case(totals=[*PADS, *STICK]))
    assert "trend.b" not in facts
    trend = facts["trend.a"]  # 0.5, 0.75 and 1: a quarter a session; 2 of the 6 orders are as steady
    assert (trend.value, trend.n, trend.low) == (pytest.approx(0.25), 3, None)
    assert trend.note == "3 sessions; chance of so steady a change: 0.33; too few sessions for an interval"
    eight = [of_day(at, 10, at, day=at) for at in range(1, 9)]  # 2 of 40,320 orders
    trend = known(changing.facts, small_case(totals=eight))["trend.a"]
    assert (trend.value, trend.low, trend.high) == pytest.approx((0.1, 0.1, 0.1))
    assert trend.note == "8 sessions; chance of so steady a change: 0.00"
    level = known(changing.facts, small_case(totals=[of_day(at, 4, 2, day=at) for at in range(1, 4)]))["trend.a"]
    assert (level.value, level.note) == (
        0.0,
        "3 sessions; chance of so steady a change: 1.00; too few sessions for an interval",
    )


def test_late_is_set_beside_early_task_by_task_without_the_middle_attempt():
    """Door done, done, middle, not, done; ramp done, not; stop not, not: early 3 of 4, late 1 of 4."""
    doors, ramps, halts = (True, True, False, False, True), (True, False), (False, False)
    rows = [
        attempt(line, done=done, task=task, attempt=line)
        for line, (task, done) in enumerate(
            [("door", doors[0]), ("ramp", ramps[0]), ("door", doors[1]), ("door", doors[2]), ("halt", halts[0]),
             ("ramp", ramps[1]), ("door", doors[3]), ("halt", halts[1]), ("door", doors[4])],
            start=2,
        )
    ]  # fmt: skip
    late = known(changing.facts, small_case(rows))["late.a"]
    assert (late.value, late.n, late.note) == (-0.5, 8, "1 of 4 against 3 of 4")
    assert (late.low, late.high) == pytest.approx(confint_proportions_2indep(1, 4, 3, 4, method="newcomb"), abs=1e-9)
    assert late.rows == (2, 4, 3, 6, 8, 10, 7, 9)


def session(line, day, minutes, rise, **more):
    return attempt(line, day=day, minutes=minutes, fatigue_before=1.0, fatigue_after=1.0 + rise, **more)


def longest(*rows, **more):
    return known(changing.facts, small_case(rows, **more))["session_minutes"]


def test_the_longest_session_in_which_fatigue_rose_by_two_at_most_held_up():
    fact = longest(session(2, 3, 15.0, 1), session(3, 4, 30.0, 2), session(4, 5, 40.0, 3))
    assert (fact.value, fact.n, fact.rows) == (30.0, 3, (3,))
    assert fact.note == (
        "of 3 sessions; fatigue rose by 2; the longest, 40 minutes, showed fatigue, stiffness or a drop"
    )
    assert longest(session(2, 3, 15.0, 1)).note == "of 1 session; fatigue rose by 1"
    tired = longest(session(2, 3, 15.0, 3), attempt(3, day=4, minutes=5.0, tone_before=0.0, tone_after=3.0))
    assert (tired.value, tired.rows) == (None, (2, 3)) and tired.note.startswith("a session that held up")


def test_a_session_of_totals_shows_no_drop_and_that_is_said():
    fact = longest(totals=[of_day(2, 9, 5, minutes=25.0)])
    assert (fact.value, fact.rows, fact.totals) == (25.0, (), (2,))
    assert fact.note == "of 1 session; from totals: a drop within the session would not be seen"


def test_a_session_with_a_drop_that_chance_does_not_explain_did_not_hold_up():
    dropped = [attempt(at, done=at < 8, attempt=at, minutes=2.0) for at in range(2, 14)]  # 6 of 6, then none of 6
    assert longest(*dropped).value is None
    assert longest(*dropped[5:7]).value == 4.0  # done, then not: one of each is not told from chance
