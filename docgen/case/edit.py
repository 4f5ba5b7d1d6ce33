"""One key of a case changed in the text of its case.toml: every other character of it stays.

What was written is read again, and the new text counts only where it changes that key and nothing else of the case;
a value that other entries take over from it, or that stands in a short form for several, is changed by hand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

import tomli
from msgspec import Struct

from docgen.case.answers import Answered, with_keys
from docgen.case.base import Part, fields_of, part_of
from docgen.case.keys import value_at, with_value
from docgen.case.lines import KeyPath, Span, dotted, spans_of
from docgen.case.mistakes import toml_of
from docgen.case.model import Case
from docgen.case.read import CaseFile, read_text
from docgen.case.written import form_at, key_of, name_at, names_of
from docgen.errors import Problem, UserError

_REST_OF_LINE = re.compile(r"[ \t]*(?:#[^\n]*)?(?:\n|$)")
_OF_A_VISIT = ("on", "by")  # what an entry takes over from its visit
_MOST_KEPT = 40  # keys of other entries that are written out for one change
_COMMA_AFTER, _COMMA_BEFORE = re.compile(r"\s*,[ \t]*"), re.compile(r"[ \t]*,\s*$")


class Edited(Struct, frozen=True):
    """The text of case.toml after a change, and the case that it then is; nothing is written yet."""

    text: str
    file: CaseFile


def with_key(file: CaseFile, path: KeyPath, value: Any) -> Edited:
    """The case with another value of one key; None takes the key away.

    Where a visit is another one, or its day, what entries take over from it follows. What other entries would take over
    from this one is written there as it was. An entry that is gathered with others gets a line of its own.
    Raises UserError where the case could not be read with it, or where more than this key would change.
    """
    if (alone := _out_of_a_list(file, path[:-1])) is not None:
        file, entry = alone
        path = (*entry, path[-1])
    keys, _ = spans_of(file.text)
    span = keys.get(place_of(file, path)) or _of_one_value(file, path, keys)
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
    aim = _with_what_follows(with_value(file.case, path, wanted), edited.file.case, path)
    for _ in range(_MOST_KEPT):
        other = next(differences(edited.file.case, aim), None)
        if other is None:
            return edited
        edited = _kept_as_it_was(edited.file, *other)
    raise _by_hand(file, path, "is said for more than one entry")


def differences(case: Part, other: Part, path: KeyPath = ()) -> Iterator[tuple[KeyPath, Any]]:
    """Each key in which a part differs from another of its kind, and what the other one has there."""
    for name in fields_of(type(case)):
        value, of_other = getattr(case, name), getattr(other, name)
        if value == of_other:
            continue
        if isinstance(value, Part) and isinstance(of_other, Part):
            yield from differences(value, of_other, (*path, name))
        elif part_of(fields_of(type(case))[name].annotation) and len(value) == len(of_other):
            for at, (entry, other_entry) in enumerate(zip(value, of_other, strict=True)):
                yield from differences(entry, other_entry, (*path, name, at))
        else:
            yield (*path, name), of_other


def _with_what_follows(aim: Case, edited: Case, path: KeyPath) -> Case:
    """The case that a change is to lead to, with day and author of what was recorded at the visit it is about."""
    follows: list[KeyPath] = []
    if path[-1] == "visit":
        follows = [(*path[:-1], key) for key in _OF_A_VISIT]
    elif path[0] == "visits" and path[-1] in _OF_A_VISIT:
        visit = value_at(edited, path[:-1]).id
        changed = (place for place, _ in differences(edited, aim))
        follows = [p for p in changed if p[-1] == path[-1] and getattr(value_at(edited, p[:-1]), "visit", "") == visit]
    for place in follows:
        aim = with_value(aim, place, value_at(edited, place))
    return aim


def _kept_as_it_was(file: CaseFile, path: KeyPath, value: Any) -> Edited:
    """The case with a key written out that an entry took over from another. Raises UserError where it has no room."""
    span = spans_of(file.text)[0].get(place_of(file, path))
    if value in (None, ()) or span is not None:
        raise _by_hand(file, path, "is said for more than one entry")
    text = with_keys(file, [Answered(path, toml_of(list(value) if isinstance(value, tuple) else value))])
    return Edited(text, read_text(text, file.folder))


def with_entry(file: CaseFile, of_list: KeyPath, keys: Mapping[str, Any]) -> Edited:
    """The case with one more entry at the end of a list of tables, or behind those of its name where its list is
    written by name. Raises UserError where it could not be read."""
    entry = (*of_list, len(value_at(file.case, of_list, ())))
    text = _with_another_of_its_name(file, of_list, keys)
    if text is None:
        text = with_keys(file, [Answered((*entry, name), toml_of(value)) for name, value in keys.items()])
    return Edited(text, read_text(text, file.folder))


def _with_another_of_its_name(file: CaseFile, of_list: KeyPath, keys: Mapping[str, Any]) -> str | None:
    """The text with an entry under a name that another one has already; None where none has it."""
    form = form_at((*of_list, 0))
    if form is None or not form.key or of_list not in file.by_name or form.key not in keys:
        return None
    place = (*place_of(file, of_list), str(keys[form.key]))
    written = {key: toml_of(value) for key, value in keys.items() if key != form.key}
    row = f"{{ {', '.join(f'{key} = {value}' for key, value in written.items())} }}"
    spans, heads = spans_of(file.text)
    if (span := spans.get(place)) and file.text[span.value] in "{[":
        value = file.text[span.value : span.end]
        others = f"[\n  {value}" if value[0] == "{" else value[:-1].rstrip().rstrip(",")
        return f"{file.text[: span.value]}{others},\n  {row},\n]{file.text[span.end :]}"
    head = next((span for path, span in heads if path in (place, (*place, 0))), None)
    if head is None:
        return None
    names = file.text[head.start : head.end].strip("[]")
    lines = "\n".join(f"{key} = {value}" for key, value in written.items())
    return f"{file.text[: head.start]}[[{names}]]{file.text[head.end :].rstrip()}\n\n[[{names}]]\n{lines}\n"


def without_entry(file: CaseFile, entry: KeyPath) -> Edited:
    """The case without one entry of a list of tables. Raises UserError where others lean on it, or it is written in a
    form that holds several."""
    place = place_of(file, entry)
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


def _out_of_a_list(file: CaseFile, entry: KeyPath) -> tuple[CaseFile, KeyPath] | None:
    """The case with an entry written by itself that is gathered with others, as in with_base = ["batteries"], and where
    it then stands; None for one that is not."""
    form, there = form_at(entry), value_at(file.case, entry)
    if form is None or not form.gathers or there is None:
        return None
    name, keys = getattr(there, form.key), spans_of(file.text)[0]
    of_list = entry[:-1]
    for gathers, (key, value) in form.gathers.items():
        span = keys.get((*place_of(file, of_list), gathers))
        names = tomli.loads(f"names = {file.text[span.value : span.end]}")["names"] if span else ()
        if span is None or name not in names:
            continue
        line = f"\n{key_of(str(name))} = {{ {key} = {toml_of(value)} }}"
        left = [other for other in names if other != name]
        kept = f"{file.text[span.start : span.value]}{toml_of(left)}" if left else ""
        text = f"{file.text[: span.start]}{kept}{line if kept else line.lstrip()}{file.text[span.end :]}"
        apart = read_text(text, file.folder)
        before, now = (value_at(case, of_list) for case in (file.case, apart.case))
        at = next(at for at, other in enumerate(now) if getattr(other, form.key) == name)
        if set(before) != set(now) or with_value(apart.case, of_list, before) != file.case:
            raise _by_hand(file, entry, "is gathered with others")
        return apart, (*of_list, at)
    return None


def _of_one_value(file: CaseFile, path: KeyPath, keys: Mapping[KeyPath, Span]) -> Span | None:
    """Where an entry stands that is one value, such as tubes = "Keep it clear of the sling.", and this key holds it."""
    form, span = form_at(path[:-1]), keys.get(place_of(file, path[:-1]))
    if form is None or span is None or file.text[span.value] == "{":
        return None
    value = value_at(file.case, path)
    return span if form.key_of(list(value) if isinstance(value, tuple) else value) == path[-1] else None


def _two_texts(file: CaseFile, path: KeyPath, keys: Mapping[KeyPath, Span]) -> Span | None:
    """Where an entry stands that is two texts in a list, and this key is one of them."""
    form, span = form_at(path[:-1]), keys.get(place_of(file, path[:-1]))
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


def place_of(file: CaseFile, path: KeyPath) -> KeyPath:
    """A key path as the text has it: the name of an entry where its list is written by name, else its place."""
    place: list[str | int] = []
    for at, part in enumerate(path):
        entry = path[: at + 1]
        if isinstance(part, int) and path[:at] in file.by_name and value_at(file.case, entry) is not None:
            name = names_of(file, entry)[-1].strip('"')
            # an entry may keep its name when the key that it names is written out beside it
            place.append(name if (*place, name) in _names_in(file.text) else name_at(file, entry).strip('"'))
            if _holds_tables((*place, 0), file.text):  # several have this name: which of them
                place.append(sum(names_of(file, (*path[:at], n))[-1].strip('"') == name for n in range(part)))
        else:
            place.append(part)
    return tuple(place)


@lru_cache(4)
def _names_in(text: str) -> frozenset[KeyPath]:
    """Every table and key of a text, and what each stands in."""
    keys, heads = spans_of(text)
    return frozenset(path[:n] for path in (*keys, *(path for path, _ in heads)) for n in range(1, len(path) + 1))


def _holds_tables(place: KeyPath, text: str) -> bool:
    """Whether keys stand below a place, and not one value."""
    names = _names_in(text)
    return place in names and any(path[: len(place)] == place and len(path) > len(place) for path in names)


def _by_hand(file: CaseFile, path: KeyPath, what: str) -> UserError:
    do = "Change it in case.toml by hand."
    return UserError([Problem(file.where(*path), f"{dotted(path)} {what}", do)])
