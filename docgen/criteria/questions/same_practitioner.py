"""The one who held the encounter filled in and signed the order.

Asks: Whether encounter, order and signature are of the same practitioner, and nobody else filled in the order.
Why a payer asks: An order by another practitioner, or filled in by the supplier, is denied.
What settles it: by under [encounter]; signed_by and completed_by under [order]. Not asked where only a control is
    ordered.
Source: L33789 documentation part; Program Integrity Manual 5.2.3.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import control_alone
from docgen.criteria.sentences import capital, listed

HEADING = "people"
CLAIM = "One practitioner held the encounter and wrote the order"
SHOWN_IN = ("paper: the practitioner's encounter note and order",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if control_alone(case):
        return does_not_apply(
            "No base is ordered; an accessory may be ordered by another practitioner.", ("request", "kind")
        )
    did = {
        "encounter.by": case.encounter.by,
        "order.signed_by": case.order.signed_by,
        "order.completed_by": case.order.completed_by,
    }
    at = (("encounter", "by"), ("order", "signed_by"), ("order", "completed_by"))
    known = {person_id for person_id in did.values() if person_id}
    if len(known) > 1:
        who = listed(f"{_WORDS[key]} {_name(case, person_id)}" for key, person_id in did.items() if person_id)
        return not_met(
            f"Not the same: {who}.",
            *at,
            mend="Have the practitioner of the encounter write and sign a new order before delivery.",
        )
    if missing := [key for key, person_id in did.items() if not person_id]:
        return cannot_tell(
            f"Not recorded: {listed(_LACKS[key] for key in missing)}.",
            *at,
            mend=fill_in(dict.fromkeys(missing, "<id of a person>")),
        )
    return met(
        f"{capital(_name(case, case.order.signed_by))} held the encounter, filled in the order and signed it.", *at
    )


_WORDS = {"encounter.by": "encounter", "order.signed_by": "signature", "order.completed_by": "order filled in by"}
_LACKS = {
    "encounter.by": "who held the encounter",
    "order.signed_by": "who signed the order",
    "order.completed_by": "who filled in the order",
}


def _name(case: Case, person_id: str | None) -> str:
    person = case.person(person_id)
    return person.called if person else f"'{person_id}'"
