"""A heading of a clinic's sheet -> the column it is, and its unit, word for word by headings.toml."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import tomli
from msgspec import Struct

from docgen.case.namesakes import letters_and_digits
from docgen.case.record import TRIAL
from docgen.case.session import SESSIONS
from docgen.case.totals import TOTALS

_HEADINGS = Path(__file__).with_name("headings.toml")
# unit as it is written -> its sort, its name and how many of the sort's own unit it is
_UNITS = {
    "s": ("s", "seconds", 1.0),
    "ms": ("s", "milliseconds", 0.001),
    "min": ("min", "minutes", 1.0),
    "h": ("min", "hours", 60.0),
    "m": ("m", "meters", 1.0),
    "cm": ("m", "centimeters", 0.01),
    "ft": ("m", "feet", 0.3048),
    "yd": ("m", "yards", 0.9144),
    "m/s": ("m/s", "meters a second", 1.0),
    "km/h": ("m/s", "kilometers an hour", 1 / 3.6),
    "mph": ("m/s", "miles an hour", 0.44704),
    "ft/s": ("m/s", "feet a second", 0.3048),
}
_WRITTEN = {
    "s": "s sec secs second seconds sek sekunde sekunden seconde secondes segundo segundos",
    "ms": "ms msec milliseconds millisekunden millisecondes milisegundos",
    "min": "min mins minute minutes minuten minuto minutos",
    "h": "h hr hrs hour hours stunden heures horas",
    "m": "m meter meters metre metres metro metros",
    "cm": "cm centimeters centimetres zentimeter centimetros",
    "ft": "ft feet foot fuss pieds pies",
    "yd": "yd yds yards",
    "m/s": "m/s",
    "km/h": "km/h kmh kph",
    "mph": "mph",
    "ft/s": "ft/s fps",
}
UNIT_OF = {word: unit for unit, words in _WRITTEN.items() for word in words.split()}
# a heading that is a unit alone -> its column
_UNIT_ALONE = {
    **dict.fromkeys(("ft", "feet", "foot", "yd", "yds", "yards", "meters", "metres", "cm"), "distance_m"),
    "sec": "seconds",
}
COLUMNS = {**SESSIONS.by_name, **TOTALS.by_name, **TRIAL.by_name}


class Meant(Struct, frozen=True):
    """What a heading is: the column, and the unit it gives; `unit` is "" where it gives none."""

    column: str
    unit: str = ""


@cache
def _listing() -> dict[str, dict[str, str]]:
    """Words of a heading -> the column they are, and what of a lesson they tell."""
    listing = tomli.loads(_HEADINGS.read_text(encoding="utf-8"))
    listing.pop("perhaps")
    return {"lessons": _by_words(listing.pop("lessons")), "sure": _by_words(listing)}


@cache
def _doubtful() -> dict[str, list[str]]:
    """Words of a heading -> the columns that they may be, in the order of the file."""
    may_be: dict[str, list[str]] = {}
    for column, listed in tomli.loads(_HEADINGS.read_text(encoding="utf-8"))["perhaps"].items():
        for words in listed.split(";"):
            may_be.setdefault(words.strip(), []).append(column)
    return may_be


def _by_words(listing: Mapping[str, str]) -> dict[str, str]:
    return {words.strip(): column for column, listed in listing.items() for words in listed.split(";")}


def perhaps(heading: str) -> list[str]:
    """The columns that a heading may well be, which is asked."""
    return _doubtful().get(words_of(heading), [])


def of_lessons(heading: str) -> bool:
    """Whether a heading is one that a sheet of lessons has and one of a trial has not."""
    words = words_of(heading)
    return words in _listing()["lessons"] or _listing()["sure"].get(words) in ("stage", "coach")


def of_touches(heading: str) -> bool:
    """Whether a heading is that of the letters which the lesson card has for a bump, a near miss, a person touched."""
    return _listing()["lessons"].get(words_of(heading)) == "touches"


def since_last_time(heading: str) -> bool:
    """Whether a heading of a lesson tells what lies before its first try."""
    return "since last time" in words_of(heading)


def unit_in(heading: str, column: str) -> str:
    """The unit that a heading names and the column can be written in; "" for none. A letter alone is one only where it
    stands last or in brackets."""
    words = [word.rstrip(".") for word in re.split(r"[\s_()\[\],]+", heading.casefold()) if word.rstrip(".")]
    named = [word for at, word in enumerate(words) if word in UNIT_OF and (len(word) > 1 or at == len(words) - 1)]
    return next((unit for word in reversed(named) if factor(column, unit := UNIT_OF[word]) is not None), "")


def words_of(text: str) -> str:
    """A heading as its words in small letters, without marks."""
    return " ".join(letters_and_digits(text.replace("_", " ")))


def meant_by(heading: str) -> Meant | None:
    """The column and unit of a heading; None where its words are not known."""
    own = re.sub(r"[\s-]+", "_", heading.strip().lower())
    if own in COLUMNS:
        return Meant(own, COLUMNS[own].unit)
    bracket = re.search(r"[(\[]([^)\]]*)[)\]]\s*$", heading)
    outside = heading[: bracket.start()] if bracket else heading
    unit = UNIT_OF.get(bracket.group(1).strip().rstrip(".").casefold(), "") if bracket else ""
    words = words_of(outside)
    if words in _UNIT_ALONE and not bracket:
        return Meant(_UNIT_ALONE[words], UNIT_OF[words])
    if words in ("seconds", "secs", "sekunden", "secondes", "segundos"):
        unit = unit or "s"
    elif words in ("minutes", "minuten", "minutos"):
        unit = unit or "min"
    known = _listing()["sure"]
    if words in known and (unit or bracket is None or not known_unit_needed(known[words])):
        return Meant(known[words], unit)
    if bracket is None and not unit:
        front, _, last = outside.strip().replace("_", " ").rpartition(" ")
        unit = UNIT_OF.get(last.casefold().rstrip("."), "")
        front = re.sub(r"\bin$", "", words_of(front.rstrip(" ,"))).strip()
        if unit and front in known:
            return Meant(known[front], unit)
    return None


def known_unit_needed(column: str) -> bool:
    """Whether a column holds an amount that a unit must go with."""
    return bool(COLUMNS[column].unit)


def factor(column: str, unit: str) -> float | None:
    """What a number in this unit is multiplied by to be in the column's own; None where the unit is of another sort."""
    sort, _, times = _UNITS[unit]
    own = COLUMNS[column].unit
    if sort == own:
        return times
    if (sort, own) == ("min", "s"):
        return times * 60
    return times / 60 if (sort, own) == ("s", "min") else None


def unit_words(unit: str) -> str:
    """A unit in words."""
    return _UNITS[unit][1]


def units_for(column: str) -> list[str]:
    """The units that a column can be written in."""
    return [unit for unit in _UNITS if factor(column, unit) is not None]
