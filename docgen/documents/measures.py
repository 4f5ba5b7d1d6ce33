"""Measures in the words of a language: which unit comes first, and the pattern of both, stand in [units] of its
words.toml. Which way a number may be rounded is its side, see docgen/units.py."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from docgen import units
from docgen.evidence.fact import Fact
from docgen.units import Side

Words = Mapping[str, Any]
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def filters(words: Words) -> dict[str, Callable[..., str]]:
    """What a template may do to a measure of the case: inches, feet, pounds, mph and ft_s2 name these first for
    whoever pays, mm, set_mm and m_s the metric ones for whoever builds and programs, at_most and at_least those of a
    limit, gap is for whoever helps, grams for a force."""
    each: tuple[Callable[..., str], ...] = (
        inches,
        feet,
        pounds,
        mph,
        ft_s2,
        mm,
        at_most,
        at_least,
        set_mm,
        sizes,
        m_s,
        gap,
        grams,
    )
    return {change.__name__: partial(change, words=words) for change in each}


def decimal(number: str, words: Words) -> str:
    """The number with the decimal sign of the language."""
    sign: str = words["decimal"]
    return number.replace(".", sign)


def inches(value: float, side: Side = "near", *, words: Words) -> str:
    """A length in mm: 32 in (815 mm)."""
    return _in(words, "inches", mm=_bare(value), inches=units.inches(value, side))


def feet(value: float, side: Side = "near", *, words: Words) -> str:
    """A distance on the ground in mm: 4 ft 3 in (1300 mm)."""
    return _ground(value, words, side, "feet", mm=_bare(value))


def pounds(value: float, *, words: Words) -> str:
    """A weight in kg: 134 lb (61 kg)."""
    return _in(words, "pounds", lb=str(units.pounds(value)), kg=_bare(value))


def mph(value: float, side: Side = "down", *, words: Words) -> str:
    """A speed in m/s: 0.89 mph (0.4 m/s); one that was driven goes to the nearest, one that is set down."""
    return _in(words, "mph", mph=units.miles_an_hour(value, side), m_s=_bare(value))


def ft_s2(value: float, *, words: Words) -> str:
    """How hard a chair brakes, in m/s2: 3.9 ft/s² (1.2 m/s²)."""
    return _in(words, "ft_s2", ft_s2=units.feet_a_second_squared(value), m_s2=_bare(value))


def mm(value: float, side: Side = "near", *, words: Words) -> str:
    """A length in mm: 815 mm (32 in)."""
    return _in(words, "mm", mm=_bare(value), inches=units.inches(value, side)) if value else _in(words, "none")


def at_most(value: float, *, words: Words) -> str:
    """A limit in mm that must not be passed: 15 mm (9/16 in)."""
    return _in(words, "mm", mm=_bare(value), inches=units.at_most_inches(value))


def at_least(value: float, *, words: Words) -> str:
    """A limit in mm that must be reached: 40 mm (1 5/8 in)."""
    return _in(words, "mm", mm=_bare(value), inches=units.at_least_inches(value))


def set_mm(value: float, *, words: Words) -> str:
    """A length to which a part is set, for a column of mm (in): 595 (23 7/16). Its inches bring the mm back."""
    inches = units.fine_inches(value).replace(" ", "\N{NO-BREAK SPACE}")
    return _in(words, "sizes", mm=_bare(value), inches=inches).replace(" (", "\N{NO-BREAK SPACE}(") if value else "0"


def grams(value: float, *, words: Words) -> str:
    """A force, as the weight in grams: 90 g (3.2 oz); none for 0."""
    return (
        _in(words, "grams", g=_bare(value), oz=f"{value / units.GRAMS_PER_OUNCE:.1f}")
        if value
        else _in(words, "no_force")
    )


def sizes(value: str, *, words: Words) -> str:
    """A size that the case tells in mm, in words, for a column of mm (in): 90 x 60 (3 1/2 x 2 3/8)."""
    numbers = numbers_in(value)
    return _in(words, "sizes", mm=value, inches=" x ".join(map(units.inches, numbers))) if numbers else value


def numbers_in(size: str) -> list[float]:
    """The numbers of a size in words, in mm: 90 x 60 has 90 and 60."""
    return [float(number) for number in _NUMBER.findall(size)]


def m_s(value: float, *, words: Words) -> str:
    """A speed that is set, in m/s: 0.4 m/s (0.89 mph)."""
    return _in(words, "m_s", m_s=_bare(value), mph=units.miles_an_hour(value))


def gap(value: float, *, words: Words) -> str:
    """A gap for whoever helps: 15/32 in (12 mm); in mm alone under a quarter of an inch."""
    if not value:
        return _in(words, "none")
    pattern = "gap_mm" if units.in_mm_alone(value) else "gap"
    return _in(words, pattern, mm=_bare(value), inches=units.gap_inches(value))


def of_fact(fact: Fact, value: float, shown: str, words: Words) -> str | None:
    """A number of the evidence that is a length or a speed; None for any other kind.

    shown  the value in its own unit as it is printed, already rounded to the side of the fact
    """
    if fact.kind == "metres":
        return _ground(value * 1000, words, fact.side, "metres", m=shown)
    if fact.kind == "speed":
        return _in(words, "mph", mph=units.miles_an_hour(value, fact.side), m_s=shown)
    if fact.kind == "limit":
        return _in(words, "mm", mm=shown, inches=units.at_most_inches(units.limit_mm(value)))
    if fact.kind == "millimetres":
        return _in(words, "inches", mm=shown, inches=units.inches(value, fact.side))
    return None


def _ground(value: float, words: Words, side: Side, pattern: str, **metric: str) -> str:
    n_feet, rest = units.feet_and_inches(value, side)
    both: str = words["units"]["feet_and_inches" if n_feet else "under_a_foot"]
    return _in(words, pattern, feet=both.format(feet=n_feet, inches=rest), **metric)


def _in(words: Words, pattern: str, **values: str) -> str:
    both: str = words["units"][pattern]
    return both.format(**{name: decimal(value, words) for name, value in values.items()})


def _bare(value: float) -> str:
    return f"{value:g}"
