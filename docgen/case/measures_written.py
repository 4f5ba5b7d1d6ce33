"""A measure as people write it, "33 in 1/4", "44 lb", "1.2 mph" -> the number that its metric key holds."""

from __future__ import annotations

import re
from fractions import Fraction

from docgen.units import KG_PER_POUND, M_S_PER_MPH, MM_PER_INCH

_INCH, _FOOT = ("in", "inch", "inches", '"', "”", "″"), ("ft", "foot", "feet", "'", "’", "′")
_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0} | dict.fromkeys(_INCH, MM_PER_INCH) | dict.fromkeys(_FOOT, 12 * MM_PER_INCH)
_POUND = ("lb", "lbs", "pound", "pounds")
# unit of a key -> each unit that it may be written in, as so many of its own
_UNITS: dict[str, dict[str, float]] = {
    "mm": _MM,
    "m": {unit: mm / 1000 for unit, mm in _MM.items()},
    "kg": {"kg": 1.0, "g": 0.001} | dict.fromkeys(_POUND, KG_PER_POUND),
    "g": {"g": 1.0, "grams": 1.0, "gram": 1.0, "kg": 1000.0, "oz": 1000 * KG_PER_POUND / 16},
    "m_s": {"m/s": 1.0, "km/h": 1 / 3.6, "mph": M_S_PER_MPH},
}
EXAMPLES = {"mm": "65 in", "m": "14 ft", "kg": "135 lb", "g": "3 oz", "m_s": "1.2 mph", "percent": "1:12"}
_PLACES = {"m": 2, "kg": 1, "g": 1, "m_s": 3}
_DECIMAL = r"\d+(?:\.\d+)?"
_PART = r"\d+/[1-9]\d*"
_AMOUNT = rf"(?:\d+\s+{_PART}|\d+-{_PART}|{_PART}|\d+(?:\.\d+)?|\.\d+)"  # 9 1/4, 9-1/4, 1/4, 9.25, .5
_PIECE = re.compile(
    rf"""(?P<amount>{_AMOUNT})\s*-?(?P<unit>[a-z/]+|["'”″’′])\.?"""
    rf"""(?:\s+(?P<rest>{_PART})(?!\s*[a-z"'”″’′]))?"""
)


def unit_of_key(name: str) -> str:
    """The unit in which a key holds its number, by the end of its name; "" where it may be written in no other."""
    if name.endswith("slope_percent"):
        return "percent"
    return next((unit for unit in ("m_s", "mm", "kg", "m", "g") if name.endswith(f"_{unit}")), "")


def measure_of(text: str, unit: str) -> float | None:
    """The number of a text with its unit; None where it has none, has another kind of unit, or can be read in two ways.

    A length of an inch or more is rounded to whole mm, a shorter one to a tenth; a minus may stand before it.
    """
    if unit == "percent":
        return _percent_of(text.strip().lower())
    if text.strip().startswith("-"):
        size = measure_of(text.strip()[1:], unit)
        return None if size is None else -size
    units, rest, total, before = _UNITS[unit], text.strip().lower(), 0.0, ""
    while rest:
        if before in _FOOT and re.fullmatch(_AMOUNT, rest):  # 5 ft 4: behind feet a number alone can be inches only
            total += float(_number(rest)) * units[_INCH[0]]
            break
        piece = _PIECE.match(rest)
        if piece is None or piece["unit"] not in units:
            return None
        if before and not (before in _FOOT and piece["unit"] in _INCH):  # 5 ft 6 in, and no other two
            return None
        if piece["rest"] and (piece["unit"] not in _INCH or not piece["amount"].isdigit()):  # 33 in 1/4
            return None
        amount = _number(piece["amount"]) + (_number(piece["rest"]) if piece["rest"] else 0)
        total += float(amount) * units[piece["unit"]]
        before, rest = piece["unit"], rest[piece.end() :].lstrip(" ,")
    if not before:
        return None
    total += 1e-9  # 19.05 mm as a binary number lies a little below itself
    if unit == "mm":
        return round(total) if total >= MM_PER_INCH else round(total, 1)
    return round(total, _PLACES[unit])


def _percent_of(text: str) -> float | None:
    """A slope in percent, to a tenth, written as that or as one of rise in so many of run."""
    if run := re.fullmatch(rf"1 ?(?::|in) ?({_DECIMAL})", text):
        return round(100 / float(run[1]), 1) if float(run[1]) >= 1 else None
    percent = re.fullmatch(rf"({_DECIMAL}) ?(?:%|percent)", text)
    return float(percent[1]) if percent else None


def _number(amount: str) -> Fraction:
    """Sum of a whole number and a fraction; a decimal number as it is."""
    return sum((Fraction(part) for part in re.split(r"[\s-]+", amount)), Fraction())
