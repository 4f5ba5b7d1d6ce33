"""The code for parts without a code is used only where none fits.

Asks: Whether each line under K0108 is a drive control for which the list has no code, and no part of another
code.
Why a payer asks: A part that has a code, or that comes with one, is denied under K0108.
What settles it: The features of the line (how the control senses the driver), its reason, and its purpose.
Source: article A52504 (a touchpad is the example it names); article A55426, part on codes not otherwise
classified.
"""

from __future__ import annotations

from docgen.case.items import Item
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import APPLIANCES, ITEMS, OWN_CODE, PARTS, SENSING, lines, named, no_codes, places, tells
from docgen.criteria.sentences import listed
from docgen.fit.feature import features

HEADING = "order"
CLAIM = "K0108 is used only where no code fits"
LINE_RANK = 10
LINE_CLAIM = "No other code describes it"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    asked = lines(case, (OWN_CODE,))
    if not asked:
        return met(f"No line is requested under {OWN_CODE}.", ITEMS)
    ordered = [code for _, item in lines(case) if (code := hcpcs.code(item.code))]
    for line in asked:
        if wrong := _wrong(line[1], ordered):
            return not_met(
                f"{named([line])}: {wrong}.", *places([line]), mend="Take the line out, or give it the code that fits."
            )
    if unclear := [line for line in asked if not set(line[1].features) & set(SENSING)]:
        return cannot_tell(
            f"{named(unclear)}: the record does not show a drive control for which no code fits.",
            *places(unclear, "features"),
            mend=fill_in(
                {"features": "<how the control senses the driver>"}, " of the line, or request it under its own code"
            ),
        )
    if bare := [line for line in asked if not line[1].why]:
        return cannot_tell(
            f"The reason is not recorded for {named(bare)}.",
            *places(bare, "why"),
            mend=fill_in({"why": "<why no code fits, in one sentence>"}, " in [[configuration.items]]"),
        )
    return met(
        "No code in the list is for " + listed(f"{item.name} ({listed(_senses(item))})" for _, item in asked) + ".",
        *places(asked, "why"),
    )


def _senses(item: Item) -> list[str]:
    return [features()[id_].name for id_ in item.features if id_ in SENSING and id_ in features()]


def _wrong(item: Item, ordered: list[hcpcs.Code]) -> str:
    """Why the line cannot stand under K0108, or nothing."""
    if tells(item, APPLIANCES):
        return "what runs lights or appliances is not covered"
    for part, words in PARTS.items():
        holder = next((code for code in ordered if part in code.includes), None)
        if holder and (part in item.features or tells(item, words)):
            return f"{holder.id} already includes it"
    senses = set(item.features) & set(SENSING)
    fitting = [
        code.id for code in hcpcs.codes().values() if code.kind == "control" and senses and senses <= set(code.senses)
    ]
    return f"{listed(fitting, 'or')} is the code of such a control" if fitting else ""
