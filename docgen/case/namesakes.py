"""When two names are the name of one person, however they are written."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_TEXTS_KEPT = 1_000  # names and reasons of one case in its states
_TITLES = frozenset("dr mr mrs ms mx prof".split())


def name_words(name: str) -> list[str]:
    """The words of a name by which two names are the same, in the order of the alphabet.

    Letters are compared without marks and case, whatever they are written with; titles, and credentials behind a comma
    or in capitals behind the name, are left out.
    """
    parts = name.partition(",")[0].split()
    capitals = all(part.isupper() for part in parts)
    while len(parts) > 2 and not capitals and (parts[-1].isupper() or "." in parts[-1][:-1]):
        parts.pop()
    words = [word for part in parts for word in letters_and_digits(part)]
    return sorted(word for word in words if word not in _TITLES) or sorted(words)


@lru_cache(_TEXTS_KEPT)
def letters_and_digits(text: str) -> tuple[str, ...]:
    """Words of letters and digits; apostrophes and what nobody sees part none."""
    plain = "".join(
        char
        for char in unicodedata.normalize("NFKD", unicodedata.normalize("NFKC", text).casefold())
        if unicodedata.category(char) not in ("Mn", "Cf") and char not in "'\u2019\u02bc\u00b4`"
    )
    return tuple(re.findall(r"[^\W_]+", plain))
