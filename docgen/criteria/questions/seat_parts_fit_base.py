"""Parts of seat and posture stand on a seat that can take them.

Asks: Whether a headrest, side support or positioning cushion is requested on a captain's chair.
Why a payer asks: On a captain's chair such parts are denied, and the whole chair may be; a headrest needs
tilt, recline or a posture that calls for it.
What settles it: configuration.chair.base_code, or seat_type, and the codes on the order.
Source: LCD L33789, miscellaneous part; LCD L33312. Only the headrest E0955, the side support E0956 and the
cushion E2603 are in the list.
"""

from __future__ import annotations

from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR, ITEMS, base, lines, named, no_codes, places

HEADING = "order"
CLAIM = "The parts of the seat fit the base"
FITS_TOGETHER = True
LINE_RANK = 70
LINE_CLAIM = "It is a seat part for a base of this kind"
QUIET = True
SETTINGS = {"headrest": "E0955", "moving_seats": ["E1002", "E1003", "E1004", "E1005", "E1006", "E1007", "E1008"]}


def answer(grounds: Grounds, headrest: str, moving_seats: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    chair, power_base, parts = case.configuration.chair, base(case), lines(case, hcpcs.of_kind("seat"))
    at = ((*CHAIR, "base_code"), (*CHAIR, "seat_type"))
    if power_base and chair.seat_type and power_base.captains != (chair.seat_type == "captains"):
        has = "a captain's chair" if power_base.captains else "a sling or solid seat"
        return not_met(
            f"{power_base.id} has {has}, and seat_type says otherwise.", *at, mend="Correct base_code or seat_type."
        )
    if not parts:
        return met("No part of seat or posture is requested.", ITEMS)
    if power_base is None and chair.seat_type is None:
        return cannot_tell(
            f"The seat of the base is not recorded, and a part of it is requested: {named(parts)}.",
            *at,
            *places(parts),
            mend=fill_in({"base_code": "<procedure code of the base>"}, " under [configuration.chair]"),
        )
    if power_base.captains if power_base else chair.seat_type == "captains":
        return not_met(
            f"On a captain's chair{f', {power_base.id}' if power_base else ''}: {named(parts)}.",
            *at,
            *places(parts),
            mend="Request a base with a sling or solid seat, or take the part out.",
        )
    rests = [line for line in parts if line[1].code == headrest]
    if rests and not lines(case, moving_seats) and not any(item.because for _, item in rests):
        return cannot_tell(
            f"Neither tilt, recline nor a finding of posture is the reason for {named(rests)}.",
            *places(rests, "because"),
            mend=fill_in({"because": "<finding of posture>"}, " of the headrest's line"),
        )
    return met(f"On a sling or solid seat: {named(parts)}.", *at, *places(parts))
