"""A gap beside a thing that lies about in most homes, by the thing's published size; none where nothing fits.

Coins: United States Mint, coin specifications. AA battery: IEC 60086-2, R6, 13.5 to 14.5 mm across, its middle. From
memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from docgen.units import MM_PER_INCH

COIN_WIDTH_MM = {"dime": 17.91, "penny": 19.05, "nickel": 21.21, "quarter": 24.26}
COIN_THICKNESS_MM = {"pennies": 1.52, "nickels": 1.95}
THINNEST_MM = {"dimes": 1.35}  # only where no other thing lies between, for these slide
STACKED = COIN_THICKNESS_MM.keys() | THINNEST_MM.keys()
AA_WIDTH_MM = 14.0
AA_WITHIN_MM = 0.5  # a battery may be so much wider or narrower
MOST_COINS = 6  # a higher stack does not stand
_QUARTER_MM = MM_PER_INCH / 4
ABOUT_MM, NEAR_MM = 0.5, 1.0  # within the first it is "about", within the second "a bit more" or "a bit less"


def like(gap_mm: float) -> tuple[str, int, float] | None:
    """The thing nearest in size, how many of it, and by how many mm the gap is wider; None when none is within 1 mm.

    Check: 18 mm: a dime is wide (17.91); 12 mm: six nickels (11.70); 20 mm: a penny (19.05), a bit more; 40 mm:
    nothing.
    """
    single = [(name, 1, size) for name, size in {**COIN_WIDTH_MM, "aa": AA_WIDTH_MM}.items()]
    stacks = [(name, n, n * size) for name, size in COIN_THICKNESS_MM.items() for n in range(2, MOST_COINS + 1)]
    fits = [(name, n, gap_mm - size) for name, n, size in (*single, *stacks) if abs(gap_mm - size) <= NEAR_MM + 1e-9]
    return min(fits, key=lambda fit: (abs(fit[2]) > ABOUT_MM, fit[1] > 1, abs(fit[2])), default=None)


def fits(low_mm: float, gap_mm: float) -> tuple[str, int] | None:
    """What must go into the gap: the smallest thing that is no thinner than the gap may be, and how many of it; None
    where no thing lies between the least gap and the right one.

    Check: 5 and 10 mm: three nickels (5.85); 15 and 20 mm: a dime (17.91); 2 and 3 mm: two dimes (2.70).
    """
    for things in (_things(), _stacks(THINNEST_MM)):
        among = [(least, name, n) for least, _, name, n in things if low_mm <= least and gap_mm > least]
        if among:
            return min(among)[1:]
    return None


def too_big(high_mm: float, gap_mm: float) -> tuple[str, int] | None:
    """What must not go into the gap: the largest thing that is no thicker than the gap may be.

    Check: 15 and 10 mm: an AA battery (up to 14.5); 25 and 20 mm: a quarter (24.26); 4 and 2 mm: two nickels (3.90).
    """
    among = [(most, name, n) for _, most, name, n in _things() if most <= high_mm and gap_mm < most]
    return max(among)[1:] if among else None


def quarters_that_fit(low_mm: float, gap_mm: float) -> int | None:
    """Of a ruler in place of a thing: the quarters of an inch that must go into the gap, no less than the gap may be;
    None where no quarter lies between the least gap and the right one.

    Check: 5 and 10 mm: 1 (6.35); 15 and 20 mm: 3 (19.05); 7 and 10 mm: none.
    """
    n = math.ceil(low_mm / _QUARTER_MM)
    return n if n * _QUARTER_MM < gap_mm else None


def quarters_too_big(high_mm: float, gap_mm: float) -> int | None:
    """The quarters of an inch that must not go into the gap, no more than the gap may be, likewise.

    Check: 15 and 10 mm: 2 (12.70); 25 and 20 mm: none; 26 and 20 mm: 4 (25.40).
    """
    n = math.floor(high_mm / _QUARTER_MM)
    return n if gap_mm < n * _QUARTER_MM else None


def in_words(thing: tuple[str, int] | None, words: Mapping[str, str]) -> str:
    """A thing and how it is held, in the words of drawings, which the card has too: 3 nickels, stacked; a ruler for
    none."""
    if thing is None:
        return words["coin_ruler"]
    name, n = thing
    return words[f"coin_one_of_{name}" if name in STACKED and n == 1 else f"coin_{name}"].format(n=n)


def _things() -> Iterator[tuple[float, float, str, int]]:
    """Least and largest size of each thing in mm, its name and how many of it."""
    for name, size in COIN_WIDTH_MM.items():
        yield size, size, name, 1
    yield AA_WIDTH_MM - AA_WITHIN_MM, AA_WIDTH_MM + AA_WITHIN_MM, "aa", 1
    yield from _stacks(COIN_THICKNESS_MM)


def _stacks(thickness_mm: Mapping[str, float]) -> Iterator[tuple[float, float, str, int]]:
    for name, size in thickness_mm.items():
        for n in range(1, MOST_COINS + 1):
            yield n * size, n * size, name, n
