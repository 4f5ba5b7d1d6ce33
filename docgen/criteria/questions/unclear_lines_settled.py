"""Lines on which published rules disagree or say nothing are settled with the payer.

Asks: Whether the payer's answer is recorded for each line on which two published texts differ: hardware of a
head control, an attendant control, electronics by the number of motors, and electronics for a control without a
code.
Why a payer asks: Reviewers read such lines in different ways, and nothing here decides for them.
What settles it: payer_says of the line: what the payer answered, and when.
Source: article A52504 against the text of E1032, against LCD L33792, and against the electronics clarification
of one contractor (passages read).
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend
from docgen.criteria.ordered import (
    CHAIR,
    ITEMS,
    OWN_CODE,
    Line,
    code_of,
    controls,
    lines,
    named,
    no_codes,
    places,
    seat_motors,
)

HEADING = "order"
CLAIM = "Lines on which published rules differ are confirmed with the payer"
FITS_TOGETHER = "open"
SETTINGS = {"points": ["head_hardware", "attendant", "motor_count", "own_code"]}
CHOICES = {"points": tuple(SETTINGS["points"])}

_THREE = 3
_ELECTRONICS = ("E2377", "E2313")
_TILT_AND_RECLINE = ("E1002", "E1003", "E1004", "E1005", "E1006", "E1007", "E1008")


def answer(grounds: Grounds, points: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    touched = [(why, affected) for point in points for why, affected in (_POINTS[point](case),) if affected]
    if not touched:
        return does_not_apply("No line is one on which published rules differ.", ITEMS)
    open_ = [
        (why, bare) for why, affected in touched if (bare := [line for line in affected if not line[1].payer_says])
    ]
    if not open_:
        settled = sorted({line[0] for _, affected in touched for line in affected})
        items = [(i, case.configuration.items[i]) for i in settled]
        answers = "; ".join(f"{named([line])}, “{recorded(line[1].payer_says).rstrip('. ')}”" for line in items)
        return met(
            f"The payer's answer is recorded: {answers}.",
            *places(items, "payer_says"),
            bare=f"The payer's answer is recorded for {named(items)}.",
        )
    reason = " ".join(f"{named(bare)}: {why}." for why, bare in open_)
    return cannot_tell(
        reason,
        *(place for _, bare in open_ for place in places(bare, "payer_says")),
        *([(*CHAIR, "seat_actuators")] if points == ["motor_count"] else []),
        mend=_mend(case, points),
    )


def _mend(case: Case, points: list[str]) -> Mend:
    """The payer is to be asked; before that the number of motors, where that is asked about and not recorded."""
    answered = "fill in payer_says <what the payer answered, and when> of the line."
    if points != ["motor_count"] or seat_motors(case) is not None:
        return Mend(f"Ask the payer, and {answered}", fill=("payer_says",), work=True)
    motors = "configuration.chair.seat_actuators"
    return Mend(
        f"Fill in {motors} <number of seat motors>; then ask the payer, and {answered}", fill=(motors, "payer_says")
    )


def _head_hardware(case: Case) -> tuple[str, list[Line]]:
    head = any((code := hcpcs.code(item.code)) and code.head for _, item in controls(case))
    hardware = [line for line in lines(case, hcpcs.of_kind("hardware")) if line[1].supports == "interface"]
    return (
        "the text of E1032 covers any drive control, while A52504 keeps hardware of head controls under E1028",
        hardware if head else [],
    )


def _attendant(case: Case) -> tuple[str, list[Line]]:
    return (
        "A52504 defines it as a second control, which is not covered, "
        "while L33792 covers an attendant control in place of the client's, "
        "for which a standard joystick is in the price of the base",
        lines(case, ("E2331",)),
    )


def _motor_count(case: Case) -> tuple[str, list[Line]]:
    """Electronics that rest on motors alone, unless tilt, recline and shear make three by themselves."""
    sure = sum(recorded(code_of(item).motors) for _, item in lines(case, _TILT_AND_RECLINE))
    seat = seat_motors(case)
    here = "they are not recorded" if seat is None else f"{seat} move the seat, {sure} of them tilt and recline"
    return (
        "A52504 counts three powered motors of any kind, "
        f"the contractor's clarification three of the seat; here {here}",
        lines(case, _ELECTRONICS) if not controls(case) and sure < _THREE else [],
    )


def _own_code(case: Case) -> tuple[str, list[Line]]:
    special = controls(case)
    alone = special and all(item.code == OWN_CODE for _, item in special)
    return (
        "A52504 has K0108 for a control without a code, "
        "while the clarification lists the controls that call for these electronics by code",
        lines(case, _ELECTRONICS) if alone else [],
    )


_POINTS = {"head_hardware": _head_hardware, "attendant": _attendant, "motor_count": _motor_count, "own_code": _own_code}
