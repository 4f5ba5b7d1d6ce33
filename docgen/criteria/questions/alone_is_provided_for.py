"""Hours alone are provided for.

Asks: Where the client is alone: what state the chair is in and what could start it, how help is called without the
    chair, how long until someone is there, and what holds at smoke or fire. A chair that is in standby and that a
    signal wakes is not safe by being told not to; how often the control was set off unintended in the trial is given
    per hour. Whether a call without the voice, a call that fails, a fire, a faint, coming upright in dysreflexia,
    phlegm, missed weight shifts, the reach of the control with the seat back, toilet and drink, or the night is left
    open, and who then stays.
Why a payer asks: A claim of independence rests on it.
What settles it: chair_state, calls_by, call_needs_chair, help_after_min and fire_plan of each place in [[supervision]]
    at level "on_call" or "alone"; if_stuck there and configuration.stop.drive_off where the seat alone
    moves; gap_moved of each part at the head; settled, which names what of these hours is, and for_now, with who
    stays, where something is not.
Source: two ways out, and practice twice a year: a university burn center and a patient organisation, 2011; no published
    guidance on hours alone was found.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import get_args

from docgen.case.model import Case
from docgen.case.supervision import SettledAlone, Supervision
from docgen.criteria.alone import none_alone, not_settled, places_alone, unsettled
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.means import means_not_recorded, record_it
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import capital, counted, listed
from docgen.evidence.fact import Evidence, Fact

HEADING = "safety"
CLAIM = "Hours alone are provided for"
DANGER = "untold"
SETTINGS: dict[str, object] = {}
_OPEN = {
    "call_without_voice": "whether the call needs the voice, and how help is called when that fails",
    "call_fails": "how help is called when what calls fails or is out of reach",
    "fire": "a fire",
    "faint": "what is done in a faint",
    "sit_up": "how the client comes upright alone in dysreflexia",
    "phlegm": "who clears phlegm, since cough or breath is weak",
    "weight_shifts": "what is done when weight shifts are missed",
    "reach_tilted": "whether the control is reached with the seat back",
    "no_answer": "what follows once nobody answers, or the client is stuck",
    "toilet_and_drink": "toilet, drink and medicine in these hours",
    "night": "the night in bed",
}
_SAFE_STATES = {"chair_state": '"off", "seat_only", "drives" or "in_bed"'}  # one in standby is woken by a command
_WORDS = {
    "chair_state": "whether the client is in the chair then, and what state it is in",
    "calls_by": "how help is called",
    "call_needs_chair": "whether that call needs the chair",
    "help_after_min": "how long at most until someone is there",
    "fire_plan": "what holds at smoke or fire",
    "if_stuck": "what the client does with the seat back and the control out of reach",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing_to_ask := none_alone(case):
        return nothing_to_ask
    alone = places_alone(case)
    for at, place in alone:
        if place.call_needs_chair:
            return not_met(
                f"{capital(place.place)}: help is called through the chair, which may be off, flat or broken.",
                ("supervision", at, "call_needs_chair"),
                mend="Add a way to call that works without the chair, try it, and record it.",
            )
        if place.chair_state == "rests":
            fact = _set_off(grounds)
            return not_met(
                f"{capital(place.place)}: the chair is in standby, and a command wakes it{_often(fact)}. "
                "That the client must not is no safeguard.",
                ("supervision", at, "chair_state"),
                facts=(fact.id,) if fact else (),
                mend='Turn the chair off or lock its drive: chair_state = "off" or "seat_only".',
            )
        if means := means_not_recorded(case, " ".join((place.for_now or "", *place.before_leaving))):
            return cannot_tell(
                f"{capital(place.place)}: the rule for now names the {means}, and none on record is called that.",
                ("supervision", at, "for_now"),
                mend=record_it(means),
                danger=True,
            )
        if missing := _missing(case, place):
            who = "whoever is on call is not near, and " if place.level == "on_call" else ""
            also, settle = _also_open(case, place)
            return cannot_tell(
                f"{capital(place.place)}: {who}not recorded is {listed(words for _, words in missing)}.{also}",
                ("supervision", at),
                mend=fill_in(
                    {name: _SAFE_STATES.get(name, "") for name, _ in missing}, f"{_of_the_place(missing)}{settle}"
                ),
            )
        if (is_open := unsettled(case, place)) and not place.for_now:
            return not_met(
                f"{capital(place.place)}: not settled is {listed(_OPEN[name] for name in is_open)}, and nothing says "
                "who stays until then.",
                ("supervision", at),
                mend="Settle it and name it in settled of the place in [[supervision]], or write in for_now there who "
                "stays until it is signed.",
                danger=True,
            )
    if waits := [place for _, place in alone if unsettled(case, place)]:
        return met(
            f"Nobody is alone in {counted(len(waits), 'place', 'places')} until what is not settled is signed; "
            "who stays until then is recorded.",
            *(("supervision", at, "for_now") for at, _ in alone),
        )
    return met(
        f"Chair, call, help and fire are provided for in {counted(len(alone), 'place', 'places')} alone.",
        *(("supervision", at) for at, _ in alone),
    )


def _also_open(case: Case, place: Supervision) -> tuple[str, str]:
    """What is not settled of a place besides keys that are not recorded, and what settles it; each empty for none."""
    is_open = () if place.for_now else unsettled(case, place)
    if not is_open:
        return "", ""
    words = f" Not settled either: {listed(_OPEN[name] for name in is_open)}."
    by_name = [f'"{name}"' for name in is_open if name in get_args(SettledAlone)]
    settled = [f"once that is settled name {listed(by_name)} in settled there"] if by_name else []
    measured = ["fill in gap_moved of each part at the head"] if "reach_tilted" in is_open else []
    return words, f"; {listed([*measured, *settled])}, or write in for_now who stays until then"


def _of_the_place(missing: Sequence[tuple[str, str]]) -> str:
    """Where the keys are filled in that are not told with their whole path."""
    at_place = [name for name, _ in missing if "." not in name]
    others = ", the others" if len(at_place) < len(missing) else ""
    return f"{others} of the place in [[supervision]]" if at_place else ""


def _missing(case: Case, place: Supervision) -> list[tuple[str, str]]:
    """Keys that are not recorded, each with its words."""
    return [
        ("configuration.stop.drive_off", "what turns the drive off and leaves the seat working")
        if name == "drive_off"
        else (name, _WORDS[name])
        for name in not_settled(case, place)
    ]


def _set_off(grounds: Grounds) -> Fact | None:
    """How often the requested control was set off unintended in the trial, in a minute."""
    evidence: Evidence = grounds.evidence
    method = grounds.case.configuration.method
    return evidence.of("unintended", method) if method else None


def _often(fact: Fact | None) -> str:
    if fact is None or fact.value is None:
        return "; how often it is set off unintended is not on record"
    return f", which happened unintended about {fact.value * 60:.0f} times an hour in the trial"
