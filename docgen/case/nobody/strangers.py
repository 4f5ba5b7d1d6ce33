"""Names that nobody listed: what is surely one, and what may be one and a person has to look at.

A capital in the middle of a sentence that no ordinary word explains is a name, and so is whoever follows a title: in
doubt, it goes. What stays and may be a name is told: a word that no list knows, an ordinary word with a capital where
none is due, one that is a first name too at the head of a sentence.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator, Sequence

from docgen.case.nobody.spans import Span
from docgen.case.nobody.tokens import Token, begins_sentence, ending_at, tokens
from docgen.case.nobody.vocabulary import (
    ACRONYMS,
    CALLED,
    CONDITIONS,
    DEEDS,
    FUNCTION,
    KINDS,
    OPENERS,
    PARTICLES,
    PLAIN,
    RELATIONS,
    TITLES,
    TRADE,
)
from docgen.case.nobody.words import is_first_name, is_surname, is_word, stems

_TITLE = re.compile(rf"(?<!\w)(?:{TITLES})\b\.?[ \-]$", re.I)
_BEFORE_NAME = re.compile(
    rf"(?<!\w)(?:(?:{TITLES})\.?|{RELATIONS}|ask|asks|asked|tell|tells|told|call|calls|called|named|nicknamed|phone|text"
    r"|ring|visit|meet|thank)[ ,]+$",
    re.I,
)
_POSSESSIVE = re.compile(r"['\u2019](?:s\b|(?<=s['\u2019]) )")
_IS = frozenset("is was has had will can does did and".split())


class Strangers:
    """Finds names that no key of the case holds.

    ordinary  folded words that mean something in this trade or in this case
    texts     all free texts of the case; a name seen once where only a name has a capital is one everywhere
    """

    def __init__(self, ordinary: Collection[str], texts: Collection[str]) -> None:
        self.ordinary = frozenset(ordinary)
        all_tokens = [(text, token) for text in texts for token in tokens(text)]
        small = {token.word for _, token in all_tokens if not token.capital}
        self.seen = (
            {
                token.word
                for text, token in all_tokens
                if token.capital
                and not token.upper
                and token.end - token.start > 1
                and not begins_sentence(text, token)
                and (
                    token.word not in small
                    and token.word not in self.ordinary
                    or is_first_name(token.word)
                    and token.word not in OPENERS
                )
            }
            - PLAIN
            - CONDITIONS
            - KINDS
        )

    def run(self, text: str, words: Sequence[Token], at: int) -> int | None:
        """Where the name ends that begins at this word, as a place among the words; None when none begins."""
        if not self._is_name(text, words[at]):
            return None
        end = at + 1
        while end < len(words) and self._goes_on(text, words[end - 1], words[end]):
            end += 1
        return end

    def _is_name(self, text: str, token: Token) -> bool:
        if token.capital and token.word in self.seen and not (token.upper and is_word(token.word)):
            return True
        if not unicodedata.name(text[token.start], "LATIN").startswith("LATIN"):
            return True  # a script that no page of this program is written in
        titled = ending_at(_TITLE, text, token.start)
        return bool(titled) and token.word not in PARTICLES and (token.capital or self._unknown(token.word))

    def _goes_on(self, text: str, before: Token, token: Token) -> bool:
        """Whether a name goes on: with a capital that is no kind of place, right after it."""
        named = is_surname(token.word) or self._unknown(token.word)
        return (
            token.capital
            and text[before.end : token.start] in (" ", "-", ". ")
            and named
            and token.word not in PLAIN | KINDS | ACRONYMS
        )

    def _unknown(self, word: str) -> bool:
        return not (is_word(word) or any(stem in self.ordinary or stem in PLAIN for stem in stems(word)))

    def doubtful(self, text: str, taken: Sequence[Span]) -> Iterator[Token]:
        """The words outside the stretches taken that stay and may be a name."""
        words = tokens(text)
        for at, token in enumerate(words):
            if any(span.start <= token.start < span.end for span in taken):
                continue
            following = words[at + 1] if at + 1 < len(words) else None
            if self._may_be_name(text, token, following):
                yield token

    def _may_be_name(self, text: str, token: Token, following: Token | None) -> bool:
        word = token.word
        if word in ACRONYMS and not (token.capital and not token.upper):
            return False
        if self._unknown(word):
            return len(word) > (1 if token.capital else 2) and word not in CONDITIONS | KINDS
        if word in PLAIN | KINDS | CONDITIONS | PARTICLES | CALLED or len(word) < 2:
            return False
        if not token.capital:
            return self._may_be_small_name(text, token)
        if token.upper:
            return is_first_name(word) and word not in OPENERS
        if not begins_sentence(text, token):
            return True
        if is_first_name(word) and word not in OPENERS:
            return True
        rare = word not in self.ordinary or self._acts(text, token, following)
        return is_surname(word) and word not in FUNCTION and rare

    def _may_be_small_name(self, text: str, token: Token) -> bool:
        """Whether a word in small letters stands as a name does, or is a first name and nothing else."""
        word = token.word
        titled = is_surname(word) and bool(ending_at(_TITLE, text, token.start))
        if is_first_name(word):
            alone = word not in self.ordinary | OPENERS | FUNCTION | TRADE
            return alone or titled or bool(ending_at(_BEFORE_NAME, text, token.start))
        return titled

    def _acts(self, text: str, token: Token, following: Token | None) -> bool:
        """Whether what comes next makes a person of a word at the head of a sentence."""
        if _POSSESSIVE.match(text, token.end):
            return True
        if following is None or text[token.end : following.start] != " ":
            return False
        return (
            following.word in DEEDS
            or (following.word in _IS and is_first_name(token.word) and token.word not in _IS)
            or (following.capital and not following.upper and following.word not in PLAIN | KINDS)
        )
