"""Arguments of the evidence functions: each value is returned as given, or refused by name.

A wrong number here could end up in a chair's settings, so nothing is coerced, clipped or guessed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from operator import index

MOST_COUNT = 10_000_000
LARGEST = 1e12
SMALLEST = 1e-12


def count(name: str, value: int, low: int = 0, high: int = MOST_COUNT) -> int:
    """The whole number `value`, from `low` to `high`.

    Raises ValueError naming the argument and its value; True and False are not counts.
    """
    try:
        whole = index(value)
    except TypeError:
        raise ValueError(f"{name} must be a whole number, not {value!r}") from None
    if isinstance(value, bool):
        raise ValueError(f"{name} must be a whole number, not {value!r}")
    if not low <= whole <= high:
        limits = f"at least {low}" if high == MOST_COUNT and whole < low else f"from {low} to {high}"
        raise ValueError(f"{name} must be {limits}, not {value!r}")
    return whole


def number(name: str, value: float, low: float = -LARGEST, above: float | None = None, high: float = LARGEST) -> float:
    """The number `value` from `low` to `high`; with `above`, more than that by at least 1e-12.

    Raises ValueError naming the argument and its value. Nothing beyond a million million is a measurement,
    and refusing it keeps every later square and quotient finite.
    """
    try:
        real = math.nan if isinstance(value, (bool, str)) else float(value)
    except (TypeError, ValueError, OverflowError):
        real = math.nan
    if math.isnan(real):
        raise ValueError(f"{name} must be a number, not {value!r}")
    if not low <= real <= high or (above is not None and real < above + SMALLEST):
        least = f"more than {above:g}" if above is not None else f"at least {low:g}"
        raise ValueError(f"{name} must be {least} and at most {high:g}, not {value!r}")
    return real


def share(name: str, value: float) -> float:
    """The share `value`, strictly between 0 and 1: a confidence, a coverage or an error rate.

    Raises ValueError naming the argument and its value, also within 1e-12 of either end, where no digits are
    left.
    """
    real = number(name, value)
    if not 1e-12 < real < 1 - 1e-12:
        raise ValueError(f"{name} must lie strictly between 0 and 1, not {value!r}")
    return real


def series(x: Iterable[float], y: Iterable[float]) -> tuple[list[float], list[float]]:
    """Two lists of finite numbers of the same length, at least 2.

    Raises ValueError naming the argument and its value, or both lengths.
    """
    xs, ys = numbers("x", x), numbers("y", y)
    if len(xs) != len(ys) or len(xs) < 2:
        raise ValueError(f"x and y must hold as many values each, at least 2, not {len(xs)} and {len(ys)}")
    return xs, ys


def numbers(name: str, values: Iterable[float], low: float = -LARGEST) -> list[float]:
    """The finite numbers `values` as a list, each at least `low`.

    Raises ValueError naming the argument, the place in the list and the value.
    """
    return [number(f"{name}[{place}]", value, low) for place, value in enumerate(values)]
