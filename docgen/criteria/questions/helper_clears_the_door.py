"""Nobody is told to stand beside a chair that backs out through a door which leaves no room there.

Asks: Of each door that the chair must back out of, whether the letter or the rule there has a helper stand at the side
    of the chair while the door is less wide than the chair and a grown person beside it.
Why a payer asks: A payer does not. Whoever keeps a hand on the chair there is between it and the frame.
What settles it: clear_width_mm of the place, width_mm of the chair; in [letter] and in backs_out of [[supervision]]
    that the helper stands outside, clear of the door, with backs_out_stands = "beside_door" for the drawing. The words
    are read: pages print them as they stand.
Source: 450 mm for a grown person who stands facing the way the chair goes: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.need import Space
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import listed, sentences_of
from docgen.criteria.ways_out import BACKING, cannot_turn

HEADING = "safety"
CLAIM = "Nobody stands beside the chair in a door that leaves no room there"
DANGER = True
QUIET = True
SETTINGS = {"person_mm": 450}
_BESIDE = re.compile(
    r"\b(?:stands?|stays?|walks?|goes|is|keeps?)\b[^.;]*?"
    r"\b(?:beside (?:it|her|him|them|the chair)|(?:at|on|by) (?:its|her|his|their|the chair's) (?:right|left|side))\b",
    re.IGNORECASE,
)
_CLEAR = re.compile(
    r"\b(?:outside|out first|clear of the (?:door|frame)|(?:beside|side of) the (?:door|frame))\b", re.I
)
_DENIED = re.compile(r"\b(?:nobody|no one|not|never)\b", re.IGNORECASE)


def answer(grounds: Grounds, person_mm: float) -> Answer:
    case = grounds.case
    if not case.spaces:
        return cannot_tell("No place is recorded.", ("spaces",), mend=add_entry("spaces", "name", "kind"))
    doors = [space for space in case.spaces if _is_narrow(case, space, person_mm)]
    if case.configuration.backs is not True or not doors:
        return does_not_apply("No door too narrow for two is recorded that it backs out of.", ("spaces",))
    names = listed(f"{space.name} ({_left_mm(case, space):g} mm beside the chair in all)" for space in doors)
    for where, sentence in _rules(case, doors):
        if _BESIDE.search(sentence) and not _CLEAR.search(sentence) and not _DENIED.search(sentence):
            return not_met(
                f"“{sentence.rstrip('. ')}”, and nobody fits beside the chair there: {names}.",
                where,
                mend="Write that nobody backs out there until it has been tried, or where the helper stands clear of "
                "the door and reaches the stop.",
                bare="A helper is told to stand beside the chair where it backs out through a door that is too narrow.",
            )
    return met(
        f"Nobody is told to stand beside the chair where it backs out: {names}.",
        *(("spaces", at) for at, space in enumerate(case.spaces) if space in doors),
    )


def _is_narrow(case: Case, space: Space, person_mm: float) -> bool:
    """Whether the chair must back out of a door that has no room for a person beside it."""
    left = _left_mm(case, space)
    return space.kind == "doorway" and left is not None and left < person_mm and cannot_turn(case, space)


def _left_mm(case: Case, space: Space) -> float | None:
    """What a door leaves beside the chair, both sides together, in mm; None where either width is not recorded."""
    width = case.configuration.chair.width_mm
    return None if width is None or space.clear_width_mm is None else space.clear_width_mm - width


def _rules(case: Case, doors: list[Space]) -> Iterator[tuple[KeyPath, str]]:
    """Sentences that tell of backing out at these doors: in the letter, and in the rules of who is near there."""
    for sentence in sentences_of(case.letter.safety):
        if BACKING.search(sentence):
            yield ("letter", "safety"), sentence
    for at, place in enumerate(case.supervision):
        if place.backs_out and {space.id for space in doors} & set(place.covers):
            yield ("supervision", at, "backs_out"), place.backs_out
