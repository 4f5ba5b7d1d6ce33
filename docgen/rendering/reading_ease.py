"""How easy a document in a language other than English is to read, by the formulas of that language: data, in
`reading.toml` of its folder of templates.

Each formula is of the kind that Flesch made for English: a base, less syllables a word and words a sentence, each times
a weight. It takes counts, so it can be checked without any counting; what counts as word and sentence is as for
English. Syllables follow the spelling, by the patterns of the language.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from msgspec import Struct, convert

from docgen.rendering.readability import LONG_SENTENCE, sentences, words_of

_LETTERS = re.compile(r"[^\W\d_]+")


class Formula(Struct, frozen=True, forbid_unknown_fields=True):
    """A score, higher is easier: base - per_syllable * syllables / words - per_word * words / sentences.

    id     of its fact, before the name of the document
    name   as the trade calls the score
    label  what it is, in English
    """

    id: str
    name: str
    label: str
    base: float
    per_syllable: float
    per_word: float
    source: str

    def score(self, n_words: int, n_sentences: int, n_syllables: int) -> float:
        """The score of a text with so many words, sentences and syllables, each at least 1."""
        return self.base - self.per_syllable * n_syllables / n_words - self.per_word * n_words / n_sentences

    def __str__(self) -> str:
        per_word = "" if self.per_word == 1 else f"{self.per_word:g} "
        return f"{self.base:g} - {self.per_syllable:g} syllables/word - {per_word}words/sentence"


class LanguageReading(Struct, frozen=True):
    """Counts and measures of one document.

    scores          by the id of their formula, the first of the language first
    band            what the first score is called in the language
    easy            whether the first score is at least the one that is wanted
    long_sentences  sentences of more than LONG_SENTENCE words
    """

    n_words: int
    n_sentences: int
    n_syllables: int
    scores: Mapping[str, float]
    band: str
    easy: bool
    long_sentences: tuple[str, ...]


class ReadingRule(Struct, frozen=True, forbid_unknown_fields=True):
    """How texts of a language are measured.

    least      first score that is wanted of a document for the family
    bands      least first score of a band, and its name; the easiest first, the last for whatever is below
    formulas   the first decides band and ease
    unspoken   patterns of small letters, in order, and what takes their place before vowels are counted
    nucleus    pattern of one spoken vowel, each of which makes a syllable
    """

    least: float
    bands: tuple[tuple[float, str], ...]
    formulas: tuple[Formula, ...]
    unspoken: tuple[tuple[str, str], ...]
    nucleus: str

    def syllables(self, word: str) -> int:
        """Syllables of a word by its spelling; at least 1."""
        return sum(max(1, len(re.findall(self.nucleus, self._spoken(part)))) for part in _LETTERS.findall(word)) or 1

    def _spoken(self, part: str) -> str:
        """The part in small letters with only the vowels that are spoken, each by a letter of its own kind."""
        spoken = part.lower()
        for pattern, letters in self.unspoken:
            spoken = re.sub(pattern, letters, spoken)
        return spoken

    def band(self, score: float) -> str:
        """What a first score is called."""
        return next(name for least, name in self.bands if score >= least)

    def reading(self, pieces: Iterable[str]) -> LanguageReading | None:
        """How easy the pieces of a document are to read; None when they hold no sentence."""
        in_order = sentences(pieces)
        if not in_order:
            return None
        words = [words_of(sentence) for sentence in in_order]
        counts = (
            sum(map(len, words)),
            len(in_order),
            sum(self.syllables(word) for sentence in words for word in sentence),
        )
        scores = {formula.id: formula.score(*counts) for formula in self.formulas}
        first = scores[self.formulas[0].id]
        long = tuple(s for s, w in zip(in_order, words, strict=True) if len(w) > LONG_SENTENCE)
        return LanguageReading(*counts, scores, self.band(first), first >= self.least, long)


def reading_rule(tables: Mapping[str, Any]) -> ReadingRule:
    """The rule as a language's file has it. Raises msgspec.ValidationError, naming the key."""
    return convert(tables, ReadingRule)
