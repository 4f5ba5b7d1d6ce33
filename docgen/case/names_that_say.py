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
# words of a relation that is family too, and names nobody by itself
KIN = (
    *FAMILY,
    *("family", "parent", "guardian", "grandparent", "grandson", "granddaughter"),
    *("stepparent", "stepson", "stepdaughter", "stepsister", "stepbrother"),
)
_PEOPLE: Mapping[str, Mapping[str, str]] = {
    "therapist": {"role": "evaluator"},
    "doctor": {"role": "practitioner"},
    "physician": {"role": "practitioner"},
    "atp": {"role": "supplier"},
    **{word: {"role": "caregiver", "relation": word} for word in FAMILY},
    "mom": {"role": "caregiver", "relation": "mother"},
    "dad": {"role": "caregiver", "relation": "father"},
    **{word: {"role": "caregiver", "relation": word} for word in ("neighbor", "roommate", "aide", "staff")},
    "trainer": {"role": "coach"},
    "home_aide": {"role": "caregiver", "relation": "home aide"},
    "classroom_aide": {"role": "school", "relation": "classroom aide"},
    "teacher": {"role": "school", "relation": "teacher"},
}
# by the last word of a name, or else by its first: front_door, school_corridor, door_1, ramp_behind
_SPACES: Mapping[str, Mapping[str, str]] = {
    "door": {"kind": "doorway"},
    "doors": {"kind": "doorway"},
    "doorway": {"kind": "doorway"},
    "corridor": {"kind": "corridor"},
    "hallway": {"kind": "corridor"},
    "ramp": {"kind": "ramp"},
    "elevator": {"kind": "elevator"},
    "path": {"kind": "path"},
    "sidewalk": {"kind": "path"},
}
_SEVERAL_MEASURES: Mapping[str, tuple[str, ...]] = {
    "ramp": ("length_mm", "clear_width_mm"),
    "elevator": ("clear_width_mm", "inside_width_mm", "inside_depth_mm"),
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
        words = name.split("_")
        return _SPACES.get(words[-1]) or _SPACES.get(words[0], {})
    return {}


def may_be_measures(model: type[Part], entry: Mapping[str, object]) -> tuple[str, ...]:
    """Keys that one measure alone can stand for, where it can stand for several; none where it is clear."""
    return _SEVERAL_MEASURES.get(str(entry.get("kind")), ()) if model is Space else ()


def said_by_role(word: object) -> Mapping[str, str]:
    """Keys of a person whose role is told by a word that is a name, such as "therapist" or "brother"."""
    return _PEOPLE.get(word, {}) if isinstance(word, str) else {}
