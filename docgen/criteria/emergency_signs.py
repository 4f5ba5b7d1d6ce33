"""The signs at which a person is first brought upright, held against other words of the record."""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.emergency import EmergencyCall
from docgen.case.model import Case
from docgen.fit.condition import answer_to, of_case

_PARTS = re.compile(r"[,;]")
_WORD = re.compile(r"[a-z]{3,}")
_TELL_NOTHING = frozenset("and the any one bad very strong sudden her his their has with from over above below".split())
_WAYS = {
    "up": re.compile(r"\b(?:up|upright)\b", re.IGNORECASE),
    "back": re.compile(r"\b(?:seat|tilt\w*|lay|lean\w*|goes|go) (?:her |him |them )?back\b", re.IGNORECASE),
}
_ALL_OF_THE_PAGE = re.compile(r"\b(?:any|each|every|one)\b[^.;]{0,20}\bsigns?\b", re.IGNORECASE)


def upright_signs(case: Case) -> tuple[str, ...]:
    """Each sign at which upright comes first, one by one, as "sweat on the forehead"; empty where there is none."""
    return tuple(dict.fromkeys(_upright(case)))


def _upright(case: Case) -> Iterator[str]:
    first = {f"{c.id}.{topic.id}" for c in of_case(case).values() for topic in c.page if topic.comes_first}
    for sign in case.emergency.signs:
        if first & set(sign.serves):
            yield from (part.strip() for part in _PARTS.split(sign.says) if part.strip())


def signs_left_out(case: Case, words: str) -> tuple[str, ...]:
    """Signs at which upright comes first that these words do not name; none where they mean every sign."""
    if _ALL_OF_THE_PAGE.search(words):
        return ()
    named = set(_WORD.findall(words.lower()))
    return tuple(sign for sign in upright_signs(case) if not named & (set(_WORD.findall(sign.lower())) - _TELL_NOTHING))


def sent_one_way(case: Case, words: str) -> str:
    """Which way words that mean every sign of the page move the person, "up" or "back", where another sign of that page
    moves the other way; "" where they name the signs, or no way."""
    moves = {sign.moves for sign in case.emergency.signs}
    if not {"upright", "back"} <= moves or not _ALL_OF_THE_PAGE.search(words):
        return ""
    ways = [way for way, pattern in _WAYS.items() if pattern.search(words)]
    return ways[0] if len(ways) == 1 else ""


def alarm_pressure(case: Case) -> float | None:
    """The upper pressure in mmHg above which it is an alarm for this person; None where nobody set one."""
    given = answer_to(case, "autonomic_dysreflexia", "alarm_pressure")
    return given.number if given else None


def whom_to_call(case: Case) -> tuple[EmergencyCall, ...]:
    """Whom the record says to call in an emergency; while it names nobody, whoever comes on a call where the client is
    alone and has a number."""
    if case.emergency.calls:
        return case.emergency.calls
    people = [(name, case.person(name)) for name in case.on_call]
    return tuple(EmergencyCall(who=name, answers=who.answers) for name, who in people if who and who.phone)
