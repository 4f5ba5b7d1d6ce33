"""What a base has to have by itself, because no line of the order brings it, and what came after the order."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.lines import orders_chair
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.documents.settings_by_part import lock_lines
from docgen.fit.feature import features
from docgen.fit.stopping_means import STOP_FEATURES

MADE_FROM = {
    "base_asked": made_from(
        "configuration.features.with_base",
        "configuration.standard_parts",
        "configuration.profiles",
        "configuration.choose_by",
        "configuration.seat_deg",
        "configuration.stop",
        "request.growth",
        locks=("configuration.settings", "configuration.items.code", "configuration.items.features"),
    ),
    "after_order": made_from("authorization.decision", "authorization.decided_on", "dates.delivered_on"),
}

_MEANS = ("helper_stop", "drive_lock", "seat_switch", "attendant_control", "display")
_HANDLES = {"push_handle_left": "handle_left", "push_handle_right": "handle_right"}


class BaseAsked(TypedDict):
    """has    names of what the base must have, in the trade's words; empty where the chair is not ordered
    locks  codes of the lines, of the switch and of the controller, of which any may give the lock after a press that
           stops and the time between presses that count as one; empty where none are counted, or one line alone can
    """

    has: tuple[str, ...]
    locks: tuple[str, ...]


class AfterOrder(TypedDict):
    """What the record holds by now, whatever day the order itself tells.

    decided       the payer has decided on prior authorization, and the order does not tell it: it is of an earlier day
    decision      what it decided, None where it did not
    decided_on    the day of it, None where none is recorded
    delivered     the chair has been handed over
    delivered_on  the day of it
    """

    decided: bool
    decision: str | None
    decided_on: date | None
    delivered: bool
    delivered_on: date | None


def base_asked(case: Case, words: Words) -> BaseAsked:
    """Features said to come with the base, means of stopping and parts of helpers that do, its drive profiles, the push
    handle that a stop is clamped to, anchors for belts that are taken over, a seat that is tilted for driving without a
    motor, and room to grow."""
    has = (*_come_with_it(case, words), *_made_for_it(case, words["base_asked"])) if orders_chair(case) else ()
    return {"has": has, "locks": lock_lines(case)}


def _come_with_it(case: Case, words: Words) -> Iterator[str]:
    """Features and standard parts said to come with the base; a stop that both tell of is told once."""
    opens = words["base_asked"]["opens"]
    with_base = {chosen.id for chosen in case.configuration.features if chosen.with_base}
    for feature_id in (chosen.id for chosen in case.configuration.features if chosen.with_base):
        if feature_id != "separate_profiles":
            name = features()[feature_id].name
            yield f"{name} {opens}" if feature_id == "attendant_stop" else name
    for part in case.configuration.standard_parts:
        is_stop = part.part == "helper_stop"
        if part.comes == "with_base" and part.part in _MEANS and not (is_stop and with_base & {*STOP_FEATURES}):
            name = words["standard_part"][part.part]
            yield f"{name} {opens}" if is_stop else name


def _made_for_it(case: Case, wording: Words) -> Iterator[str]:
    """What the base needs for what is set, clamped or moved over to it, and to grow.

    wording  words of what is asked of a base
    """
    asked = case.configuration
    if len(asked.profiles) > 1:
        by = wording["by_attendant"] if asked.choose_by == "helper" else ""
        yield wording["profiles"].format(n=len(asked.profiles), by=by)
    if handle := _HANDLES.get(asked.stop.at_hand[1] or ""):
        yield wording[handle]
    if any(part.part == "belt" and part.comes == "moves_over" for part in asked.standard_parts):
        yield wording["anchors"]
    if asked.chair.seat_actuators == 0 and asked.seat_deg:
        yield wording["fixed_tilt"].format(degrees=f"{asked.seat_deg:g}")
    if case.request.growth:
        yield wording["growth"]


def after_order(case: Case, then: Case) -> AfterOrder:
    """As the whole record has it beside the case as it stood on the day of the paper: a paper of an earlier day says
    that it is a later copy, and of which days it does not tell, so that no reader takes the delivery for one before
    the decision."""
    decided = case.authorization.decision is not None and then.authorization.decision is None
    return {
        "decided": decided,
        "decision": case.authorization.decision if decided else None,
        "decided_on": case.authorization.decided_on if decided else None,
        "delivered": case.dates.delivered_on is not None,
        "delivered_on": case.dates.delivered_on,
    }
