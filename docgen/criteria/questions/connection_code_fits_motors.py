"""One connection code, by the number of seat motors that the drive control runs.

Asks: Whether one seat motor has one E2310, two or more have one E2311, and never both.
Why a payer asks: The connection is paid once, and its code says how many motors it serves.
What settles it: configuration.chair.seat_actuators, or seating codes that say how many motors they bring, and
one line with the connection's code.
Source: article A52504; Power Wheelchair Electronics Clarification of one contractor (passage read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import (
    CHAIR,
    CONNECTIONS,
    ITEMS,
    fill_in_codes,
    lines,
    motors_of_codes,
    named,
    no_codes,
    places,
    seat_motors,
    without_code,
)
from docgen.criteria.sentences import counted

HEADING = "order"
CLAIM = "The connection code fits the number of seat motors"
SHOWN_IN = ("order: Compatibility and Included Components",)
FITS_TOGETHER = True
LINE_RANK = 50
LINE_CLAIM = "It is coded by the number of power seating motors"
SETTINGS = dict(CONNECTIONS)


def answer(grounds: Grounds, one: str, more: str) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    at, ordered = (*CHAIR, "seat_actuators"), lines(case, (one, more))
    by_drive = grounds.fit.has("seat_functions_by_drive_input")
    if not ordered and not by_drive:
        return does_not_apply("The drive control is not asked to move the seat.", ITEMS)
    if sum(item.quantity or 1 for _, item in ordered) > 1:
        return not_met(
            f"{named(ordered)} are requested; a chair has one connection."
            if len(ordered) > 1
            else f"{ordered[0][1].quantity} of {named(ordered)} are requested; a chair has one connection.",
            *places(ordered),
            mend=f"Keep one line with quantity 1: {one} for one seat motor, {more} for two or more.",
        )
    motors, by_codes, recorded = seat_motors(case), motors_of_codes(case), case.configuration.chair.seat_actuators
    if motors is None:
        return cannot_tell(
            "The number of seat motors is not recorded.",
            at,
            *places(ordered),
            mend=fill_in({"seat_actuators": "<number of seat motors>"}, " under [configuration.chair]"),
        )
    if recorded is not None and by_codes and recorded < by_codes:
        return not_met(
            f"{counted(recorded, 'seat motor is', 'seat motors are')} recorded; the seating codes bring {by_codes}.",
            at,
            ITEMS,
            mend="Correct seat_actuators, or the seating codes.",
        )
    if motors == 0:
        return not_met(
            "The drive control is asked to move the seat, and no seat motor is recorded.",
            at,
            *places(ordered),
            mend=f"Take {one} or {more} out, or mend seat_actuators.",
        )
    right = one if motors == 1 else more
    number = counted(motors, "seat motor", "seat motors")
    if not ordered and without_code(case):
        return cannot_tell(
            f"The drive control runs {number}, and a line that may be its connection has no code.",
            *((*ITEMS, i) for i, _ in without_code(case)),
            mend=fill_in_codes(),
        )
    if not ordered:
        return not_met(
            f"The drive control runs {number}, and no connection is ordered.",
            ITEMS,
            mend=f"Add one {right} to [[configuration.items]].",
        )
    if ordered[0][1].code != right:
        return not_met(
            f"{number.capitalize()} and {named(ordered)} do not go together.",
            *places(ordered),
            at,
            mend=f"Ask for {right} in its place.",
        )
    return met(f"One {right} for {number}.", *places(ordered), at)
