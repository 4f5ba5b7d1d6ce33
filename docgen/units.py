"""Lengths, weights and speeds of the record, which is metric, as readers in the United States measure.

Factors are exact by definition: NIST Special Publication 811 (2008), Appendix B.8 (from memory). A value is rounded to
the nearest; a limit is rounded to the safe side, as B.7 there wants of a number that must not be passed (from memory):
what is needed, such as a stopping distance or the width of a chair, goes up, what there is, such as a clear width or
the fastest speed that stops, goes down. A limit is no measure and has no leeway: what must not be passed goes down
(`at_most_inches`), what must be reached goes up (`at_least_inches`). Fractions of an inch take the place of decimals.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Literal

Side = Literal["near", "up", "down"]  # which way a number may be rounded

MM_PER_INCH = 25.4
MM_PER_FOOT = 304.8
KG_PER_POUND = 0.45359237
M_S_PER_MPH = 0.44704
GRAMS_PER_OUNCE = 28.349523125
GRAMS_PER_NEWTON = 1000 / 9.80665  # of force: what weighs so much where gravity is standard

_AS_RECORDED_MM, _AS_RECORDED_KG = 0.5, 0.05  # a length in whole mm, a weight to a tenth of a kg, stand for so much
_TENTH_AS_RECORDED_MM = 0.05 + 1e-9  # half of the last digit of a length under an inch that was written in inches
_AS_RECORDED_M_S = 0.0005 + 1e-9  # half of the last digit of a speed that was written in mph
_EXACT = 1e-9  # what floating point may add to a number that is on a mark of the scale
# below so many inches, parts of an inch: what a tape measure shows and an eye can tell (common practice, no source)
_PARTS = ((0.25, 16), (6.0, 8), (math.inf, 4))
_LIMIT_PARTS = ((1.0, 16), (6.0, 8), (math.inf, 4))  # the same for a limit, which is held against a ruler


def rounded(value: float, side: Side = "near") -> int:
    """The whole number to that side of the value; a half goes away from zero.

    Check: 2.5 -> 3; 32.09 down -> 32; 24.80 up -> 25; -0.5 down -> -1.
    """
    if side == "up":
        return math.ceil(value - _EXACT)
    if side == "down":
        return math.floor(value + _EXACT)
    return int(math.copysign(math.floor(abs(value) + 0.5 + _EXACT), value))


def decimals(value: float, places: int, side: Side = "near") -> str:
    """The number with so many decimals, to that side.

    Check: 1.281 up with two -> 1.29; 0.4249 down with two -> 0.42.
    """
    return f"{rounded(value * 10**places, side) / 10**places:.{places}f}"


def inches(mm: float, side: Side = "near") -> str:
    """A length as whole inches and a fraction, without the unit: parts of 16 below a quarter, of 8 below 6, then of 4.

    A length in whole mm stands for half a mm more or less, so an inch measure written down in mm comes back; but for
    what is needed and under an inch, where half a mm counts.

    Check: 12 -> 1/2; 10 up -> 1/2; 815 down -> 32; 711 -> 28; 630 up -> 25; 31.75 -> 1 1/4; 19.1 up -> 3/4, which is
    3/4 in kept to a tenth of a mm; 20 up -> 7/8.
    """
    size = abs(mm) / MM_PER_INCH
    # what is needed and is small, such as a threshold, is never put below its mm; a tenth of one was written in inches
    least = 0.0 if float(mm).is_integer() else _TENTH_AS_RECORDED_MM
    leeway = least if side == "up" and size < 1 else _AS_RECORDED_MM
    return _fraction(mm, side, next(parts for below, parts in _PARTS if size < below), leeway)


def spare_inches(mm: float) -> str:
    """What is left of a length once another is taken off, down to the next 8th of an inch; less than none is what is
    missing, and goes up alike. It has no leeway, and the same mm are the same inches wherever they stand.

    Check: 130 -> 5; 97.5 -> 3 3/4; 140 -> 5 1/2; 12 -> 3/8; -130 -> -5 1/8.
    """
    return _fraction(mm, "down", 8, leeway=0.0)


def fine_inches(mm: float) -> str:
    """A length that is set, to the nearest 16th of an inch, which is what a tape shows; the mm beside it is what holds.

    Check: 18 -> 11/16; 20 -> 13/16; 1 -> 1/16; 2 -> 1/16; 595 -> 23 7/16.
    """
    return _fraction(mm, "near", 16)


def gap_inches(mm: float) -> str:
    """A gap to the nearest 32nd of an inch, which is less than 1 mm: each whole mm has inches of its own, so that both
    units name the same gap, as set value and as limit. The mm count.

    Check: 2 -> 3/32; 3 -> 1/8; 4 -> 5/32; 12 -> 15/32; 15 -> 19/32; 20 -> 25/32; 25 -> 31/32.
    """
    return _fraction(mm, "near", 32)


def in_mm_alone(mm: float) -> bool:
    """Whether a gap is under a quarter of an inch: the 16ths of a ruler are too coarse for it, and its mm stand alone.

    Check: 6 -> True; 8 -> False.
    """
    return mm < MM_PER_INCH / 4


def limit_mm(metres: float) -> int:
    """A distance that must not be passed, in mm, up to the next cm, so that what needs just so much passes.

    Check: 0.0766 -> 80; 0.16 -> 160; 0.4113 -> 420.
    """
    return rounded(metres * 100, "up") * 10


def at_most_inches(mm: float) -> str:
    """A limit that must not be passed, never more than its mm.

    Check: 10 -> 3/8; 15 -> 9/16; 20 -> 3/4; 40 -> 1 1/2; 80 -> 3 1/8; 240 -> 9 1/4; 254 -> 10.
    """
    return _fraction(mm, "down", _limit_parts(mm), leeway=0.0)


def at_least_inches(mm: float) -> str:
    """A limit that must be reached, never less than its mm.

    Check: 10 -> 7/16; 40 -> 1 5/8; 50 -> 2; 51 -> 2 1/8; 254 -> 10.
    """
    return _fraction(mm, "up", _limit_parts(mm), leeway=0.0)


def _limit_parts(mm: float) -> int:
    return next(parts for below, parts in _LIMIT_PARTS if abs(mm) / MM_PER_INCH < below)


def _fraction(mm: float, side: Side, parts: int, leeway: float = _AS_RECORDED_MM) -> str:
    return _words(Fraction(rounded(_with_leeway(mm, side, leeway) / MM_PER_INCH * parts, side), parts))


def _words(number: Fraction) -> str:
    whole, rest = divmod(abs(number), 1)
    words = " ".join(str(part) for part in (whole, rest) if part) or "0"
    return f"-{words}" if number < 0 else words


def feet_and_inches(mm: float, side: Side = "near") -> tuple[int, int]:
    """A distance on the ground in feet and whole inches.

    Check: 1280 up -> 4 ft 3 in; 305 down -> 1 ft 0 in.
    """
    return divmod(rounded(mm / MM_PER_INCH, side), 12)


def pounds(kg: float, side: Side = "near") -> int:
    """A weight in whole pounds.

    Check: 61 -> 134; 136.1 up -> 300, which is 300 lb written in kg; 136.2 up -> 301.
    """
    return rounded(_with_leeway(kg, side, _AS_RECORDED_KG) / KG_PER_POUND, side)


def miles_an_hour(m_s: float, side: Side = "down") -> str:
    """A speed in mph with two digits that count. A speed that is set or allowed is a limit, and goes down, never above
    its m/s; one that was driven was measured, and goes to the nearest.

    Check: 0.9 -> 2.0; 0.4 -> 0.89; 0.5 -> 1.1; 0.25 -> 0.55, near 0.56; 0.7 -> 1.5, near 1.6; 0.536, recorded of 1.2
    mph -> 1.2.
    """
    written_in_mph = math.isclose(m_s, round(round(m_s / M_S_PER_MPH, 1) * M_S_PER_MPH, 3), abs_tol=_EXACT)
    leeway = _AS_RECORDED_M_S if written_in_mph and m_s > 0 else 0.0  # a whole tenth of a mph, to the mm/s
    return two_digits(_with_leeway(m_s, side, leeway) / M_S_PER_MPH, side, zeros=True)


def feet_a_second_squared(m_s2: float) -> str:
    """How hard a chair brakes, in ft/s2 with two digits that count; less is the safe side.

    Check: 1.2 -> 3.9.
    """
    return two_digits(m_s2 * 1000 / MM_PER_FOOT, "down", zeros=True)


def two_digits(value: float, side: Side = "near", zeros: bool = False) -> str:
    """The number with the two digits that count most, but no fewer than its whole part; `zeros` keeps one at its end.

    Check: 0.6 -> 0.6; 1.249 up -> 1.3; 2.013 down with zeros -> 2.0; 12.2 up -> 13.
    """
    if value <= 0:
        return "0"
    shown = decimals(value, max(0, 1 - math.floor(math.log10(value) + _EXACT)), side)
    return shown if zeros else f"{float(shown):g}"


def _with_leeway(value: float, side: Side, leeway: float) -> float:
    return value + {"near": 0.0, "up": -leeway, "down": leeway}[side]


# ---- the same in the sentences of criteria and commands, which are English of the United States; what pages say
# besides comes from the words of their language


def length(mm: float, side: Side = "near") -> str:
    """32 in (815 mm)."""
    return f"{inches(mm, side)} in ({mm:g} mm)"


def spare(mm: float) -> str:
    """What is left of a length: 3 3/4 in (100 mm)."""
    return f"{spare_inches(mm)} in ({mm:g} mm)"


def too_little(mm: float) -> str:
    """What is missing of a length: 5 1/8 in (130 mm) too little."""
    return f"{spare_inches(-mm).removeprefix('-')} in ({mm:g} mm) too little"


def built(mm: float, side: Side = "near") -> str:
    """A length of a part, which is built in mm: 12 mm (1/2 in)."""
    return f"{mm:g} mm ({inches(mm, side)} in)"


def ground(mm: float, side: Side = "near") -> str:
    """A distance on the ground: 4 ft 3 in (1300 mm)."""
    return f"{_feet(mm, side)} ({rounded(mm, side)} mm)"


def stretch(metres: float, side: Side) -> str:
    """The same where it is reckoned: 1 ft 8 in (0.50 m)."""
    return f"{_feet(metres * 1000, side)} ({decimals(metres, 2, side)} m)"


def _feet(mm: float, side: Side) -> str:
    feet, rest = feet_and_inches(mm, side)
    return f"{feet} ft {rest} in" if feet else f"{rest} in"


def weight(kg: float, side: Side = "near") -> str:
    """134 lb (61 kg)."""
    return f"{pounds(kg, side)} lb ({kg:g} kg)"


def speed(m_s: float, side: Side = "down") -> str:
    """0.89 mph (0.4 m/s); one that was driven goes to the nearest."""
    return f"{miles_an_hour(m_s, side)} mph ({float(decimals(m_s, 2, side)):g} m/s)"
