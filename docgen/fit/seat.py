"""Whether a client needs a weight shift, and whether the drive control moves the seat."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.fit.condition import of_case
from docgen.fit.match import Fit

_BY_DRIVE = "seat_functions_by_drive_input"
_FINDING = "pressure_risk"
_CONDITION, _UPRIGHT = "pressure_injury", "autonomic_dysreflexia"


def needs_shift(case: Case) -> bool:
    """Whether a finding or a condition says that the load on the skin must be taken off."""
    return any(finding.id == _FINDING for finding in case.findings) or _CONDITION in of_case(case)


def needs_seat(case: Case) -> bool:
    """Whether a seat that cannot move would hurt: a weight shift is set, or an emergency moves the person by it."""
    seat = case.sitting
    has_seat = bool(seat.seat_switch or seat.commands or case.configuration.chair.seat_actuators)
    by_seat = any(step.moves in ("upright", "back") for step in case.emergency.steps)
    return not case.weight_shift.is_empty or (has_seat and (by_seat or _UPRIGHT in of_case(case)))


def moves_by_drive(case: Case, fit: Fit) -> bool:
    """Whether the seat is moved with the drive control, by a feature, a command of its own, or one for the seat."""
    return (
        fit.has(_BY_DRIVE)
        or bool(case.sitting.commands)
        or any(command.does == "seat" for command in case.configuration.commands)
    )
