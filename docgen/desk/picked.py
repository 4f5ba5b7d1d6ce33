"""Which entries a key can name, each with the words by which a person knows it: people by name, visits by day."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from docgen.case.keys import value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.fit.settings import drive_settings

Choices = tuple[tuple[str, str], ...]
_MOST_NAME = 80


def choices_at(case: Case, path: KeyPath) -> Choices:
    """What the key at a path can name, as the case holds it and in words; nothing for a key that names no entry."""
    pick = _PICKED.get(".".join([part for part in path if isinstance(part, str)][-2:])) or _PICKED.get(str(path[-1]))
    return pick(case) if pick else ()


def name_of(entry: Any) -> str:
    """What an entry of a list is called on a screen."""
    for key in ("name", "says", "what", "part", "place", "kind", "role", "text", "of", "id"):
        if isinstance(value := getattr(entry, key, None), str) and value:
            words = " ".join((value.replace("_", " ") if key in ("kind", "role", "id") else value).split())
            return words if len(words) <= _MOST_NAME else f"{words[: _MOST_NAME - 3]}..."
    return "Entry"


def _people(case: Case) -> Choices:
    return tuple((person.id, f"{name_of(person)} ({person.relation or person.role})") for person in case.people)


def _visits(case: Case) -> Choices:
    return tuple((visit.id, f"{visit.on}, {visit.id.replace('_', ' ')}") for visit in case.visits)


def _of_list(*path: str) -> Callable[[Case], Choices]:
    return lambda case: tuple((entry.id, name_of(entry)) for entry in value_at(case, path, ()))


def _settings(case: Case) -> Choices:
    return tuple((id_, setting.name) for id_, setting in drive_settings().items())


_PICKED: Mapping[str, Callable[[Case], Choices]] = {
    **dict.fromkeys(
        (
            *("by", "who", "coach", "substitute", "signed_by", "completed_by", "worn_checked_by", "held_press_by"),
            *("guard", "few_guard", "restart_by"),
        ),
        _people,
    ),
    "visit": _visits,
    "method": _of_list("trial", "methods"),
    "profile": _of_list("configuration", "profiles"),
    "because": _of_list("findings"),
    "item": _of_list("configuration", "items"),
    **dict.fromkeys(("mount", "arrows.part"), _of_list("configuration", "mounting")),
    "setting": _settings,
}
