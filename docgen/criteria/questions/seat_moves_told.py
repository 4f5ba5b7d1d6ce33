"""Before driving begins again after a move of the seat, someone sees that the control is in reach.

Asks: Where the drive control moves the seat: its commands in their order, which of them are alternatives, and what the
    drive does meanwhile. After any move: how one sees that the control is in reach, when driving may begin again, who
    decides, and who brings the seat up when the client cannot.
Why a payer asks: A payer does not. A pad, a tube or a switch was set for one posture, and a driver whose seat is back
    may reach none of them.
What settles it: commands, drive_meanwhile and stuck under [sitting]; reached, restart and decides under
    [sitting.after].
Source: common practice, no source; that the control must be in reach again follows from how it was measured.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.fit.seat import moves_by_drive

HEADING = "safety"
CLAIM = "Driving after a move of the seat is settled"
SETTINGS: dict[str, object] = {}

_AFTER = {
    "sitting.drive_meanwhile": "what the drive does while the seat is moved",
    "sitting.stuck": "who brings the seat up when the client cannot",
    "sitting.after.reached": "how one sees that the control is in reach again",
    "sitting.after.restart": "when driving may begin again",
    "sitting.after.decides": "who decides",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    sitting, by_drive = case.sitting, moves_by_drive(case, grounds.fit)
    if case.configuration.is_empty and case.weight_shift.is_empty:
        return cannot_tell(
            "Whether the chair asked for moves the seat is not recorded.",
            ("configuration", "features"),
            mend=add_entry("configuration.features", "id"),
        )
    if not by_drive and case.weight_shift.is_empty:
        return does_not_apply("No move of the seat is recorded.", ("sitting",))
    if sitting.drive_meanwhile == "drives":
        return not_met(
            "The chair drives as ever while the seat is out of its driving place.",
            ("sitting", "drive_meanwhile"),
            mend="Have the drive locked or slowed while the seat is moved, and record it.",
            danger=True,
        )
    wanted = _AFTER | ({"sitting.commands": "the commands that move the seat, in their order"} if by_drive else {})
    values = {key: _value(grounds, key) for key in wanted}
    held_commands = [command for command in sitting.commands if command.kept == "held"]
    if by_drive and len(held_commands) > 1 and all(command.any_of is None for command in held_commands):
        return cannot_tell(
            "Whether the commands that move the seat are steps of one another or alternatives is not recorded.",
            ("sitting", "commands"),
            mend="Write any_of at each of [[sitting.commands]]: true where one of several may come there, else false.",
        )
    if missing := [key for key, value in values.items() if not value]:
        return cannot_tell(
            f"The seat moves, and not recorded is {listed(wanted[key] for key in missing)}.",
            *(tuple(key.split(".")) for key in missing),
            mend=fill_in({key: "" for key in missing}),
        )
    return met("What holds before driving begins again after a move of the seat is recorded.", ("sitting",))


def _value(grounds: Grounds, key: str) -> object:
    value: object = grounds.case
    for name in key.split("."):
        value = getattr(value, name)
    return value
