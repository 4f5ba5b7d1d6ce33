"""The client drives reliably with the requested control, on more than one day.

Asks: How many attempts were done with the requested control, and over how many days.
Why a payer asks: The client must be able to operate this device consistently; one good session does not show that.
What settles it: Rows of the requested control on at least two days, with at least eight of ten attempts successful.
Source: US national coverage determination 280.3, question 4 (consistent and safe operation, judged for each device);
    the floor of eight of ten over two days is common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, k_of_n

HEADING = "safety"
CLAIM = "Most attempts with the requested control were successful, on more than one day"
SHOWN_IN = ("letter: Equipment Trial and Results",)
SETTINGS = {"least_share": 0.8, "least_days": 2, "least_attempts": 10}


def answer(grounds: Grounds, least_share: float, least_days: int, least_attempts: int) -> Answer:
    asked = grounds.case.configuration.method
    success, days = grounds.evidence.of("success", asked), grounds.evidence.of("days", asked)
    if asked is None or success is None or days is None:
        return cannot_tell(
            "No row of the trial is recorded for the requested control.",
            ("configuration", "method"),
            mend=fill_in({"configuration.method": ""}, " and add its rows to the CSV file"),
        )
    facts: tuple[str, ...] = (success.id, days.id)
    seen = f"{k_of_n(success)} attempts successful over {counted(int(recorded(days.value)), 'day', 'days')}"
    until, since = (grounds.evidence.of(name, asked) for name in ("success_until", "success_since"))
    if until and since:
        method = grounds.case.requested_method
        changed = method.changed if method else None
        of_it = (
            f"without {changed} {k_of_n(until)}, with it"
            if changed
            else f"before it was changed {k_of_n(until)}, since"
        )
        seen += f" ({of_it} {k_of_n(since)})"
        facts = (*facts, until.id, since.id)
    if success.n < least_attempts or recorded(days.value) < least_days:
        return cannot_tell(
            f"{seen} are too few to tell.",
            ("trial", "rows"),
            facts=facts,
            mend=f"Add attempts: at least {least_attempts} over {least_days} days.",
        )
    if recorded(success.value) < least_share:
        return not_met(
            f"{seen}, fewer than {least_share:.0%}.",
            ("trial", "rows"),
            facts=facts,
            mend="Train, change the setup, and repeat the trial.",
        )
    return met(f"{seen}.", ("configuration", "method"), facts=facts)
