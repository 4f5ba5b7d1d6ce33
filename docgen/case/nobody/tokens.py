"""The words of a text, without case and accents, and where each stands."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from functools import lru_cache

from msgspec import Struct

_TOKEN = re.compile(r"[^\W\d_]+")
_SENTENCE_START = re.compile(r"(?:^|[.!?:;\u201c\"\u2022\n]|[.!?][\u201d\")])[\s\u201c\"(\u2018']*$")
_NO_STOP = re.compile(r"\b(?:mr|mrs|ms|mx|dr|prof|st|rev|sr|jr|no|vs)\.\s*$", re.I)
_MOST_BEFORE = 200  # longer than a title, a relation or the end of a sentence is
_LETTERS = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i", "ħ": "h"})


class Token(Struct, frozen=True):
    """A word: folded, and from where to where it stands in the text."""

    word: str
    start: int
    end: int
    capital: bool  # starts with a capital
    upper: bool  # all capitals


def folded(text: str) -> tuple[str, Sequence[int]]:
    """The text without case and accents, and for each of its characters the place in the text it comes from."""
    if text.isascii():  # nothing but case to take off
        return text.casefold(), range(len(text))
    shown, places = [], []
    for at, char in enumerate(text):
        for part in unicodedata.normalize("NFKD", char).casefold().translate(_LETTERS):
            if not unicodedata.combining(part):
                shown.append(part)
                places.append(at)
    return "".join(shown), places


def words_of(text: str) -> tuple[str, ...]:
    """The folded words of a text, in order."""
    return tuple(_TOKEN.findall(folded(text)[0]))


@lru_cache(maxsize=64)  # one text is gone through several times on end
def tokens(text: str) -> tuple[Token, ...]:
    """The words of a text with their places."""
    shown, places = folded(text)
    words = []
    for match in _TOKEN.finditer(shown):
        start = places[match.start()]
        end = places[match.end()] if match.end() < len(places) else len(text)
        while end > start + 1 and not text[end - 1].isalpha() and not unicodedata.combining(text[end - 1]):
            end -= 1
        raw = text[start:end]
        words.append(Token(match[0], start, end, raw[:1].isupper(), raw.isupper()))
    return tuple(words)


def begins_sentence(text: str, token: Token) -> bool:
    """Whether a capital is due at this word whatever it is; after a title such as Dr. it is not."""
    return bool(ending_at(_SENTENCE_START, text, token.start)) and not ending_at(_NO_STOP, text, token.start)


def ending_at(pattern: re.Pattern[str], text: str, place: int) -> re.Match[str] | None:
    """Where a pattern that ends in $ ends at a place of the text, having begun at most so many characters before."""
    return pattern.search(text, max(0, place - _MOST_BEFORE), place)
