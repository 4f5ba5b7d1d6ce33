"""How many attempts a comparison of two controls needs, what a number can tell, and how many a visit holds."""

from __future__ import annotations

import math
from functools import cache

from msgspec import Struct

from docgen.evidence.checked import count, number, share
from docgen.evidence.difference import NEWCOMBE, newcombe_interval
from docgen.evidence.equal_controls import chances_of_each

SOURCE = f"exact sum over two independent binomials; clearly apart: {NEWCOMBE}"
MOST_ATTEMPTS = 70  # of each control that the search looks at: no visit holds more


MOST_A_BLOCK = 20  # attempts of a block that are planned, one sheet of paper: common practice, no source


class Visit(Struct, frozen=True):
    """How a visit's time goes, in minutes. All but the length are common practice, no source: measure your own.

    The defaults are the least that an order can be worked out with; a plan reckons with more (`planned_trial`).

    fixed      before the first and after the last attempt: seat, cards, scores
    change     from one control to the next
    warm_up    first attempts of a block, which are not counted
    attempt    one attempt, with what lies between two
    relief     pressure relief within the visit, where one is due
    slack      kept free for what takes longer
    """

    length: float = 45
    fixed: float = 8
    change: float = 5
    warm_up: float = 2
    attempt: float = 2
    relief: float = 0
    slack: float = 0

    def besides(self, n_blocks: int) -> float:
        """Minutes of a visit of so many blocks that no counted attempt fills."""
        return self.fixed + self.change * (n_blocks - 1) + self.warm_up * n_blocks + self.relief + self.slack


def attempts_a_block(visit: Visit, n_blocks: int) -> int:
    """Counted attempts that each block of a visit holds; 0 where it holds none, and never more than 20.

    visit     how its time goes
    n_blocks  blocks of one control each, at least 1
    Raises ValueError naming the argument and its value.

    Source: what is left of the visit, shared out.
    Check:  45 min with 2 blocks of attempts of 2 min: 7 after a change of 5 min, 8 after one of 1 min; 3 blocks: 3, 4.
    """
    count("n_blocks", n_blocks, low=1)
    number("attempt", visit.attempt, above=0)
    free = visit.length - visit.besides(n_blocks)
    return min(MOST_A_BLOCK, max(0, math.floor(free / (visit.attempt * n_blocks))))


def minutes_for(visit: Visit, n_blocks: int, n_block: int) -> float:
    """How long a visit has to be, in minutes, so that each of its blocks holds so many counted attempts, slack and all.

    visit     how its time goes; its own length does not count
    n_blocks  blocks of one control each
    n_block   counted attempts of each block

    Source: sum of the parts of the visit.
    Check:  2 blocks of 7 attempts of 2 min, 8 min before and after, 5 min for the change, 2 min of warm-up each: 45.
    """
    return visit.besides(n_blocks) + n_blocks * n_block * visit.attempt


def chance_of_telling(share_1: float, share_2: float, n: int, level: float = 0.95) -> float:
    """Chance that the interval of the difference leaves 0 out, so that n attempts with each of two controls tell.

    share_1, share_2  true shares done, from 0 to 1
    n                 attempts with each, at least 1
    level             of the interval, strictly between 0 and 1

    It does not rise with every attempt more: 8 each tell 0.8 from 0.4 more often than 10.
    Raises ValueError naming the argument and its value.

    Source: as `SOURCE`.
    Check:  0.9 against 0.3: 0.562 with 5 each, 0.824 with 10, 0.990 with 20; 0.8 against 0.4: 0.447 with 8, 0.425 with
            10 (sums with scipy, intervals with statsmodels).
    """
    share_1, share_2 = number("share_1", share_1, 0, high=1), number("share_2", share_2, 0, high=1)
    least = _least_apart(count("n", n, low=1, high=MOST_ATTEMPTS), share("level", level))
    first, second = chances_of_each(n, share_1), chances_of_each(n, share_2)
    total = 0.0
    for k, other in enumerate(least):
        total += second[k] * math.fsum(first[other:]) + first[k] * math.fsum(second[other:])
    return total


def fewest_attempts(share_1: float, share_2: float, power: float = 0.8) -> int | None:
    """Attempts with each control from which on they are told apart this often; None where 70 are not enough.

    share_1, share_2  true shares done, from 0 to 1
    power             chance of telling them apart, strictly between 0 and 1
    Raises ValueError naming the argument and its value.

    Source: as `SOURCE`; the first number that no larger one up to 70 falls below.
    Check:  0.9 against 0.3: 8; against 0.5: 19; 0.8 against 0.4: 23; 0.9 against 0.7: 61.
    """
    share("power", power)
    fewest = None
    for n in range(MOST_ATTEMPTS, 1, -1):  # one attempt each never tells
        if chance_of_telling(share_1, share_2, n) < power:
            break
        fewest = n
    return fewest


def most_clearly_lower(n_success: int, n: int) -> int | None:
    """The largest number done, of as many attempts with another control, that is clearly lower; None for none.

    n_success, n  done and attempts; n at least 1
    Raises ValueError naming the argument and its value.

    Source: the interval of the difference, Newcombe 1998, method 10.
    Check:  of 10: 6 beside 10, 4 beside 9, 3 beside 8, 2 beside 7; of 5: 2 beside 5, 0 beside 4 and 3, none beside 2.
    """
    count("n", n, low=1)
    count("n_success", n_success, 0, n)
    return next((k for k in reversed(range(n_success)) if newcombe_interval(n_success, n, k, n).low > 0), None)


def most_unseen(n: int, level: float = 0.95) -> float:
    """The largest share of attempts in which something may still happen that none of n showed.

    n      attempts, at least 1; `level` of the one-sided limit, strictly between 0 and 1
    Raises ValueError naming the argument and its value.

    Source: the exact one-sided binomial limit, 1 - (1 - level)^(1/n).
    Check:  5: 0.4507; 10: 0.2589; 20: 0.1391; 40: 0.0722.
    """
    count("n", n, low=1)
    unseen: float = (1 - share("level", level)) ** (1 / n)
    return 1 - unseen


@cache
def _least_apart(n: int, level: float) -> tuple[int, ...]:
    """For each number done with one control but all, the least done with the other that is clearly higher; n + 1 for
    none."""
    least: list[int] = []
    at = 0
    for lower in range(n):
        while at <= n and newcombe_interval(at, n, lower, n, level).low <= 0:
            at += 1
        least.append(at)
    return tuple(least)
