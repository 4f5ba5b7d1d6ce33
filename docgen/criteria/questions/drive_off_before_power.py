"""Power comes on for the seat only once driving is shut off.

Asks: Wherever the record says that the chair is turned on, or its stop switch let out, to move the seat, for a weight
    shift, in an emergency, on a ride or before somebody leaves, whether driving is shut off first, in the order of the
    words.
Why a payer asks: A payer does not. What the control is in when the power comes on may be drive; a gasp or a cough then
    drives the chair over whoever reached for its switch.
What settles it: the order in chair_off and stop_pressed of the emergency conditions, while_off, no_power and stuck
    under [sitting], weight_shift.helper, transport.says, [[emergency.steps]], and for_now, before_leaving, if_stuck,
    backs_out and helps_with of [[supervision]]. The order is read in these words themselves: pages print them as they
    stand, and who reads them does what comes first.
Source: common practice in machinery: it is locked before power comes back (summaries of ISO 14118, which is for
    machines, not wheelchairs).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.criteria.means import names_of
from docgen.criteria.questions import others_can_stop_it

HEADING = "safety"
CLAIM = "Driving is shut off before power comes on for the seat"
DANGER = True
QUIET = True
SETTINGS: dict[str, object] = {}
_POWER = re.compile(
    r"\b(?:key|power)(?: switch)?(?: [A-Z])?(?: is)? on\b|\bturn A\b[^.;]*\bout\b|\bA(?: is)? out\b"
    r"|\bturn\w* (?:it|her|him|the (?:key|power|chair)) on\b",
    re.IGNORECASE,
)
_SHUT_OFF = (
    r"\b(?:lever|switch|key) F\b|\(F\)|\bF (?:is |to the )?(?:left|right|shut off|off)\b|\bafter step 1\b"
    r"|\b(?:driv(?:e|ing)|wheels) (?:is )?(?:shut )?(?:off|locked)\b"
)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if case.configuration.stop.is_empty:
        return others_can_stop_it.answer(grounds)  # how it is stopped comes first, and is asked for in the same words
    if not case.configuration.stop.drive_off:
        return does_not_apply("Nothing that shuts off driving alone is recorded.", ("configuration", "stop"))
    powered = [(where, words) for where, words in _instructions(case) if _POWER.search(words)]
    if not powered:
        return does_not_apply("No words of the record turn the power on for the seat.", ("sitting",))
    names = names_of(case.configuration.stop.drive_off)
    shut_off = re.compile("|".join((_SHUT_OFF, *(re.escape(name) for name in names))), re.IGNORECASE)
    for where, words in powered:
        before = words[: next(_POWER.finditer(words)).start()]
        if not shut_off.search(before):
            return not_met(
                f"The power comes on before driving is shut off: “{words.rstrip('. ')}”.",
                where,
                mend=f"Write first what shuts off driving: {case.configuration.stop.drive_off.rstrip('. ')}.",
                bare="The power comes on for the seat before driving is shut off.",
            )
    return met("Wherever the power comes on for the seat, driving is shut off first.", *(where for where, _ in powered))


def _instructions(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Each text that may turn the chair on, with its place; the emergency page is read from its first step on."""
    for at, condition in enumerate(case.conditions):
        for n, given in enumerate(condition.answers):
            if given.ask in ("chair_off", "stop_pressed"):
                yield ("conditions", at, "answers", n), given.says or ""
    for name in ("while_off", "no_power", "stuck"):
        yield ("sitting", name), getattr(case.sitting, name) or ""
    yield ("weight_shift", "helper"), case.weight_shift.helper or ""
    yield ("transport", "says"), case.transport.says or ""
    for at, place in enumerate(case.supervision):
        for name in ("for_now", "if_stuck", "backs_out"):
            yield ("supervision", at, name), getattr(place, name) or ""
        yield ("supervision", at, "before_leaving"), " ".join(place.before_leaving)
        for n, visit in enumerate(place.looks_in):
            yield ("supervision", at, "looks_in", n), visit.helps_with
    steps = " ".join(f"{step.says or ''} {step.with_help or ''}".strip() for step in case.emergency.steps)
    yield ("emergency", "steps"), steps
