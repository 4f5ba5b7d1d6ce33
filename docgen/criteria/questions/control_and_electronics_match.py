"""The special control is ordered with the electronics it needs, and nothing it already includes.

Asks: Whether an item with a special control's code comes with the expandable controller and its harness, once each, and without parts its code includes.
Why a payer asks: A control without its electronics cannot work; a part billed twice is refused.
What settles it: E2377 and E2313 beside the control's code on a new chair; no swing-away hardware beside sip-and-puff.
Source: article A52504 (codes, what each includes); electronics clarification of one contractor (passages read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "Control and electronics belong together"
SETTINGS = {
    "controls": ["E2312", "E2321", "E2322", "E2325", "E2327", "E2328", "E2329", "E2330", "E2373"],
    "controller": "E2377", "harness": "E2313", "hardware_included": ["E2325"], "hardware": ["E1032", "E1028"],
}


def answer(grounds: Grounds, controls: list[str], controller: str, harness: str, hardware_included: list[str], hardware: list[str]) -> Answer:
    case = grounds.case
    at = ("configuration", "items")
    codes = [item.code for item in case.configuration.items]
    if not codes or all(code is None for code in codes):
        return cannot_tell("No item has a code.", at, mend="Fill in code of each item.")
    special = [code for code in codes if code in controls]
    if not special:
        return does_not_apply("No item has the code of a special control.", at)
    if case.request.kind is None:
        return cannot_tell("The kind of request is not recorded.", ("request",), mend='Fill in request.kind: "new_chair", "control_only" or "replacement".')
    missing = [code for code in (controller, harness) if code not in codes]
    if missing and case.request.kind == "new_chair":
        return not_met(f"{listed(special)} is ordered on a new chair without {listed(missing)}.", at, mend=f"Add {listed(missing)}, or say why the chair does not need it.")
    twice = [code for code in (controller, harness) if codes.count(code) > 1]
    if twice:
        return not_met(f"{listed(twice)} stands in more than one line.", at, mend="Keep one line.")
    doubled = [code for code in codes if code in hardware]
    if doubled and set(special) & set(hardware_included):
        return not_met(f"{listed(special)} already includes its swing-away hardware, and {listed(doubled)} asks for it again.", at,
                       mend=f"Take {listed(doubled)} out, or say which other part it carries.")
    if missing:
        return does_not_apply(f"{listed(special)} goes on a chair that is already there, and its electronics are not part of this request.", at)
    return met(f"{listed(special)} with {listed(code for code in (controller, harness) if code in codes)}.", at)
