"""Goal attainment scaling: how far a client's own goals were reached, as one score around 50."""

from __future__ import annotations

import math
from collections.abc import Sequence

from docgen.evidence.checked import count, number, numbers

CORRELATION = 0.3  # between goals, as Kiresuk and Sherman assumed


def t_score(levels: Sequence[int], weights: Sequence[float] | None = None) -> float:
    """Goal attainment T score: 50 when every goal was reached as expected.

    levels   level reached for each goal, -2 (much less than expected) to 2 (much more); at least one goal
    weights  weight of each goal, at least 0 and not all 0; None for equal weights

    Raises ValueError naming the argument and its value.

    Source: Kiresuk and Sherman 1968, Community Ment Health J 4:443-453, with the square root over the whole
            denominator; the formulas printed in Turner-Stokes 2009 were wrong and the publisher's erratum
            gives this form: 50 + 10 sum(w x) / sqrt(0.7 sum(w^2) + 0.3 (sum w)^2).
    Check:  three goals of equal weight all at -1: 36.31, all at +1: 63.69; levels 1, 0, -1 with weights 3, 2,
            1: 54.4065 (from the formula, by hand).
    """
    reached = [count(f"levels[{place}]", level, -2, 2) for place, level in enumerate(levels)]
    if not reached:
        raise ValueError(f"levels must hold at least one goal, not {levels!r}")
    given = [1.0] * len(reached) if weights is None else numbers("weights", weights, low=0)
    if len(given) != len(reached):
        raise ValueError(f"weights must be as many as levels, {len(reached)}, not {len(given)}")
    largest = max(given)
    if largest == 0:
        raise ValueError(f"weights must not all be 0, {weights!r}")
    scaled = [number("weight", weight / largest) for weight in given]
    total = math.fsum(weight * level for weight, level in zip(scaled, reached, strict=True))
    spread = (1 - CORRELATION) * math.fsum(w * w for w in scaled) + CORRELATION * math.fsum(scaled) ** 2
    return 50 + 10 * total / math.sqrt(spread)
