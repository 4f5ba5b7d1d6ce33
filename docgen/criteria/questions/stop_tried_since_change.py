"""Each stop was tried and passed after the chair came, and after the last change of its settings.

Asks: Once the chair is delivered, or a setting of it was changed: whether every stop was tried and passed that day or
    later.
Why a payer asks: A payer does not. A stop is used seldom, so a fault of it stays hidden until the day it is needed.
What settles it: passed_on under [configuration.stop]: the stop test of the guide, each stop by itself.
Source: practice in machinery: a test after each change (a safety article of 2015 and 2020); each day by inference.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.ordered import thing_asked_for
from docgen.criteria.sentences import day
from docgen.fit.in_force import changes

HEADING = "safety"
CLAIM = "Each stop was tried since the last change"
DANGER = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    passed, at = case.configuration.stop.passed_on, ("configuration", "stop", "passed_on")
    if not case.configuration.profiles:
        return cannot_tell(
            "No drive profile is recorded.",
            ("configuration", "profiles"),
            mend=add_entry("configuration.profiles", "id", "name", "speed_m_s"),
        )
    days = [change.on for change in changes(case)]
    days += [case.dates.delivered_on] if case.dates.delivered_on else []
    if not days:
        return does_not_apply(f"The {thing_asked_for(case)} has not come, and nothing of it was changed.", ("dates",))
    if passed is None:
        return cannot_tell(
            "When the stops of the delivered chair were last tried and passed is not recorded.",
            at,
            mend=fill_in({"configuration.stop.passed_on": "<date>"}),
            danger=True,
        )
    if passed < max(days):
        return not_met(
            f"The stops were last tried on {day(passed)}, and the chair came, or a change was made, on "
            f"{day(max(days))}.",
            at,
            mend="Try each stop as the guide says, and write the day that all of them passed.",
        )
    return met(f"Each stop was tried and passed on {day(passed)}, after the last change.", at)
