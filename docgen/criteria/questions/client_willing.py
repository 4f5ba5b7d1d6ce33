"""The client wants to use the device at home.

Asks: What the client has said or shown about using the chair.
Why a payer asks: A device that its user does not want is left unused; expressed unwillingness defeats coverage.
What settles it: client.wants_it and client.willing <what the client said or showed>.
Source: L33789 criterion O; abandonment where users were not asked: Phillips and Zhao 1993 (summary seen).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import thing_asked_for

HEADING = "independence"
CLAIM = "The client is willing to use it"
SHOWN_IN = ("letter: Training and Follow-Up Plan",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    client = grounds.case.client
    if client.wants_it is False:
        return not_met(
            f"The client does not want the {thing_asked_for(grounds.case)}.",
            ("client", "wants_it"),
            mend="Ask again what the client wants, and ask for that.",
        )
    if client.wants_it is None:
        return cannot_tell(
            f"Whether the client wants the {thing_asked_for(grounds.case)} is not recorded.",
            ("client",),
            mend=fill_in({"client.wants_it": "<true or false>"}),
        )
    if not client.willing:
        return cannot_tell(
            f"What the client says about using the {thing_asked_for(grounds.case)} is not recorded.",
            ("client",),
            mend=fill_in({"client.willing": "<what the client said or showed>"}),
        )
    return met(
        f"The client wants the {thing_asked_for(grounds.case)}, and what was said or shown is recorded.",
        ("client", "willing"),
    )
