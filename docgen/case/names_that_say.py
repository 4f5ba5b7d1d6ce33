"""Names of entries that say more than which entry it is: someone of the family, who works on the request, a door."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.base import Part
from docgen.case.need import Space
from docgen.case.who import Person

FAMILY = (
    *("mother", "father", "stepmother", "stepfather", "parents", "wife", "husband", "partner", "spouse"),
    *("daughter", "son", "sister", "brother", "grandmother", "grandfather", "aunt", "uncle", "niece", "nephew"),
    "cousin",
)
_PEOPLE: Mapping[str, Mapping[str, str]] = {
    "therapist": {"role": "evaluator"},
    "doctor": {"role": "practitioner"},
    "physician": {"role": "practitioner"},
    "atp": {"role": "supplier"},
    **{word: {"role": "caregiver", "relation": word} for word in FAMILY},
    "home_aide": {"role": "caregiver", "relation": "home aide"},
    "classroom_aide": {"role": "school", "relation": "classroom aide"},
    "teacher": {"role": "school", "relation": "teacher"},
}
# by the last word of a name: front_door, school_corridor
_SPACES: Mapping[str, Mapping[str, str]] = {
    "door": {"kind": "doorway"},
    "doorway": {"kind": "doorway"},
    "corridor": {"kind": "corridor"},
    "hallway": {"kind": "corridor"},
    "ramp": {"kind": "ramp"},
    "elevator": {"kind": "elevator"},
}


def role_of(word: str) -> str:
    """The role that a word names: itself, or that of a trade such as "therapist"."""
    keys = _PEOPLE.get(word, {})
    return word if "relation" in keys else keys.get("role", word)


def said_by_name(model: type[Part], name: str) -> Mapping[str, str]:
    """Keys of an entry that its name says, and their values; nothing for any other name."""
    if model is Person:
        return _PEOPLE.get(name, {})
    if model is Space:
        return _SPACES.get(name.rpartition("_")[2], {})
    return {}
