"""The code of the control is the code of the control that was chosen.

Asks: Whether the code's way of sensing the driver, and whether it is proportional, are those of the features
chosen.
Why a payer asks: A code for another kind of control does not describe what is delivered, and the reasons given
do not fit it.
What settles it: The features of the line or, where it has none that say how it senses, of the configuration.
Source: article A52504, text of the codes; which feature belongs to which code is our reading.
"""

from __future__ import annotations

from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.ordered import ITEMS, SENSING, lines, named, no_codes, places
from docgen.criteria.sentences import listed
from docgen.fit.feature import features

HEADING = "order"
CLAIM = "The code is that of the control chosen"
FITS_TOGETHER = True
LINE_RANK = 30
SETTINGS: dict[str, object] = {}

# features that say whether a control is proportional, whatever it senses with
NATURE = {
    "proportional_control": True,
    "head_angle_proportional": True,
    "force_graded_speed": True,
    "discrete_control": False,
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    asked = lines(case, hcpcs.of_kind("control"))
    if not asked:
        return does_not_apply("No item has the code of a special control.", ITEMS)
    chosen = [feature.id for feature in case.configuration.features]
    untold = []
    for line in asked:
        code, item = hcpcs.code(line[1].code), line[1]
        own = [one for one in item.features if one in SENSING]
        said = list(item.features) if own else [*item.features, *chosen]
        senses = [one for one in said if one in SENSING]
        nature = {NATURE[one] for one in said if one in NATURE}
        at = (*places([line]), ("configuration", "features"))
        if nature and code.proportional not in nature:
            told = _names([one for one in said if one in NATURE])
            return not_met(
                f"{named([line])} is {'' if code.proportional else 'not '}proportional; what was chosen is: {told}.",
                *at,
                mend="Ask for the code of the control chosen, or mend the features.",
            )
        if set(said) & set(code.senses):
            continue
        if senses:
            return not_met(
                f"{named([line])} is the code of: {code.words}. What was chosen is: {_names(senses)}.",
                *at,
                mend="Ask for the code of the control chosen, or mend the features.",
            )
        untold.append(line)
    if untold:
        return cannot_tell(
            f"No feature says how {named(untold)} senses the driver.",
            *places(untold, "features"),
            mend=Mend(
                "Add [[configuration.features]] with id <feature that says how it senses> and because.",
                add=(NewEntry("configuration.features", ("because",)),),
            ),
        )
    fitting = [one for _, item in asked for one in (*item.features, *chosen) if one in hcpcs.code(item.code).senses]
    return met(f"{named(asked)}: chosen was {_names(fitting)}.", *places(asked))


def _names(ids: list[str]) -> str:
    return listed(dict.fromkeys(features()[one].name for one in ids if one in features()))
