"""The expandable controller is requested when something calls for it, and only then.

Asks: Whether E2377 and E2313 go with a special control or three seat motors, and whether three seat motors
have them.
Why a payer asks: With one or two seat motors and a standard joystick the electronics of the base will do.
What settles it: The code of a special control, or configuration.chair.seat_actuators of three or more.
Source: Power Wheelchair Electronics Clarification of one contractor (passages read; reprints of 2010 and 2011
agree); article A52504 counts powered actuators of any kind, the contractor those of the seat, as here.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR, ITEMS, codes, controls, lines, named, no_codes, places, seat_motors
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "An alternative control or power seating calls for the expandable controller"
LINE_RANK = 90
SETTINGS = {"motors": 3, "controller": "E2377", "harness": "E2313", "connections": ["E2310", "E2311"]}


def answer(grounds: Grounds, motors: int, controller: str, harness: str, connections: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    ordered = lines(case, (controller, harness))
    seat, special = seat_motors(case), controls(case)
    at = (*CHAIR, "seat_actuators")
    if ordered and special:
        return met(f"The reason for {listed(codes(ordered))}: {named(special)}.", *places(special))
    if not ordered and not special and lines(case, connections) and seat is not None and seat >= motors:
        return not_met(
            f"The drive control runs {seat} seat motors, and neither {controller} nor {harness} is ordered.",
            at,
            ITEMS,
            mend=f"Add {controller} and {harness} to [[configuration.items]].",
        )
    if not ordered:
        return does_not_apply("No expandable controller is requested.", ITEMS)
    if seat is None:
        return cannot_tell(
            f"No special control goes with {named(ordered)}, and the number of seat motors is not recorded.",
            at,
            *places(ordered),
            mend=fill_in({"seat_actuators": "<number of seat motors>"}, " under [configuration.chair]"),
        )
    if seat < motors:
        return not_met(
            f"No special control and {counted(seat, 'seat motor', 'seat motors')} do not call for {named(ordered)}.",
            *places(ordered),
            at,
            mend=f"Take {listed(codes(ordered))} out, or add the code of the control that needs it.",
        )
    return met(f"{seat} seat motors call for {listed(codes(ordered))}.", at, *places(ordered))
