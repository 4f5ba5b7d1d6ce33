"""Sentences that name lists of a case as [[...]] -> the same in the form in which the case writes them."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from docgen.case.keys import value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.read import CaseFile
from docgen.case.written import form_at, key_of, place_of_table

if TYPE_CHECKING:
    import tomlkit

_LIST = re.compile(r"\[\[([a-z_.]+)\]\]")
_OF_ENTRY = re.compile(r"\[\[([a-z_.]+)\]\] of ([\w.-]*\w)")  # of the entry, or of the entry that the list stands in
_WITH_WORD = re.compile(r'\[\[([a-z_.]+)\]\] with ([a-z_]+) = "(\w+)"(?:(, | and )|(?=[.;]))')
_ID_IN = re.compile(r"not an id in \[\[([a-z_.]+)\]\]")
_WITH_KEY = re.compile(r"\[\[([a-z_.]+)\]\] with ([a-z_]+)(?:, | and )")
_ID_TOO = re.compile(r"(\.NAME\]) with id(?=[.;])|(?<=\.NAME\] with )id, ")  # NAME says it
_ENTRY = re.compile(r"(?<!Add )(?<!of a room in )\[([a-z_.]+)\.NAME\]")
_NAME = r'(?:[A-Za-z0-9_-]+|"[^"]*")'
_NAMES = re.compile(_NAME)
_HEAD = re.compile(rf"(?<!\[)\[{_NAME}(?:\.{_NAME})+\](?!\])")
_BRACES = re.compile(r"=[ \t]*\{")
_KEY_AT_END = re.compile(r"""("[^"\n]*"|'[^'\n]*'|[A-Za-z0-9_-]+)[ \t]*$""")
_MOST_NAMES = 3


def as_written(text: str, by_name: Collection[KeyPath]) -> str:
    """A sentence that names lists as [[...]], in the form in which a case writes them."""
    if "[" not in text:
        return text
    names = {dotted(path) for path in by_name}
    text = _OF_ENTRY.sub(lambda of: _head_of_entry(of[1], of[2], names) or of[0], text)
    text = _WITH_WORD.sub(lambda of: _head_with_word(of[1], of[2], of[3], names, bool(of[4])) or of[0], text)
    text = _WITH_KEY.sub(lambda of: _head_with_key(of[1], of[2], names) or of[0], text)
    text = _ID_IN.sub(lambda of: f"no entry of [{of[1]}]" if of[1] in names else of[0], text)
    named = _LIST.sub(lambda of: _named_head(of[1], names) or of[0], text)
    return _ID_TOO.sub(r"\1", named)


def _head_of_entry(of_list: str, name: str, by_name: Collection[str]) -> str:
    """Head of the entry of that name, or of the list within the entry of that name; "" where none is written so."""
    table, _, key = of_list.rpartition(".")
    written = key_of(name)
    if table in by_name:
        return f"[{table}.{written}.{key}]"
    return f"[{of_list}.{written}]" if of_list in by_name else ""


def _head_with_word(of_list: str, key: str, word: str, by_name: Collection[str], goes_on: bool) -> str:
    """Head of an entry whose name says this word of its key, and what goes on; "" where its name does not."""
    form = form_at((*of_list.split("."), 0))
    says = form is not None and key in (form.key, form.also)
    return f"[{of_list}.{word}]{' with ' * goes_on}" if says and of_list in by_name else ""


def _head_with_key(of_list: str, key: str, by_name: Collection[str]) -> str:
    """Head of an entry whose name is, or says, the value of this key, and what goes on; "" where it says none."""
    form = form_at((*of_list.split("."), 0))
    if form is None or of_list not in by_name:
        return ""
    if key == "name" == form.words and not form.begins:  # the name of the entry in words is its name
        return f"[{of_list}.NAME] with "
    return f"[{of_list}.{key.upper()}] with " if key == form.key != "id" else ""


def _named_head(of_list: str, by_name: Collection[str]) -> str:
    """Head of an entry of a list that is written by name, or stands in entries that are; "" where none is."""
    table, _, key = of_list.rpartition(".")
    if table in by_name:
        return f"[{table}.NAME.{key}.NAME]"
    return f"[{of_list}.NAME]" if of_list in by_name else ""


def with_names(text: str, file: CaseFile, where: Iterable[KeyPath]) -> str:
    """A sentence in the form of the case, with the names of the entries that it is about in place of NAME.

    where  places that the sentence is about
    """
    places = [*where]

    def named(of: re.Match[str]) -> str:
        of_list = tuple(of[1].split("."))
        entries = {path[: len(of_list) + 1]: None for path in places if path[: len(of_list)] == of_list}
        entries = {path: None for path in entries if len(path) > len(of_list) and value_at(file.case, path) is not None}
        if of_list not in file.by_name or not entries:
            return of[0]
        heads = [place_of_table(file, path) for path in entries]
        if len(heads) == 1 and not (heads[0].entry or heads[0].prefix):
            return heads[0].head
        names = [head.entry or head.prefix.rstrip(".") or head.head[len(of[1]) + 2 : -1] for head in heads]
        shown = ", ".join(names[:_MOST_NAMES])
        return f"[{of[1]}] {shown}" + (f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else "")

    return _HEAD.sub(lambda of: in_braces(of[0], file.text), _ENTRY.sub(named, as_written(text, file.by_name)))


def in_braces(head: str, text: str) -> str:
    """Head of a table, or, where an entry on its way stands in braces, which no head may open again, what is to be
    written within them.

    text  the case as it is written
    """
    names = [name.strip('"') for name in _NAMES.findall(head.strip("[]"))]
    if _before_braces(text).isdisjoint(names[:-1]):  # of most heads, and the whole text need not become a tree
        return head
    from tomlkit.items import InlineTable

    node: Any = tree_of(text)
    for at, name in enumerate(names):
        node = node.get(name) if isinstance(node, Mapping) else None
        if isinstance(node, InlineTable) and at + 1 < len(names):
            place = f"[{'.'.join(names[:at])}] " if at else ""
            return f"{place}{name} = {{ ... }}, within its braces as {'.'.join(names[at + 1 :])} = {{ ... }}"
    return head


@lru_cache(4)
def _before_braces(text: str) -> frozenset[str]:
    """What stands before an equals sign and a brace anywhere in a text: no other key can have its table in braces."""
    lines = (text[text.rfind("\n", 0, at.start()) + 1 : at.start()] for at in _BRACES.finditer(text))
    return frozenset(key[1].strip("\"'") for line in lines if (key := _KEY_AT_END.search(line)))


@lru_cache(4)
def tree_of(text: str) -> tomlkit.TOMLDocument:
    """A case as the tree of its text; empty where it is no TOML."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        return tomlkit.parse(text)
    except TOMLKitError:
        return tomlkit.document()
