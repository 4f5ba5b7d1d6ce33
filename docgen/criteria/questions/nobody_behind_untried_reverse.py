"""Nobody stands behind a chair that backs out while its stop in reverse is untried.

Asks: Of each place that the chair must back out of, whether whoever is near stands behind it there although backing up
    was no task of the trial.
Why a payer asks: A payer does not. In a doorway there is no room beside a chair, and whoever stands behind it is
    against the frame when it does not stop.
What settles it: stands of the place in [[supervision]] that covers it; a task with backs = true and its rows; or
    for_now there, until the stop in reverse is tried.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import capital, listed
from docgen.criteria.ways_out import backing_tried, cannot_turn

HEADING = "safety"
CLAIM = "Nobody stands behind a chair whose stop in reverse is untried"
DANGER = True
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.spaces:
        return cannot_tell("No place is recorded.", ("spaces",), mend=add_entry("spaces", "name", "kind"))
    backed_out_of = {space.id: space.name for space in case.spaces if cannot_turn(case, space)}
    if not backed_out_of or case.configuration.backs is not True:
        return does_not_apply("No place is recorded that the chair must back out of with its control.", ("spaces",))
    driven = [
        (at, place)
        for at, place in enumerate(case.supervision)
        if place.is_near and not place.is_later and not place.for_now and backed_out_of.keys() & set(place.covers)
    ]
    if not driven:
        return does_not_apply("Nobody drives yet at a place that the chair must back out of.", ("supervision",))
    for at, place in driven:
        out_of = listed(name for space, name in backed_out_of.items() if space in place.covers)
        if place.stands == "behind" and not backing_tried(case):
            return not_met(
                f"{capital(place.place)}: the chair backs out of {out_of}, whoever is near stands behind it, and its "
                "stop in reverse was no task of the trial.",
                ("supervision", at, "stands"),
                ("trial", "tasks"),
                mend="Write in for_now of the place in [[supervision]] what holds until that is tried, or where else "
                "they stand.",
            )
    return met(
        "Nobody stands behind the chair where it backs out, or its stop in reverse was tried.",
        *(("supervision", at) for at, _ in driven),
    )
