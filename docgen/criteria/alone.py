"""Hours alone: what must be settled before anyone may step away, and what rules it out."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.case.need import Supervision
from docgen.criteria.means import means_not_recorded

_ASKED = ("chair_state", "calls_by", "call_needs_chair", "help_after_min", "fire_plan")


def places_alone(case: Case) -> list[tuple[int, Supervision]]:
    """The places where nobody need be near enough to step in, each with its number among those of supervision."""
    return [(at, place) for at, place in enumerate(case.supervision) if not place.is_near]


def not_settled(case: Case, place: Supervision) -> tuple[str, ...]:
    """Keys of a place alone that are not recorded, "drive_off" of the stop among them where the seat alone moves."""
    missing = tuple(name for name in _ASKED if getattr(place, name) is None)
    if place.chair_state == "seat_only" and not case.configuration.stop.drive_off:
        return (*missing, "drive_off")
    return missing


def ruled_out_by(case: Case, place: Supervision) -> tuple[str, ...]:
    """What of the record speaks against being alone there: "call_needs_chair", "rests", or "means" for a rule that
    names a switch nobody recorded."""
    against = {
        "call_needs_chair": bool(place.call_needs_chair),
        "rests": place.chair_state == "rests",
        "means": means_not_recorded(case, place.for_now or "") is not None,
    }
    return tuple(name for name, holds in against.items() if holds)
