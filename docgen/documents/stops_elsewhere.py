"""What the programming notes tell of a stop beside its distance: with which release it was worked out, and in which
places it does not fit where the profile of another place is on."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.documents.made_from import made_from
from docgen.documents.measures import mm
from docgen.documents.phrase import Words
from docgen.evidence.stopping_rule import Stopping, StopThere
from docgen.units import limit_mm, two_digits

MADE_FROM = {
    "release_told": made_from("trial.methods", Privacy.TRIAL, since_s=Privacy.TRAINING, since_on=Privacy.TRAINING),
    "wrong_profile": made_from("spaces.name", "spaces.clear_ahead_mm", "configuration.profiles", Privacy.TRIAL),
}


class ReleaseTold(TypedDict):
    """The release that distances are worked out with, and the slowest of lessons. Seconds in words, rounded up.

    seconds    None where none is recorded
    why        whether it is a bound above the slowest seen, or that slowest
    slowest_s  slowest of the trial, with its day; None where none is recorded
    since_s    slowest of the lessons, with its day; None where none is recorded
    """

    seconds: str | None
    why: Literal["bound", "slowest"]
    slowest_s: str | None
    slowest_on: date | None
    since_s: str | None
    since_on: date | None
    _labels: dict[str, str]


class WrongProfile(TypedDict):
    """A profile, the stop in mm that it needs on the level, and the places of other profiles that have less ahead."""

    name: str
    needs_mm: str
    places: tuple[str, ...]


def release_told(case: Case, rule: Stopping) -> ReleaseTold:
    """The release of the stopping rule of the case, and what lessons have seen."""
    slowest = max(rule.rows, key=lambda row: (row.slowest_s or 0, row.date), default=None)
    timed = [row for row in case.sessions if row.release_s is not None]
    latest = max(timed, key=lambda row: (row.release_s or 0, row.date), default=None)
    return {
        "seconds": _up(rule.release.seconds),
        "why": rule.release.why,
        "slowest_s": _up(slowest.slowest_s if slowest else None),
        "slowest_on": slowest.date if slowest else None,
        "since_s": _up(latest.release_s if latest else None),
        "since_on": latest.date if latest else None,
        "_labels": {"seconds": "release of the driver", "since_s": "slowest release since delivery"},
    }


def wrong_profile(rule: Stopping, words: Words) -> Iterator[WrongProfile]:
    """Each profile in which a stop needs more than a level place of another profile has ahead."""
    for profile, needs_m in rule.on_level:
        if needs_m is None:
            continue
        short = [there for there in rule.places if _too_short(there, profile.id, needs_m)]
        if short:
            yield {
                "name": profile.name,
                "needs_mm": mm(limit_mm(needs_m), "up", words=words),
                "places": tuple(f"{there.space.name} ({_ahead(there, words)})" for there in short),
            }


def _too_short(there: StopThere, profile: str, needs_m: float) -> bool:
    """Whether a level place of another profile has less room ahead than a stop needs."""
    other = there.profile is not None and there.profile.id != profile
    return other and not there.space.is_sloping and there.room_m is not None and there.room_m < needs_m


def _ahead(there: StopThere, words: Words) -> str:
    return mm(1000 * (there.room_m or 0), "down", words=words)


def _up(seconds: float | None) -> str | None:
    return None if seconds is None else two_digits(seconds, "up")
