"""The text of a TOML file as a tree of tomlkit, in which each comment, space and key keeps its place.

A tree is changed in its bodies: lists of what stands in a table in the order of the text, keys with their values and,
between them, comments and blank lines. Keys are looked up there too, since a table may be begun in several places.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

import tomlkit
from msgspec import Struct
from tomlkit.container import Container
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Comment, Date, InlineTable, Key, Table, Whitespace

from docgen.case.lines import KeyPath

_Pair = tuple[Key | None, Any]  # what stands in a body: a key with its value, or a comment or space without one
_Body = list[_Pair]
_SPACES = re.compile(r"[ \t]+")


class Spot(Struct, frozen=True):
    """Where a value stands.

    holder  what it stands in: the body of a table, or a list of values or of tables
    at      its place there
    above   where that table or list stands itself; None in the file
    """

    holder: Any
    at: int
    above: Spot | None

    @property
    def key(self) -> Key | None:
        """The key of the value; None for an entry of a list."""
        return self.holder[self.at][0] if isinstance(self.holder[self.at], tuple) else None

    @property
    def item(self) -> Any:
        """The value itself."""
        return self.holder[self.at][1] if isinstance(self.holder[self.at], tuple) else self.holder[self.at]

    @property
    def is_table(self) -> bool:
        """Whether keys stand below it: under a head, behind dots or in braces."""
        return isinstance(self.item, (Table, InlineTable))

    @property
    def is_in_braces(self) -> bool:
        """Whether it is a table in braces."""
        return isinstance(self.item, InlineTable)

    @property
    def is_list(self) -> bool:
        """Whether it is a list of tables in brackets, or an empty one."""
        return isinstance(self.item, Array) and all(isinstance(entry, InlineTable) for entry in self.item)

    @property
    def has_head(self) -> bool:
        """Whether tables within it stand below heads of their own."""
        return isinstance(self.item, (Table, AoT))

    @property
    def written(self) -> str:
        """The value as the text has it."""
        return str(self.item.as_string())

    @property
    def is_begun(self) -> bool:
        """Whether a table has a head, dots or braces of its own, and not only tables within it."""
        is_dotted = self.key is not None and self.key.is_dotted()
        return is_dotted or not (isinstance(self.item, Table) and self.item.is_super_table())


class TomlTree:
    """A text that is changed here and there. Raises ValueError, in words, where the tree would not be the text as it
    stands."""

    def __init__(self, text: str) -> None:
        whole = text if text.endswith("\n") else f"{text}\n"
        try:
            self._document = tomlkit.parse(whole)
        except TOMLKitError as failure:
            raise ValueError(f"can be read, and not be changed: {failure}") from None
        _keep_spaces_behind_days(self._document.body)
        if _SPACES.sub("", self.text) != _SPACES.sub("", whole):  # tomlkit draws them together
            raise ValueError("has entries of one list, each below a head in [[ ]], that do not follow one another")

    @property
    def text(self) -> str:
        """The text as it then is."""
        return self._document.as_string()

    def spots(self, place: KeyPath) -> list[Spot]:
        """Where a key or table stands, by the keys that lead to it as they are written: each part of one that is begun
        several times."""
        spots = [*_inside(self._document.body, place[0], None)] if place else []
        for part in place[1:]:
            spots = [inner for spot in spots for inner in _inside(_held_by(spot.item), part, spot)]
        return spots

    def value(self, place: KeyPath) -> Spot | None:
        """Where a key stands with its value, which may be in braces; None where there is none."""
        return next((spot for spot in self.spots(place) if not isinstance(spot.item, (Table, AoT))), None)

    def table(self, place: KeyPath) -> Spot | None:
        """Where a table stands that a key can be added to, or the value that stands for it; None where there is
        none."""
        return next((spot for spot in reversed(self.spots(place)) if spot.is_begun), None)

    def put(self, spot: Spot, value: str, note: str = "") -> None:
        """Another value in place of one.

        value  as TOML writes it
        note   words of a comment behind it, after those of the comment that is there
        """
        (_, new), old = _pair("value", value), spot.item
        new.trivia.indent, new.trivia.trail = old.trivia.indent, old.trivia.trail
        new.trivia.comment_ws, new.trivia.comment = old.trivia.comment_ws, old.trivia.comment
        spot.holder[spot.at] = new if spot.key is None else (spot.key, new)
        _note(spot, note)

    def add(self, table: Spot, key: str, value: str, note: str = "") -> None:
        """A key that a table has not, behind its last one."""
        body: _Body = _held_by(table.item)
        new = _pair(key, value)
        if isinstance(table.item, InlineTable):
            _add_in_braces(body, new)
            _note(table, note)
        else:
            last = max((at for at, there in enumerate(body) if there[0] and not _has_head(there)), default=-1)
            _insert(body, last + 1, new)
            _note(Spot(body, last + 1, table), note)

    def add_behind(self, spot: Spot, key: str, value: str) -> None:
        """A key on the line below another one."""
        _insert(spot.holder, spot.at + 1, _pair(key, value))

    def add_of_its_name(self, spot: Spot, keys: Mapping[str, str]) -> bool:
        """One more entry under a name that one has, or several have, already; False where it is written behind dots."""
        item = spot.item
        row = f"{{ {', '.join(f'{key} = {value}' for key, value in keys.items())} }}"
        if isinstance(item, InlineTable):
            self.put(spot, f"[\n  {item.as_string()},\n  {row},\n]")
        elif isinstance(item, Array):
            item.append(_pair("row", row)[1])
        elif isinstance(item, AoT) or (spot.is_begun and _has_head(spot.holder[spot.at])):
            entries = item.body if isinstance(item, AoT) else [Table(item.value, item.trivia, is_aot_element=True)]
            tail = _cut_tail(entries[-1])
            new = Table(Container(True), entries[-1].trivia.copy(), is_aot_element=True)
            new.value.body.extend([*(_pair(key, value) for key, value in keys.items()), *tail])
            entries[-1].value.body.append((None, Whitespace("\n")))
            spot.holder[spot.at] = (spot.key, AoT([*entries, new], parsed=True))
        else:
            return False
        return True

    def rename(self, spot: Spot, name: str) -> None:
        """Another name for a key or a table, wherever it stands as one."""
        key, item = there = spot.holder[spot.at]
        new = tomlkit.key(name) if _has_head(there) else _pair(f"{name}.key" if key.is_dotted() else name, "0")[0]
        spot.holder[spot.at] = (new, item)
        _forget_heads(item)

    def below(self, place: KeyPath) -> Iterator[tuple[KeyPath, Spot]]:
        """Each key and entry within a table or list, and its path."""
        for spot in self.spots(place):
            yield from _below(place, spot)

    def take_out(self, spot: Spot) -> None:
        """A key or an entry away, with the comment behind it. Comments and blank lines below the last key of a table
        stay: they may be of the next one."""
        left = _cut_tail(spot.item)
        if spot.above is not None and isinstance(spot.above.item, InlineTable):
            _take_out_of_braces(spot.holder, spot.at)
        else:
            del spot.holder[spot.at]
        above = spot.above
        if above is not None and isinstance(above.item, (AoT, Table)) and not _held_by(above.item) and _goes(above):
            self.take_out(above)
            spot = above
        _put_before(spot, left)


def _inside(content: Any, part: str | int, above: Spot | None) -> Iterator[Spot]:
    """Where a key of a body, or an entry of a list, stands."""
    if isinstance(part, int):
        if isinstance(content, (AoT, Array)) and part < len(content):
            yield Spot(content, part, above)
    elif isinstance(content, list) and not isinstance(content, (AoT, Array)):
        keys = (key and key.key for key, _ in content)
        yield from (Spot(content, at, above) for at, key in enumerate(keys) if key == part)


def _below(place: KeyPath, spot: Spot) -> Iterator[tuple[KeyPath, Spot]]:
    content = _held_by(spot.item)
    for at, there in enumerate(content):
        part = at if not isinstance(there, tuple) else there[0].key if there[0] is not None else None
        if part is not None:
            inner = Spot(content, at, spot)
            yield (*place, part), inner
            yield from _below((*place, part), inner)


def _forget_heads(item: Any) -> None:
    """Have the heads of a table, and of those within it, written anew."""
    if isinstance(item, Table):
        item.display_name = None
    for there in _held_by(item) if isinstance(item, (Table, AoT)) else ():
        _forget_heads(there[1] if isinstance(there, tuple) else there)


def _held_by(item: Any) -> Any:
    """What stands in a table or a list; nothing in any other value."""
    if isinstance(item, (Table, InlineTable)):
        return item.value.body
    return item if isinstance(item, (AoT, Array)) else []


def _keep_spaces_behind_days(body: _Body) -> None:
    """Put the spaces behind a day in braces where the tree has those behind other values: it would lose them."""
    for _, item in body:
        for inner in item if isinstance(item, (AoT, Array)) else (item,):
            if isinstance(inner, (Table, InlineTable)):
                _keep_spaces_behind_days(inner.value.body)
            if isinstance(inner, InlineTable):
                inside = inner.value.body
                days = [at for at, (_, value) in enumerate(inside) if isinstance(value, Date)]
                for at in reversed(days):
                    if spaces := inside[at][1].trivia.comment_ws:
                        inside[at][1].trivia.comment_ws = ""
                        inside.insert(at + 1, (None, Whitespace(spaces)))


def _pair(key: str, value: str) -> _Pair:
    body = tomlkit.parse(f"{key} = {value}\n").body
    _keep_spaces_behind_days(body)
    return body[0]


def _note(spot: Spot, note: str) -> None:
    """A comment behind a value, at the end of its line: in braces and lists behind the whole."""
    while spot.above is not None and isinstance(spot.above.item, (InlineTable, Array)):
        spot = spot.above
    trivia = spot.item.trivia
    if note and trivia.comment:
        trivia.comment = f"{trivia.comment}; {note}"
    elif note:
        trivia.comment_ws, trivia.comment = "  ", f"# {note}"


def _has_head(there: _Pair) -> bool:
    """Whether what stands in a body is a table or a list of tables below heads of their own."""
    key, item = there
    return isinstance(item, AoT) or (isinstance(item, Table) and key is not None and not key.is_dotted())


def _insert(body: _Body, at: int, new: _Pair) -> None:
    """A key on a line of its own, as far in as the one above."""
    above = body[at - 1][1] if at else None
    if above is not None and not isinstance(above, (Table, Whitespace)):
        new[1].trivia.indent = above.trivia.indent
    body.insert(at, new)


def _add_in_braces(body: _Body, new: _Pair) -> None:
    """A key behind the last one in braces, with the comma and the space or line break that part the others."""
    keys = [at for at, (key, _) in enumerate(body) if key is not None]
    if not keys:
        body[:] = [(None, Whitespace(" ")), new, (None, Whitespace(" "))]
        return
    last = keys[-1]
    before = body[last - 1][1] if last else None
    space = before.s if isinstance(before, Whitespace) and "," not in before.s else " "
    comma = next((at for at in range(last, len(body)) if _is_comma(body[at])), None)
    if comma is None:
        body.insert(last + 1, (None, Whitespace(",")))
    end = _end_of_comment(body, (last if comma is None else comma - 1) + 2)
    if isinstance(body[end - 1][1], Comment) and "\n" not in space:
        space = "\n  "
    more = [(None, Whitespace(","))] if comma is not None else []
    body[end:end] = [(None, Whitespace(space)), new, *more]


def _take_out_of_braces(body: _Body, at: int) -> None:
    """A key away, with one comma, the comment behind it and the space before it."""
    following = next((n for n in range(at + 1, len(body)) if _is_comma(body[n])), None)
    start, end = at, _end_of_comment(body, at + 1 if following is None else following + 1)
    is_last = all(key is None for key, _ in body[at + 1 :])
    if is_last and at and _is_space(body[at - 1]):
        start = at - 1
    elif not is_last and _is_space(body[end]):
        end += 1  # that of the next key: its own stays for that one
    del body[start:end]
    if following is None and (before := [n for n in range(start) if _is_comma(body[n])]):
        del body[before[-1]]


def _is_space(there: _Pair) -> bool:
    return isinstance(there[1], Whitespace) and "," not in there[1].s


def _is_comma(there: _Pair) -> bool:
    return isinstance(there[1], Whitespace) and "," in there[1].s


def _end_of_comment(body: _Body, at: int) -> int:
    """Behind the comment that stands at this place, or after spaces on the same line; the place itself for none."""
    after = at
    while after < len(body) and isinstance(body[after][1], Whitespace) and not body[after][1].s.strip(" \t"):
        after += 1
    return after + 1 if after < len(body) and isinstance(body[after][1], Comment) else at


def _cut_tail(item: Any) -> _Body:
    """Take the comments and blank lines below the last key of a table out of it."""
    if isinstance(item, AoT):
        return _cut_tail(item.body[-1]) if item.body else []
    if not isinstance(item, Table):
        return []
    body: _Body = item.value.body
    at = len(body)
    while at and body[at - 1][0] is None:
        at -= 1
    tail = [*(_cut_tail(body[at - 1][1]) if at else ()), *body[at:]]
    del body[at:]
    return tail


def _goes(spot: Spot) -> bool:
    """Whether a table in which nothing is left has no head of its own to stand by."""
    return isinstance(spot.item, AoT) or not spot.is_begun or (spot.key is not None and spot.key.is_dotted())


def _put_before(spot: Spot, left: _Body) -> None:
    """Comments and blank lines where a table stood: at the end of the table above it."""
    if not left:
        return
    before = spot.holder[spot.at - 1] if spot.at else None
    if isinstance(before, tuple) and not _has_head(before):
        spot.holder[spot.at : spot.at] = left
    elif before is not None:
        item = before[1] if isinstance(before, tuple) else before
        while isinstance(item, AoT) or item.is_super_table():  # which has no head that they could stand below
            item = item.body[-1] if isinstance(item, AoT) else item.value.body[-1][1]
        item.value.body.extend(left)
    elif spot.above is not None and not (isinstance(spot.above.item, Table) and spot.above.is_begun):
        _put_before(spot.above, left)
    else:
        spot.holder[spot.at : spot.at] = left
