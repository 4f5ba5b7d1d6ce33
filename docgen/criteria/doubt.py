"""A value of the record that is hardly possible: what is said of it, and how it is confirmed where it stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import Any

from msgspec import Struct

from docgen.case.base import Part, parts_in
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.usual import slip, unit_of
from docgen.criteria.criterion import Answer, not_met
from docgen.criteria.sentences import listed

_MOST = 5  # doubts that one answer tells in full
Side = tuple[str, KeyPath, float, float, float]  # dotted key, path, value, and the least and the most the others allow


class Doubt(Struct, frozen=True):
    """One doubt.

    says    what is doubtful, in a sentence, with the likely slip
    where   keys it rests on
    keys    key or column, as [[confirmed]] names it -> the values to confirm; one of them is enough
    rows    lines of trial.csv; `totals` of totals.csv
    bears   a speed, a stop or a load hangs on it, or someone could be hurt
    """

    says: str
    where: tuple[KeyPath, ...]
    keys: tuple[tuple[str, tuple[float | date, ...]], ...] = ()
    rows: tuple[int, ...] = ()
    bears: bool = False
    totals: tuple[int, ...] = ()


def contradiction(says: str, sides: Iterable[Side], bears: bool = False, rows: tuple[int, ...] = ()) -> Doubt:
    """Values that do not agree, as a doubt that names the slip by which they would."""
    sides = tuple(sides)
    named = [(name, slip(v, low, high, unit_of(name.rpartition(".")[2]))) for name, _, v, low, high in sides]
    likely = ", or ".join(f"{name.rpartition('.')[2]} is {text}" for name, text in named if text)
    return Doubt(
        f"{says}; perhaps {likely}." if likely else f"{says}.",
        tuple(dict.fromkeys(path for _, path, *_ in sides)),
        tuple((name, (value,)) for name, _, value, *_ in sides),
        rows,
        bears,
    )


def unconfirmed(case: Case, doubts: Iterator[Doubt]) -> list[Doubt]:
    """The doubts that nobody has settled by [[confirmed]]."""
    return [doubt for doubt in doubts if not any(case.is_confirmed(name, *values) for name, values in doubt.keys)]


def doubtful(doubts: Sequence[Doubt], claim: str) -> Answer:
    """The answer for doubts that nobody has settled: a danger where a speed, a stop or a load hangs on one."""
    first = sorted(doubts, key=lambda doubt: not doubt.bears)
    more = f" And {len(first) - _MOST} more." if len(first) > _MOST else ""
    return not_met(
        " ".join(doubt.says for doubt in first[:_MOST]) + more,
        *dict.fromkeys(path for doubt in first for path in doubt.where),
        rows=tuple(dict.fromkeys(line for doubt in first for line in doubt.rows)),
        totals=tuple(dict.fromkeys(line for doubt in first for line in doubt.totals)),
        mend="Look each up and correct what is wrong; where it is right, say so with who looked and when: "
        f"{listed(dict.fromkeys(_entry(doubt) for doubt in first[:_MOST]))}.",
        danger=any(doubt.bears for doubt in first),
        bare=f"{claim}: not so.",
    )


def _entry(doubt: Doubt) -> str:
    name, values = doubt.keys[0]
    ends = dict.fromkeys((min(values), max(values)))
    written = ", ".join(f"{end:.12g}" if isinstance(end, (int, float)) else str(end) for end in ends)
    return f'[[confirmed]] with of = "{name}", values = [{written}], by and on'


def entries(part: Part, path: KeyPath = (), name: str = "") -> list[tuple[Part, KeyPath, str]]:
    """Each table of a case and of the tables in it, with its path and its dotted name without places in lists."""
    tables: list[tuple[Part, KeyPath, str]] = []
    _gather(part, path, name, tables)
    return tables


def _gather(part: Part, path: KeyPath, name: str, tables: list[tuple[Part, KeyPath, str]]) -> None:
    tables.append((part, path, name))
    for key in parts_in(type(part)):
        value: Any = getattr(part, key)
        if value is None:
            continue
        dotted = f"{name}.{key}" if name else key
        if isinstance(value, tuple):
            for at, entry in enumerate(value):
                _gather(entry, (*path, key, at), dotted, tables)
        else:
            _gather(value, (*path, key), dotted, tables)
