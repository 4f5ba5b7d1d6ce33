"""The one who signed the order may order.

Asks: Whether the order's signer is a practitioner with a credential this payer takes, and where the payer asks, as part
    of a plan of care.
Why a payer asks: An order by someone who may not order is none; a therapist may not.
What settles it: signed_by under [order], the credential of that person, in_plan_of_care where asked.
Source: 42 CFR 410.38(c)(2); for Medicaid 42 CFR 440.70(a) (passage read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import capital, listed

HEADING = "people"
CLAIM = "The signer may order"
SHOWN_IN = ("paper: the practitioner's order",)
SETTINGS = {"credentials": ["MD", "DO", "PA", "PA-C", "NP", "APRN", "CNS", "FNP-C"], "plan_of_care": False}


def answer(grounds: Grounds, credentials: list[str], plan_of_care: bool) -> Answer:
    case = grounds.case
    places = {person.id: i for i, person in enumerate(case.people)}
    signer = case.person(case.order.signed_by)
    if signer is None:
        return cannot_tell(
            "Who signed the order is not recorded.",
            ("order", "signed_by"),
            mend=fill_in({"order.signed_by": "<id of a person>"}),
        )
    at = ("people", places[signer.id])
    if signer.role in ("evaluator", "supplier"):
        return not_met(
            f"{capital(signer.called)} signed the order as {signer.role}.",
            ("order", "signed_by"),
            at,
            mend="Have the treating practitioner write and sign the order.",
        )
    if not signer.credential:
        return cannot_tell(
            f"The credential of {signer.called} is not recorded.",
            at,
            mend=fill_in({"credential": "<letters>"}, " of the signer"),
        )
    if signer.credential_in_words:
        return cannot_tell(
            f"“{signer.credential}” does not tell the credential of {signer.called}: its letters are not recorded.",
            at,
            mend=fill_in({"credential": f"<letters, such as {credentials[0]}>"}, " of the signer"),
        )
    letters_held = set(signer.credential.replace(",", " ").replace(".", "").upper().split())
    if not any(letters.upper() in letters_held for letters in credentials):
        return not_met(
            (
                f"{capital(signer.called)}, {signer.credential}, signed the order, which is for "
                f"{listed(credentials, 'or')}."
            ),
            at,
            mend="Have the treating practitioner write and sign the order.",
        )
    if plan_of_care and case.order.in_plan_of_care is None:
        return cannot_tell(
            "Whether the order is part of a plan of care is not recorded.",
            ("order", "in_plan_of_care"),
            mend=fill_in({"order.in_plan_of_care": "<true or false>"}),
        )
    if plan_of_care and not case.order.in_plan_of_care:
        return not_met(
            "The order is not part of a plan of care.",
            ("order", "in_plan_of_care"),
            mend="Have it taken into the plan of care.",
        )
    return met(f"{capital(signer.called)}, {signer.credential}, signed the order.", ("order", "signed_by"), at)
