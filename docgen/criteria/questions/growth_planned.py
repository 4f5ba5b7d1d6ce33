"""For a growing client, growth is planned for.

Asks: Whether something in the request answers that the client grows, or how growth is planned for.
Why a payer asks: A chair that is outgrown in a year is paid twice.
What settles it: A finding growth_expected with a feature or item behind it, or growth under [request]; client.born_on.
Source: L33789, type list VII, for pediatric bases; otherwise common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import base
from docgen.criteria.steps import age_told_on, age_untold
from docgen.months import months_later

HEADING = "order"
CLAIM = "Growth is accommodated"
NOT_FOR = ("control_only",)
SETTINGS = {"under_years": 18}


def answer(grounds: Grounds, under_years: int) -> Answer:
    case = grounds.case
    born, on, power_base = case.client.born_on, age_told_on(case), base(case)
    at = (("client", "born_on"), ("request", "growth"))
    pediatric = power_base is not None and power_base.group == _PEDIATRIC
    if not pediatric and (untold := age_untold(case)):
        return untold
    if not pediatric and recorded(on) >= months_later(recorded(born), under_years * _YEAR):
        return does_not_apply(f"The client is {under_years} or older.", at[0])
    if case.request.growth:
        return met("How growth is planned for is recorded.", at[1])
    asked = case.configuration
    reasons = [*(feature.because for feature in asked.features), *(item.because for item in asked.items)]
    if _FINDING in {finding.id for finding in case.findings} and any(_FINDING in because for because in reasons):
        return met(
            "Growth is recorded as a finding, and something in the request answers it.",
            ("findings",),
            ("configuration", "features"),
        )
    return cannot_tell(
        "How growth is planned for is not recorded.",
        at[1],
        mend=fill_in({"request.growth": "<how the chair and control grow, and when it is looked at>"}),
    )


_PEDIATRIC, _FINDING, _YEAR = 5, "growth_expected", 12
