"""The evaluator has no financial relationship with the supplier, and says so in a signed statement.

Asks: Whether the supplier pays or employs the evaluator, and whether the statement is signed and dated.
Why a payer asks: An evaluation paid for by the seller is no evidence.
What settles it: employed_by_supplier = false and statement_on of the evaluator.
Source: L33789, types II to IV (3) and documentation part; article A52504 (exception for hospital-owned suppliers not
    modeled).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The evaluator has no financial relationship with the supplier"
SHOWN_IN = ("letter: Attestation and Signatures",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    places = [(i, p) for i, p in enumerate(grounds.case.people) if p.role == "evaluator"]
    if not places:
        return cannot_tell("No evaluator is recorded.", ("people",), mend=add_entry("people", role="evaluator"))
    # of several, one with a tie speaks for all, then one whose record is not whole
    index, person = min(
        places,
        key=lambda place: (
            not place[1].employed_by_supplier,
            place[1].employed_by_supplier is False and place[1].statement_on is not None,
        ),
    )
    name = person.name or "The evaluator"
    if person.employed_by_supplier:
        return not_met(
            f"{name} is paid or employed by the supplier.",
            ("people", index, "employed_by_supplier"),
            mend="Have an evaluator without a tie to the supplier do the evaluation.",
        )
    if person.employed_by_supplier is None or person.statement_on is None:
        missing = [key for key in _WORDS if getattr(person, key) is None]
        return cannot_tell(
            f"Not recorded: {listed(_WORDS[key] for key in missing)}.",
            ("people", index),
            mend=fill_in({key: _FORMS[key] for key in missing}, " of the evaluator"),
        )
    return met(
        f"{name} signed the statement of no financial relationship on {day(person.statement_on)}.",
        ("people", index, "statement_on"),
    )


_WORDS = {
    "employed_by_supplier": "whether the supplier pays the evaluator",
    "statement_on": "the date of the signed statement",
}
_FORMS = {"employed_by_supplier": "<true or false>", "statement_on": "<date signed>"}
