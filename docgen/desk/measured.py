"""A measure as its field shows it: in inches, feet, pounds or mph for a payer in the United States, as it was typed
where the case holds it so. The case holds what was typed with its unit, which it reads as its metric number."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from docgen import units
from docgen.case.lines import KeyPath, line_for
from docgen.case.measures_written import measure_of, unit_of_key
from docgen.case.read import CaseFile
from docgen.criteria.payer import load
from docgen.errors import UserError

METRIC = {"mm": "mm", "m": "m", "kg": "kg", "g": "g", "m_s": "m/s", "percent": "percent"}
_CUSTOMARY = {"mm": "in", "m": "ft", "kg": "lb", "m_s": "mph"}  # grams of a force come first for everybody
_OF_BODY = ("client", "height_mm")
_QUOTED = re.compile(r'"((?:\\.|[^"\\])*)"')
PLAIN = re.compile(r"[+-]?\d+(?:[.,]\d+)?")


def unit_shown(file: CaseFile, path: KeyPath) -> str:
    """The unit in which a measure is shown, and which a number typed without any has; "" for what has none."""
    unit = unit_of_key(str(path[-1]))
    return _CUSTOMARY.get(unit, METRIC[unit]) if unit and _is_customary(file) else METRIC.get(unit, "")


def shown_measure(file: CaseFile, path: KeyPath, value: float) -> str:
    """A measure as its field shows it: as it was typed, or in the unit of the field; a metric one without its unit."""
    if typed := _as_typed(file, path, value):
        return typed
    metric = f"{value:g}"
    return _customary(path, value) or metric if unit_shown(file, path) in _CUSTOMARY.values() else metric


def beside(path: KeyPath, value: float, shown: str) -> str:
    """The same measure in the other units: the metric number that the case holds, or where the field shows that, the
    one of the United States."""
    unit = unit_of_key(str(path[-1]))
    if METRIC[unit] != (re.split(r"[\d\s.,]+", shown)[-1] or METRIC[unit]) or ":" in shown:  # a slope of 1:12
        return f"{value:g} {METRIC[unit]}"
    return f"{value / units.GRAMS_PER_OUNCE:.1f} oz" if unit == "g" else _customary(path, value)


def with_unit(text: str, unit: str) -> str:
    """What was typed, with the unit of its field where it is a number alone, and that unit is not the metric one."""
    return f"{text.replace(',', '.')} {unit}" if PLAIN.fullmatch(text) and unit in _CUSTOMARY.values() else text


def _is_customary(file: CaseFile) -> bool:
    return _locale(file.case.request.payer) == "en_US"


@cache
def _locale(payer: str) -> str:
    try:
        return load(payer, "").locale
    except UserError:  # told where the case is judged
        return "en_US"


def _as_typed(file: CaseFile, path: KeyPath, value: float) -> str:
    """The text in the line of a key that is this measure; "" where a bare number stands there."""
    line = _lines(file.text)[line_for(file.lines, path) - 1]
    unit = unit_of_key(str(path[-1]))
    own = re.search(rf'\b{path[-1]}\s*=\s*"([^"]*)"', line)
    texts = [own[1]] if own else _QUOTED.findall(line)
    return next((text for text in texts if measure_of(text, unit) == value), "")


@lru_cache(4)
def _lines(text: str) -> tuple[str, ...]:
    return tuple(text.split("\n"))


def _customary(path: KeyPath, value: float) -> str:
    """The measure in the units of the United States: as short as brings the metric number back; where nothing does that
    a tape or a scale shows, the nearest that one shows, since the metric number stands beside it."""
    unit = unit_of_key(str(path[-1]))
    texts = [*_texts(path, unit, value)]
    return next((text for text in texts if measure_of(text, unit) == value), texts[-1] if texts else "")


def _texts(path: KeyPath, unit: str, value: float) -> Iterator[str]:
    if unit == "kg":
        yield from (f"{value / units.KG_PER_POUND:.{places}f} lb" for places in (0, 1))
    elif unit == "m_s":
        yield from (f"{value / units.M_S_PER_MPH:.{places}f} mph" for places in (0, 1, 2))
        yield f"{units.miles_an_hour(value)} mph"
    elif unit == "m" or path == _OF_BODY:
        yield _feet(value if unit == "mm" else value * 1000)
    elif unit == "mm":
        yield from (f"{units.inches(value)} in", f"{units.fine_inches(value)} in")


def _feet(mm: float) -> str:
    """A length in feet, inches and quarters of an inch."""
    feet, quarters = divmod(units.rounded(abs(mm) / units.MM_PER_INCH * 4), 48)
    inches = units.inches(quarters / 4 * units.MM_PER_INCH)
    return f"{'-' * (mm < 0)}{feet} ft" + (f" {inches} in" if quarters else "")
