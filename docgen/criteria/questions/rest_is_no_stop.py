"""A switch that only puts the control in standby is called no stop.

Asks: What happens after the stop switch; where it only puts the control in standby, and a signal wakes it, whether any
    line, part or feature calls it a stop.
Why a payer asks: A payer does not. Whoever presses a stop and turns away must not find the chair moving.
What settles it: configuration.stop.after_stop and set_back; another name for the switch, or a switch that stops.
Source: common practice in machinery: a stop holds until it is deliberately reset (summaries of ISO 13850, which is for
    machines, not wheelchairs).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "A switch that only gives standby is not called a stop"
DANGER = True
SETTINGS: dict[str, object] = {}
# what a line, part or feature is called is what its reader takes it for
_CALLED_STOP = re.compile(r"\bstop[ -](switch|button|box|pad)", re.IGNORECASE)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    stop = case.configuration.stop
    after: KeyPath = ("configuration", "stop", "after_stop")
    if not stop.stop_switch and stop.has_switch is False:
        return does_not_apply("The chair has no stop switch.", ("configuration", "stop", "has_switch"))
    if not stop.stop_switch:
        return cannot_tell(
            "Whether there is a stop switch is not recorded.",
            ("configuration", "stop"),
            mend=fill_in({"stop_switch": "", "after_stop": ""}, " under [configuration.stop]"),
        )
    if stop.after_stop is None:
        return cannot_tell(
            "What happens after the stop switch is not recorded.",
            after,
            mend=fill_in({"configuration.stop.after_stop": '"waits", "starts" or "rests"'}),
        )
    calling = [*_calling_it_stop(case)] if stop.after_stop == "rests" and not stop.helpers_own else []
    if calling:
        places = listed(dict.fromkeys(name for name, _ in calling))
        return not_met(
            f"The switch only puts the control in standby, and is called a stop in {places}.",
            after,
            *dict.fromkeys(where for _, where in calling),
            mend="Call it what it is, or request a switch that stops until it is set back.",
        )
    if stop.after_stop == "waits" and not stop.set_back:
        return cannot_tell(
            "How the stop switch is set back is not recorded, and each day's stop test needs it.",
            ("configuration", "stop", "set_back"),
            mend=fill_in({"configuration.stop.set_back": ""}),
        )
    return met("No switch that only puts the control in standby is called a stop.", after)


def _calling_it_stop(case: Case) -> Iterator[tuple[str, KeyPath]]:
    """What calls a switch of the chair a stop, and where it does so."""
    configuration = case.configuration
    for at, feature in enumerate(configuration.features):
        if feature.id == "stop_switch":
            yield "the requested features", ("configuration", "features", at)
    for at, mount in enumerate(configuration.mounting):
        if _CALLED_STOP.search(mount.part):
            yield "the mounting record", ("configuration", "mounting", at, "part")
    for at, item in enumerate(configuration.items):
        if _CALLED_STOP.search(item.name):
            yield "the order", ("configuration", "items", at, "name")
    for at, place in enumerate(case.supervision):
        if place.stops_with == "stop_switch":
            yield "supervision", ("supervision", at, "stops_with")
