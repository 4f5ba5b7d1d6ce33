"""New tables of a case.toml put where their part belongs in the order of the work, as a new case is laid out: behind
the tables of their own list, or of the part before. Nothing else of the text changes."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from os.path import commonprefix
from typing import Any, get_args, get_origin

from docgen.case.base import fields_of
from docgen.case.edit import Edited
from docgen.case.keys import bare_kind
from docgen.case.lines import KeyPath, Span, spans_of
from docgen.case.model import Case
from docgen.case.read import CaseFile, read_text
from docgen.errors import UserError

_Rank = tuple[float, ...]
_COMMENT = re.compile(r"[ \t]*#")


def in_their_place(before: CaseFile, edited: Edited) -> Edited:
    """The change with each table that it wrote at the end of the text where that table belongs; as it is where that
    would make another case of it."""
    kept = before.text.rstrip("\n")
    if not edited.text.startswith(kept):
        return edited  # a line within the text was changed
    n_before, heads = len(spans_of(before.text)[1]), spans_of(edited.text)[1]
    if len(heads) == n_before:
        return edited  # no table was added
    text, new = kept + "\n", heads[n_before:]
    for (path, span), end in zip(new, [*(span.start for _, span in new[1:]), len(edited.text)], strict=True):
        text = _with_table(text, path, edited.text[span.start : end].strip("\n"))
    if text == edited.text:
        return edited
    try:
        placed = read_text(text, before.folder)
    except UserError:
        return edited
    return Edited(text, placed) if placed.case == edited.file.case else edited


def closed_up(before: CaseFile, edited: Edited) -> Edited:
    """The case without an entry, and without the blank line that stood below it."""
    at = len(commonprefix([before.text, edited.text]))
    if edited.text[at - 2 : at + 1] != "\n\n\n":
        return edited
    text = edited.text[:at] + edited.text[at + 1 :]
    return Edited(text, read_text(text, before.folder))


def _with_table(text: str, path: KeyPath, table: str) -> str:
    """The text with one more table behind the last one that comes before it."""
    keys, heads = spans_of(text)
    places = _Places([head for head, _ in heads])
    rank = (*places.rank(path), math.inf)
    above = [(places.rank(head), span) for head, span in heads if places.rank(head) < rank]
    nearest = max(above, key=lambda place: (place[0], place[1].start), default=None)
    at = _end_of_table(text, keys, heads, nearest[1]) if nearest else _top(text, heads)
    rest = text[at:].lstrip("\n")
    return f"{text[:at].rstrip(chr(10))}\n\n{table}\n" + (f"\n{rest}" if rest else "")


class _Places:
    """Where each table of a text stands in the order of the work."""

    def __init__(self, heads: list[KeyPath]) -> None:
        self.entries: dict[KeyPath, float] = {}
        for head in heads:
            for at in range(1, len(head) + 1):
                self.entries.setdefault(head[:at], len(self.entries))

    def rank(self, path: KeyPath) -> _Rank:
        """Place of a table: of a key among the keys of its part, of an entry among those of its list."""
        return tuple(self._rank(path))

    def _rank(self, path: KeyPath) -> Iterator[float]:
        model: Any = Case
        is_list = False
        for at, part in enumerate(path):
            if is_list:
                yield self.entries.get(path[: at + 1], math.inf)
                is_list = False
                continue
            names = list(fields_of(model)) if isinstance(model, type) else []
            yield names.index(str(part)) if part in names else -1
            kind = bare_kind(fields_of(model)[str(part)].annotation) if part in names else None
            is_list = get_origin(kind) is tuple
            model = bare_kind(get_args(kind)[0]) if is_list else kind


def _end_of_table(text: str, keys: Mapping[KeyPath, Span], heads: Sequence[tuple[KeyPath, Span]], head: Span) -> int:
    """Behind the last line of a table, and the comments that stand below it without a gap."""
    following = next((span.start for _, span in heads if span.start > head.start), len(text))
    last = max((span.end for span in keys.values() if head.start < span.start < following), default=head.end)
    end = at = text.find("\n", last) + 1 or len(text)
    while at < len(text) and _COMMENT.match(text, at):
        at = text.find("\n", at) + 1 or len(text)
    return end if at == following else at  # comments right above the next table are of that one


def _top(text: str, heads: list[tuple[KeyPath, Span]]) -> int:
    """Above the first table and the comments that stand over it; the end where there is none."""
    if not heads:
        return len(text)
    at = text.rfind("\n", 0, heads[0][1].start) + 1
    while at and _COMMENT.match(text, above := text.rfind("\n", 0, at - 1) + 1):
        at = above
    return at
