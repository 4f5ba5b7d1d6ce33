"""How hard a document is to read, measured on the words a reader sees.

What counts: paragraphs, list items and table cells that hold a sentence. Headings, captions and bare
labels do not. A list item without a full stop is a sentence; a number is one word of one syllable.

Syllables come from syllapy, a word list with a rule for words outside it; every formula takes counts,
so it can be checked without any counting.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping

from msgspec import Struct

from docgen.rendering.tree import Node

LONG_SENTENCE = 20  # words; above this a sentence is named: common practice, no source

READING_SOURCES = {
    "grade": "Kincaid, Fishburne, Rogers and Chissom 1975, Navy report RBR 8-75",
    "smog": "McLaughlin 1969, J Reading 12:639-646",
    "ease": "Flesch 1948, J Appl Psychol 32:221-233",
}

_SENTENCE_END = re.compile(r"(?<=[.!?])[\"'”’)»]*\s+(?=[\"'“‘(¿¡«]*[A-Z0-9ÁÉÍÓÚÑ])")
_WORD = re.compile(r"[^\s]*\w[^\s]*")
_LETTERS = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)*")
_BE = r"(?:am|is|are|was|were|be|been|being)"
_IRREGULAR = (
    "begun bought brought built caught cut done drawn driven fed felt found given held hit hurt kept known "
    "laid led left let "
    "lost made meant met moved paid put read run said seen sent set shown shut sold sought spent taken taught "
    "told thought "
    "understood worn written"
).split()
_PASSIVE = re.compile(rf"\b{_BE}\s+(?:not\s+|also\s+|always\s+|never\s+)?(?:\w+ed|{'|'.join(_IRREGULAR)})\b", re.I)
_YOU = re.compile(r"\b(?:you|your|yours|yourself)\b", re.I)


class Reading(Struct, frozen=True):
    """Counts and measures of one document.

    grade            Flesch-Kincaid grade, US school years
    smog             SMOG grade by the regression formula
    ease             Flesch Reading Ease, higher is easier
    long_sentences   sentences of more than LONG_SENTENCE words, longest first
    passive_share    share of sentences with a form of "be" before a past participle (a heuristic)
    you_share        share of sentences that speak to the reader
    terms            trade terms that stand in the text, with how many times
    """

    n_words: int
    n_sentences: int
    n_syllables: int
    n_long_words: int
    grade: float
    smog: float
    ease: float
    words_per_sentence: float
    long_sentences: tuple[str, ...]
    passive_share: float
    you_share: float
    terms: tuple[tuple[str, int], ...]


def reading_ease(n_words: int, n_sentences: int, n_syllables: int) -> float:
    """Flesch Reading Ease; 100 is very easy, below 30 very hard.

    Source: Flesch 1948, J Appl Psychol 32:221-233.
    Check:  1 word, 1 sentence, 1 syllable: 121.22; 13, 1, 24: 37.4554 (encyclopedia example).
    """
    return 206.835 - 1.015 * n_words / n_sentences - 84.6 * n_syllables / n_words


def grade_level(n_words: int, n_sentences: int, n_syllables: int) -> float:
    """Flesch-Kincaid grade in US school years.

    Source: Kincaid, Fishburne, Rogers and Chissom 1975, Navy report RBR 8-75.
    Check:  1, 1, 1: -3.40; 13, 1, 24: 11.3 (published).
    """
    return 0.39 * n_words / n_sentences + 11.8 * n_syllables / n_words - 15.59


def smog_grade(n_sentences: int, n_long_words: int) -> float:
    """SMOG grade by the regression formula; the hand rule's table is up to a grade lower.

    n_long_words  words of three or more syllables

    Source: McLaughlin 1969, J Reading 12:639-646.
    Check:  30 sentences, 30 long words: 8.8418; none: 3.1291 (from the formula).
    """
    return 1.0430 * math.sqrt(30 * n_long_words / n_sentences) + 3.1291


def read_text(document: Node) -> list[str]:
    """The pieces of a document that are read as prose, in order; each ends in a full stop. One with a passage in
    another language is left out."""
    pieces: list[str] = []
    for node in _prose(document):
        if any(part.kind == "passage" for part in node.walk()):
            continue
        text = " ".join(node.plain().split())
        if node.kind == "cell" and not text.endswith((".", "!", "?")):
            continue
        if text and _LETTERS.search(text):
            pieces.append(text if text.endswith((".", "!", "?")) else f"{text.rstrip(':;,')}.")
    return pieces


def _prose(node: Node) -> Iterable[Node]:
    for child in node.children:
        if child.kind in ("paragraph", "cell"):
            yield child
        elif child.kind in ("list", "item", "table", "row", "callout"):
            yield from _prose(child)


def sentences(pieces: Iterable[str]) -> list[str]:
    """Every sentence of the pieces. A point inside a number or a word does not end one."""
    return [part for piece in pieces for part in _SENTENCE_END.split(piece) if _WORD.search(part)]


def words_of(sentence: str) -> list[str]:
    """The words of a sentence; a number is one."""
    return _WORD.findall(sentence)


def syllables(word: str) -> int:
    """Syllables of a word as spoken; at least 1. A joined word is the sum of its parts."""
    import syllapy

    parts = _LETTERS.findall(word)
    return sum(max(1, syllapy.count(part.replace("’", "'").lower())) for part in parts) or 1


def reading(document: Node, terms: Mapping[str, str] | None = None) -> Reading | None:
    """How hard a document is to read; None when it holds no sentence.

    terms  trade term -> plain words for it; terms that stand in the text are counted
    """
    pieces = read_text(document)
    in_order = sentences(pieces)
    if not in_order:
        return None
    words = [words_of(sentence) for sentence in in_order]
    syllables_of = {word: syllables(word) for word in {word for sentence in words for word in sentence}}
    counts = [syllables_of[word] for sentence in words for word in sentence]
    n_words, n_syllables, n_long = len(counts), sum(counts), sum(c >= 3 for c in counts)
    text = " ".join(pieces).lower()
    long = sorted(
        (s for s, w in zip(in_order, words, strict=True) if len(w) > LONG_SENTENCE), key=lambda s: -len(s.split())
    )
    used = ((term, len(re.findall(rf"\b{re.escape(term.lower())}", text))) for term in terms or {})
    return Reading(
        n_words,
        len(in_order),
        n_syllables,
        n_long,
        grade_level(n_words, len(in_order), n_syllables),
        smog_grade(len(in_order), n_long),
        reading_ease(n_words, len(in_order), n_syllables),
        n_words / len(in_order),
        tuple(long),
        sum(bool(_PASSIVE.search(s)) for s in in_order) / len(in_order),
        sum(bool(_YOU.search(s)) for s in in_order) / len(in_order),
        tuple((term, count) for term, count in used if count),
    )
