"""The client wants to use the device at home.

Asks: What the client has said or shown about using the chair.
Why a payer asks: A device that its user does not want is left standing; expressed unwillingness defeats coverage.
What settles it: client.willing <what the client said or showed>.
Source: L33789 criterion O; abandonment where users were not asked: Phillips and Zhao 1993 (summary seen).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met

HEADING = "independence"
CLAIM = "The client wants to use it"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    if not grounds.case.client.willing:
        return cannot_tell("What the client says about using the chair is not recorded.", ("client",), mend="Fill in client.willing <what the client said or showed>.")
    return met("The client's own words about using the chair are recorded.", ("client", "willing"))
