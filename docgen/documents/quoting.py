"""What a sentence about a case quotes of it: a reason carries the classes of every text of the case that stands in it.

A criterion gives its reason as one sentence and need not think of who reads it. Texts, codes and ids are found word
by word, whatever their capitals and punctuation. Numbers, days and choices cannot be told from the program's own words
so: a reason carries the class of each such key that the answer says it rests on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from typing import Literal, get_args, get_origin

from docgen.case.base import Part, fields_of
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.record import TRIAL, Sheet
from docgen.case.session import SESSIONS, SessionRow
from docgen.case.totals import TOTALS, Tried
from docgen.criteria.run import Verdict
from docgen.documents.classed import Classed
from docgen.documents.made_from import Classes

_NO_QUOTATION = ("questions",)  # ids of criteria: words of the program, the same for every case
_WORD = re.compile(r"[^\W_]+")
_OF_THE_PROGRAM = re.compile(r"\[\[|[^\W_]_[^\W_]|\b[a-z]{2,}\.(?!csv\b)[a-z]{2,}")  # a table, a key, a dotted path
_TEXTS_KEPT = 2_000  # a case is laid out as it is and as it stood on days of its papers: most texts are the same
Spoken = tuple[str, ...]  # a text as its words alone


class Quotations:
    """Every text of a case, to be found again in a sentence."""

    def __init__(self, case: Case) -> None:
        self._case = case
        classes: dict[Spoken, set[Privacy]] = {}
        for text, privacy in _texts(case):
            if spoken := _spoken(text):
                classes.setdefault(spoken, set()).add(privacy)
        self._classes = {spoken: frozenset(of_text) for spoken, of_text in classes.items()}
        self._starting: dict[Spoken, list[Spoken]] = {}  # by the first two words, for many begin with the same one
        for spoken in sorted(classes, key=len, reverse=True):
            self._starting.setdefault(spoken[:2], []).append(spoken)
        self._first = frozenset(spoken[0] for spoken in classes)

    def needs(self, sentence: str) -> tuple[Classes, ...]:
        """For each text of the case in the sentence, the longest first, the classes of the keys it stands under."""
        words, at, quoted = _spoken(sentence), 0, []
        while at < len(words):
            if words[at] not in self._first:  # most words
                at += 1
                continue
            here = next((s for s in self._starting.get(words[at : at + 2], ()) if words[at : at + len(s)] == s), ())
            if not here and words[at : at + 1] in self._classes:
                here = words[at : at + 1]
            if here:
                quoted.append(self._classes[here])
            at += len(here) or 1
        return tuple(dict.fromkeys(quoted))

    def reason(self, verdict: Verdict) -> Classed:
        """The reason of an answer; without what it quotes, or as the bare claim, for who may not see that.

        A reason that names keys or tables is for `check`: a page has the bare form of it, or the claim.
        """
        answer, claim = verdict.answer, f"{verdict.criterion.claim}."
        bare = answer.bare and Classed(answer.bare, self.needs(answer.bare), claim)
        if _is_of_the_program(answer.reason):
            return bare or Classed(claim, ())
        rests_on = tuple(frozenset([privacy]) for path in answer.where if (privacy := self._class_of_value(path)))
        return Classed(answer.reason, (*self.needs(answer.reason), *rests_on), bare or claim)

    def _class_of_value(self, path: KeyPath) -> Privacy | None:
        """The class of a key that holds a number, a day or a choice; None for a table, a text and what is not
        recorded."""
        part: object = self._case
        for at, name in enumerate(path):
            if isinstance(name, int):
                part = part[name] if isinstance(part, tuple) and name < len(part) else None
            elif not isinstance(part, Part) or name not in fields_of(type(part)):
                return None
            elif at == len(path) - 1:
                value = getattr(part, name)
                text = isinstance(value, str) and not _holds_a_choice(type(part), name)
                return None if text or value is None or isinstance(value, (Part, tuple)) else part.privacy(name)
            else:
                part = getattr(part, name)
        return None


def _is_choice(kind: object) -> bool:
    """Whether a key holds one of a few words that the program knows."""
    return get_origin(kind) is Literal or any(map(_is_choice, get_args(kind)))


@cache
def _holds_a_choice(kind: type[Part], name: str) -> bool:
    return _is_choice(kind.model_fields[name].annotation)


@cache
def _may_hold_text(kind: type[Part]) -> tuple[str, ...]:
    """Keys of a part under which words of the case can stand, there or further down."""
    return tuple(
        name
        for name, entry_of in kind.model_fields.items()
        if name not in _NO_QUOTATION and not _is_choice(entry_of.annotation)
    )


@lru_cache(_TEXTS_KEPT)
def _is_of_the_program(reason: str) -> bool:
    """Whether a reason names a table or a key. Most are the same in several states of a case."""
    return _OF_THE_PROGRAM.search(reason) is not None


@lru_cache(_TEXTS_KEPT)
def _spoken(text: str) -> Spoken:
    return tuple(_WORD.findall(text.casefold()))


def _texts(part: Part) -> list[tuple[str, Privacy]]:
    """Each text of a part and of the parts in it, with its class."""
    texts: list[tuple[str, Privacy]] = []
    _gather_texts(part, texts)
    return texts


def _gather_texts(part: Part, texts: list[tuple[str, Privacy]]) -> None:
    for name in _may_hold_text(type(part)):
        value = getattr(part, name)
        if isinstance(value, str):
            texts.append((value, part.privacy(name)))
            continue
        for entry in value if isinstance(value, tuple) else (value,):
            if isinstance(entry, Part):
                _gather_texts(entry, texts)
            elif isinstance(entry, str):
                texts.append((entry, part.privacy(name)))
    if isinstance(part, Case):
        texts += _of_rows(part.records, TRIAL)
        texts += _of_rows(part.totals, TOTALS)
        texts += _of_rows(part.sessions, SESSIONS)


def _of_rows(rows: Sequence[Tried | SessionRow], sheet: Sheet) -> Iterator[tuple[str, Privacy]]:
    names = [column.name for column in sheet.columns if column.kind in ("id", "words")]
    for name in names:
        texts = {getattr(row, name) for row in rows}  # the same few, row after row
        yield from ((text, sheet.by_name[name].privacy) for text in texts if text)
