"""Which way the letters of a text run, and whether its script is Latin."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

_LAST_LATIN = 0x024F  # end of Latin Extended-B; IPA and what follows is marked by nobody's name
_LATIN_EXTENDED = range(0x1E00, 0x1F00)
# the blocks of Unicode in which letters run from right to left
_MAY_RUN_LEFT = re.compile("[\u0590-\u08ff\u200f\ufb1d-\ufdff\ufe70-\ufeff\U00010800-\U00010fff\U0001e800-\U0001efff]")


def stretches(text: str) -> Iterator[tuple[str, bool]]:
    """The text in pieces, each with whether it runs from right to left: from one such letter to the last before one
    that runs the other way, with the marks, digits and spaces between."""
    if not _MAY_RUN_LEFT.search(text):
        yield text, False
        return
    start = at = 0
    while at < len(text):
        if not _runs_left(text[at]):
            at += 1
            continue
        if at > start:
            yield text[start:at], False
        start = end = at
        while at < len(text) and unicodedata.bidirectional(text[at]) != "L":
            end = at + 1 if _runs_left(text[at]) or unicodedata.combining(text[at]) else end
            at += 1
        yield text[start:end], True
        start = at = end
    if start < len(text):
        yield text[start:], False


def is_latin(text: str) -> bool:
    """Whether every letter of the text is Latin."""
    return text.isascii() or all(
        ord(char) <= _LAST_LATIN or ord(char) in _LATIN_EXTENDED for char in text if char.isalpha()
    )


def _runs_left(char: str) -> bool:
    return unicodedata.bidirectional(char) in ("R", "AL")
