"""Which words are ordinary English, and which of those are names too.

words.txt.xz beside this file holds 65,000 words written small, one a line, with * after those that are a first name too
and + after those that are a surname. It was made by tests/privacy/make_words.py from word lists of Debian (SCOWL,
notice in words.copyright.txt) and from names counted in a census (public domain). It is unpacked for a copy about
nobody alone.
"""

from __future__ import annotations

import lzma
from collections.abc import Iterator
from functools import cache
from pathlib import Path

_LIST = Path(__file__).with_name("words.txt.xz")
_ENDINGS = (
    ("s", ""), ("es", ""), ("ed", ""), ("ed", "e"), ("ing", ""), ("ing", "e"), ("ies", "y"), ("ly", ""), ("ness", ""),
    ("er", ""), ("er", "e"), ("able", ""), ("less", ""),
)  # fmt: skip
_STARTS = ("re", "un", "non", "pre", "mid", "over", "under", "anti", "co", "sub", "hyper", "hypo", "micro", "multi")


def is_word(word: str) -> bool:
    """Whether a folded word is ordinary English, as it stands or without a common beginning or ending."""
    known = _words()
    return any(
        stem in known or any(stem.removeprefix(start) in known for start in _STARTS if len(stem) > len(start) + 3)
        for stem in stems(word)
    )


def is_first_name(word: str) -> bool:
    """Whether an ordinary word is a first name too: grace, hope, will."""
    return _words().get(word) == "*"


def is_surname(word: str) -> bool:
    """Whether an ordinary word is a name of any kind: banks, brook, grace."""
    return bool(_words().get(word))


def stems(word: str) -> Iterator[str]:
    """The word, and what is left of it without each ending of English."""
    yield word
    for ending, instead in _ENDINGS:
        if word.endswith(ending) and len(word) > len(ending) + 2:
            yield word.removesuffix(ending) + instead


@cache
def _words() -> dict[str, str]:
    lines = lzma.decompress(_LIST.read_bytes()).decode().splitlines()
    return {line.rstrip("*+"): line[-1] if line[-1] in "*+" else "" for line in lines}
