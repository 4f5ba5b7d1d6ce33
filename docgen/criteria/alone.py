"""Hours alone: what must be settled before anyone may step away, and what rules it out."""

from __future__ import annotations

from datetime import time
from typing import get_args

from docgen.case.model import Case
from docgen.case.supervision import SettledAlone, Supervision
from docgen.criteria.criterion import Answer, cannot_tell, does_not_apply
from docgen.criteria.mend import add_entry

# what may keep somebody from being alone, in the order of the pages; `reach_tilted` is settled by measuring it alone
_SETTLED_BY_NAME = get_args(SettledAlone)
_MEASURED_AFTER = _SETTLED_BY_NAME.index("weight_shifts") + 1
UNSETTLED = (*_SETTLED_BY_NAME[:_MEASURED_AFTER], "reach_tilted", *_SETTLED_BY_NAME[_MEASURED_AFTER:])
_FAINTS, _DYSREFLEXIA, _WEAK_COUGH = "faints_on_sitting_up", "dysreflexia_ever", "weak_cough"
_AT_THE_HEAD = ("head_back", "skull_base", "head_left", "head_right", "mouth", "chin", "cheek")
_MORNING, _EVENING, _NO_NIGHT_MIN = time(6), time(22), 240  # common practice, no source
HOURS_ALONE = "alone_hours"  # the finding
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


def is_unsettled(case: Case) -> bool:
    """Whether there are hours alone for which something is not recorded or speaks against them: a reason or a gain that
    rests on them does not count yet."""
    return any(not_settled(case, place) or ruled_out_by(case, place) for _, place in places_alone(case))


def coughs_weakly(case: Case) -> bool:
    """Whether a cough or breath is weak, by what a condition's question was answered or by a finding."""
    answers = (answer for entry in case.conditions for answer in entry.answers)
    by_answer = any(answer.ask == _WEAK_COUGH and answer.says for answer in answers)
    return by_answer or any(
        finding.id in ("breath_weak", "cough_weak", "vital_capacity_low") for finding in case.findings
    )


def not_settled(case: Case, place: Supervision) -> tuple[str, ...]:
    """Keys of a place alone that are not recorded; where the seat alone moves, "if_stuck" and "drive_off" of the stop
    among them."""
    seat_moves = place.chair_state == "seat_only"
    asked: tuple[str, ...] = (*_ASKED, "if_stuck") if seat_moves else _ASKED
    if place.chair_state == "in_bed":  # no call is made through a chair in which nobody sits
        asked = tuple(name for name in asked if name != "call_needs_chair")
    missing = tuple(name for name in asked if getattr(place, name) is None)
    return (*missing, "drive_off") if seat_moves and not case.configuration.stop.drive_off else missing


def ruled_out_by(case: Case, place: Supervision) -> tuple[str, ...]:
    """What of the record speaks against being alone there: "call_needs_chair", "rests", and what of
    `UNSETTLED` is open."""
    against = {
        "call_needs_chair": bool(place.call_needs_chair),
        "rests": place.chair_state == "rests",
    }
    return (*(name for name, holds in against.items() if holds), *unsettled(case, place))


def _may_be_at_night(place: Supervision) -> bool:
    """Whether hours alone may hold a night: by their times, or where none are recorded by how long they last."""
    if place.hours:
        return any(
            alone.starts_at > alone.ends_at or alone.starts_at < _MORNING or alone.ends_at > _EVENING
            for alone in place.hours
        )
    return place.longest_min is None or place.longest_min > _NO_NIGHT_MIN


def unsettled(case: Case, place: Supervision) -> tuple[str, ...]:
    """What of `UNSETTLED` keeps the client from being alone there: what is written of it and not named in `settled`,
    a call that fails once it needs no voice, the faint of somebody who has them, dysreflexia, for which the client
    must come upright, a weak cough, and, where the seat alone moves, a weight shift that the client starts and a
    control at the head of which nobody measured that it is reached with the seat back."""
    given = [answer for entry in case.conditions for answer in entry.answers]
    has_had = {answer.ask for answer in given if answer.yes}
    arises = {
        "call_without_voice": place.calls_by is not None,
        # while the call without the voice is open, a second way to call is asked for with it
        "call_fails": place.calls_by is not None and "call_without_voice" in place.settled,
        "fire": place.fire_plan is not None,
        "faint": _FAINTS in has_had,
        "sit_up": _DYSREFLEXIA in has_had,
        "phlegm": coughs_weakly(case),
        "weight_shifts": place.chair_state == "seat_only" and case.weight_shift.starts == "driver",
        "no_answer": place.no_answer is not None or place.if_stuck is not None,
        "toilet_and_drink": place.toilet_and_drink is not None,
        "night": _may_be_at_night(place) and any(caution.about in ("night", "bed") for caution in case.cautions),
        "reach_tilted": place.chair_state == "seat_only"
        and case.weight_shift.starts == "driver"
        and any(not mount.gap_moved for mount in case.configuration.mounting if mount.site in _AT_THE_HEAD),
    }
    return tuple(name for name in UNSETTLED if arises[name] and name not in place.settled)
