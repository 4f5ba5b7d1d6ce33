"""The seat comes fully up in the time that the emergency page tells.

Asks: Where the seconds from full tilt to upright are recorded, whether the speeds measured of tilt and back bring each
    through its whole range in that time; whether the seconds told beside the switch are enough for the slowest seat
    that passes at delivery.
Why a payer asks: A payer does not. Who lets the switch go when the seconds are over leaves the person lying back, and
    in dysreflexia the pressure stays up.
What settles it: seconds_to_upright under [conditions.autonomic_dysreflexia], measured from the lowest place of seat and
    back; number of fully_up there, or none; or lowest_deg, highest_deg, timed_from_deg, timed_to_deg, timed_s and
    slowest_s of seat_speed and recline_speed under [configuration.settings], as measured.
Source: arithmetic: range by speed, tilt and back moving together, the kinder case; upright first: conditions, C1-03.
"""

from __future__ import annotations

from docgen.criteria.conditions import undiagnosed
from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.fit.condition import answer_to

HEADING = "safety"
CLAIM = "The seat is up in the time told"
DANGER = True
QUIET = True
SETTINGS: dict[str, object] = {}
_ROUNDED_S = 1.0  # a time as it is written down
_PARTS = {"seat_speed": "tilt", "recline_speed": "back"}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.diagnoses and not case.conditions:
        return undiagnosed("whether the seat must come up in a time")
    given = answer_to(case, "autonomic_dysreflexia", "seconds_to_upright")
    needs = {
        _PARTS[entry.setting]: seconds
        for entry in case.configuration.settings
        if entry.setting in _PARTS and (seconds := entry.whole_range_s) is not None
    }
    if given is None or given.number is None or not needs:
        return does_not_apply(
            "No time to upright is recorded, or no range and speed to hold it against.", ("conditions",)
        )
    at = (("conditions",), ("configuration", "settings"))
    part, longest_s = max(needs.items(), key=lambda need: need[1])
    if longest_s > given.number + _ROUNDED_S:
        return not_met(
            f"Upright is told to take {given.number:g} s, and the {part} takes {longest_s:.0f} s through its range.",
            *at,
            mend="Time seat and back together from their lowest place, and write those seconds.",
        )
    beside_switch = answer_to(case, "autonomic_dysreflexia", "fully_up")
    told_s = beside_switch.number if beside_switch else None
    slowest = (entry.slowest_range_s for entry in case.configuration.settings if entry.setting in _PARTS)
    slowest_s = max(seconds for seconds in slowest if seconds is not None)
    if told_s is not None and told_s < slowest_s:
        return not_met(
            f"The page tells {told_s:g} s, and a seat that passes at delivery takes up to {slowest_s:.0f} s.",
            *at,
            mend="Tell to hold on until seat and back have stopped, without seconds.",
        )
    return met(f"Seat and back come through their range in the {given.number:g} s told.", *at)
