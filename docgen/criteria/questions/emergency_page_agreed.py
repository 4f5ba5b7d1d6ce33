"""The client agreed to the emergency page, and to what it names.

Asks: Who agreed to the page, when, where it may hang, and whether it may name the condition; whether it hangs where it
    covers no switch.
Why a payer asks: A payer does not. Anyone who passes can read a page on a wall.
What settles it: [emergency.consent] with given_by, on, may_hang and names_condition, and names_medicine where
    medicine, allergies, address or the way in are to be told; emergency.condition only where it may be named.
Source: 45 CFR 164.510(b), disclosures to those involved in care, with the person's agreement; from memory.
"""

from __future__ import annotations

import re

from docgen.case.emergency import Emergency
from docgen.criteria.conditions import undiagnosed
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed
from docgen.fit.condition import emergency_wanted

HEADING = "privacy"
CLAIM = "The client agreed to the emergency page"
HOLDS = True
SETTINGS: dict[str, object] = {}
_WORDS = {
    "given_by": "who agreed",
    "on": "when",
    "names_condition": "whether the condition may be named",
    "may_hang": "where the page may hang",
}
_MEDICINE = {"names_medicine": "whether medicine, allergies, address and the way in may be told"}
# where it may hang is said in the words of whoever agreed; only a place on the chair can cover a switch
_ON_THE_BACK = re.compile(
    r"\bback of (?:the|her|his|their) (?:wheel)?chair\b|\b(?:handles?|seat ?back)\b", re.IGNORECASE
)
_FOR_A_CREW = ("medicine", "allergies", "address", "entry")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    emergency, consent = case.emergency, case.emergency.consent
    if not emergency_wanted(case) and not case.diagnoses and not case.conditions:
        return undiagnosed("whether there is to be an emergency page")
    if not emergency_wanted(case):
        return does_not_apply("There is no emergency page.", ("emergency",))
    if refused := _refused(emergency):
        return refused
    asked = _WORDS | (_MEDICINE if any(getattr(emergency, name) for name in _FOR_A_CREW) else {})
    if missing := [name for name in asked if getattr(consent, name) is None]:
        return cannot_tell(
            f"Of the consent to the emergency page is not recorded: {listed(asked[name] for name in missing)}.",
            *(("emergency", "consent", name) for name in missing),
            mend=fill_in({f"emergency.consent.{name}": "" for name in missing}),
        )
    if _ON_THE_BACK.search(consent.may_hang or "") and case.configuration.stop.helper_switch:
        return not_met(
            "The page is to hang on the back of the chair, where it can cover the switches on it.",
            ("emergency", "consent", "may_hang"),
            mend="Name a place where it covers no switch, as in a bag at the armrest.",
        )
    return met(f"Agreed by {consent.given_by}; the page may hang {consent.may_hang}.", ("emergency", "consent"))


def _refused(emergency: Emergency) -> Answer | None:
    """What the page is to tell though the client did not agree to it; None where there is nothing."""
    consent = emergency.consent
    if emergency.condition and consent.names_condition is False:
        return not_met(
            "The emergency page is to name the condition, and the client did not agree to that.",
            ("emergency", "condition"),
            mend="Take emergency.condition out, or ask again.",
        )
    if consent.names_medicine is False and (refused := [name for name in _FOR_A_CREW if getattr(emergency, name)]):
        return not_met(
            "The emergency page is to tell medicine, allergies, address or the way in, and the client did not agree to "
            "that.",
            *(("emergency", name) for name in refused),
            mend=f"Take {listed(f'emergency.{name}' for name in refused)} out, or ask again.",
        )
    return None
