"""Where the chair must back out, backing up was tried, or the record says that it was not.

Asks: Whether a place is driven into in which nothing recorded has the chair turn, with a control that has reverse, and
    whether a task of the trial had the client back up; if none had, whether the limits of the trial say so.
Why a payer asks: A room that the chair drives into and is not shown to leave is no gain.
What settles it: turning_mm of the place; a task with backs = true and its rows; or limits under [trial] that say it was
    not tried.
Source: US national coverage determination 280.3, questions 4 and 6; which words tell of backing up is common practice,
    no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import Mend, add_entry
from docgen.criteria.sentences import listed
from docgen.criteria.ways_out import BACKING, backing_tried, cannot_turn

HEADING = "record"
CLAIM = "Backing out was tried, or is said not to have been"
SHOWN_IN = ("letter: Safety and Home Environment", "letter: Equipment Trial and Results")
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.spaces:
        return cannot_tell("No place is recorded.", ("spaces",), mend=add_entry("spaces", "name", "kind"))
    places = [(at, space) for at, space in enumerate(case.spaces) if cannot_turn(case, space)]
    if not places or case.configuration.backs is False:
        return does_not_apply("No place is recorded that the chair must back out of with its control.", ("spaces",))
    names = listed(space.name for _, space in places)
    at = tuple(("spaces", index) for index, _ in places)
    if backing_tried(case):
        return met(f"A task of the trial was to back up, as it must in these places: {names}.", ("trial", "tasks"), *at)
    if BACKING.search(" ".join(filter(None, (case.trial.limits, case.letter.limits)))):
        return met("That backing up was no task of the trial is said among its limits.", ("trial", "limits"), *at)
    return cannot_tell(
        f"Nothing recorded has the chair turn in these places, and no task of the trial was to back up: {names}.",
        *at,
        ("trial", "tasks"),
        mend=Mend(
            "Fill in turning_mm of each place, add a task with backs = true and its rows, or say in trial.limits that "
            "it was not tried.",
            fill=("turning_mm", "limits"),
        ),
    )
