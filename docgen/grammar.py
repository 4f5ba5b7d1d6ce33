"""English around a name that the case gives: a verb that agrees with it, and one word before it that says which."""

from __future__ import annotations

import re

# where what is named ends and what tells of it begins: the doors | at home, optical switches | on a tray
_TELLS = re.compile(
    r"[,;:(]|\s(?:at|of|in|on|to|from|with|without|under|by|for|behind|between|near|outside|inside|that|which)\b"
)
_MANY_WITHOUT_S = frozenset({"people", "feet", "children", "men", "women", "teeth"})
_ONE_WITH_S = frozenset({"lens", "gas", "canvas", "series", "chassis", "gymnastics"})
_WHICH = r"his|her|its|their|my|our|your|the|an?|this|that|these|those|each|every|both|all"
_LIST = re.compile(r"\band (?:an?|the|his|her|its|their)\b")  # a cane, a walker and a scooter
_OF_MANY = {"is": "are", "was": "were", "has": "have", "does": "do"}
_TWICE = re.compile(rf"([Tt])(?<!\w[Tt])he ({_WHICH})(?= \w)")  # with its letter first, it is found twice as fast


def is_plural(name: str) -> bool:
    """Whether a name is of more than one thing: the doors at home, a bed and a table, side pads."""
    if _LIST.search(name):
        return True
    thing = _TELLS.split(name.strip().lower(), maxsplit=1)[0]
    words = re.findall(r"[\w'’-]+", thing)
    if not words:
        return False
    last = words[-1]
    if "and" in words[1:-1] or last in _MANY_WITHOUT_S:
        return True
    return last.endswith("s") and not last.endswith(("ss", "us", "is", "'s", "’s")) and last not in _ONE_WITH_S


def with_verb(name: str, verb: str) -> str:
    """A name and a verb, which stands in its form for one thing: the ramp has, the doors at home have."""
    return f"{name} {_OF_MANY.get(verb, verb.removesuffix('s')) if is_plural(name) else verb}"


def said_once(text: str) -> str:
    """The text without an article before a word that says which already: the her own door -> her own door."""
    return _TWICE.sub(lambda twice: twice[2].capitalize() if twice[1] == "T" else twice[2], text)
