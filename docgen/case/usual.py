"""The range in which the values of people and chairs lie, and the slip that explains one outside it.

A key or column of something measured carries its range beside its hard limits (`base.key`, `record.Column`). A value
outside is asked about once and never changed. Where a source was read, its smallest and largest are widened by us: a
range tells a slip of the pen from a person, and says of nobody what is right.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from docgen.units import GRAMS_PER_NEWTON, GRAMS_PER_OUNCE, KG_PER_POUND, M_S_PER_MPH, MM_PER_FOOT, MM_PER_INCH


class Source(Struct, frozen=True):
    """Where a range comes from. weak: what was read says something near it, or it is common practice without a
    source."""

    says: str
    known: Literal["read", "weak", "memory"]


PRACTICE = Source("common practice, no source", "weak")
REACTION = Source(
    "above: common practice; below: simple reaction of adults, mean 0.231 s, Woods et al. 2015, Front Hum Neurosci "
    "9:131, read",
    "weak",
)
SPEED = Source("minimum top speeds of coded bases and national limits of 4 and 8 mph, SI 1988/2268, read", "weak")
BRAKING = Source("deceleration that a seated driver bears, ISO 7176-3 measures it; figures from memory", "memory")
GROWTH = Source("WHO 2006 and 2007 height and BMI for age, 1st to 99th percentile, widened", "read")
HEAD = Source("ANSUR II, Gordon et al. 2014, and WHO 2006 head circumference, widened", "read")
NECK = Source("AMA Guides, 5th edition, widened", "memory")
DOORS = Source("2010 ADA Standards 403, 404 and 304, widened to homes", "weak")
RAMPS = Source("2010 ADA Standards 405: 1:8 at the steepest of existing sites, widened to homes", "read")
CHAIRS = Source("clear floor space of 30 by 48 inches, 2010 ADA Standards 305, and common practice", "weak")


class Usual(Struct, frozen=True):
    """From low to high, both in it, in the unit that the name of the key ends with.

    bears    a speed, a stop or a load is worked out from it: outside the range it holds the packet until confirmed
    or_none  0 is a value too, where there is none of it
    """

    low: float
    high: float
    source: Source
    bears: bool = False
    or_none: bool = False

    def holds(self, value: float) -> bool:
        """Whether a value lies in the range."""
        return self.low <= value <= self.high or (self.or_none and value == 0)


# unit -> what a value may have been written in instead, and the factor that turns it into the unit
_MISREAD: dict[str, tuple[tuple[str, float], ...]] = {
    "mm": (("inches", MM_PER_INCH), ("centimeters", 10), ("feet", MM_PER_FOOT), ("meters", 1000)),
    "m": (("feet", MM_PER_FOOT / 1000), ("centimeters", 0.01), ("millimeters", 0.001), ("inches", MM_PER_INCH / 1000)),
    "kg": (("pounds", KG_PER_POUND), ("grams", 0.001)),
    "g": (("ounces", GRAMS_PER_OUNCE), ("newtons", GRAMS_PER_NEWTON), ("kilograms", 1000)),
    "m/s": (("km/h", 1 / 3.6), ("miles per hour", M_S_PER_MPH), ("centimeters per second", 0.01)),
    "s": (("milliseconds", 0.001), ("minutes", 60)),
    "min": (("seconds", 1 / 60), ("hours", 60)),
    "m/s2": (("parts of the earth's pull", 9.80665), ("centimeters/s2", 0.01)),
    "degrees": (("radians", 57.29578),),
    "degrees/s": (("radians/s", 57.29578), ("turns per minute", 6)),
    "degrees/s2": (("radians/s2", 57.29578),),
    "percent": (("parts of one", 100),),
    "weeks": (("days", 1 / 7), ("months", 52 / 12)),
    "months": (("years", 12), ("weeks", 12 / 52)),
}
_TIMES: tuple[tuple[str, float], ...] = (
    ("ten times too large", 0.1),
    ("ten times too small", 10),
    ("a hundred times too large", 0.01),
    ("a hundred times too small", 100),
)
_UNITS = (
    ("deg_s2", "degrees/s2"),
    ("deg_s", "degrees/s"),
    ("deg", "degrees"),
    ("m_s2", "m/s2"),
    ("m_s", "m/s"),
    ("mm", "mm"),
    ("kg", "kg"),
    ("g", "g"),
    ("percent", "percent"),
    ("seconds", "s"),
    ("minutes", "min"),
    ("weeks", "weeks"),
    ("months", "months"),
    ("s", "s"),
    ("m", "m"),
)
_NO_SUFFIX = {"minutes_before": "min", "minutes_with": "min", "months_needed": "months"}
_MOST = 3  # slips that a sentence names
_SAME = 1e-9
_PLAIN = re.compile(r"[1-9]\d*(\.\d+)?|0\.\d+")


def unit_of(name: str) -> str | None:
    """The unit that the name of a key or column ends with; None for what is no measure."""
    if name in _NO_SUFFIX:
        return _NO_SUFFIX[name]
    return next((unit for end, unit in _UNITS if name.endswith(f"_{end}") or (name == end and len(end) > 2)), None)


def slip(value: float, low: float, high: float, unit: str | None) -> str:
    """What would bring a value into a range, as "in inches (1240 mm), or ten times too small (488 mm)"; "" for nothing.

    A unit, a factor of ten, a sign, two digits swapped; the likeliest first and at most three.
    """
    by_result: dict[str, list[str]] = {}
    for words, result in _candidates(value, unit):
        if low - _SAME <= result <= high + _SAME:
            by_result.setdefault(f"{result:.0f}" if abs(result) >= 100 else f"{result:.3g}", []).append(words)
    shown = [f"{' or '.join(words)} ({result} {unit or ''}".rstrip() + ")" for result, words in by_result.items()]
    return ", or ".join(shown[:_MOST])


def _candidates(value: float, unit: str | None) -> Iterator[tuple[str, float]]:
    """Each slip in words, and the value that was meant if it is the one."""
    if value < 0:
        yield "with a sign too many", -value
    misread = tuple((f"in {words}", factor) for words, factor in _MISREAD.get(unit or "", ()))
    for words, factor in (*_TIMES, *misread) if unit == "s" else (*misread, *_TIMES):  # few time a stop in minutes
        yield words, value * factor
    digits = f"{value:g}"
    for at in range(len(digits) - 1):
        swapped = digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :]
        if swapped != digits and _PLAIN.fullmatch(swapped) and digits.strip("0.") != swapped.strip("0."):
            yield "with two digits swapped", float(swapped)
