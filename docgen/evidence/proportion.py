"""One proportion, such as successful attempts of attempts made, with its interval.

Every interval takes the attempts as independent. Attempts of one session are not, so intervals are
too narrow; whoever prints one says so.
"""

from __future__ import annotations

import math
from statistics import NormalDist

from msgspec import Struct

from docgen.evidence.checked import count, share

WILSON = "Wilson 1927; method 3 of Newcombe 1998, Stat Med 17:857-872"  # of the interval of a share
_NORMAL = NormalDist()


class Proportion(Struct, frozen=True):
    """n_success of n as a share from 0 to 1, with its interval: 0 <= low <= share <= high <= 1."""

    n_success: int
    n: int
    share: float
    low: float
    high: float
    level: float


def wilson_interval(n_success: int, n: int, level: float = 0.95) -> Proportion:
    """Share of n attempts that succeeded, with the score interval.

    n_success  from 0 to n
    n          at least 1; of no attempts there is no share
    level      two-sided confidence, strictly between 0 and 1

    With no success low is exactly 0.0, with n successes high is exactly 1.0; the other limit stays inside.
    Raises ValueError naming the argument and its value.

    Source: Wilson 1927, J Am Stat Assoc 22:209-212 (from memory); method 3 of Newcombe 1998,
            Stat Med 17:857-872.
    Check:  81/263 0.2553 to 0.3662; 15/148 0.0624 to 0.1605; 0/20 0 to 0.1611; 1/29 0.0061 to 0.1718
            (Newcombe 1998, Table I).
    """
    n_success, n = _tally(n_success, n)
    z = -_NORMAL.inv_cdf((1 - share("level", level)) / 2)
    low, high = _wilson(n_success, n, z), 1 - _wilson(n - n_success, n, z)
    return Proportion(n_success, n, n_success / n, low, high, level)


def _tally(n_success: int, n: int) -> tuple[int, int]:
    n = count("n", n, 1)
    return count("n_success", n_success, 0, n), n


def _wilson(n_success: int, n: int, z: float) -> float:
    """Lower score limit, exactly 0 without a success; the upper one is 1 less this limit for the failures."""
    share_done = n_success / n
    root = math.sqrt(n * share_done * (1 - share_done) + z * z / 4)
    return (n_success + z * z / 2 - z * root) / (n + z * z)
