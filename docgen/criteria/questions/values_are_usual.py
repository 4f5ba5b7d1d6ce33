"""Every measured value is within the usual range.

Asks: Whether each measured key and column lies in its usual range, height and weight in that of the client's age; and
    whether half of the releases are faster than anyone reacts.
Why a payer asks: Speeds, stops and loads are worked out from these; a slip of ten times reads like a measurement.
What settles it: The value looked up and corrected, or an entry of [[confirmed]] with the key, the value, by and on.
Source: the range of each key stands beside it with its own source; height and weight for age: WHO 2006 and 2007;
    reaction: Woods et al. 2015, Front Hum Neurosci 9:131, mean 0.231 s of 1469 adults.
"""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median
from typing import Any

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.record import TRIAL, Column, Sheet
from docgen.case.session import SESSIONS
from docgen.case.totals import TOTALS
from docgen.case.usual import REACTION, Usual, slip, unit_of
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.doubt import Doubt, doubtful, unconfirmed
from docgen.criteria.measured import Measured, key_with_unit, measured
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import capital, counted
from docgen.evidence.stopping_rule import releases

HEADING = "record"
CLAIM = "Every measured value is within the usual range"
SETTINGS: dict[str, object] = {}
_FILES = {"trial": "trial.csv", "totals": "totals.csv", "sessions": "sessions.csv"}
_KEYS: dict[str, KeyPath] = {"trial": ("trial", "rows"), "totals": ("trial",), "sessions": ("training",)}
# half of healthy adults react slower than 0.213 s, and letting go comes after
FASTEST_MEDIAN_S, LEAST_RELEASES = 0.2, 5


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    values = [*measured(case)]
    if left := unconfirmed(case, _doubts(case, values)):
        return doubtful(left, CLAIM)
    n_measured = len(values)
    if not n_measured and not case.tried:
        return cannot_tell("Nothing measured is recorded.", ("client",), mend=fill_in({"client.weight_kg": "<kg>"}))
    return met(
        f"{counted(n_measured, 'measured key lies', 'measured keys lie')} in the usual range or "
        f"{'was' if n_measured == 1 else 'were'} looked up again, and so do the columns of the rows.",
        ("client",),
    )


def _doubts(case: Case, values: list[Measured]) -> Iterator[Doubt]:
    for part, path, name, value, usual in values:
        if not usual.holds(value):
            entry = getattr(part, "id", None)
            label = str(type(part).model_fields[str(path[-1])].description)
            says = f"{capital(label)}{f', {entry}' if entry else ''}: {value:g}, where {_range(usual)}"
            says += _slip([value], usual, unit_of(key_with_unit(part, name)))
            yield Doubt(says, (path,), ((name, (value,)),), bears=usual.bears)
    for prefix, sheet, rows in (
        ("trial", TRIAL, case.records),
        ("totals", TOTALS, case.totals),
        ("sessions", SESSIONS, case.sessions),
    ):
        for column in sheet.columns:
            if column.usual:
                yield from _of_column(prefix, column, column.usual, rows)
    for prefix, sheet, times in (
        ("trial", TRIAL, releases(case.records)),
        ("totals", TOTALS, releases(case.totals)),
        ("sessions", SESSIONS, [row.release_s for row in case.sessions if row.release_s is not None]),
    ):
        yield from _all_too_fast(prefix, sheet, times)


def _of_column(prefix: str, column: Column, usual: Usual, rows: tuple[Any, ...]) -> Iterator[Doubt]:
    filled = [(row.line, value) for row in rows for value in _values(getattr(row, column.name))]
    outside = [(line, value) for line, value in filled if not usual.holds(value)]
    if not outside:
        return
    values = [value for _, value in outside]
    span = f"{min(values):g}" if min(values) == max(values) else f"{min(values):g} to {max(values):g}"
    says = (
        f"Column {column.name} of {_FILES[prefix]}, {len(outside)} of {len(filled)} values: {span}, "
        f"where {_range(usual)}"
    )
    yield Doubt(
        says + _slip(values, usual, unit_of(column.name)),
        (_KEYS[prefix],),
        ((f"{prefix}.{column.name}", tuple(values)),),
        tuple(line for line, _ in outside) if prefix == "trial" else (),
        usual.bears,
        tuple(line for line, _ in outside) if prefix == "totals" else (),
    )


def _values(cell: Any) -> tuple[float, ...]:
    """What a cell holds: nothing, one value, or several."""
    return cell if isinstance(cell, tuple) else () if cell is None else (cell,)


def _all_too_fast(prefix: str, sheet: Sheet, times: list[float]) -> Iterator[Doubt]:
    """Release times of which each may be, and half of which together may not."""
    name = "releases_s" if prefix == "totals" else "release_s"
    usual = sheet.by_name[name].usual
    if usual and len(times) >= LEAST_RELEASES and median(times) < FASTEST_MEDIAN_S and min(times) >= usual.low:
        yield Doubt(
            f"Half of the {len(times)} release times of {_FILES[prefix]} are {median(times):g} s or less, faster "
            f"than adults react ({REACTION.says}); perhaps they are ten times too small.",
            (_KEYS[prefix],),
            ((f"{prefix}.{name}", (min(times), max(times))),),
            bears=True,
        )


def _range(usual: Usual) -> str:
    return f"{usual.low:g} to {usual.high:g} is usual ({usual.source.says})"


def _slip(values: list[float], usual: Usual, unit: str | None) -> str:
    """The slip that brings the first value into its range, where one does, and the end of the sentence."""
    named = slip(values[0], usual.low, usual.high, unit)
    return f"; perhaps {named}." if named else "."
