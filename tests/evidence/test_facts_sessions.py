"""Each session by itself, and the time that attempts took."""

from __future__ import annotations

from small_trial import attempt, known, small_case

from docgen.evidence.facts import sessions


def test_each_session_and_each_of_its_tasks_has_its_own_counts():
    rows = [attempt(2), attempt(3, done=False), attempt(4, task="ramp"), attempt(5, day=4), attempt(6, "c")]
    facts = known(sessions.facts, small_case(rows))
    assert {name: (fact.k, fact.n, fact.listed) for name, fact in facts.items()} == {
        "session.a.2026-03-03.success": (2, 3, True),
        "session.a.2026-03-03.success.door": (1, 2, False),
        "session.a.2026-03-03.success.ramp": (1, 1, False),
        "session.a.2026-03-04.success": (1, 1, True),
        "session.a.2026-03-04.success.door": (1, 1, False),
    }


def test_the_time_of_attempts_done_is_a_median_with_an_interval_from_six_on():
    """Of 6, all lie on one side of the median in 2 of 2^6 orders, so the ends bound it."""
    rows = [attempt(at + 1, seconds=float(at)) for at in range(1, 7)]
    facts = known(sessions.facts, small_case([*rows, attempt(8, done=False, seconds=99.0), attempt(9, task="ramp")]))
    assert [name for name in facts if name.startswith("time.")] == ["time.a", "time.a.door"]
    for name in ("time.a", "time.a.door"):
        fact = facts[name]
        assert (fact.value, fact.low, fact.high, fact.n, fact.note) == (3.5, 1, 6, 6, "")
    few = known(sessions.facts, small_case([*rows[:5], attempt(9, task="ramp", seconds=60.0)]))
    assert few["time.a.door"].value == 3 and few["time.a.ramp"].value == 60
    assert few["time.a.door"].note == "fewer than the 6 an interval needs" and few["time.a.door"].low is None
