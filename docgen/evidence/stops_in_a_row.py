"""When stops are sure enough for the next step: so many in a row that came as a surprise and were made alone.

Only a stop that came by surprise and whose help is written down counts. The numbers are a choice, no source.
"""

from __future__ import annotations

from docgen.evidence.checked import count, number
from docgen.evidence.checked import share as strictly_between

IN_A_ROW, N_DAYS, MOST_BREAKS = 10, 3, 2
UPKEEP, MISSED_IN_UPKEEP = 20, 2  # so many missed among the last so many stops: the therapist


def chance_to_pass(share: float, breaks: int = MOST_BREAKS, in_a_row: int = IN_A_ROW) -> float:
    """Chance that a driver who stops alone at one rate gets so many in a row before one break too many.

    share     share of stops made alone, from 0 to 1
    breaks    breaks allowed, 0 or more
    in_a_row  stops in a row that are wanted, at least 1

    Raises ValueError naming the argument and its value.

    Source: 1 - (1 - p^k)^(m + 1), for each run is a fresh trial of k in a row; stops as independent.
    Check:  with two breaks: .60 .018; .80 .289; .90 .724; .98 .994 (worked out apart, 2026-11-28).
    """
    p = number("share", share, 0, high=1)
    return float(1 - (1 - p ** count("in_a_row", in_a_row, 1)) ** (count("breaks", breaks) + 1))


def stops_until_settled(share: float, breaks: int = MOST_BREAKS, in_a_row: int = IN_A_ROW) -> float:
    """Mean number of stops until there are so many in a row, or one break too many.

    share, breaks, in_a_row  as in chance_to_pass

    Source: mean length of one run, min(first miss, k) = (1 - p^k) / (1 - p), times the mean number of runs.
    Check:  .60 7.4; .80 12.0; .90 13.5; .98 11.1 (worked out apart, 2026-11-28).
    """
    p = number("share", share, 0, high=1)
    k, runs = count("in_a_row", in_a_row, 1), count("breaks", breaks) + 1
    ends_well = p**k
    length = float(k) if p == 1 else (1 - ends_well) / (1 - p)
    return float(length * (runs if ends_well == 0 else (1 - (1 - ends_well) ** runs) / ends_well))


def least_share_shown(n: int, error: float = 0.05) -> float:
    """The least share that n of n still shows: with a smaller one, n of n comes up less often than `error`.

    n      tries, all of them done, a number fixed before; at least 1
    error  one-sided, strictly between 0 and 1

    Raises ValueError naming the argument and its value.

    Source: exact one-sided lower limit, error^(1/n).
    Check:  10 of 10 .741; 29 of 29 .902; 59 of 59 .950 (worked out apart, 2026-11-28).
    """
    return float(strictly_between("error", error) ** (1 / count("n", n, 1)))
