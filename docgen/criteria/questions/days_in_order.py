"""The days of the record follow one another: born, tried, reported, written.

Asks: Whether a day stands before one that must come first: a birth after the trial, rows or findings later than the report that rests on them, documents older than the report.
Why a payer asks: A day that cannot be right makes a reviewer doubt the others; most are a slip of the pen.
What settles it: The days of [dates], client.born_on, the rows of the trial, and on of each of [[findings]] and [[limits]].
Source: article A55426, records of the time; which day comes first is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from docgen.case.lines import Path
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The days of the record follow one another"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    found, dates = [*_seen(grounds.case)], grounds.case.dates
    wrong = [(sentence, places) for sentence, places, early, late in _pairs(grounds.case, found) if early and late and early > late]
    if wrong:
        return not_met(" ".join(sentence for sentence, _ in wrong), *dict.fromkeys(place for _, places in wrong for place in places),
                       mend="Look each day up and mend the wrong one.")
    if lacking := [words for words, there in (("the report", dates.evaluated_on), ("the documents", dates.written_on),
                                              ("a trial or a finding", any(place[0] != "dates" for _, place in found))) if not there]:
        return cannot_tell(f"No day of {listed(lacking)} is recorded.", ("dates",), mend="Fill in dates.evaluated_on, dates.written_on, and on of what was found.")
    return met(f"From {day(min(on for on, _ in found))} to {day(max(on for on, _ in found))}, no day stands before one that must come first.", ("dates",))


_Seen = list[tuple[date, Path]]


def _seen(case: Case) -> Iterator[tuple[date, Path]]:
    """Each day that something was seen or reported, and where it stands."""
    if case.records:
        yield max(row.date for row in case.records), ("trial", "rows")
        yield min(row.date for row in case.records), ("trial", "rows")
    for table in ("findings", "limits"):
        yield from ((one.on, (table, at, "on")) for at, one in enumerate(getattr(case, table)) if one.on)
    yield from ((on, ("dates", name)) for name in ("evaluated_on", "written_on") if (on := getattr(case.dates, name)))


def _pairs(case: Case, found: _Seen) -> Iterator[tuple[str, list[Path], date | None, date | None]]:
    """What is said when the first day is later than the second."""
    born, report, written = case.client.born_on, case.dates.evaluated_on, case.dates.written_on
    at_report: Path = ("dates", "evaluated_on")
    first, at_first = min(found, default=(None, at_report))
    if born and first:
        yield f"The client's birth, {day(born)}, is later than the first day of the record, {day(first)}.", [("client", "born_on"), at_first], born, first
    for on, at in dict((place, (on, place)) for on, place in sorted(found) if place[0] != "dates").values():
        if report:
            what = "The last row of the trial" if at[0] == "trial" else f"An entry of [[{at[0]}]]"
            yield f"{what}, of {day(on)}, is later than the report of {day(report)} that rests on it.", [at, at_report], on, report
    if report and written:
        yield f"The documents, of {day(written)}, are older than the report of {day(report)}.", [("dates", "written_on"), at_report], report, written
