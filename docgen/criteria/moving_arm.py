"""An arm that moves by itself, and a power switch within its reach."""

from __future__ import annotations

from typing import Literal

from docgen.case.model import Case

Struck = Literal["open", "strikes", ""]
SAYS: dict[Struck, str] = {
    "open": "Whether an arm that moves by itself strikes the power switch at its armrest is not recorded.",
    "strikes": "An arm that moves by itself was seen to strike the power switch at its armrest.",
    "": "",
}
_MOVING = "hand_moves_involuntary"


def arm_at_power(case: Case) -> Struck:
    """Whether an arm that moves by itself strikes a power switch at an armrest: seen to, or open because nobody
    recorded it; "" where no arm moves so, the switch is elsewhere, or it was watched and not struck."""
    stop = case.configuration.stop
    moving = any(finding.id == _MOVING for finding in case.findings)
    if not moving or not (stop.power_off_site or "").startswith("armrest"):
        return ""
    if stop.arm_reaches_power is None:
        return "open"
    return "strikes" if stop.arm_reaches_power else ""
