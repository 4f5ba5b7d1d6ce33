"""Hours alone: what must be settled before anyone may step away, and what rules it out."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.case.supervision import Supervision
from docgen.criteria.criterion import Answer, cannot_tell, does_not_apply
from docgen.criteria.means import means_not_recorded
from docgen.criteria.mend import add_entry

_ASKED = ("chair_state", "calls_by", "call_needs_chair", "help_after_min", "fire_plan")


def places_alone(case: Case) -> list[tuple[int, Supervision]]:
    """The places where nobody need be near enough to step in, each with its number among those of supervision."""
    return [(at, place) for at, place in enumerate(case.supervision) if not place.is_near]


def none_alone(case: Case) -> Answer | None:
    """The answer of a question on hours alone where there is nothing to ask it of; None where there is."""
    if not case.supervision:
        return cannot_tell(
            "Who is near, and where, is not recorded.",
            ("supervision",),
            mend=add_entry("supervision", "place", "level", "by"),
        )
    return None if places_alone(case) else does_not_apply("No hours alone are recorded.", ("supervision",))


def not_settled(case: Case, place: Supervision) -> tuple[str, ...]:
    """Keys of a place alone that are not recorded; where the seat alone moves, "if_stuck" and "drive_off" of the stop
    among them."""
    seat_moves = place.chair_state == "seat_only"
    asked = (*_ASKED, "if_stuck") if seat_moves else _ASKED
    missing = tuple(name for name in asked if getattr(place, name) is None)
    return (*missing, "drive_off") if seat_moves and not case.configuration.stop.drive_off else missing


def ruled_out_by(case: Case, place: Supervision) -> tuple[str, ...]:
    """What of the record speaks against being alone there: "call_needs_chair", "rests", or "means" for a rule that
    names a switch nobody recorded."""
    against = {
        "call_needs_chair": bool(place.call_needs_chair),
        "rests": place.chair_state == "rests",
        "means": means_not_recorded(case, place.for_now or "") is not None,
    }
    return tuple(name for name, holds in against.items() if holds)
