"""A recorded answer changed in the file itself, by a value drawn by a seed: apart from how docgen tries answers."""

from __future__ import annotations

import random
from datetime import date, timedelta
from typing import Any, get_args

from docgen.case.base import fields_of, is_free_text
from docgen.case.edit import with_key
from docgen.case.keys import bare_kind, choices_in, table_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile
from docgen.errors import UserError
from docgen.packet.assess import assess_file
from docgen.packet.sentences import sentences
from docgen.packet.trees import trees


def sentences_with(file: CaseFile, path: KeyPath, value: Any, document: str) -> list[str] | None:
    """The sentences of a page once the file holds another value; None where a case cannot hold it."""
    try:
        changed = with_key(file, path, value)
        tree = trees(assess_file(changed.file), (document,))[document]
    except UserError:
        return None
    return [sentence.text for sentence in sentences(tree)]


def drawn(file: CaseFile, path: KeyPath, rng: random.Random) -> Any:
    """Another value of the right form; None where none is drawn for such a key."""
    value, info = value_at(file.case, path), fields_of(table_at(path[:-1]))[str(path[-1])]
    if isinstance(value, bool):
        return not value
    if isinstance(value, (int, float)):
        return type(value)(round(value * rng.choice((0.5, 0.7, 1.6, 2.2))) + rng.choice((2, 3)))
    if isinstance(value, date):
        return value + timedelta(days=rng.choice((-9, -2, 4, 11)))
    if is_free_text(info):
        words = f"Quite another matter, number {rng.randrange(1000)}"
        return [words] * len(value) if isinstance(value, tuple) else words
    if isinstance(value, str) and (others := [word for word in choices_in(info.annotation) if word != value]):
        return rng.choice(others)
    if isinstance(value, tuple) and (choices := choices_in(get_args(bare_kind(info.annotation))[0])):
        return [rng.choice(choices)]
    return None
