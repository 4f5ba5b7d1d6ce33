"""A medicine recorded for a crew stands on a page that a crew is given.

Asks: Where no condition calls for an emergency page and none is recorded: whether the client agreed that whoever comes
    is told of the medicine, so that the daily guide tells it.
Why a payer asks: A payer does not. What is recorded for a crew and printed nowhere helps nobody.
What settles it: names_medicine and given_by under [emergency.consent]; steps or signs under [emergency], which make the
    emergency page.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.fit.condition import emergency_wanted

HEADING = "safety"
CLAIM = "A medicine recorded for a crew is told on a page"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    emergency, at = grounds.case.emergency, ("emergency", "medicine")
    if not emergency.medicine:
        return does_not_apply("No medicine is recorded for a crew.", at)
    if emergency_wanted(grounds.case):
        return met("The emergency page is where the medicine is told, once that is agreed.", at)
    lacking = [name for name in ("names_medicine", "given_by") if getattr(emergency.consent, name) is None]
    if lacking:
        return cannot_tell(
            "A medicine is recorded for a crew, and there is no emergency page: the daily guide tells it once the "
            "client agreed that whoever comes is told.",
            at,
            *(("emergency", "consent", name) for name in lacking),
            mend=fill_in({f"emergency.consent.{name}": "" for name in lacking}),
            bare="Something is recorded for a crew that no page tells.",
        )
    return met("The daily guide tells the medicine, or the client did not agree to that.", at)
