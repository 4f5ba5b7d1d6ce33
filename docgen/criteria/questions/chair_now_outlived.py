"""A chair is five years old or older when it is replaced, or is replaced for a reason that was measured.

Asks: Where the chair in use was delivered less than five years before the request, whether the words on it say with a
    measure why it does not serve: what has changed, or what the client cannot do with it. Until the five years are over
    that is met in part.
Why a payer asks: A chair inside its useful lifetime is replaced only when it no longer serves; "outgrown" without a
    measure is denied as same or similar equipment.
What settles it: chair_now_delivered_by and chair_now_owned under [request]; chair_now_kind there, where a manual
    chair among the alternatives has the measure of what the client cannot do with it; chair_now and chair_now_history,
    with the measure of the chair and that of the client. A measure is looked for in these words, which the letter
    prints.
Source: 42 CFR 414.210(f)(1), reasonable useful lifetime of at least five years (from memory).
"""

from __future__ import annotations

import re
from datetime import date

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, day, listed, sentences_of
from docgen.months import MONTHS, months_later, whole_months

HEADING = "order"
CLAIM = "The chair in use now is five years old, or is replaced for a measured reason"
SHOWN_IN = (
    "letter: Mobility Limitation and MRADLs in the Home",
    "letter: Alternatives Considered and Ruled Out",
)
NOT_FOR = ("control_only",)
SETTINGS = {"years": 5}

_MEASURED = re.compile(r"\b\d[\d/ .]* ?(?:mm|cm|m|in|inches|ft|lb|kg|degrees|percent|minutes|seconds|s|g)\b")


def answer(grounds: Grounds, years: int) -> Answer:
    case = grounds.case
    at = (("request", "chair_now"), ("request", "chair_now_history"))
    words = " ".join(filter(None, (case.request.chair_now, case.request.chair_now_history)))
    if not words:
        return cannot_tell(
            "The chair in use now is not recorded.", *at, mend=fill_in({"request.chair_now": "<the chair in use>"})
        )
    asked_on = case.request.requested_on or case.dates.written_on
    if case.request.chair_now_owned is False:
        return does_not_apply("The chair in use now is not the client's own.", ("request", "chair_now_owned"))
    delivered_by = case.request.chair_now_delivered_by
    if delivered_by is None:
        return cannot_tell(
            "When the chair in use now was delivered is not recorded.",
            ("request", "chair_now_delivered_by"),
            mend=fill_in(
                {"request.chair_now_delivered_by": "<date, the last day of the year where no more is known>"},
                ", or chair_now_owned = false where it is on loan",
            ),
        )
    if asked_on is None:
        return does_not_apply("No day of the request or the letter is recorded.", ("request", "requested_on"))
    old_on = months_later(delivered_by, 12 * years)
    if old_on <= asked_on:
        return met(
            f"The chair in use now had been delivered by {day(delivered_by)} and is at least "
            f"{_age(delivered_by, asked_on)} old on {day(asked_on)}; no measure is asked for.",
            ("request", "chair_now_delivered_by"),
            *at,
        )
    since = (
        f"The chair in use now is at least {_age(delivered_by, asked_on)} old on {day(asked_on)}, and {years} "
        f"years old on {day(old_on)}."
    )
    by, unable = _unable(case)
    if unable and case.request.chair_now_kind == "manual":  # that it cannot be pushed; its size alone is no reason
        return met(f"{unable} {since}", *by, *at, ("request", "chair_now_kind"), limit="in_part")
    if measured := _measured(case):
        of_chair = f"Of it the record says: “{measured.rstrip('. ')}”."
        return met(f"{unable} {of_chair} {since}".lstrip(), *by, *at, limit="in_part")
    open_keys = {"request.chair_now": "<why it does not serve, with the measure of the chair and of the client>"}
    if unable and case.request.chair_now_kind is None:
        open_keys = {"request.chair_now_kind": "<manual or power>"}
    return cannot_tell(
        f"The chair in use now is {years} years old only in {_month(old_on)}, after the request of {day(asked_on)}, "
        "and no measure says why it does not serve.",
        *at,
        mend=fill_in(open_keys),
    )


def _unable(case: Case) -> tuple[tuple[KeyPath, ...], str]:
    """The measure of what the client cannot do with a manual chair, as a sentence, and where it stands; or nothing."""
    for i, other in enumerate(case.alternatives):
        if other.kind == "manual_chair" and other.measure:
            return (("alternatives", i),), f"With a manual chair: {other.measure}."
    return (), ""


def _measured(case: Case) -> str:
    """The first sentence on the chair that holds a measure; empty where none does."""
    of_chair = (*sentences_of(case.request.chair_now), *sentences_of(case.request.chair_now_history))
    return next((sentence for sentence in of_chair if _MEASURED.search(sentence)), "")


def _age(delivered: date, on: date) -> str:
    """How old it is in years and months that are over: 4 years and 11 months."""
    years, months = divmod(whole_months(delivered, on), 12)
    spans = [(years, "year", "years"), (months, "month", "months")]
    return listed(counted(*span) for span in spans if span[0]) or "less than a month"


def _month(on: date) -> str:
    return f"{MONTHS[on.month - 1]} {on.year}"
