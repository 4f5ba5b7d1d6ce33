"""Another value for each recorded answer of a case: of the same form, far enough away to show wherever it is told.

They exist to see what a page would say; they are never printed and never leave the program.
"""

from __future__ import annotations

import math
import re
import zlib
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date, time, timedelta
from typing import Any, get_args

from msgspec import Struct
from pydantic.fields import FieldInfo

from docgen.case.base import Part, fields_of, is_free_text, part_of
from docgen.case.keys import bare_kind, choices_in, value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.stage import STEPS, is_step
from docgen.criteria.criterion import criteria
from docgen.criteria.payer import payers
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.fit.settings import drive_settings

ROWS = "rows of the trial"  # in place of a key: the rows and totals of one method, which stands behind it
_OF_THE_CASE = ("format", "id", "invented")
_LISTS_WITH_IDS = (
    ("people",),
    ("visits",),
    ("spaces",),
    ("findings",),
    ("trial", "methods"),
    ("trial", "tasks"),
    ("configuration", "profiles"),
    ("configuration", "features"),
)
_SENTENCE_END = re.compile(r"(?=[.!?](?:\s|$))")


class Other(Struct, frozen=True):
    """A recorded answer and another value that it could have; None where none is known.

    text  the same text with a mark in each of its sentences, in place of {mark}; empty for what is no free text
    """

    path: KeyPath
    value: Any
    text: str = ""


def others(case: Case, written: Collection[KeyPath]) -> tuple[Other, ...]:
    """Another value for each answer of a case, in its order, and for the rows of each method.

    written  paths of the keys that stand in its file
    """
    answers = [
        (path, info, value)
        for path, info, value in _answers(case, ())
        if info.is_required() or value != info.default or path in written
    ]
    words: dict[KeyPath, list[str]] = {}
    for path, _, value in answers:
        words.setdefault(_alike(path), []).extend(_words_in(value))
    ids = [tuple(str(entry.id) for entry in value_at(case, path, ())) for path in _LISTS_WITH_IDS]
    methods = dict.fromkeys(row.method for row in case.tried)
    return (
        *(_other(path, info, value, (*ids, tuple(words[_alike(path)]))) for path, info, value in answers),
        *(Other((ROWS, method), "half of them") for method in methods),
    )


def with_others(case: Case, values: Mapping[KeyPath, Any]) -> Case:
    """The case with other values at some of its keys; of a method named under `ROWS`, with the later half of its rows
    alone."""
    keys = {path: value for path, value in values.items() if path[0] != ROWS}
    changed: Case = _put(case, keys)
    for method in (str(path[1]) for path in values if path[0] == ROWS):
        changed = changed.with_records(_later_half(changed.records, method))
        changed = changed.with_totals(_later_half(changed.totals, method))
    return changed


def _answers(part: Part, path: KeyPath) -> Iterator[tuple[KeyPath, FieldInfo, Any]]:
    """Every key that holds something, without the names of entries, which no page tells."""
    for name, info in fields_of(type(part)).items():
        value, here = getattr(part, name), (*path, name)
        if value is None or value == () or (not path and name in _OF_THE_CASE):
            continue
        if part_of(info.annotation) is not None:
            for at, entry in [(None, value)] if isinstance(value, Part) else enumerate(value):
                yield from _answers(entry, here if at is None else (*here, at))
        elif name != "id" or _vocabulary_at(here):
            yield here, info, value


def _alike(path: KeyPath) -> KeyPath:
    """A key of any entry of the same list."""
    last = max((at for at, part in enumerate(path) if isinstance(part, int)), default=-1)
    return tuple(part for at, part in enumerate(path) if at != last)


def _words_in(value: Any) -> list[str]:
    return [word for word in (value if isinstance(value, tuple) else (value,)) if isinstance(word, str)]


def _other(path: KeyPath, info: FieldInfo, value: Any, lists: Sequence[tuple[str, ...]]) -> Other:
    several = isinstance(value, tuple)
    if is_free_text(info):
        text = "\n".join(map(_marked, value if several else (value,)))
        changed = text.replace("{mark}", " in other words")
        return Other(path, tuple(changed.split("\n")) if several else changed, text)
    if not several:
        return Other(path, _other_value(path, info, info.annotation, value, lists))
    first = _other_value(path, info, get_args(bare_kind(info.annotation))[0], value[0], lists)
    return Other(path, value[:-1] if len(value) > 1 else None if first is None else (first,))


def _other_value(path: KeyPath, info: FieldInfo, annotation: Any, value: Any, lists: Sequence[tuple[str, ...]]) -> Any:
    """Another value of a key, or of the first of several; `lists` of ids, of which it may name an entry."""
    if isinstance(value, bool):
        return not value
    if is_step(annotation):
        return (value + 1) % len(STEPS)
    if isinstance(value, (int, float)):
        return _another_number(info, value, path)
    days = 3 + zlib.crc32(repr(path).encode()) % 20  # not alike for two days, whose distance would stay
    if isinstance(value, date):
        return value + timedelta(days=days)
    if isinstance(value, time):
        return value.replace(hour=(value.hour + days) % 24)
    of_list = next((ids for ids in lists if value in ids and set(ids) != {value}), ())
    choices = choices_in(annotation) or _vocabulary_at(path) or of_list
    if choices:
        return next((choice for choice in _after(value, choices) if choice != value), None)
    return _another_code(value)


def _another_number(info: FieldInfo, value: float, path: KeyPath) -> float | None:
    """A number that is larger by a third or more, or the next one within what its key may be."""
    far = 1.3 + zlib.crc32(repr(path).encode()) % 100 / 200  # not alike for two numbers, whose difference would stay
    bounds = {name: getattr(limit, name) for limit in info.metadata for name in ("ge", "le") if hasattr(limit, name)}
    least, most = bounds.get("ge", -math.inf), bounds.get("le", math.inf)
    likely = (type(value)(value * far + (1 if value >= 0 else -1)), value + 1, value - 1)
    return next((number for number in likely if least <= number <= most), None)


def _vocabulary_at(path: KeyPath) -> tuple[str, ...]:
    """Words of a vocabulary that a key takes: which finding, which feature, whose rules."""
    match [part for part in path if isinstance(part, str)]:
        case ["findings", "id"]:
            return tuple(vocabulary())
        case ["configuration", "features", "id"]:
            return tuple(features())
        case [*_, "features"]:
            return tuple(features())
        case [*_, "questions"]:
            return tuple(criteria())
        case [*_, "setting"]:
            return tuple(drive_settings())
        case ["request", "payer"]:
            return tuple(payer.id for payer in payers())
    return ()


def _after(value: str, choices: tuple[str, ...]) -> tuple[str, ...]:
    at = choices.index(value) + 1 if value in choices else 0
    return (*choices[at:], *choices[:at])


def _another_code(value: str) -> str:
    """A code, number or address with another last letter or digit."""
    at = max((at for at, sign in enumerate(value) if sign.isalnum()), default=-1)
    if at < 0:
        return value + "1"
    sign = value[at]
    other = str((int(sign) + 1) % 10) if sign.isdigit() else chr(ord(sign) - 1) if sign in "zZ" else chr(ord(sign) + 1)
    return f"{value[:at]}{other}{value[at + 1 :]}"


def _marked(text: str) -> str:
    marked = _SENTENCE_END.sub("{mark}", text)
    return marked if marked.rstrip().endswith((".", "!", "?")) else f"{marked}{{mark}}"


def _put(node: Any, values: Mapping[KeyPath, Any]) -> Any:
    """A part, or a list of them, with other values below it."""
    if () in values:
        return values[()]
    below: dict[str | int, dict[KeyPath, Any]] = {}
    for path, value in values.items():
        below.setdefault(path[0], {})[path[1:]] = value
    if isinstance(node, tuple):
        return tuple(_put(entry, below[at]) if at in below else entry for at, entry in enumerate(node))
    if not below:
        return node
    return node.model_copy(update={str(name): _put(getattr(node, str(name)), inner) for name, inner in below.items()})


def _later_half(rows: Iterable[Any], method: str) -> tuple[Any, ...]:
    kept = list(rows)
    own = [at for at, row in enumerate(kept) if row.method == method]
    gone = set(own[: (len(own) + 1) // 2])
    return tuple(row for at, row in enumerate(kept) if at not in gone)
