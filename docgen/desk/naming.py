"""The name of a new entry in the file: who or what it is, in the words of what was answered of it. Names of people and
what a person says of somebody stay out of it, since a name goes where no other word of a case does."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from docgen.case.base import Part
from docgen.case.keys import entries_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.names_that_say import said_by_name
from docgen.case.who import Person, Visit
from docgen.case.written import form_at

_SLUG = re.compile(r"[^a-z0-9]+")
_WORD = re.compile(r"[^\W\d_]+")
_ROLES = {"evaluator": "therapist", "practitioner": "doctor"}
_TELLING = ("name", "part", "what", "kind", "site", "says")  # keys whose answer says what an entry is
_LIMIT_CHARS, _MOST_WORDS = 36, 5  # an id has 40, and a number may follow


def new_name(case: Case, of_list: KeyPath, keys: Mapping[str, Any]) -> str:
    """A name that no entry of the list has yet; "" where nothing that was answered says what it is, or where a key
    other than the id names the entries."""
    model, form = entries_at(of_list), form_at((*of_list, 0))
    if model is None or not issubclass(model, Part) or form is None or form.key != "id" or "id" in keys:
        return ""
    names = [name for name in _names(case, model, keys) if name and _agrees(model, name, keys)]
    if not names:
        return ""
    taken = {entry.id for entry in value_at(case, of_list, ())}
    numbered = (names[0], *(f"{names[0]}_{number}" for number in range(2, len(taken) + 3)))
    return next(name for name in numbered if name not in taken)


def _agrees(model: type[Part], name: str, keys: Mapping[str, Any]) -> bool:
    """Whether nothing that a name says is answered otherwise."""
    return all(keys.get(key, word) == word for key, word in said_by_name(model, name).items())


def _names(case: Case, model: type[Part], keys: Mapping[str, Any]) -> Iterator[str]:
    """Names that an entry might have, the most telling first. A visit has its day, since one that is named `home` or
    `encounter` has a meaning of its own."""
    if model is Visit and keys.get("on"):
        yield f"visit_{keys['on']:%Y_%m_%d}"
    if model is Person:
        yield _words(case, str(keys.get("relation") or ""))
        yield _ROLES.get(str(keys.get("role")), str(keys.get("role") or ""))
    elif model is not Visit:
        yield from (_words(case, str(keys[key])) for key in _TELLING if keys.get(key))


def _words(case: Case, text: str) -> str:
    """The first words of a text as a name, without the names of people of the case."""
    people = [case.client.name, case.client.called, *(person.name for person in case.people)]
    private = {word.lower() for name in people if name for word in _WORD.findall(name)}
    words = [word for word in _SLUG.sub(" ", text.lower()).split() if word not in private]
    return "_".join(words[:_MOST_WORDS])[:_LIMIT_CHARS].strip("_") if words and words[0][0].isalpha() else ""
