"""A chair that must stay off still lets the seat serve.

Asks: Where a weight shift is set, or an emergency moves the client by the seat: how the seat is moved while the chair
    must stay off, and how the weight is shifted where the seat moves no more. Where the driver moves the seat by the
    control: whether it stays chosen for as long as it is held, for the same signal does something else in rest.
Why a payer asks: A payer does not. "Leave it off" on a Friday evening is a weekend without a weight shift, and a chair
    without power brings nobody upright.
What settles it: while_off, not_at_all and stays_chosen under [sitting].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed
from docgen.fit.seat import moves_by_drive, needs_seat

HEADING = "safety"
CLAIM = "The seat serves while the chair must stay off"
DANGER = "untold"
SETTINGS: dict[str, object] = {}
_WORDS = {
    "while_off": "how the seat is moved while the chair must stay off",
    "not_at_all": "how the weight is shifted where the seat moves no more",
    "stays_chosen": "whether the seat stays chosen on the control while it is held back",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if case.findings == () and case.weight_shift.is_empty:
        return cannot_tell(
            "No finding is recorded, so whether a weight shift hangs on the seat is not known.",
            ("findings",),
            mend="Record the findings.",
        )
    if not needs_seat(case):
        return does_not_apply("No weight shift and no emergency hangs on the seat.", ("weight_shift",))
    by_drive = moves_by_drive(case, grounds.fit) and case.weight_shift.starts == "driver"
    wanted = [name for name in _WORDS if by_drive or name != "stays_chosen"]
    if missing := [name for name in wanted if getattr(case.sitting, name) is None]:
        return cannot_tell(
            f"The client needs the seat, and not recorded is {listed(_WORDS[name] for name in missing)}.",
            *(("sitting", name) for name in missing),
            mend=fill_in({f"sitting.{name}": "" for name in missing}),
        )
    return met(
        "How the seat serves while the chair must stay off is recorded.", *(("sitting", name) for name in wanted)
    )
