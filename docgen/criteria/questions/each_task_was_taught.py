"""What a helper is to do was shown to someone.

Asks: Whether someone is recorded as taught the ride, where the client rides in the chair; the brake release levers and
    pushing, where there are such levers; the switch that moves the seat, where a helper has one; the emergency page,
    where there is one.
Why a payer asks: Safe use depends on the people around the client.
What settles it: [[taught]] with who and skills.
Source: release of the brakes is a listed skill of caregivers: Wheelchair Skills Program, 2012; the rest is common
    practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.fit.condition import emergency_wanted

HEADING = "independence"
CLAIM = "Each task of a helper was shown to someone"
QUIET = True
SETTINGS: dict[str, object] = {}
_SKILLS = {
    "ride": "the ride in a vehicle",
    "levers": "the brake release levers and pushing",
    "seat": "the helper's switch of the seat",
    "emergency": "the emergency page",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    wanted = tuple(_wanted(case))
    if case.transport.rides_in_chair is None and not wanted:
        return cannot_tell(
            "Whether the client rides in the chair is not recorded, nor anything else that a helper is to do.",
            ("transport", "rides_in_chair"),
            mend=fill_in({"transport.rides_in_chair": "true or false"}),
        )
    if not wanted:
        return does_not_apply("No ride, lever, seat switch or emergency page of a helper is recorded.", ("taught",))
    shown = {skill for entry in case.taught for skill in entry.skills}
    untaught = [_SKILLS[skill] for skill in wanted if skill not in shown]
    if untaught:
        return cannot_tell(
            f"Not recorded as shown to anyone: {listed(untaught)}.",
            ("taught",),
            mend=add_entry("taught", "who", "what", "skills", "on"),
        )
    return met("What helpers are to do was shown to someone.", ("taught",))


def _wanted(case: Case) -> Iterator[str]:
    """Skills that the record asks of a helper."""
    if case.transport.rides_in_chair:
        yield "ride"
    if case.configuration.stop.freewheel:
        yield "levers"
    if case.sitting.seat_switch:
        yield "seat"
    if emergency_wanted(case):
        yield "emergency"
