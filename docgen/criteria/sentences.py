"""Small pieces of the sentences in which criteria give their reasons."""

from __future__ import annotations

import re
from collections.abc import Iterable

from docgen.evidence.fact import Fact
from docgen.months import day_in_words

day = day_in_words

_SENTENCE_END = re.compile(r"(?<=[.!?])\s+")
_STATEMENT_END = re.compile(r"(?<=[.!?;])\s+|(?<=;)(?=\S)")


def sentences_of(text: str | None) -> list[str]:
    """The sentences of a text of the case, each with its mark."""
    return _SENTENCE_END.split(text) if text else []


def statements_of(text: str | None) -> list[str]:
    """The same, parted at semicolons too: each says one thing."""
    return _STATEMENT_END.split(text) if text else []


def k_of_n(fact: Fact) -> str:
    """A proportion as it is counted: 18 of 20."""
    return f"{fact.k:g} of {fact.n}"


def points(fact: Fact) -> str:
    """A difference of shares with its interval, in percentage points."""
    if fact.value is None or fact.low is None or fact.high is None:
        raise ValueError(f"{fact.id} holds no difference with an interval")
    return points_of(fact.value, fact.low, fact.high)


def points_of(difference: float, low: float, high: float) -> str:
    """The same of its three numbers."""
    value, least, most = (f"{round(share * 100) or 0}" for share in (difference, low, high))
    return f"{value} percentage points ({least} to {most})"


def listed(words: Iterable[str], last: str = "and") -> str:
    """a, b and c."""
    parts = list(words)
    return f" {last} ".join(filter(None, [", ".join(parts[:-1]), *parts[-1:]]))


def counted(number: int, singular: str, plural: str) -> str:
    """1 item, 2 items."""
    return f"{number} {singular if number == 1 else plural}"


def capital(words: str) -> str:
    """The words with a capital letter."""
    return words[:1].upper() + words[1:]
