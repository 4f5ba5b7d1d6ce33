"""All that a request for prior authorization needs is there.

Asks: Whether the note of the encounter, the order, the evaluation with its statement and its reasons, and the
    ATP's part are each as they should be.
Why a payer asks: A request that lacks one of them comes back.
What settles it: What settles each of the questions named in the reason. Not asked of a base on no list for
    authorization, nor of a control alone.
Source: contractor page on prior authorization of power mobility devices (passage read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.ordered import CHAIR, base, control_alone
from docgen.criteria.questions import (
    encounter_documented,
    evaluator_independent,
    evaluator_named,
    features_have_findings,
    order_is_complete,
    supplier_saw_client,
)
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "The request for authorization is complete"
SETTINGS = {
    "parts": [
        "encounter_documented",
        "order_is_complete",
        "evaluator_named",
        "evaluator_independent",
        "features_have_findings",
        "supplier_saw_client",
    ]
}
CHOICES = {"parts": tuple(SETTINGS["parts"])}


_QUESTIONS = {
    "encounter_documented": encounter_documented,
    "order_is_complete": order_is_complete,
    "evaluator_named": evaluator_named,
    "evaluator_independent": evaluator_independent,
    "features_have_findings": features_have_findings,
    "supplier_saw_client": supplier_saw_client,
}


def answer(grounds: Grounds, parts: list[str]) -> Answer:
    case, power_base = grounds.case, base(grounds.case)
    if control_alone(case):
        return does_not_apply(
            "Authorization is requested with a base, and only a control is requested.", ("request", "kind")
        )
    if power_base and not power_base.authorization:
        return does_not_apply(
            f"{power_base.id} is not on the list of bases that need prior authorization.", (*CHAIR, "base_code")
        )
    answers = {part: _QUESTIONS[part].answer(grounds, **_QUESTIONS[part].SETTINGS) for part in parts}
    for status, build in (("not_met", not_met), ("cannot_tell", cannot_tell)):
        if wrong := {part: part_answer for part, part_answer in answers.items() if part_answer.status == status}:
            first = next(iter(wrong.values()))
            claims = [_QUESTIONS[part].CLAIM for part in list(wrong)[1:]]
            more = f" Likewise open: {listed(claim[:1].lower() + claim[1:] for claim in claims)}." if claims else ""
            return build(
                f"{first.reason}{more}",
                *(place for part_answer in wrong.values() for place in part_answer.where),
                mend=first.mend or "",
            )
    return met(
        f"{counted(len(parts), 'part is', 'parts are')} there.",
        *dict.fromkeys(place for part_answer in answers.values() for place in part_answer.where),
    )
