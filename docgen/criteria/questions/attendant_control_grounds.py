"""A control for a caregiver in place of the client's has its four grounds.

Asks: Whether the client cannot drive with any control, and a caregiver who cannot push a manual chair drives this one
    safely and is there.
Why a payer asks: A chair that a caregiver drives is paid only where nobody can push and the client cannot drive.
What settles it: The keys of [attendant].
Source: US national coverage determination 280.3, note to question 9; L33789 criterion K; L33792 (passage read); article
    A52504.
"""

from __future__ import annotations

from docgen.criteria.attendant import ATTENDANT, caregiver_can_drive, caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply
from docgen.criteria.mend import Mend

HEADING = "safety"
CLAIM = "An attendant control is justified"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if caregiver_drives(case):
        return caregiver_can_drive(case)
    if case.configuration.method or case.attendant.drives is False:
        says = "The client drives." if case.configuration.method else "No caregiver drives."
        return does_not_apply(says, ("configuration", "method"), ATTENDANT)
    return cannot_tell(
        "Whether the client or a caregiver drives is not recorded.",
        ("configuration", "method"),
        ATTENDANT,
        mend=Mend(
            "Fill in configuration.method <id of a trial method>, or attendant.drives <true>.",
            fill=("configuration.method", "attendant.drives"),
        ),
    )
