"""No slope it is to drive is steeper than the chair takes.

Asks: Whether each slope measured is within what the chair's manufacturer states.
Why a payer asks: A chair on a slope beyond its rating may slide, tip or not stop.
What settles it: most_slope_percent under [configuration.chair]; slope_percent of each ramp in [[spaces]].
Source: 1:12 for public ramps: 2010 ADA Standards 405; a house ramp may be steeper and a rating lower, so the lower of
    the two counts (by inference).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.grammar import with_verb

HEADING = "safety"
CLAIM = "No slope is steeper than the chair is rated for"
DANGER = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    most, at = case.configuration.chair.most_slope_percent, ("configuration", "chair", "most_slope_percent")
    if not case.spaces:
        return cannot_tell("No place is recorded.", ("spaces",), mend=add_entry("spaces", "id", "name", "kind"))
    slopes = [(index, space) for index, space in enumerate(case.spaces) if space.is_sloping]
    if not slopes:
        return does_not_apply("No slope is recorded.", ("spaces",))
    if unmeasured := [(index, space) for index, space in slopes if space.slope_percent is None]:
        return cannot_tell(
            f"How steep it is is not recorded: {listed(space.name for _, space in unmeasured)}.",
            *(("spaces", index, "slope_percent") for index, _ in unmeasured),
            mend=fill_in({"slope_percent": "<percent>"}, " of each slope in [[spaces]]"),
            danger=True,
        )
    if most is None:
        return cannot_tell(
            "How steep a slope the chair takes is not recorded.",
            at,
            mend=fill_in({"configuration.chair.most_slope_percent": "<percent, as its manufacturer states>"}),
            danger=True,
        )
    if steep := [(index, space) for index, space in slopes if recorded(space.slope_percent) > most]:
        index, space = steep[0]
        return not_met(
            f"The {with_verb(space.name, 'has')} a slope of {space.slope_percent:g}%, and the chair takes {most:g}%.",
            ("spaces", index, "slope_percent"),
            at,
            mend="Leave that slope out, have it made less steep, or request a chair that takes it.",
        )
    return met(f"Each slope is within the {most:g}% that the chair takes.", at)
