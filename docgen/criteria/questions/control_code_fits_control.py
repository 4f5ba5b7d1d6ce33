"""The code of the control is the code of the control that was chosen.

Asks: Whether the code's way of sensing the driver, and whether it is proportional, are those of the features
chosen.
Why a payer asks: A code for another kind of control does not describe what is delivered, and the reasons given
do not fit it.
What settles it: The features of the line or, where it has none that say how it senses, of the configuration; its
    switches, where the code is of so many.
Source: article A52504, text of the codes; which feature belongs to which code is our reading.
"""

from __future__ import annotations

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.ordered import ITEMS, SENSING, Line, code_of, lines, named, no_codes, places
from docgen.criteria.sentences import listed
from docgen.fit.feature import features

HEADING = "order"
CLAIM = "The code is that of the control chosen"
FITS_TOGETHER = True
LINE_RANK = 30
LINE_CLAIM = "Its code describes the control requested"
SETTINGS: dict[str, object] = {}

# features that say whether a control is proportional, whatever it senses with
_NATURE = {
    "proportional_control": True,
    "head_angle_proportional": True,
    "force_graded_speed": True,
    "nonproportional_control": False,
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    asked = lines(case, hcpcs.of_kind("control"))
    if not asked:
        return does_not_apply("No item has the code of a special control.", ITEMS)
    chosen = [feature.id for feature in case.configuration.features]
    if wrong := next((other for line in asked if (other := _another(line, chosen))), None):
        return wrong
    if counted_otherwise := next((other for line in asked if (other := _other_number(line, case))), None):
        return counted_otherwise
    if silent := [line for line in asked if not set(_stated_of(line, chosen)) & set(code_of(line[1]).senses)]:
        return cannot_tell(
            f"No feature says how {named(silent)} senses the driver.",
            *places(silent, "features"),
            mend=Mend(
                "Add [[configuration.features]] with id <feature that says how it senses> and because.",
                add=(NewEntry("configuration.features", ("because",)),),
            ),
        )
    fitting = [id_ for _, item in asked for id_ in (*item.features, *chosen) if id_ in code_of(item).senses]
    covers = " ".join(
        f"{item.code} stands for this, in words of our own after {_source(item)}: {code_of(item).words}."
        for _, item in asked
    )
    return met(f"{named(asked)}: it fits the {_names(fitting)} that was chosen. {covers}", *places(asked))


def _source(item: Item) -> str:
    """Where the words of a code come from, as a phrase."""
    return code_of(item).source.replace(", and ", " and ")


def _stated_of(line: Line, chosen: list[str]) -> list[str]:
    """Features that say what a line is: its own, and those of the whole control where none of its own says how it
    senses."""
    own = list(line[1].features)
    return own if set(own) & set(SENSING) else [*own, *chosen]


def _another(line: Line, chosen: list[str]) -> Answer | None:
    """Not met where the features say that the control is of another nature, or senses in another way, than its code."""
    code, stated = code_of(line[1]), _stated_of(line, chosen)
    nature = [id_ for id_ in stated if id_ in _NATURE]
    senses = [id_ for id_ in stated if id_ in SENSING]
    if nature and code.proportional not in {_NATURE[id_] for id_ in nature}:
        kind = f"{'' if code.proportional else 'not '}proportional"
        reason = f"{named([line])} is {kind}; what was chosen is: {_names(nature)}."
    elif senses and not set(stated) & set(code.senses):
        reason = f"{named([line])} is the code of: {code.words}. What was chosen is: {_names(senses)}."
    else:
        return None
    return not_met(
        reason,
        *places([line]),
        ("configuration", "features"),
        mend="Request the code of the control chosen, or mend the features.",
    )


def _other_number(line: Line, case: Case) -> Answer | None:
    """Not met where the control has fewer or more switches than its code stands for."""
    code, switches = code_of(line[1]), case.configuration.switches
    if code.switches is None or switches is None or code.switches[0] <= switches <= code.switches[1]:
        return None
    return not_met(
        f"{named([line])} is the code of {code.switches[0]} to {code.switches[1]} switches, those for mode and power "
        f"too, and the control has {switches}.",
        *places([line]),
        ("configuration", "switches"),
        mend="Request the code of the control chosen, or count the switches again.",
    )


def _names(ids: list[str]) -> str:
    return listed(dict.fromkeys(features()[id_].name for id_ in ids if id_ in features()))
