"""The records are kept as long as the payer asks.

Asks: Until when the records are kept, in years from delivery.
Why a payer asks: A payer may ask for them years later.
What settles it: keep_until under [delivery]; dates.delivered_on.
Source: article A55426; Program Integrity Manual 5.10: 7 years from the date of service.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day
from docgen.criteria.steps import DELIVERY, not_delivered
from docgen.months import months_later

HEADING = "order"
CLAIM = "The records are kept long enough"
SETTINGS = {"years": 7}


def answer(grounds: Grounds, years: int) -> Answer:
    case = grounds.case
    if early := not_delivered(case, f"from then on the records are kept {years} years"):
        return early
    until, needed = case.delivery.keep_until, months_later(recorded(case.dates.delivered_on), years * _YEAR)
    at = (("delivery", "keep_until"), DELIVERY)
    if until is None:
        return cannot_tell(
            "Until when the records are kept is not recorded.", *at, mend=fill_in({"delivery.keep_until": "<date>"})
        )
    if until < needed:
        return not_met(
            f"The records are kept until {day(until)}, and should be until {day(needed)}.",
            *at,
            mend=f"Keep them until {day(needed)}.",
        )
    return met(f"The records are kept until {day(until)}.", *at)


_YEAR = 12
