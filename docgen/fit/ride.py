"""Whether someone may ride in a vehicle seated in the chair: what is known, what is not, and what rules it out."""

from __future__ import annotations

from docgen.case.transport import Transport

# key -> whether a value of it lets someone ride
_HELD = ("chair_labeled", "four_tie_downs", "own_belt", "head_support")
_TOLD = ("vehicle", "trained", "back_deg", "control", "loose_parts")


def unknown(ride: Transport) -> tuple[str, ...]:
    """Keys of [transport] that are not recorded, or that nobody could tell."""
    untold = tuple(key for key in _HELD + _TOLD if getattr(ride, key) in (None, "unknown"))
    return (*untold, "lock") if ride.control == "locked" and ride.lock is None else untold


def against(ride: Transport) -> tuple[str, ...]:
    """Keys of [transport] whose value says that nobody may ride in the chair."""
    lacking = tuple(key for key in _HELD if getattr(ride, key) == "no")
    return (*lacking, "control") if ride.control == "stays" else lacking


def may_ride(ride: Transport) -> bool:
    """Whether all that holds chair, body and head is recorded, and nothing of it is lacking."""
    return ride.rides_in_chair is True and not unknown(ride) and not against(ride)
