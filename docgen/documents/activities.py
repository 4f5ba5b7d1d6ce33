"""What a session of training can be made of, by the client's age and by what they like."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, Literal, TypedDict

from msgspec import Struct, convert

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.stage import STEPS
from docgen.documents.made_from import made_from
from docgen.months import whole_years
from docgen.resources import folder
from docgen.shipped import tables_of

MADE_FROM = {
    "practice": made_from(Privacy.NAME, Privacy.TRAINING),  # of the age no more than whoever meets the client sees
    "games": made_from(Privacy.NAME, Privacy.TRAINING),
}
_MOST = 3  # things to choose from; more are not read

Purpose = Literal["going", "turning", "places"]


class Activity(Struct, frozen=True):
    """Something to do in a session, and the words of what somebody likes that it goes with."""

    does: str
    fits: tuple[str, ...] = ()


class Age(Struct, frozen=True):
    """Activities of one age, up to so many whole years; `count` what a row of five is there."""

    up_to: int
    name: str
    count: str
    going: tuple[Activity, ...]
    turning: tuple[Activity, ...]
    places: tuple[Activity, ...]

    def of(self, purpose: Purpose) -> tuple[Activity, ...]:
        """The activities for one purpose."""
        return {"going": self.going, "turning": self.turning, "places": self.places}[purpose]


class Activities(Struct, frozen=True):
    """All of templates/en/activities.toml."""

    never: str
    warm_up: str
    end: str
    spread: str
    after_pass: str
    for_step: Mapping[str, Purpose]
    ages: tuple[Age, ...]


class Practice(TypedDict):
    """The words around the activities of a session. `age` whose they are, None where it is not known."""

    age: str | None
    count: str
    warm_up: str
    end: str
    spread: str
    after_pass: str
    never: str
    _labels: dict[str, str]


class GameRow(TypedDict):
    """What can be done in the sessions of one step: some of it, what the client likes first."""

    step: str
    does: tuple[str, ...]


@cache
def activities() -> Activities:
    """The activities that the program brings, checked against their model."""
    tables: dict[str, Any] = tables_of((folder("templates") / "en" / "activities.toml").read_text(encoding="utf-8"))
    return convert(tables, Activities)


def practice(case: Case) -> Practice:
    """What every session begins and ends with, and how sessions are spread."""
    known, age = activities(), _age(case)
    return {
        "age": age.name if age else None,
        "count": age.count if age else "",
        "warm_up": known.warm_up,
        "end": known.end,
        "spread": known.spread,
        "after_pass": known.after_pass,
        "never": known.never,
        "_labels": {"age": "client's age"},
    }


def games(case: Case) -> Iterator[GameRow]:
    """A row for each step, by its id; none while the age is not known."""
    if (age := _age(case)) is None:
        return
    for step in STEPS:
        chosen = chosen_activities(age.of(activities().for_step[step]), case.training.likes, case.training.dislikes)
        yield {"step": step, "does": tuple(activity.does for activity in chosen[:_MOST])}


def chosen_activities(
    offered: Sequence[Activity], likes: Sequence[str], dislikes: Sequence[str]
) -> tuple[Activity, ...]:
    """The activities without a word of what somebody does not like, those with a word of what they like first."""
    liked, disliked = _words(likes), _words(dislikes)
    left = [activity for activity in offered if disliked.isdisjoint(_words((activity.does, *activity.fits)))]
    return tuple(sorted(left, key=lambda activity: liked.isdisjoint(_words(activity.fits))))


def _words(texts: Sequence[str]) -> frozenset[str]:
    """The words of some texts, in lower case and without the s of a plural."""
    return frozenset(word.removesuffix("s") for text in texts for word in re.findall(r"[^\W\d_]{3,}", text.lower()))


def _age(case: Case) -> Age | None:
    born = case.client.born_on
    on = max((row.date for row in case.sessions), default=case.training.start_on or case.request.requested_on)
    if born is None or on is None:
        return None
    years = whole_years(born, on)
    return next((age for age in activities().ages if years <= age.up_to), None)
