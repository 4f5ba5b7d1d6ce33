"""The chair gets to the first lesson, where the way out of the home was not measured.

Asks: Where a room or a door of the home was not measured, whether it lies on the way out, and whether training begins
    at home; where the way out was not measured and training begins somewhere else, how the chair comes there.
Why a payer asks: A chair is delivered to the home; a plan whose first lesson it cannot reach is none.
What settles it: to_lessons under [delivery]; way_out_measured of the client, or starts_at_home under [training].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "The chair reaches the first place of training"
SHOWN_IN = ("letter: Training and Follow-Up Plan",)
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    left_out, at_home = case.client.not_measured, case.training.starts_at_home
    is_measured = case.client.way_out_measured
    if is_measured or (is_measured is None and not left_out):
        return does_not_apply("Nothing on the way out of the home is told as not measured.", ("client", "not_measured"))
    if at_home or (at_home is None and case.training.place is None):
        return does_not_apply("Training does not begin away from home.", ("training", "starts_at_home"))
    if at_home is None or is_measured is None:
        unknown = {"training.starts_at_home": at_home, "client.way_out_measured": is_measured}
        keys = [name for name, known in unknown.items() if known is None]
        return cannot_tell(
            "Of the home these were not measured: "
            f"{listed(left_out)}. Whether the chair can leave it for the first lesson is not recorded.",
            *(tuple(name.split(".")) for name in keys),
            mend=fill_in(dict.fromkeys(keys, "<true or false>")),
        )
    at = ("delivery", "to_lessons")
    if case.delivery.to_lessons is None:
        return cannot_tell(
            "Training begins away from home, and the way out of the home was not measured. "
            "How the chair comes to the first lesson is not recorded.",
            at,
            mend=fill_in({"delivery.to_lessons": "<who takes the chair there, and how>"}),
        )
    return met("Training begins away from home, and how the chair comes there is recorded.", at)
