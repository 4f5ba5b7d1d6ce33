"""Procedure codes (HCPCS Level II) and power bases -> what each is, includes, goes with, and when it is in use.

The data is hcpcs.toml beside this file, in own words, each code with its source and how well it is known.
A code that is not in it is not judged: code() and base() give None.
"""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from msgspec import Struct

from docgen.shipped import tables_of

_FILE = Path(__file__).with_name("hcpcs.toml")
_GROUPS = ("group_1", "group_2", "group_3", "group_4", "group_5")
_CLASSES = ("heavy", "very_heavy", "extra_heavy", "pediatric")


class Code(Struct, frozen=True):
    """One procedure code; the fields are those of hcpcs.toml."""

    id: str
    words: str
    kind: str
    known: str
    source: str
    includes: tuple[str, ...] = ()
    contains: tuple[str, ...] = ()
    pairs_with: tuple[tuple[str, ...], ...] = ()
    conflicts_with: tuple[str, ...] = ()
    proportional: bool | None = None
    senses: tuple[str, ...] = ()
    head: bool = False
    recline: bool = False
    motors: int | None = None
    switches: tuple[int, int] | None = None
    force_g: float | None = None
    travel_mm: float | None = None
    holds: str | None = None
    status: str = "in_use"
    from_on: date | None = None
    until_on: date | None = None

    def in_use(self, on: date) -> bool:
        """Whether the code may be used on that day; first and last day count."""
        return (self.from_on is None or self.from_on <= on) and (self.until_on is None or on <= self.until_on)


class Base(Struct, frozen=True):
    """One power base.

    group          1 to 5
    options        power options: "none", "single" or "multiple"; None where it is not recorded (group 4)
    captains       whether it has a captain's chair
    weight_class   standard, heavy, very_heavy, extra_heavy or pediatric
    lightest_lb    lightest driver of the class
    heaviest_lb    heaviest driver of the class; None where none is published
    upgradable     whether it can take an expandable controller
    authorization  whether it is on the list of bases that need prior authorization
    """

    id: str
    group: int
    options: str | None
    captains: bool
    weight_class: str
    lightest_lb: int
    heaviest_lb: int | None
    upgradable: bool
    authorization: bool


def code(code_id: str | None) -> Code | None:
    """The code, or None when it is not in the list."""
    return codes().get(code_id or "")


def base(code_id: str | None) -> Base | None:
    """The power base with this code, or None when it is not in the list."""
    return bases().get(code_id or "")


def checked_against() -> str:
    """The lists that this file was checked against, each with its date, as a sentence names them."""
    return str(_raw()["checked_against"])


def list_year() -> int:
    """The year of the national code list that this file was checked against."""
    return int(_raw()["list_year"])


def later_list(on: date) -> str:
    """That the list of a later year counts on a day and was not checked, and who checks it; "" where none does."""
    if on.year <= list_year():
        return ""
    return f"The list of {on.year} was not checked: the supplier checks it before ordering any part."


def of_kind(*kinds: str) -> frozenset[str]:
    """Codes of these kinds."""
    return frozenset(c.id for c in codes().values() if c.kind in kinds)


@cache
def codes() -> dict[str, Code]:
    """Every code by id, in the order of the file."""
    return {name: _code(name, raw) for name, raw in _raw()["codes"].items()}


@cache
def bases() -> dict[str, Base]:
    """Every power base by id."""
    sets = {name: _spread(ranges) for name, ranges in _raw()["bases"].items()}
    return {code_id: _base(code_id, int(group[-1]), sets) for group in _GROUPS for code_id in sorted(sets[group])}


@cache
def _raw() -> dict[str, Any]:
    return tables_of(_FILE.read_text(encoding="utf-8"))


def _code(name: str, raw: dict[str, Any]) -> Code:
    renamed = {"from": "from_on", "until": "until_on"}
    return Code(id=name, **{renamed.get(key, key): _frozen(value) for key, value in raw.items()})


def _frozen(value: Any) -> Any:
    return tuple(_frozen(part) for part in value) if isinstance(value, list) else value


def _spread(ranges: list[str]) -> frozenset[str]:
    """K0835-K0837 -> K0835, K0836, K0837."""
    ids: set[str] = set()
    for first, _, last in (span.partition("-") for span in ranges):
        ids |= {f"{first[0]}{n:04}" for n in range(int(first[1:]), int((last or first)[1:]) + 1)}
    return frozenset(ids)


def _base(code_id: str, group: int, sets: dict[str, frozenset[str]]) -> Base:
    options = (
        "single" if code_id in sets["single_power"] else "multiple" if code_id in sets["multiple_power"] else "none"
    )
    weight_class = next((name for name in _CLASSES if code_id in sets[name]), "standard")
    lightest, heaviest = _raw()["weights_lb"][weight_class]
    return Base(
        id=code_id,
        group=group,
        options=None if group == 4 else options,
        captains=code_id in sets["captains"],
        weight_class=weight_class,
        lightest_lb=lightest,
        heaviest_lb=heaviest or None,
        upgradable=code_id in sets["upgrade_capable"],
        authorization=code_id in sets["authorization"],
    )
