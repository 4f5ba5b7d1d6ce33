"""The turning diameter of the chair is no smaller than the chair itself.

Asks: Whether the turning diameter recorded is at least the diagonal of the chair's own length and width, which any turn
    in place must hold.
Why a payer asks: A circle that the chair does not fit into is a slip, and every room it was held against is then
    unknown.
What settles it: turning_mm, width_mm and length_mm under [configuration.chair], measured on this chair with its foot
    plates.
Source: a rectangle turned about its center sweeps a circle as wide as its diagonal, and about any other point a wider
    one.
"""

from __future__ import annotations

import math

from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed
from docgen.units import length

HEADING = "record"
CLAIM = "The turning diameter is no smaller than the chair"
SHOWN_IN = ("letter: Safety and Home Environment",)
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}

_WORDS = {"turning_mm": "turning diameter", "width_mm": "overall width", "length_mm": "overall length"}
_AT: KeyPath = ("configuration", "chair")


def answer(grounds: Grounds) -> Answer:
    chair = grounds.case.configuration.chair
    if missing := [key for key in _WORDS if getattr(chair, key) is None]:
        return cannot_tell(
            f"Not recorded: the chair's {listed(_WORDS[key] for key in missing)}.",
            *((*_AT, key) for key in missing),
            mend=fill_in({f"configuration.chair.{key}": "<mm>" for key in missing}),
        )
    turning_mm, width_mm, length_mm = (recorded(getattr(chair, key)) for key in _WORDS)
    diagonal_mm = math.hypot(width_mm, length_mm)
    where = tuple((*_AT, key) for key in _WORDS)
    sizes = (
        f"{length(length_mm, 'up')} long and {length(width_mm, 'up')} wide, "
        f"{length(math.ceil(diagonal_mm), 'up')} from corner to corner"
    )
    if turning_mm < diagonal_mm:
        return not_met(
            f"The turning diameter is recorded as {length(turning_mm, 'up')}, and the chair is {sizes}.",
            *where,
            mend="Measure the turning diameter on the chair, with its footplates, and look up its length and width.",
        )
    return met(
        f"The turning diameter of {length(turning_mm, 'up')} is no smaller than the chair, which is {sizes}.", *where
    )
