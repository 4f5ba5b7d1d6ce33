"""Signs in a trial that ask for another setting, or bear out a risk: each from one fact and one threshold.

The thresholds are common practice, no source: they order what to look at first and never decide alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.model import Case
from docgen.evidence.fact import Evidence, Fact

RELEASE_LATE_S = 1.0
MISSED_SHARE = 0.1
UNINTENDED_PER_MINUTE = 0.2
CONTACTS_PER_100_M = 1.0
CONTACTS_PER_TRY = 0.1  # of contacts with no distance beside them
STEERED_SHARE = 0.8
RISE = 2.0
LEAST_TRIES = 6  # the first row of a coach's table


class Sign(Struct, frozen=True):
    """A sign with one control: whether it was seen, and the facts that say so; `seen` is None where nothing is
    recorded."""

    id: str
    label: str
    seen: bool | None
    facts: tuple[Fact, ...]

    @property
    def in_words(self) -> str:
        """The sign with the number that shows it."""
        return f"{self.label} ({_number(self.facts[0])})" if self.facts else self.label


def _number(fact: Fact) -> str:
    if fact.id.startswith(("stop_request.", "since.stops")):  # the sign counts what was missed
        return f"{fact.n - (fact.k or 0):g} of {fact.n}"
    if fact.id.startswith("since.n_") or fact.kind == "in_attempts":
        return f"{fact.k:g} in {fact.n} tries"
    if fact.kind in ("proportion", "difference"):
        return f"{fact.k:g} of {fact.n}" if fact.k is not None else f"{_value(fact) * 100:.0f} points"
    return f"{fact.value:.3g} {'points' if fact.kind == 'score' else fact.unit}".replace(
        "per 100 m", "in 328 ft (100 m)"
    )


def _value(fact: Fact) -> float:
    """The number of a fact that is known to have one."""
    if fact.value is None:
        raise ValueError(f"the fact {fact.id} has no value")
    return fact.value


def signs(case: Case, evidence: Evidence, method: str | None) -> dict[str, Sign]:
    """Every sign for one control of the trial, by id."""
    by_name = {name: _sign(name, label, look(case, evidence, method or "")) for name, (label, look) in _SIGNS.items()}
    bumps = by_name["contacts_often"]
    corners = by_name["corners_lost"]
    if corners.seen:  # its number is of one task
        names = {task.id: task.name for task in case.trial.tasks}
        tried = names.get(corners.facts[0].id.rpartition(".")[2])
        by_name["corners_lost"] = replace(corners, label=f"{corners.label}: {tried}") if tried else corners
    if bumps.seen and all(fact.id.startswith("contacts_counted.") for fact in bumps.facts):  # no distance, so no rate
        by_name["contacts_often"] = replace(bumps, label=f"more than 1 collision in {1 / CONTACTS_PER_TRY:g} attempts")
    return by_name


def signs_of_lessons(case: Case, evidence: Evidence, window: str = "_now") -> dict[str, Sign]:
    """The same signs in the lessons since delivery; `late_worse` is not asked of lessons.

    window  of which lessons: "_now" those at the stage reached, "" all

    A share of fewer than LEAST_TRIES tries says nothing, but one missed stop is one. Nothing of a stage that was only
    just reached is known.
    Where no distance stands beside some of the contacts, they are held against the tries as well: two of them at least.
    """

    def looked(fact_id: str, over: Callable[[Fact], bool]) -> Iterator[tuple[Fact, bool]]:
        fact = evidence.of(f"since.{fact_id}{window}")
        if (
            fact is not None
            and fact.value is not None
            and (fact.kind != "proportion" or fact_id == "stops" or fact.n >= LEAST_TRIES)
        ):
            yield fact, over(fact)

    def bumps() -> Iterator[tuple[Fact, bool]]:
        rate, count = evidence.of(f"since.contacts{window}"), evidence.of(f"since.n_contacts{window}")
        if count is not None and count.k is not None and count.k > (rate.k or 0 if rate else 0):
            yield count, count.k > 1 and count.k > CONTACTS_PER_TRY * count.n

    of_lessons = {
        name: _sign(name, label, chain(looked(fact_id, over), bumps() if name == "contacts_often" else ()))
        for name, (label, fact_id, over) in _OF_LESSONS.items()
    }
    label, look = _SIGNS["space_too_short"]
    return of_lessons | {
        "space_too_short": _sign("space_too_short", label, look(case, evidence, case.configuration.method or ""))
    }


def signs_now(case: Case, evidence: Evidence) -> dict[str, Sign]:
    """What is seen now with the requested control: in the lessons once there are some, else in the trial."""
    return signs_of_lessons(case, evidence) if case.sessions else signs(case, evidence, case.configuration.method)


def ever_seen(case: Case, evidence: Evidence) -> frozenset[str]:
    """Ids of the signs of the requested control that its trial or any lesson has shown; a stop by surprise that was not
    made alone is a missed one."""
    looked = [signs(case, evidence, case.configuration.method)]
    if case.sessions:
        looked.append(signs_of_lessons(case, evidence, ""))
    seen = {name for of in looked for name, sign in of.items() if sign.seen}
    stops = evidence.of("since.stops_counted")
    if stops is not None and stops.k is not None and stops.k < stops.n:
        seen.add("stops_missed")
    return frozenset(seen)


def _sign(name: str, label: str, looked: Iterator[tuple[Fact, bool]]) -> Sign:
    known = [(fact, over) for fact, over in looked if fact.value is not None]
    seen = tuple(fact for fact, over in known if over)
    return Sign(name, label, bool(seen) if known else None, seen or tuple(fact for fact, _ in known))


_Look = Callable[[Case, Evidence, str], Iterator[tuple[Fact, bool]]]


def _bumps(case: Case, evidence: Evidence, method: str) -> Iterator[tuple[Fact, bool]]:
    """Contacts over the distance; those without one against the attempts, two of them at least."""
    if (counted := evidence.of("contacts_counted", method)) is not None:
        yield counted, _value(counted) > 1 and _value(counted) > CONTACTS_PER_TRY * counted.n
    if (rate := evidence.of("contacts", method)) is not None:
        yield rate, rate.value is not None and rate.value > CONTACTS_PER_100_M


def _fact_over(name: str, over: Callable[[Fact], bool]) -> _Look:
    def look(case: Case, evidence: Evidence, method: str) -> Iterator[tuple[Fact, bool]]:
        if (fact := evidence.of(name, method)) and fact.value is not None:
            yield fact, over(fact)

    return look


def _steering(case: Case, evidence: Evidence, method: str) -> Iterator[tuple[Fact, bool]]:
    for task in case.trial.tasks:
        fact = evidence.of("success", method, task.id)
        if task.shows == "steer" and fact is not None and fact.value is not None:
            yield fact, fact.value < STEERED_SHARE


def _spaces(case: Case, evidence: Evidence, method: str) -> Iterator[tuple[Fact, bool]]:
    """Each space with a profile: does the chair, at that profile's speed, stop inside it?"""
    if method != case.configuration.method:
        return
    for there in evidence.stopping.places:
        fact = evidence.of("safe_speed", there.space.id)
        if fact is not None and there.stops is not None:
            yield fact, not there.stops


_SIGNS: dict[str, tuple[str, _Look]] = {
    "stops_missed": ("a stop was missed", _fact_over("stop_request", lambda f: (f.k or 0) < f.n)),
    "space_too_short": ("the chair needs more room to stop than there is", _spaces),
    "release_late": (
        f"release, or stopping, takes {RELEASE_LATE_S:g} s or more",
        _fact_over("release_slowest", lambda f: _value(f) >= RELEASE_LATE_S),
    ),
    "contacts_often": (
        f"more than {CONTACTS_PER_100_M:g} collision in 328 ft (100 m)",
        _bumps,
    ),
    "unintended_often": (
        "more than 1 unintended activation in 5 minutes",
        _fact_over("unintended", lambda f: _value(f) > UNINTENDED_PER_MINUTE),
    ),
    "missed_often": (
        "more than 1 activation in 10 is missed",
        _fact_over("missed", lambda f: _value(f) > MISSED_SHARE),
    ),
    "corners_lost": ("a steering task is done less than 8 times in 10", _steering),
    "tone_up": (f"muscle tone rises by {RISE:g} or more", _fact_over("tone_rise", lambda f: _value(f) >= RISE)),
    "tired": (f"fatigue rises by {RISE:g} or more", _fact_over("fatigue_rise", lambda f: _value(f) >= RISE)),
    "late_worse": (
        "fewer attempts are done late in a session",
        _fact_over("late", lambda f: f.high is not None and f.high < 0),
    ),
}
SIGNS = tuple(_SIGNS)
# sign -> its label, the fact of the lessons (see evidence/facts/after.py) and when it is seen
_OF_LESSONS: dict[str, tuple[str, str, Callable[[Fact], bool]]] = {
    "stops_missed": (_SIGNS["stops_missed"][0], "stops", lambda f: (f.k or 0) < f.n),
    "release_late": (_SIGNS["release_late"][0], "release_slowest", lambda f: _value(f) >= RELEASE_LATE_S),
    "contacts_often": (
        f"{_SIGNS['contacts_often'][0]}, or in {1 / CONTACTS_PER_TRY:g} tries",
        "contacts",
        lambda f: _value(f) > CONTACTS_PER_100_M,
    ),
    "unintended_often": (_SIGNS["unintended_often"][0], "unintended", lambda f: _value(f) > UNINTENDED_PER_MINUTE),
    "missed_often": ("a touch does nothing in more than 1 try in 10", "missed", lambda f: _value(f) > MISSED_SHARE),
    "corners_lost": (
        "corners and doors are done less than 8 times in 10",
        "turns",
        lambda f: _value(f) < STEERED_SHARE,
    ),
    "tone_up": (_SIGNS["tone_up"][0], "tone_rise", lambda f: _value(f) >= RISE),
    "tired": (_SIGNS["tired"][0], "fatigue_rise", lambda f: _value(f) >= RISE),
}
