"""The practitioner looked at the need again within the year.

Asks: When the practitioner last reviewed that the equipment is needed.
Why a payer asks: A need that nobody looked at for a year may have changed.
What settles it: reviewed_on and requested_on under [request].
Source: 42 CFR 440.70(b)(3)(iii) (summary read): yearly.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, listed
from docgen.criteria.window import Window
from docgen.months import months_later

HEADING = "people"
CLAIM = "The need was reviewed within the year"
WINDOW = Window(
    ("request", "reviewed_on"),
    (("request", "requested_on"),),
    "last day for the request, after the review of the need on {start}",
)
SETTINGS = {"months": 12}


def answer(grounds: Grounds, months: int) -> Answer:
    request = grounds.case.request
    at = (("request", "reviewed_on"), ("request", "requested_on"))
    missing = [key for key in ("reviewed_on", "requested_on") if getattr(request, key) is None]
    if missing:
        words = {
            "reviewed_on": "when the practitioner last reviewed the need",
            "requested_on": "the day of the request",
        }
        return cannot_tell(
            f"Not recorded: {listed(words[key] for key in missing)}.",
            *at,
            mend=fill_in({f"request.{key}": "<date>" for key in missing}),
        )
    reviewed, requested = recorded(request.reviewed_on), recorded(request.requested_on)
    last = months_later(reviewed, months)
    reason = f"The need was reviewed on {day(reviewed)}; the request is of {day(requested)}"
    if requested > last:
        return not_met(
            f"{reason}, later than {day(last)}.",
            *at,
            mend="Have the practitioner review the need, and fill in request.reviewed_on <date>.",
        )
    return met(f"{reason}.", *at)
