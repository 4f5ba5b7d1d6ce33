"""What needs reverse is not asked of a control that has none.

Asks: Whether a goal, an activity or a place needs the chair to back up, with a control that cannot: an elevator or a
    room it cannot turn in, a table to be left; and, where it is said how it comes out, whether the floor to turn on is
    measured behind each door that it drives through.
Why a payer asks: A chair that drives in and cannot come out does not give what the letter claims for that place.
What settles it: A feature of reverse and its command; or without_reverse under [configuration], which says how it gets
    out; or turning_mm of the place, as large as the turning diameter. What someone wrote of a goal, an activity or a
    place is held against the control in their own words, which also tell of leaving a table.
Source: US national coverage determination 280.3, question 6; which words tell of backing up is common practice, no
    source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.need import Space
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.criteria.ways_out import floor_mm
from docgen.units import length

HEADING = "record"
CLAIM = "Where reverse is needed, the control has it"
SHOWN_IN = ("letter: Safety and Home Environment",)
IN_LIMITS = True
SETTINGS: dict[str, object] = {}

_BACKING = re.compile(
    r"\b(backs? (out|up|away)|backing|backward|in reverse|away from|leaves? the table|away again)\b", re.I
)
_WITHOUT: KeyPath = ("configuration", "without_reverse")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.spaces and not case.goals and not case.activities:
        return cannot_tell("No place, goal or activity is recorded.", ("spaces",), mend=add_entry("spaces", "name"))
    needs = [*_needing(case)]
    if not needs:
        return does_not_apply("No place, goal or activity is known to need reverse.", ("spaces",), ("goals",))
    backs, uses, places = case.configuration.backs, listed(words for words, _ in needs), tuple(at for _, at in needs)
    if backs:
        return met(f"The control has reverse, which is needed for {uses}.", ("configuration", "commands"), *places)
    if case.configuration.without_reverse:
        return _comes_out(case, case.configuration.without_reverse, places)
    if backs is None:
        return cannot_tell(
            f"Whether the control has reverse is not recorded; it is needed for {uses}.",
            ("configuration", "commands"),
            *places,
            mend=add_entry("configuration.commands", "input", does="back"),
        )
    others = case.configuration.has_reverse is True
    how = "<how it comes out, and who drives it backward by what>" if others else "<how it comes out>"
    return not_met(
        f"No command on record backs the chair up, which is needed for {uses}."
        + (" It is recorded that somebody can drive it backward, and not by what." if others else ""),
        ("configuration", "commands"),
        *([("configuration", "has_reverse")] if others else []),
        *places,
        mend=fill_in({"configuration.without_reverse": how}, lead="Request reverse, or fill in"),
    )


def _comes_out(case: Case, how: str, places: tuple[KeyPath, ...]) -> Answer:
    """How it comes out is said; it holds where the floor behind each door is measured, and large enough."""
    entered = [(at, space) for at, space in enumerate(case.spaces) if _is_entered(space)]
    if unmeasured := [(at, space) for at, space in entered if space.turning_mm is None]:
        return cannot_tell(
            f"The driver does not back up, and the floor to turn on is not measured behind the "
            f"{listed(space.name for _, space in unmeasured)}.",
            _WITHOUT,
            *(("spaces", at, "turning_mm") for at, _ in unmeasured),
            mend=fill_in({"turning_mm": "<mm>"}, " of each space"),
        )
    circle_mm = case.configuration.chair.turning_mm
    if small := [(at, space) for at, space in entered if circle_mm and recorded(space.turning_mm) < circle_mm]:
        return not_met(
            f"The driver does not back up, and the chair cannot turn behind the "
            f"{listed(space.name for _, space in small)}.",
            *(("spaces", at, "turning_mm") for at, _ in small),
            mend="Request reverse, or claim nothing for that place.",
        )
    return met(f"The driver does not back up. {how.rstrip('. ')}.", _WITHOUT, *places)


def _is_entered(space: Space) -> bool:
    """Whether it is a door at home with the room behind it measured, that the chair drives into."""
    return space.kind == "doorway" and space.at_home is True and space.ahead_from == "way_in"


def _needing(case: Case) -> Iterator[tuple[str, KeyPath]]:
    """What needs the chair to back up, in a few words, and where it stands."""
    for at, space in enumerate(case.spaces):
        if words := _without_room_to_turn(space, case.configuration.chair.turning_mm):
            yield words, ("spaces", at)
    if case.configuration.backs is False:
        entered = ((at, space) for at, space in enumerate(case.spaces) if _is_entered(space))
        yield from ((f"the room behind the {space.name}", ("spaces", at)) for at, space in entered)
    for at, activity in enumerate(case.activities):
        if _BACKING.search(activity.name) or _BACKING.search(activity.says or ""):
            yield f"the activity “{activity.name}”", ("activities", at)
    for at, goal in enumerate(case.goals):
        if any(_BACKING.search(text) for text in (goal.says, *goal.levels)):
            yield f"the goal “{goal.says.rstrip('. ')}”", ("goals", at)


def _without_room_to_turn(space: Space, circle_mm: float | None) -> str:
    """The place in a few words where the chair cannot turn or is said to back up, or an elevator without measures;
    else ""."""
    floor = floor_mm(space)
    if space.kind == "elevator" and floor is None:
        return f"the {space.name}"
    turned_in = space.kind in ("elevator", "turning")
    if turned_in and floor is not None and circle_mm is not None and floor < circle_mm:
        return f"the {space.name}, {length(floor, 'down')} to turn in and {length(circle_mm, 'up')} needed"
    return f"the {space.name}" if space.says and _BACKING.search(space.says) else ""
