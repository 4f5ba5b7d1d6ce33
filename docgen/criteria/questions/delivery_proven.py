"""A signed and dated paper shows the delivery.

Asks: Who signed for the chair, when, and whether the paper lists name, address, items and quantities.
Why a payer asks: Without proof of delivery nothing is paid; the supplier's staff may not sign for the client.
What settles it: signed_by, signed_on and lists_items under [delivery].
Source: article A55426.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, listed
from docgen.criteria.steps import DELIVERY, not_delivered

HEADING = "order"
CLAIM = "Proof of delivery is on file"
SHOWN_IN = ("paper: the supplier's proof of delivery",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if early := not_delivered(case, "then the client or someone for the client signs, never the supplier"):
        return early
    paper = case.delivery
    if paper.signed_by == "supplier":
        return not_met(
            "The supplier signed for the chair.",
            ("delivery", "signed_by"),
            mend="Have the client, or someone for the client, sign.",
        )
    if paper.lists_items is False:
        return not_met(
            "The proof of delivery does not list what was delivered.",
            ("delivery", "lists_items"),
            mend="Ask for a paper with name, address, items, quantities and date.",
        )
    if paper.signed_on and paper.signed_on != case.dates.delivered_on:
        return not_met(
            f"The proof is dated {day(paper.signed_on)}, the delivery {day(recorded(case.dates.delivered_on))}.",
            ("delivery", "signed_on"),
            DELIVERY,
            mend="Correct delivery.signed_on or dates.delivered_on.",
        )
    missing = [key for key in _WORDS if getattr(paper, key) is None]
    if missing:
        return cannot_tell(
            f"Not recorded: {listed(_WORDS[key] for key in missing)}.",
            *(("delivery", key) for key in missing),
            mend=fill_in({f"delivery.{key}": _FORMS[key] for key in missing}),
        )
    return met(f"Signed for by: {paper.signed_by}, on {day(recorded(paper.signed_on))}.", ("delivery",), DELIVERY)


_WORDS = {
    "signed_by": "who signed for the chair",
    "signed_on": "the date on the proof",
    "lists_items": "whether the proof lists the items",
}
_FORMS = {"signed_by": '<"client", "family" or "caregiver">', "signed_on": "<date>", "lists_items": "<true or false>"}
