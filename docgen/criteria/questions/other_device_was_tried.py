"""Another device that the control is to work was worked with it in the trial.

Asks: Where the request has the drive control work another device too, such as a speech device, whether that was tried
    with the control requested.
Why a payer asks: A line for such a link is billed by itself; its benefit is asserted until somebody has used it.
What settles it: external_device_control under features of the method in [[trial.methods]] that is requested, or under
    without; how many messages or selections succeeded, beside the feature or the finding.
Source: article A52504, the link to a covered speech device (text read); that it is tried first is common practice, no
    source.
"""

from __future__ import annotations

from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend
from docgen.grammar import with_verb

HEADING = "record"
CLAIM = "Working another device with the control was tried"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
IN_LIMITS = True
SETTINGS: dict[str, object] = {}

_FEATURE = "external_device_control"
_TRY = "Try it with the control requested and record how often it succeeded, or leave it out of the request."


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    asked = next((at for at, feature in enumerate(case.configuration.features) if feature.id == _FEATURE), None)
    if asked is None:
        return does_not_apply("The control is to work no other device.", ("configuration", "features"))
    at: KeyPath = ("configuration", "features", asked)
    requested = next(((n, m) for n, m in enumerate(case.trial.methods) if m.id == case.configuration.method), None)
    if requested is None:
        return cannot_tell(
            "The control is to work another device too, and no trial with it is recorded.",
            ("trial", "methods"),
            at,
            mend=_TRY,
        )
    place, method = requested
    if _FEATURE in method.features:
        return met(
            f"Working another device was tried with the {method.name}.", ("trial", "methods", place, "features"), at
        )
    if _FEATURE in method.without:
        return not_met(
            f"The {with_verb(method.name, 'is')} to work another device too, and that was not tried.",
            ("trial", "methods", place, "without"),
            at,
            mend=_TRY,
        )
    return cannot_tell(
        f"The {with_verb(method.name, 'is')} to work another device too, and whether that was tried is not recorded.",
        ("trial", "methods", place, "features"),
        at,
        mend=Mend(
            f"Name {_FEATURE} in features of the method in [[trial.methods]] where it was tried, in without where it "
            "was not.",
            fill=("features", "without"),
        ),
    )
