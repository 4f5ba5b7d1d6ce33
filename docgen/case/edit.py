"""One key of a case changed in the text of its case.toml: every other character of it stays.

What was written is read again, and the new text counts only where it changes that key and nothing else of the case;
a value that other entries take over from it, or that stands in a short form for several, is changed by hand.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from docgen.case.answers import Answered, with_keys
from docgen.case.keys import value_at, with_value
from docgen.case.lines import KeyPath, Span, dotted, spans_of
from docgen.case.mistakes import toml_of
from docgen.case.read import CaseFile, read_text
from docgen.case.written import form_at, names_of
from docgen.errors import Problem, UserError

_REST_OF_LINE = re.compile(r"[ \t]*(?:#[^\n]*)?(?:\n|$)")
_COMMA_AFTER, _COMMA_BEFORE = re.compile(r"\s*,[ \t]*"), re.compile(r"[ \t]*,\s*$")


class Edited(Struct, frozen=True):
    """The text of case.toml after a change, and the case that it then is; nothing is written yet."""

    text: str
    file: CaseFile


def with_key(file: CaseFile, path: KeyPath, value: Any) -> Edited:
    """The case with another value of one key; None takes the key away.

    Raises UserError where the case could not be read with it, or where more than this key would change.
    """
    keys, _ = spans_of(file.text)
    span = keys.get(_place(file, path)) or _of_one_value(file, path, keys)
    two = _two_texts(file, path, keys)
    if span is None and two is None and value is None:
        if value_at(file.case, path) in (None, ()):
            return Edited(file.text, file)
        raise _by_hand(file, path, "is said in a short form")
    if two:
        text = _with_one_of_two(file, path, value, two)
    elif span is None:
        text = with_keys(file, [Answered(path, toml_of(value))])
    elif value is None:
        text = _without(file.text, [span])
    else:
        text = file.text[: span.value] + toml_of(value) + file.text[span.end :]
    edited = Edited(text, read_text(text, file.folder))
    wanted = value_at(edited.file.case, path)
    if value is not None and wanted in (None, ()):
        raise _by_hand(file, path, "does not reach the case")
    if edited.file.case != with_value(file.case, path, wanted):
        raise _by_hand(file, path, "is said for more than one entry")
    return edited


def with_entry(file: CaseFile, of_list: KeyPath, keys: Mapping[str, Any]) -> Edited:
    """The case with one more entry at the end of a list of tables. Raises UserError where it could not be read."""
    entry = (*of_list, len(value_at(file.case, of_list, ())))
    text = with_keys(file, [Answered((*entry, name), toml_of(value)) for name, value in keys.items()])
    return Edited(text, read_text(text, file.folder))


def without_entry(file: CaseFile, entry: KeyPath) -> Edited:
    """The case without one entry of a list of tables. Raises UserError where others lean on it, or it is written in a
    form that holds several."""
    place = _place(file, entry)
    keys, heads = spans_of(file.text)
    inside = [span for path, span in [*keys.items(), *heads] if path[: len(place)] == place]
    # a value within another goes with it
    outer = [s for s in inside if not any(o is not s and o.start <= s.start and s.end <= o.end for o in inside)]
    if not outer:
        raise _by_hand(file, entry, "stands in a form that holds several")
    text = _without(file.text, outer)
    edited = Edited(text, read_text(text, file.folder))
    before, at = value_at(file.case, entry[:-1]), int(entry[-1])
    if edited.file.case != with_value(file.case, entry[:-1], (*before[:at], *before[at + 1 :])):
        raise _by_hand(file, entry, "is leaned on by other entries")
    return edited


def _of_one_value(file: CaseFile, path: KeyPath, keys: Mapping[KeyPath, Span]) -> Span | None:
    """Where an entry stands that is one value, such as tubes = "Keep it clear of the sling.", and this key holds it."""
    form, span = form_at(path[:-1]), keys.get(_place(file, path[:-1]))
    if form is None or span is None or file.text[span.value] == "{":
        return None
    value = value_at(file.case, path)
    return span if form.key_of(list(value) if isinstance(value, tuple) else value) == path[-1] else None


def _two_texts(file: CaseFile, path: KeyPath, keys: Mapping[KeyPath, Span]) -> Span | None:
    """Where an entry stands that is two texts in a list, and this key is one of them."""
    form, span = form_at(path[:-1]), keys.get(_place(file, path[:-1]))
    is_list = span is not None and file.text[span.value] == "["
    return span if form and is_list and path[-1] in form.pair else None


def _with_one_of_two(file: CaseFile, path: KeyPath, value: Any, span: Span) -> str:
    """The text with another of the two texts of an entry, or with the other one alone."""
    form = form_at(path[:-1])
    pair = {key: value_at(file.case, (*path[:-1], key)) for key in (form.pair if form else ())}
    kept = {key: text for key, text in (pair | {str(path[-1]): value}).items() if text is not None}
    written = [*kept.values()] if len(kept) == len(pair) else kept
    return file.text[: span.value] + toml_of(written) + file.text[span.end :]


def _without(text: str, spans: list[Span]) -> str:
    """The text without these keys and heads: with the rest of a line that holds nothing else, in an inline table with
    one comma."""
    for span in sorted(spans, key=lambda span: -span.start):
        start, end = span.start, span.end
        line = text.rfind("\n", 0, start) + 1
        if not text[line:start].strip() and (rest := _REST_OF_LINE.match(text, end)):
            text = text[:line] + text[rest.end() :]
        elif after := _COMMA_AFTER.match(text, end):
            text = text[:start] + text[after.end() :]
        else:
            text = _COMMA_BEFORE.sub("", text[:start]) + text[end:]
    return text


def _place(file: CaseFile, path: KeyPath) -> KeyPath:
    """A key path as the text has it: the name of an entry where its list is written by name, else its place."""
    place: list[str | int] = []
    for at, part in enumerate(path):
        if isinstance(part, int) and path[:at] in file.by_name and value_at(file.case, path[: at + 1]) is not None:
            place.append(names_of(file, path[: at + 1])[-1].strip('"'))
        else:
            place.append(part)
    return tuple(place)


def _by_hand(file: CaseFile, path: KeyPath, what: str) -> UserError:
    do = "Change it in case.toml by hand."
    return UserError([Problem(file.where(*path), f"{dotted(path)} {what}", do)])
