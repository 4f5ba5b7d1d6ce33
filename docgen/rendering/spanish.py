"""How easy a Spanish document is to read, measured on the words a reader sees; what counts is as for English.

Both formulas take counts, so they can be checked without any counting. Syllables follow the spelling, which in
Spanish is enough: a vowel a, e, o with an unstressed i, u beside it is one, an accent on that i or u makes two.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec import Struct

from docgen.rendering.readability import LONG_SENTENCE, sentences, words_of

# INFLESZ: least score of a band -> its name. Barrio-Cantalejo et al. 2008, An Sist Sanit Navar 31:135-152; from memory.
BANDS = (
    (80.0, "muy fácil"),
    (65.0, "bastante fácil"),
    (55.0, "normal"),
    (40.0, "algo difícil"),
    (float("-inf"), "muy difícil"),
)
LEAST_SCORE = 65.0  # "bastante fácil", for family and aides
SOURCES = {
    "inflesz": (
        "Szigriszt Pazos 1993, Sistemas predictivos de legibilidad, Madrid; bands of Barrio-Cantalejo et al. "
        "2008, An Sist Sanit Navar 31:135-152"
    ),
    "huerta": "Fernández Huerta 1959, Consigna 214:29-32, with words a sentence as its second term",
}

_LETTERS = re.compile(r"[^\W\d_]+")
_SILENT_U = re.compile(r"(?<=[gq])u(?=[eiéí])")
_H_BETWEEN = re.compile(r"(?<=[aeiouáéíóúü])h(?=[aeiouáéíóú])")
_Y_VOWEL = re.compile(r"y(?![aeiouáéíóú])")
_NUCLEUS = re.compile(r"[iuü]?[aeoáéó][iu]?|[iü][uú]|[uü][ií]|[iuüíú]")


class SpanishReading(Struct, frozen=True):
    """Counts and measures of one document.

    inflesz         perspicuity of Szigriszt Pazos, higher is easier
    huerta          reading ease of Fernández Huerta, higher is easier
    long_sentences  sentences of more than LONG_SENTENCE words
    """

    n_words: int
    n_sentences: int
    n_syllables: int
    inflesz: float
    huerta: float
    long_sentences: tuple[str, ...]

    @property
    def band(self) -> str:
        """Name of the score on the INFLESZ scale."""
        return next(name for least, name in BANDS if self.inflesz >= least)

    @property
    def easy(self) -> bool:
        """Whether it is at least "bastante fácil"."""
        return self.inflesz >= LEAST_SCORE


def perspicuity(n_words: int, n_sentences: int, n_syllables: int) -> float:
    """Perspicuity of Szigriszt Pazos; above 80 is very easy, below 40 very hard.

    Source: Szigriszt Pazos 1993, thesis, Universidad Complutense de Madrid; constants from memory and as textstat has
    them.
    Check:  100 words, 10 sentences, 200 syllables: 72.235; 1, 1, 1: 143.535 (from the formula).
    """
    return 206.835 - 62.3 * n_syllables / n_words - n_words / n_sentences


def reading_ease(n_words: int, n_sentences: int, n_syllables: int) -> float:
    """Reading ease of Fernández Huerta, which fits Flesch to Spanish.

    Source: Fernández Huerta 1959, Consigna 214:29-32; constants from memory and as textstat has them. The paper's
    second
            term is read as words a sentence: read as sentences in 100 words, as printed, long sentences would be
            easier.
    Check:  100 words, 10 sentences, 200 syllables: 76.64; 1, 1, 1: 145.82 (from the formula).
    """
    return 206.84 - 60 * n_syllables / n_words - 1.02 * n_words / n_sentences


def syllables(word: str) -> int:
    """Syllables of a word by its spelling; at least 1. An h between vowels parts nothing: "prohibido" has three.

    Source: Real Academia Española 2010, Ortografía de la lengua española, II.3.3-3.4: what is spelled as one.
    Check:  "ciudad" 2, "guion" 1, "pingüino" 3, "leíamos" 4, "averiguáis" 4, "playa" 2.
    """
    return sum(max(1, len(_NUCLEUS.findall(_vowels(part)))) for part in _LETTERS.findall(word)) or 1


def _vowels(part: str) -> str:
    """The part in small letters with only the vowels that are spoken, each by a letter of its own kind."""
    bare = _SILENT_U.sub("", part.lower())
    return _Y_VOWEL.sub("i", _H_BETWEEN.sub("", bare))


def reading(pieces: Iterable[str]) -> SpanishReading | None:
    """How easy the pieces of a document are to read; None when they hold no sentence."""
    in_order = sentences(pieces)
    if not in_order:
        return None
    words = [words_of(sentence) for sentence in in_order]
    n_words, n_syllables = sum(map(len, words)), sum(syllables(word) for sentence in words for word in sentence)
    counts = (n_words, len(in_order), n_syllables)
    long = tuple(s for s, w in zip(in_order, words, strict=True) if len(w) > LONG_SENTENCE)
    return SpanishReading(*counts, perspicuity(*counts), reading_ease(*counts), long)
