"""No sentence of the request tells what happened after the request.

Asks: Whether a text that cover, letter or order may show tells of a day after that of the request as of something that
    was done or measured.
Why a payer asks: A paper of March that tells a measurement of July makes a reviewer doubt every other day in it.
What settles it: The sentence without what came later, which belongs to follow_up, fitted_settings or sessions.csv; or
    the day, where it was written wrong.
Source: two sides of one record; a day without a year is taken as of the year of the request, and which words speak of
    what is still to come is common use, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from docgen.case.keys import texts_in
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, statements_of
from docgen.months import MONTHS

HEADING = "record"
CLAIM = "No sentence of the request tells what came after it"
SHOWN_IN = ("letter: Equipment Requested",)
SETTINGS: dict[str, object] = {}

# what cover, letter and order are made from, of what does not carry its own day
_PARTS = (
    "letter request client limits findings activities counts spaces weight_shift alternatives trial configuration"
).split()
_DAY = re.compile(rf"\b({'|'.join(MONTHS)}) (\d{{1,2}})\b(?:, (\d{{4}})\b)?")
_TO_COME = re.compile(
    r"\b(?:will|shall|from|until|till|before|after|by|starts?|begins?|due|planned|ends?|valid|expires?|offer|may|can)\b",
    re.IGNORECASE,
)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    asked_on = case.request.requested_on or case.dates.written_on
    if asked_on is None:
        return cannot_tell(
            "The day of the request is not recorded.",
            ("request", "requested_on"),
            mend=fill_in({"request.requested_on": "<day>"}),
        )
    for at, sentence, on in _later(case, asked_on):
        return not_met(
            f"A text of the request of {day(asked_on)} tells of {day(on)}: “{sentence.rstrip('.')}”.",
            at,
            ("request", "requested_on"),
            mend="Take out what came later; it belongs to the follow-up, to the settings as fitted or to the lessons. "
            "Or correct the day.",
            bare=f"A text of the request of {day(asked_on)} tells of {day(on)}, which came later.",
        )
    return met("No text of the request tells of a day after it.", ("request", "requested_on"))


def _later(case: Case, asked_on: date) -> Iterator[tuple[KeyPath, str, date]]:
    """Each sentence that tells of a later day as past: where it stands, the sentence and the day."""
    for part in _PARTS:
        for at, text in texts_in(getattr(case, part), (part,)):
            if not _DAY.search(text):  # most texts
                continue
            for sentence in statements_of(text):
                for month, number, year in _DAY.findall(sentence):
                    on = _day(int(year or asked_on.year), month, int(number))
                    if on is not None and on > asked_on and not _TO_COME.search(sentence):
                        yield at, sentence, on


def _day(year: int, month: str, number: int) -> date | None:
    try:
        return date(year, MONTHS.index(month) + 1, number)
    except ValueError:  # no such day, or a year that is none
        return None
