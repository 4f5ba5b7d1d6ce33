"""What each place of a profile still waits for before the client drives there: worked out once, for every paper that
opens a place.

The words of the case say where a profile is used. What those words hold back themselves (`used_holds`) is not told
twice.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import Literal

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.profile import Profile
from docgen.case.supervision import Supervision
from docgen.criteria.helper_room import walks_up
from docgen.criteria.ways_out import backing_tried, may_not_turn

Why = Literal["decided", "backs", "pushed", "ahead", "tried", "timed", "up", "empty"]


class Waits(Struct, frozen=True):
    """Places of one profile in which nobody drives yet, or not every way, for one reason.

    why     decided: the therapist has not let the client drive there; backs: the chair may have to back out, and
            backing was not tried; pushed: the chair is pushed out of there; ahead: the room ahead is not measured;
            tried: what the record says must be measured or tried first; timed: how soon a helper comes to the stop;
            up: a helper at the stop is below the chair on the way up; empty: the switches on that slope
    alone   whether these are all places of the profile
    says    of what is measured or tried first, the words of the record; empty else
    """

    why: Why
    places: tuple[str, ...]
    alone: bool
    says: str = ""


def waits_in(case: Case, profile: Profile) -> tuple[Waits, ...]:
    """What the places of a profile wait for, by reason, each in the order of the case."""
    spaces = [space for space in case.spaces if space.profile == profile.id]
    by_reason: dict[tuple[Why, str], list[Space]] = {}
    for space in spaces:
        for why, says in _reasons(case, space, profile):
            by_reason.setdefault((why, says), []).append(space)
    return tuple(
        Waits(why, tuple(space.name for space in waiting), len(waiting) == len(spaces), says)
        for (why, says), waiting in by_reason.items()
    )


def _reasons(case: Case, space: Space, profile: Profile) -> Iterator[tuple[Why, str]]:
    """Why nobody drives at a place yet, as far as the words of its profile do not say so."""
    near = [watched for watched in case.supervision if space.id in watched.covers and not watched.is_later]
    held_back = profile.used_holds if profile.used else ()  # without words nothing is told by them
    backs = case.configuration.backs is True and not backing_tried(case) and may_not_turn(case, space)
    if backs:
        yield "backs", ""
    if "decided" not in held_back:
        yield from _for_the_therapist(space, near, backs)
    if space.is_sloping:
        yield from _of_a_slope(case, held_back)
    elif space.clear_ahead_mm is None:
        yield "ahead", ""
    if space.waits_for and space.waits_done_on is None and space.waits_for not in (profile.used or ""):
        yield "tried", space.waits_for.rstrip(".")
    if not backs and any(walks_up(watched) and watched.is_near and not _is_timed(case, watched) for watched in near):
        yield "timed", ""


def _for_the_therapist(space: Space, near: Iterable[Supervision], backs: bool) -> Iterator[tuple[Why, str]]:
    """What waits until the therapist has let the client drive there.

    backs  whether it is told already that the chair may have to back out, and who then stands where is not decided
    """
    if not backs and not all(watched.released for watched in near):
        yield "decided", ""
    if space.pushed_out:
        yield "pushed", ""


def _of_a_slope(case: Case, held_back: Collection[str]) -> Iterator[tuple[Why, str]]:
    if case.configuration.stop.is_behind and "up" not in held_back:
        yield "up", ""
    yield "empty", ""


def _is_timed(case: Case, watched: Supervision) -> bool:
    """Whether it is known how soon whoever is near stops the chair: before the delivery, by the day of the request."""
    if watched.reach_s is None or case.dates.delivered_on:
        return watched.reach_s is not None
    written = case.dates.written_on
    return watched.reach_on is not None and (written is None or watched.reach_on <= written)
