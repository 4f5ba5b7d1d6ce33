"""Hours alone: what must be settled before anyone may step away, and what rules it out."""

from __future__ import annotations

import re

from docgen.case.model import Case
from docgen.case.supervision import Supervision
from docgen.criteria.criterion import Answer, cannot_tell, does_not_apply
from docgen.criteria.means import means_not_recorded
from docgen.criteria.mend import add_entry

UNSETTLED = ("call_without_voice", "fire", "faint", "reach_tilted", "not_settled", "toilet_and_drink", "night")
_BY_VOICE = re.compile(r"\b(?:voice|shout|speak|call(?:s|ing)? out)", re.IGNORECASE)
_LEFT_OPEN = re.compile(
    r"\b(?:not (?:yet )?|un|still to be |to be )(?:settled|decided|solved)\b|\bstill open\b", re.IGNORECASE
)
_FAINTS = "faints_on_sitting_up"
_FAINT = re.compile(r"\bfaint|\bpass(?:es|ed)? out\b|\bno answer from (?:her|him|them)\b", re.IGNORECASE)
_AT_THE_HEAD = ("head_back", "skull_base", "head_left", "head_right", "mouth", "chin", "cheek")
_ASKED = ("chair_state", "calls_by", "call_needs_chair", "help_after_min", "fire_plan")


def places_alone(case: Case) -> list[tuple[int, Supervision]]:
    """The places where nobody need be near enough to step in, each with its number among those of supervision."""
    return [(at, place) for at, place in enumerate(case.supervision) if not place.is_near]


def none_alone(case: Case) -> Answer | None:
    """The answer of a question on hours alone where there is nothing to ask it of; None where there is."""
    if not case.supervision:
        return cannot_tell(
            "Who is near, and where, is not recorded.",
            ("supervision",),
            mend=add_entry("supervision", "place", "level", "by"),
        )
    return None if places_alone(case) else does_not_apply("No hours alone are recorded.", ("supervision",))


def not_settled(case: Case, place: Supervision) -> tuple[str, ...]:
    """Keys of a place alone that are not recorded; where the seat alone moves, "if_stuck" and "drive_off" of the stop
    among them."""
    seat_moves = place.chair_state == "seat_only"
    asked = (*_ASKED, "if_stuck") if seat_moves else _ASKED
    missing = tuple(name for name in asked if getattr(place, name) is None)
    return (*missing, "drive_off") if seat_moves and not case.configuration.stop.drive_off else missing


def ruled_out_by(case: Case, place: Supervision) -> tuple[str, ...]:
    """What of the record speaks against being alone there: "call_needs_chair", "rests", "means" for a rule that names
    a switch nobody recorded, and what of `UNSETTLED` is open."""
    if place.judged is not None:
        return place.judged
    against = {
        "call_needs_chair": bool(place.call_needs_chair),
        "rests": place.chair_state == "rests",
        "means": means_not_recorded(case, " ".join((place.for_now or "", *place.before_leaving))) is not None,
    }
    return (*(name for name, holds in against.items() if holds), *unsettled(case, place))


def unsettled(case: Case, place: Supervision) -> tuple[str, ...]:
    """What of `UNSETTLED` keeps the client from being alone there: a call by voice that fails with the voice, a fire, a
    faint of somebody who has them, a control at the head of which nobody measured that it is reached with the seat
    back, what comes after a call that nobody answers, or once the client is stuck, toilet, drink and medicine, and the
    night with the time in bed."""
    if place.judged is not None:
        return tuple(name for name in place.judged if name in UNSETTLED)
    is_open = {
        "call_without_voice": bool(place.calls_by and _BY_VOICE.search(place.calls_by) and not place.voice_fails)
        or _is_open(place.calls_by, place.voice_fails),
        "fire": _is_open(place.fire_plan),
        "faint": _faints(case) and not any(_FAINT.search(text) for text in _settled_words(place)),
        "reach_tilted": place.chair_state == "seat_only"
        and case.weight_shift.starts == "driver"
        and any(not mount.gap_moved for mount in case.configuration.mounting if mount.site in _AT_THE_HEAD),
        "not_settled": _is_open(place.no_answer, place.if_stuck),
        "toilet_and_drink": _is_open(place.toilet_and_drink),
        "night": _is_open(*(caution.says for caution in case.cautions if caution.about in ("night", "bed"))),
    }
    return tuple(name for name in UNSETTLED if is_open[name])


def _faints(case: Case) -> bool:
    """Whether the answers to a condition tell of faints."""
    return any(given.ask == _FAINTS and given.yes for condition in case.conditions for given in condition.answers)


def _settled_words(place: Supervision) -> tuple[str, ...]:
    """What is settled for hours alone, where a faint would be told of."""
    return tuple(text for text in (place.calls_by, place.no_answer, place.if_stuck, place.voice_fails) if text)


def _is_open(*texts: str | None) -> bool:
    """Whether one of these texts says itself that it is not settled."""
    return any(_LEFT_OPEN.search(text) for text in texts if text)
