"""Who is near while the client drives, place by place, as the letter tells it: each a sentence that reads whole,
however the helpers are named."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.case.stage import STEPS
from docgen.case.supervision import Supervision
from docgen.criteria.alone import not_settled, ruled_out_by
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words

MADE_FROM = {
    "supervised": made_from("supervision"),
    "step_away": made_from("supervision"),
}

# what cannot stand between a person and a verb: a list, an aside, where somebody is or by what they are called
_BREAKS = re.compile(r"[,;:()]| (?:from|by|with|at|on|in|away)\b")


class SupervisedRow(TypedDict):
    """One place.

    who    subject of the sentence: the helpers where their name reads as one, else how many
    named  the helpers where the sentence before could not hold them; empty else
    after  of a later arrangement: what must be reliable first; empty for what holds now
    until  until when; a step of training by what is then reliable, never by its name
    open   of hours alone: in words, what must be settled before nobody need be near; empty where nothing is
    against   of hours alone: in words, what the record holds against them
    """

    place: str
    who: str | None
    level: str
    named: str
    after: str
    until: str
    open: tuple[str, ...]
    against: tuple[str, ...]
    _labels: dict[str, str]


def supervised(case: Case, words: Words) -> Iterator[SupervisedRow]:
    """Each place of the case, in its order; what holds only later comes last."""
    for place in sorted(case.supervision, key=lambda place: place.is_later):
        apart = bool(place.by and _BREAKS.search(place.by))
        yield {
            "place": place.place,
            "who": _how_many(place, words) if apart else place.by,
            "level": place.level,
            "named": _in_one(place.by) if apart and place.by else "",
            "after": _reliable_then(place.after_stage, words),
            "until": _until(place, words),
            "open": alone_open(case, place, words),
            "against": alone_against(case, place, words),
            "_labels": {"who": "how many people" if apart else "who is near"},
        }


def _how_many(place: Supervision, words: Words) -> str | None:
    if place.needs is None and len(place.who) > 1:  # one of them, or all: that is not recorded
        return None
    n = place.needs or 1
    numbers: list[str] = words["numbers"]
    return str(words["someone"] if n == 1 else words["people"].format(n=numbers[n]))


def _in_one(by: str) -> str:
    """The helpers as one phrase: what a colon or a bracket sets off follows a comma."""
    return re.sub(r"\s*[;:(]\s*", ", ", by.replace(")", "")).rstrip("., ")


def _reliable_then(stage: int | None, words: Words) -> str:
    return "" if stage is None else str(words["step_waits"][STEPS[stage]])


def _until(place: Supervision, words: Words) -> str:
    until = place.until or ""
    if place.until_stage is None:
        return until
    _, _, then = until.partition(";")
    waits = _reliable_then(place.until_stage, words)
    return f"{waits}; {then.strip()}" if then.strip() else waits


class StepAwayRow(TypedDict):
    """One place, and whether whoever is near may leave the client there.

    open     in words, what is not recorded and must be settled before someone may step away; empty where nothing is
    against  in words, what the record holds against it
    reach_s  seconds in which someone who may be away from the chair must reach its stop; None where they stand at it
    """

    place: str
    level: str
    by: str | None
    for_now: str
    open: tuple[str, ...]
    against: tuple[str, ...]
    alone: bool
    reach_s: float | None
    _labels: dict[str, str]


def step_away(case: Case, words: Words) -> Iterator[StepAwayRow]:
    """Each place of the case, in its order, as it holds today: no arrangement for a later step."""
    for place in case.supervision:
        if place.is_later:
            continue
        alone = not place.is_near
        yield {
            "place": place.place,
            "level": place.level,
            "by": place.by,
            "for_now": place.for_now or "",
            "open": alone_open(case, place, words),
            "against": alone_against(case, place, words),
            "alone": alone,
            "reach_s": place.reach_s if place.level in ("same_room", "in_sight") else None,
            "_labels": {"by": "who"},
        }


def alone_open(case: Case, place: Supervision, words: Words) -> tuple[str, ...]:
    """In words, what of hours alone is not recorded; empty where someone is near."""
    return () if place.is_near else tuple(words["alone_open"][key] for key in not_settled(case, place))


def alone_against(case: Case, place: Supervision, words: Words) -> tuple[str, ...]:
    """In words, what the record holds against hours alone; empty where someone is near."""
    return () if place.is_near else tuple(words["alone_against"][key] for key in ruled_out_by(case, place))
