"""Whether a client needs a weight shift, and whether the drive control moves the seat."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.fit.condition import of_case
from docgen.fit.match import Fit

_BY_DRIVE = "seat_functions_by_drive_input"
_FINDING = "pressure_risk"
_CONDITION = "pressure_injury"


def needs_shift(case: Case) -> bool:
    """Whether a finding or a condition says that the load on the skin must be taken off."""
    return any(finding.id == _FINDING for finding in case.findings) or _CONDITION in of_case(case)


def moves_by_drive(case: Case, fit: Fit) -> bool:
    """Whether the seat is moved with the drive control, by a feature, a command of its own, or one for the seat."""
    return (
        fit.has(_BY_DRIVE)
        or bool(case.sitting.commands)
        or any(command.does == "seat" for command in case.configuration.commands)
    )
