"""The electronics of a chair already there take the control that is requested.

Asks: Which electronics the chair has now, whether they take another input, and what must be added or replaced.
Why a payer asks: A control that nothing on the chair reads is paid for and never used; what it needs besides belongs on
    the same order.
What settles it: electronics_now, takes_input and electronics_added under [configuration.chair].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR, FILL_IN_KIND, ITEMS, control_alone, lines
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "The electronics of the current chair accept the control"
SHOWN_IN = ("order: Compatibility and Included Components",)
NOT_FOR = ("new_chair", "replacement")
SETTINGS = {"controllers": ["E2376", "E2377"]}
_FEATURE = "expandable_electronics"
_WORDS = {
    "electronics_now": "the electronics that the chair has now",
    "takes_input": "whether they take another input",
    "electronics_added": "what must be added to them or replaced",
}
_FORMS = {
    "electronics_now": "<controller and its age>",
    "takes_input": "<true or false>",
    "electronics_added": "<parts, or that nothing must>",
}


def answer(grounds: Grounds, controllers: list[str]) -> Answer:
    case = grounds.case
    if not control_alone(case):
        return cannot_tell(
            "The kind of request is not recorded.",
            ("request", "kind"),
            mend=FILL_IN_KIND,
        )
    chair = case.configuration.chair
    if missing := [key for key in _WORDS if getattr(chair, key) is None]:
        return cannot_tell(
            f"Not recorded: {listed(_WORDS[key] for key in missing)}.",
            *((*CHAIR, key) for key in missing),
            mend=fill_in({f"configuration.chair.{key}": _FORMS[key] for key in missing}),
        )
    at = tuple((*CHAIR, key) for key in _WORDS)
    has, needs = (text.rstrip(".") for text in (chair.electronics_now or "", chair.electronics_added or ""))
    replaced = bool(lines(case, controllers)) or any(_FEATURE in item.features for item in case.configuration.items)
    if not chair.takes_input and not replaced:
        return not_met(
            "The electronics of the chair take no other input, and no line of the order replaces them.",
            *at,
            ITEMS,
            mend="Add the line that replaces them, or request a chair.",
        )
    takes = "another input can be connected" if chair.takes_input else "they take no other input, and are replaced"
    return met(f"Electronics of the chair now: {has}; {takes}. To be added or replaced: {needs}.", *at)
