"""For a young client, the request says what the device corrects, improves or maintains.

Asks: How the device corrects or improves the condition, or keeps what would be lost, for a client under the age set.
Why a payer asks: For the young this is the test of coverage, whatever a list says.
What settles it: corrects under [request]; client.born_on and request.requested_on.
Source: 42 USC 1396d(r)(5), quoted in published sources; federal Medicaid answer 166431 (passages read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day
from docgen.criteria.steps import age_told_on, age_untold
from docgen.months import months_later

HEADING = "independence"
CLAIM = "What the device corrects or improves is stated for a young client"
SETTINGS = {"under_years": 21}


def answer(grounds: Grounds, under_years: int) -> Answer:
    case = grounds.case
    at = (("client", "born_on"), ("request", "requested_on"))
    if untold := age_untold(case):
        return untold
    born, on = recorded(case.client.born_on), recorded(age_told_on(case))
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
