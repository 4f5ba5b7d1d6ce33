"""A press that stops the chair and is held on does not set it driving again.

Asks: What a press of the driver's stop switch does when it is held on, where the same control has a command that sets
    it back to drive.
Why a payer asks: A payer does not. In a spasm, or in fear, the press that stops the chair is the one that is held.
What settles it: configuration.stop.held_press, tried on the control as it is asked for, with held_press_on and
    held_press_by.
Source: common practice in machinery: a stop holds until it is deliberately reset (summaries of ISO 13850, which is for
    machines, not wheelchairs).
"""

from __future__ import annotations

from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.questions import others_can_stop_it
from docgen.criteria.sentences import day, listed

HEADING = "safety"
CLAIM = "A stop switch that is held on does not start the chair"
DANGER = "untold"
QUIET = True
SETTINGS: dict[str, object] = {}
_TRIED = {"held_press_on": "when that was tried", "held_press_by": "who tried it"}


def answer(grounds: Grounds) -> Answer:
    configuration = grounds.case.configuration
    stop = configuration.stop
    held_press: KeyPath = ("configuration", "stop", "held_press")
    is_known = stop.helpers_own and not configuration.is_latched  # a helper's is recorded, none of the driver's
    if stop.stop_switch is None and stop.stop_switch_by is None and stop.has_switch is not False and not is_known:
        return others_can_stop_it.answer(grounds)  # where the switch is comes first, and is asked for in the same words
    if not stop.stop_switch or stop.stop_switch_by not in ("driver", "both"):
        return does_not_apply("No stop switch of the driver's own is recorded.", ("configuration", "stop"))
    if not any(command.does == "drive" for command in configuration.commands):
        return does_not_apply("No command sets the control back to drive.", ("configuration", "commands"))
    if stop.held_press is None:
        return cannot_tell(
            "Whether the driver's stop switch, held on, sets the chair driving again is not recorded.",
            held_press,
            mend=fill_in({"configuration.stop.held_press": '"stays" or "drives"'}),
        )
    if stop.held_press == "drives":
        return not_met(
            "The press that stops the chair sets it back to drive when it is held on.",
            held_press,
            mend="Have drive set back by a new press alone, or by another switch, and try it.",
        )
    untold = [name for name in ("held_press_on", "held_press_by") if getattr(stop, name) is None]
    if stop.held_press_on is None or untold:
        return cannot_tell(
            f"The press that stops the chair starts nothing when it is held on, and not recorded is "
            f"{listed(_TRIED[name] for name in untold)}.",
            held_press,
            mend=fill_in({f"configuration.stop.{name}": "" for name in untold}),
        )
    return met(
        f"The press that stops the chair starts nothing when it is held on, as tried on {day(stop.held_press_on)}.",
        held_press,
        ("configuration", "stop", "held_press_on"),
    )
