"""Which findings the letter tells by themselves, since neither a reason nor its other words tell them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.model import Case
from docgen.fit.finding import is_ability
from docgen.fit.match import Fit

# Of the words of a finding, how many of the letter's other words must hold for it to be told there; of what is the
# therapist's own, can be used or can do harm with what is asked for, nearly all. Common
# practice, no source: set on the cases at hand.
_MOST = 0.5
_NEARLY_ALL = 0.8
_SMALL = frozenset("a an and at by has he her his in is it its of on she the their they to with".split())


def words_in(text: str) -> frozenset[str]:
    """The words and numbers of a text that say something."""
    return frozenset(re.findall(r"[a-z]+|\d+(?:\.\d+)?", text.lower())) - _SMALL


def reasons(case: Case, fit: Fit) -> frozenset[str]:
    """Findings that a feature or an item gives as its reason: those the letter tells."""
    direct = {finding for item in case.configuration.items for finding in item.because}
    return frozenset({finding for chosen in fit.chosen for finding in chosen.because} | direct)


def told_nowhere_else(case: Case, fit: Fit) -> frozenset[str]:
    """Findings that are no reason and no open need, and of whose words the letter's other texts hold too few."""
    as_reason = reasons(case, fit).union(fit.left_open)
    besides = _stems(" ".join(_texts_besides(case, as_reason)))
    dangers = {risk.finding for chosen in fit.chosen for risk in chosen.at_odds}
    course_told = any(diagnosis.course for diagnosis in case.diagnoses)
    alone_told = any(place.level == "alone" for place in case.supervision)
    return frozenset(
        finding.id
        for finding in case.findings
        if finding.id not in as_reason
        and not (alone_told and finding.id == _ALONE and finding.id not in dangers)
        and not (course_told and finding.id in _COURSES)
        and len(besides & (stems := _stems(f"{finding.says} {finding.measure or ''}")))
        < len(stems) * (_NEARLY_ALL if finding.own or finding.id in dangers or is_ability(finding.id) else _MOST)
    )


_COURSES = ("stable", "progressive_fast", "progressive_slow")  # told with the diagnosis
_ALONE = "alone_hours"  # told with its place, by who is near there


def _stems(text: str) -> frozenset[str]:
    """The beginnings of the longer words of a text, and its numbers."""
    return frozenset(word[:5] for word in words_in(text) if len(word) > 3 or word.isdigit())


def _texts_besides(case: Case, as_reason: frozenset[str]) -> Iterator[str]:
    """What the letter tells of the client in other places."""
    client, request, letter = case.client, case.request, case.letter
    yield from filter(None, (client.function, client.day, client.works, client.lives, client.communicates))
    yield from filter(None, (request.chair_now, letter.person, letter.need, letter.safety))
    yield from (limit.says or "" for limit in case.limits)
    yield from (f"{device.reason or ''} {device.measure or ''} {device.setup or ''}" for device in case.alternatives)
    yield from (space.says or "" for space in case.spaces)
    yield from (f"{f.says} {f.measure or ''}" for f in case.findings if f.id in as_reason)
