"""What the words mean that a key may hold: every one that is no plain English is told, none that no key holds."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from support import DEMO_FOLDERS

from docgen.case.base import part_of
from docgen.case.keys import choices_in
from docgen.case.model import Case
from docgen.case.read import read_case
from docgen.choices import meaning, meanings
from docgen.desk.fields import field_at
from docgen.terms import terms
from docgen.vocabulary import schema


def _choices(model: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], str]]:
    for name, field in model.model_fields.items():
        if inner := part_of(field.annotation):
            yield from _choices(inner, (*path, name))
        else:
            listed = [field.annotation, *getattr(field.annotation, "__args__", ())]
            for word in dict.fromkeys(word for kind in listed for word in choices_in(kind)):
                yield (*path, name), word


WORDS = [*_choices(Case, ())]


def test_every_line_is_of_a_word_that_its_key_holds() -> None:
    known = {(".".join(path), word) for path, word in WORDS} | {("any", word) for _, word in WORDS}
    assert [(key, word) for key, table in meanings().items() for word in table if (key, word) not in known] == []


def test_no_line_says_the_word_again() -> None:
    said = [(word, means) for table in meanings().values() for word, means in table.items()]
    assert [word for word, means in said if means == word.replace("_", " ")] == []


@pytest.mark.parametrize(
    "path, word, means",
    [
        (("trial", "release_from"), "cue", "the word to stop"),
        (("activities", 2, "before"), "alone", "independent"),
        (("supervision", 0, "level"), "alone", "nobody: alone"),
        (("alternatives", 0, "kind"), "breath_control", terms("kinds")["breath_control"].term),
        (("training", "week", 0, "day"), "monday", "monday"),
    ],
)
def test_a_word_means_what_it_does_in_its_key(path: tuple[str | int, ...], word: str, means: str) -> None:
    assert meaning(path, word) == means


def test_the_schema_gives_each_word_its_meaning() -> None:
    listed = schema()["$defs"]["Trial"]["properties"]["release_from"]["anyOf"]
    words = [entry for place in listed for entry in place.get("anyOf", ())]
    assert {"const": "cue", "description": "the word to stop"} in words


def test_the_desk_shows_the_meaning() -> None:
    field = field_at(read_case(DEMO_FOLDERS[0]), ("trial", "release_from"))
    assert field.choices == (("cue", "the word to stop"), ("line", "a line on the floor"))
