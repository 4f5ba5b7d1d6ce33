"""For a young client, the request says what the device corrects, improves or maintains.

Asks: How the device corrects or improves the condition, or keeps what would be lost, for a client under the age set.
Why a payer asks: For the young this is the test of coverage, whatever a list says.
What settles it: corrects under [request]; client.born_on and request.requested_on.
Source: 42 USC 1396d(r)(5), quoted in published sources; federal Medicaid answer 166431 (passages read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, listed
from docgen.months import months_later

HEADING = "independence"
CLAIM = "What the device corrects or improves is stated for a young client"
SETTINGS = {"under_years": 21}


def answer(grounds: Grounds, under_years: int) -> Answer:
    case = grounds.case
    born, on = case.client.born_on, case.request.requested_on
    at = (("client", "born_on"), ("request", "requested_on"))
    if born is None or on is None:
        days = {"client.born_on": ("the date of birth", born), "request.requested_on": ("the day of the request", on)}
        lacks = {key: words for key, (words, there) in days.items() if there is None}
        return cannot_tell(
            f"Not recorded: {listed(lacks.values())}, so the client's age on the day of the request is not known.",
            *at,
            mend=fill_in(dict.fromkeys(lacks, "<date>")),
        )
    if on >= months_later(born, under_years * _YEAR):
        return does_not_apply(f"The client is {under_years} or older on {day(on)}.", *at)
    if case.request.corrects is None:
        return cannot_tell(
            "What the device corrects, improves or maintains is not recorded.",
            ("request", "corrects"),
            mend=fill_in({"request.corrects": "<one sentence about this client>"}),
        )
    return met("What the device corrects, improves or maintains is recorded.", ("request", "corrects"), *at)


_YEAR = 12
