"""Mastery as a sequential test: "mastered", "not_yet" or "keep_on" after each attempt, at stated error rates.

The error rates hold for attempts taken in order and stopped at the first answer. A task where one failure can
hurt someone (a stop on request, a person touched) is not for this test: it asks for ten of ten and none.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from typing import Literal

from msgspec import Struct

from docgen.evidence.checked import count, number, share

Answer = Literal["mastered", "not_yet", "keep_on"]

COACH_TRIES = (6, 7, 8, 10, 12, 15, 20, 24)
_ROUNDING = 1e-9  # a boundary met exactly counts as met


class Plan(Struct, frozen=True):
    """A test of a poor share of success against a good one.

    poor, good  shares of success, 0 < poor < good < 1
    alpha       chance of "mastered" at the poor share, as planned
    beta        chance of "not_yet" at the good share, as planned; alpha + beta less than 1

    slope, above, below: mastered at slope n + above successes of n or more, not yet at slope n - below or
    fewer.
    """

    poor: float
    good: float
    alpha: float
    beta: float
    slope: float
    above: float
    below: float


class Decision(Struct, frozen=True):
    """The first answer of a series, after n attempts with n_success successes, or its last "keep_on"."""

    answer: Answer
    n: int
    n_success: int


class ToSettle(Struct, frozen=True):
    """Fewest further attempts that could settle it: all successes, or all failures. 0 when it is settled."""

    n_successes: int
    n_failures: int


class Course(Struct, frozen=True):
    """What the test does at one true share: chance of each answer, and the mean number of attempts."""

    p_mastered: float
    p_not_yet: float
    p_undecided: float
    mean_attempts: float


class CoachRow(Struct, frozen=True):
    """After n attempts: move on from move_on_at successes up, back from go_back_at down; None: not yet."""

    n: int
    move_on_at: int | None
    go_back_at: int | None


def mastery_plan(poor: float = 0.60, good: float = 0.90, alpha: float = 0.10, beta: float = 0.10) -> Plan:
    """The two straight lines of Wald's test.

    poor, good   shares of success, strictly between 0 and 1, poor less than good
    alpha, beta  planned error rates, strictly between 0 and 1, together less than 1

    Raises ValueError naming the argument and its value.

    Source: Wald 1945, Ann Math Stat 16:117-186; Wald 1947, Sequential Analysis, chapter 5 (formulas from
            memory). The defaults are common practice, no source.
    Check:  0.5, 0.8, 0.05, 0.10: slope 0.6610, above 2.0850, below 1.6240; 0.01, 0.10, 0.05, 0.10: 0.0397,
            1.2054, 0.9389 (NIST/SEMATECH handbook 6.2, from memory).
    """
    poor, good = share("poor", poor), share("good", good)
    alpha, beta = share("alpha", alpha), share("beta", beta)
    if good - poor < 1e-6:
        raise ValueError(f"good must be more than poor, {poor!r}, not {good!r}")
    if alpha + beta >= 1:
        raise ValueError(f"beta must be less than 1 - alpha, {1 - alpha!r}, not {beta!r}")
    failure = math.log((1 - poor) / (1 - good))
    gain = math.log(good / poor) + failure
    return Plan(
        poor,
        good,
        alpha,
        beta,
        failure / gain,
        math.log((1 - beta) / alpha) / gain,
        math.log((1 - alpha) / beta) / gain,
    )


def coach_row(n: int, plan: Plan) -> CoachRow:
    """Whole numbers of successes that decide after n attempts.

    n     attempts, at least 1
    plan  from mastery_plan

    Raises ValueError naming the argument and its value.

    Source: the lines of mastery_plan, rounded to the safe side.
    Check:  0.5, 0.8, 0.05, 0.10: n 5 none and 1; n 7 7 and 3; n 10 9 and 4; n 20 16 and 11; n 30 22 and 18
            (from the lines, by hand).
    """
    n = count("n", n, 1)
    move_on_at = math.ceil(plan.slope * n + plan.above - _ROUNDING)
    go_back_at = math.floor(plan.slope * n - plan.below + _ROUNDING)
    return CoachRow(n, move_on_at if move_on_at <= n else None, go_back_at if go_back_at >= 0 else None)


def coach_table(plan: Plan, tries: Iterable[int] = COACH_TRIES) -> tuple[CoachRow, ...]:
    """The test as a small table for a coach.

    plan   from mastery_plan
    tries  numbers of attempts, each at least 1

    Between the two numbers: keep practising. Undecided at the last: the therapist decides. Looked at only at
    these rows the test errs a little differently than at every attempt; course gives the rates of both.
    Raises ValueError naming the argument and its value.

    Source: coach_row.
    Check:  0.6, 0.9, 0.10, 0.10: move on at 6, 7, 8, 9, 11, 13, 17, 20, go back at 3, 4, 4, 6, 8, 10, 14, 17
            (from the lines, by hand).
    """
    return tuple(coach_row(n, plan) for n in tries)


def decide(n: int, n_success: int, plan: Plan) -> Answer:
    """What n attempts with n_success successes say, taken as they stand.

    n          attempts, at least 0
    n_success  from 0 to n
    plan       from mastery_plan

    Raises ValueError naming the argument and its value.

    Source: as coach_row.
    Check:  0.5, 0.8, 0.05, 0.10: 7 of 7 mastered, 9 of 10 mastered, 5 of 10 keep_on (log likelihood ratios
            3.2900, 3.3137 and -2.2314 against 2.8904 and -2.2513, by hand).
    """
    n = count("n", n)
    n_success = count("n_success", n_success, 0, n)
    if n == 0:
        return "keep_on"
    row = coach_row(n, plan)
    if row.move_on_at is not None and n_success >= row.move_on_at:
        return "mastered"
    return "not_yet" if row.go_back_at is not None and n_success <= row.go_back_at else "keep_on"


def first_decision(outcomes: Sequence[bool], plan: Plan) -> Decision:
    """The first answer that attempts taken in order reach; "keep_on" when they reach none.

    outcomes  True for each attempt that succeeded, in order; may be empty
    plan      from mastery_plan

    Source: as decide, stopped at the first crossing, for which alone the error rates hold.
    Check:  0.5, 0.8, 0.05, 0.10: seven successes, mastered after 7; three failures, not_yet after 3 (by
            hand).
    """
    n_success = 0
    for n, done in enumerate(outcomes, start=1):
        n_success += bool(done)
        answer = decide(n, n_success, plan)
        if answer != "keep_on":
            return Decision(answer, n, n_success)
    return Decision("keep_on", len(outcomes), n_success)


def to_settle(n: int, n_success: int, plan: Plan) -> ToSettle:
    """Fewest further attempts that could settle it.

    n          attempts so far, at least 0
    n_success  from 0 to n
    plan       from mastery_plan

    Both are 0 when the attempts already say "mastered" or "not_yet".
    Raises ValueError naming the argument and its value.

    Source: the lines of mastery_plan.
    Check:  from nothing, at 0.5, 0.8, 0.05, 0.10: 7 successes or 3 failures; 0.8, 0.95: 17 or 2; 0.01, 0.10:
            2 or 24 (by hand).
    """
    if decide(n, n_success, plan) != "keep_on":
        return ToSettle(0, 0)
    up = (plan.slope * n + plan.above - n_success - _ROUNDING) / (1 - plan.slope)
    down = (n_success - plan.slope * n + plan.below - _ROUNDING) / plan.slope
    return ToSettle(max(1, math.ceil(up)), max(1, math.ceil(down)))


def course(true_share: float, plan: Plan, at_most: int = 5_000, looks: Collection[int] | None = None) -> Course:
    """Exact chances of each answer, and the mean number of attempts, when the true share of success is known.

    true_share  from 0 to 1
    plan        from mastery_plan
    at_most     attempts after which it stays undecided, from 1 to 5,000
    looks       numbers of attempts after which the lines are looked at, such as COACH_TRIES; None for each

    Raises ValueError naming the argument and its value.

    Source: sum over all courses, attempt by attempt, between the lines (no approximation).
    Check:  0.5, 0.8, 0.05, 0.10: mastered 0.0401 at 0.5 and 0.9268 at 0.8, mean 10.68 and 14.22 attempts
            (recomputed for a published plan; the simulation in the tests agrees). 0.6, 0.9, 0.10, 0.10 looked
            at as a coach does, to 24 attempts: mastered 0.0838 at 0.6, not yet 0.0433 at 0.9.
    """
    p = number("true_share", true_share, 0, high=1)
    at_most = count("at_most", at_most, 1, 5_000)
    open_ways = {0: 1.0}  # successes so far -> chance of being there undecided
    mastered = not_yet = mean = 0.0
    for n in range(1, at_most + 1):
        row, look = coach_row(n, plan), looks is None or n in looks
        still = math.fsum(open_ways.values())
        mean += still
        ways: dict[int, float] = {}
        for n_success, chance in open_ways.items():
            for now, weight in ((n_success + 1, chance * p), (n_success, chance * (1 - p))):
                if look and row.move_on_at is not None and now >= row.move_on_at:
                    mastered += weight
                elif look and row.go_back_at is not None and now <= row.go_back_at:
                    not_yet += weight
                elif weight > 0:
                    ways[now] = ways.get(now, 0.0) + weight
        open_ways = ways
        if math.fsum(ways.values()) < 1e-15:
            break
    return Course(mastered, not_yet, max(0.0, 1 - mastered - not_yet), mean)
