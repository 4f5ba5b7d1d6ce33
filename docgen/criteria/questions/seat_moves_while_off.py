"""A chair that must stay off still lets the seat serve.

Asks: Where a weight shift is set, or an emergency moves the client by the seat: how the seat is moved while the chair
    must stay off, and how the weight is shifted where the seat moves no more. Where the driver moves the seat by the
    control: whether it stays chosen for as long as it is held, for the same signal does something else in rest. Where a
    pressed stop holds the seat too: whether the words for a chair that must stay off let it out.
Why a payer asks: A payer does not. "Leave it off" on a Friday evening is a weekend without a weight shift, and a chair
    without power brings nobody upright.
What settles it: while_off, not_at_all and stays_chosen under [sitting]; holds_seat under [configuration.stop]. Whether
    while_off and no_power let the stop out is read in their own words: pages print them as they stand.
Source: common practice, no source.
"""

from __future__ import annotations

import re

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.fit.condition import answer_to
from docgen.fit.seat import moves_by_drive, needs_seat

HEADING = "safety"
CLAIM = "The seat serves while the chair must stay off"
DANGER = "untold"
SETTINGS: dict[str, object] = {}
_LET_OUT = re.compile(r"\b(?:turn|pull|twist)\w*\b[^.;]*\b(?:out|back)\b|\bA(?: is)? out\b", re.IGNORECASE)
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
            mend=add_entry("findings", "id", "says", "measure"),
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
    stop = case.configuration.stop
    if stop.holds_seat is None and answer_to(case, "autonomic_dysreflexia", "stop_pressed"):
        return cannot_tell(
            "What moves the seat once the stop is pressed is recorded, and not whether the stop holds the seat.",
            ("configuration", "stop", "holds_seat"),
            mend=fill_in({"configuration.stop.holds_seat": "<true or false>"}),
        )
    if stopped := _left_pressed(case):
        return not_met(
            f"A pressed stop holds the seat too, and the words of {listed(stopped)} leave it pressed.",
            *(("sitting", name) for name in stopped),
            mend="Write there that the stop is let out once driving is shut off, as stop_pressed says.",
            danger=True,
        )
    return met(
        "How the seat serves while the chair must stay off is recorded.", *(("sitting", name) for name in wanted)
    )


def _left_pressed(case: Case) -> list[str]:
    """Keys whose words move the seat of a chair that was stopped, and do not let out a stop that holds the seat."""
    if not case.configuration.stop.holds_seat:
        return []
    texts = {name: getattr(case.sitting, name) for name in ("while_off", "no_power")}
    return [name for name, words in texts.items() if words and not _LET_OUT.search(words)]
