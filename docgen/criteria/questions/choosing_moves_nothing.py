"""The signal that chooses the seat does not move it when it is kept on.

Asks: Where the signal that chooses the seat on the control is also one that moves it, what the seat does while that
    signal is kept on past the choice, and when that was tried.
Why a payer asks: A payer does not. Who waits for the word with the puff still on lies down to an angle that nobody set,
    away from the control, and perhaps alone.
What settles it: chosen_held and chosen_held_on under [sitting], as tried on the requested control; or another signal in
    sitting.commands.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day

HEADING = "safety"
CLAIM = "The signal that chooses the seat moves nothing when it is kept on"
DANGER = "untold"
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    commands: KeyPath = ("sitting", "commands")
    chosen_held: KeyPath = ("sitting", "chosen_held")
    shared = next(_shared(case), None)
    if shared is None:
        return does_not_apply("No signal is recorded that both chooses the seat and moves it.", commands)
    chooses, moves = shared
    both = f"“{chooses}” chooses the seat, and kept on it is the signal at which {moves}"
    if case.sitting.chosen_held is None:
        return cannot_tell(
            f"{both}; what the seat does then is not recorded.",
            chosen_held,
            commands,
            mend=fill_in({"sitting.chosen_held": '"stays" or "moves"'}),
            bare="What the seat does while the signal that chooses it is kept on is not recorded.",
        )
    if case.sitting.chosen_held == "moves":
        return not_met(
            f"{both}; the seat moves then.",
            chosen_held,
            commands,
            mend="Have the seat move only at a new signal, or let another one choose it, and try it.",
            danger=True,
            bare="The signal that chooses the seat moves it when it is kept on.",
        )
    if case.sitting.chosen_held_on is None:
        return cannot_tell(
            "The seat stays while the signal that chooses it is kept on, and when that was tried is not recorded.",
            chosen_held,
            mend=fill_in({"sitting.chosen_held_on": ""}),
        )
    return met(
        f"The seat stays while the signal that chooses it is kept on, as tried on {day(case.sitting.chosen_held_on)}.",
        chosen_held,
    )


def _shared(case: Case) -> Iterator[tuple[str, str]]:
    """Each signal given once that a later command holds on: the signal, and what moves by it."""
    once: dict[str, str] = {}
    for command in case.sitting.commands:
        signal = command.input.strip(" .").lower()
        if command.kept == "held" and signal in once:
            yield once[signal], command.moves
        if command.kept == "once":
            once[signal] = command.input
