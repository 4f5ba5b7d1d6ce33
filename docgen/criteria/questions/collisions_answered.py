"""Where sessions run into things often, the rule of that place says what holds for now.

Asks: Whether collisions are often at the step reached, and whether the place in which they were then says what holds
    until the therapist has decided.
Why a payer asks: A payer does not. The plan tells the trainer to call before going back there; whoever reads the daily
    guide alone would drive on.
What settles it: for_now of the place in [[supervision]] that covers it.
Source: common practice, no source: more than 1 collision in 100 m, or in 10 tries.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, listed
from docgen.criteria.steps import not_delivered
from docgen.evidence.training import at_stage_now
from docgen.fit.signs import signs_of_lessons

HEADING = "safety"
CLAIM = "Places with frequent collisions in training have an interim rule"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if case.tried and not case.sessions:  # a request in the writing, whatever its day
        return does_not_apply("No session is recorded.", ("training",))
    if early := not_delivered(case, "collisions count from the first session"):
        return early
    if not case.sessions:
        return does_not_apply("No session is recorded.", ("training",))
    sign = signs_of_lessons(case, grounds.evidence)["contacts_often"]
    facts = tuple(fact.id for fact in sign.facts)
    if not sign.seen:
        return met("Collisions are not often at the step reached.", ("training",), facts=facts)
    bumped = {row.task for row in at_stage_now(case) if row.contacts}
    covered = [
        (at, place) for at, place in enumerate(case.supervision) if bumped & {*place.covers} and not place.is_later
    ]
    if not covered:
        return does_not_apply("No place of supervision covers where sessions ran into things.", ("supervision",))
    if open_places := [(at, place) for at, place in covered if not place.for_now]:
        return cannot_tell(
            f"Sessions at the step reached ran into things often, and what holds for now is not recorded: "
            f"{listed(place.place for _, place in open_places)}.",
            *(("supervision", at) for at, _ in open_places),
            facts=facts,
            mend=fill_in({"for_now": "<what holds until you have decided>"}, " of the place in [[supervision]]"),
            bare=f"What holds for now is not recorded of {counted(len(open_places), 'place', 'places')}.",
        )
    return met("Where sessions ran into things often, what holds for now is recorded.", ("supervision",), facts=facts)
