"""The dates of the record are in order: born, tried, reported, written.

Asks: Whether a day stands before one that must come first: a birth after the trial, rows or findings later than the
    report that rests on them, documents older than the report; a finding that tells of a
    weight shift as prescribed, or by its interval, on a day before it was.
Why a payer asks: A day that cannot be right makes a reviewer doubt the others; most are a slip of the pen.
What settles it: The days of [dates], client.born_on, the rows of the trial, and on of each of [[findings]] and
    [[limits]].
Source: article A55426, records of the time; which day comes first is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The dates of the record are in order"
SHOWN_IN = ("letter: Equipment Requested",)
_PRESCRIBED = re.compile(r"\bweight[ -]shift\b[^.;]*\bprescribed\b|\bprescribed\b[^.;]*\bweight[ -]shift\b", re.I)
_SHIFT = re.compile(r"\bweight[ -]shift", re.I)
SETTINGS: dict[str, object] = {}
_AT_REPORT: KeyPath = ("dates", "evaluated_on")
_LOOK_UP = "Look up each of these days and correct what was written wrong."
_AFTER_REPORT = (
    "Correct a day that was written wrong; where each is right, write a report that takes in what came after it, and "
    "its day as dates.evaluated_on."
)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    seen, report, written = [*_seen(case)], case.dates.evaluated_on, case.dates.written_on
    dated = [*seen, *((on, ("dates", name)) for name, on in (("evaluated_on", report), ("written_on", written)) if on)]
    if wrong := [*_wrong(case, seen, dated)]:
        return not_met(
            " ".join(sentence for sentence, _ in wrong),
            *dict.fromkeys(place for _, places in wrong for place in places),
            mend=_AFTER_REPORT if all(_AT_REPORT in places for _, places in wrong) else _LOOK_UP,
        )
    if lacking := [
        words
        for words, there in (("the report", report), ("the documents", written), ("a trial or a finding", seen))
        if not there
    ]:
        return cannot_tell(
            f"No day of {listed(lacking)} is recorded.",
            ("dates",),
            mend=Mend(
                "Fill in dates.evaluated_on, dates.written_on, and on of what was found.",
                fill=("dates.evaluated_on", "dates.written_on"),
            ),
        )
    return met(
        f"From {day(min(dated)[0])} to {day(max(dated)[0])}, when the letter was written, the dates of the record are "
        "in sequence.",
        ("dates",),
    )


_Seen = list[tuple[date, KeyPath]]


def _wrong(case: Case, seen: _Seen, dated: _Seen) -> Iterator[tuple[str, list[KeyPath]]]:
    """What is said of each day that is later than one it must come before, and where both stand."""
    born, report, written = case.client.born_on, case.dates.evaluated_on, case.dates.written_on
    if born and dated and born > (first := min(dated))[0]:
        yield (
            f"The client's birth, {day(born)}, is later than the first day of the record, {day(first[0])}.",
            [("client", "born_on"), first[1]],
        )
    set_on = case.weight_shift.on
    for index, entry in enumerate(case.findings):
        if set_on and entry.on and entry.on < set_on and _tells_of_shift(case, f"{entry.says} {entry.measure or ''}"):
            yield (
                f"The finding '{entry.id}', of {day(entry.on)}, tells of the weight shift, and that was set on "
                f"{day(set_on)}.",
                [("findings", index, "on"), ("weight_shift", "on")],
            )
    latest = {at: on for on, at in seen}  # of the trial its last day
    if report is None:
        if written and seen and written < (last := max(seen))[0]:
            yield (
                f"The documents, of {day(written)}, are older than what they rest on: "
                f"{_lowered(_in_words(case, last[1]))}, of {day(last[0])}.",
                [("dates", "written_on"), last[1]],
            )
        return
    for at, on in latest.items():
        if on > report:
            yield (
                f"{_in_words(case, at)}, of {day(on)}, is later than the report of {day(report)} that rests on it.",
                [at, _AT_REPORT],
            )
    if written and written < report:
        yield (
            f"The documents, of {day(written)}, are older than the report of {day(report)}.",
            [("dates", "written_on"), _AT_REPORT],
        )


def _tells_of_shift(case: Case, words: str) -> bool:
    """Whether a finding tells of the weight shift as prescribed, or by the interval that is: what was set later was not
    found then. Its sentence is read, for no key of a finding says what was prescribed."""
    interval = case.weight_shift.every_min
    by_interval = interval is not None and re.search(rf"\bevery {interval:g}\b", words)
    return bool(_PRESCRIBED.search(words) or (by_interval and _SHIFT.search(words)))


def _lowered(words: str) -> str:
    return words[:1].lower() + words[1:]


def _seen(case: Case) -> Iterator[tuple[date, KeyPath]]:
    """The first and last day of the trial and each day that something was found, with its place."""
    days = [row.date for row in case.tried]
    yield from ((on, ("trial", "rows")) for on in sorted({min(days), max(days)} if days else ()))
    for table in ("findings", "limits"):
        yield from ((entry.on, (table, at, "on")) for at, entry in enumerate(getattr(case, table)) if entry.on)


def _in_words(case: Case, at: KeyPath) -> str:
    """What was seen at a place that `seen_days` gives, at the head of a sentence."""
    if at[0] == "trial":
        return "The last row of the trial"
    entry = getattr(case, str(at[0]))[at[1]]
    return f"The finding '{entry.id}'" if at[0] == "findings" else f"The screening of {entry.kind}"
