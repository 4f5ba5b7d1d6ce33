"""The nearest of a vocabulary to words of anyone's own: by ids, names, synonyms and meanings, without guessing one."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable
from functools import cache, lru_cache

from msgspec import Struct

_EMPTY = frozenset(
    "the a an of is are in on at to and or with by for it has he she his her their not no when who".split()
)
_STEM = re.compile(r"(?:ing|ed|es|s)$")
_LIKE = 0.82  # likeness at which two words are one with a slip in it
_ID_LIKE = 0.6
_BESIDE = 0.4  # of the best fit: what fits less than this is left out
_LEAST = 0.5  # a word in a meaning, of two or more that were asked, fits nothing
_KEPT = 500  # words that were looked for, each against a vocabulary


class Entry(Struct, frozen=True):
    """One word of a vocabulary.

    kind      which vocabulary it is of
    name      what professional documents call it
    meaning   one sentence
    synonyms  what people say instead
    """

    kind: str
    id: str
    name: str
    meaning: str = ""
    synonyms: tuple[str, ...] = ()


def nearest(words: str, entries: Iterable[Entry], most: int = 5) -> list[Entry]:
    """The entries that words fit, best first; as an id with a slip in it, or word for word."""
    listed = list(entries)
    met = _met(words, frozenset[str]().union(*(_stems_of(entry)[0] for entry in listed)))
    scored = [(_fit(words, entry, met), entry) for entry in listed]
    fitting = sorted(
        ((score, entry) for score, entry in scored if score > _LEAST), key=lambda pair: (-pair[0], pair[1].id)
    )
    # beside one that words fit in whole, one that a single word of them fits tells nothing
    least = fitting[0][0] * _BESIDE if fitting else 0
    return [entry for score, entry in fitting[:most] if score >= least]


def near_words(wrong: str, entries: Iterable[Entry], command: str = "docgen find") -> str:
    """A sentence with the five nearest and what each means; where none is near, how to look for one."""
    known = list(entries)
    listed = nearest(wrong.replace("_", " "), known)
    # a synonym word for word is meant more surely than an id that looks like it
    named_so = [entry.id for entry in listed if stems(wrong.replace("_", " ")) in _stems_of(entry)[2]]
    alike = difflib.get_close_matches(wrong, [entry.id for entry in known], n=3, cutoff=_ID_LIKE)
    close = named_so or [id_ for id_ in alike if _may_be_slip(wrong, id_)]
    listed = sorted(listed, key=lambda entry: entry.id not in close[:1])
    asks = f"'{command} WORD' looks for one by any word."
    if not listed:
        return asks[:1].upper() + asks[1:]
    named = "; ".join(f"{entry.id} ({entry.name})" for entry in listed)
    first = f"Did you mean '{close[0]}'? " if close else ""
    return f"{first}Nearest: {named}. {asks}"


def _may_be_slip(wrong: str, id_: str) -> bool:
    """Whether what two ids do not share is alike too: an arm is no slip for a hand because both have a contracture."""
    own, others = wrong.split("_"), id_.split("_")
    left, right = ("_".join(part for part in a if part not in b) for a, b in ((own, others), (others, own)))
    return not left or not right or difflib.SequenceMatcher(None, left, right).ratio() >= _ID_LIKE


def how_near(words: str, entry: Entry) -> float:
    """How well an entry fits words: 0 for not at all; a whole name, id or synonym counts most."""
    return _fit(words, entry, _met(words, _stems_of(entry)[0]))


class _Met(Struct, frozen=True):
    """One word that is looked for.

    begun  known words that begin with it, or that it begins with
    slips  known words that are it with a slip in one of the two
    """

    stem: str
    begun: frozenset[str]
    slips: frozenset[str]


def _met(words: str, known: frozenset[str]) -> list[_Met]:
    return [_met_by(stem, known) for stem in _asked(words)]


@lru_cache(_KEPT)
def _met_by(stem: str, known: frozenset[str]) -> _Met:
    """A word against all stems of a vocabulary at once, which its entries share."""
    if len(stem) <= 3:
        return _Met(stem, frozenset(), frozenset())
    begun = (other for other in known if other.startswith(stem) or (len(other) > 3 and stem.startswith(other)))
    alike = [other for other in known if _may_be_like(stem, other, _LIKE)]
    slips = difflib.get_close_matches(stem, alike, n=len(alike) or 1, cutoff=_LIKE)
    return _Met(stem, frozenset(begun), frozenset(slips))


def _fit(words: str, entry: Entry, met: list[_Met]) -> float:
    if not met:
        return 0.0
    strong, weak, phrases = _stems_of(entry)
    asked = tuple(word.stem for word in met)
    score = sum(_word(word, strong, weak) for word in met) / len(met)
    if not strong.isdisjoint(asked):  # else no phrase can be among them
        if asked in phrases:
            score += 4
        elif any(phrase and set(phrase) <= set(asked) for phrase in phrases):
            score += 2
    return score + 4 * _likeness(words.strip().lower().replace(" ", "_"), entry.id)


@lru_cache(100)
def _asked(words: str) -> tuple[str, ...]:
    """The stems of what is looked for, which is held against each entry."""
    return stems(words)


@cache
def _stems_of(entry: Entry) -> tuple[frozenset[str], frozenset[str], list[tuple[str, ...]]]:
    """Stems of the id, name and synonyms of an entry; those of its meaning alone; and each id, name and synonym whole.
    The vocabularies are few and stay."""
    names = (entry.id.replace("_", " "), entry.name, *entry.synonyms)
    phrases = [stems(name) for name in names]
    strong = frozenset(stem for phrase in phrases for stem in phrase)
    return strong, frozenset(stems(entry.meaning)) - strong, phrases


def _likeness(words: str, entry_id: str) -> float:
    """How like an id with a slip in it the words are, 0 to 1; 0 where they are less than that."""
    if not _may_be_like(words, entry_id, _ID_LIKE):
        return 0.0
    compared = difflib.SequenceMatcher(None, words, entry_id)
    if compared.quick_ratio() < _ID_LIKE:  # never below the likeness itself
        return 0.0
    likeness = compared.ratio()
    return likeness if likeness >= _ID_LIKE else 0.0


def _word(word: _Met, strong: frozenset[str], weak: frozenset[str]) -> float:
    """How well one word is met: by name or synonym, by the beginning of one, with a slip, or in the meaning."""
    if word.stem in strong:
        return 3.0
    if not word.begun.isdisjoint(strong):
        return 2.0
    if word.stem in weak:
        return 1.0
    return 0.0 if word.slips.isdisjoint(strong) else 1.5


def _may_be_like(words: str, other: str, least: float) -> bool:
    """Whether two texts of these lengths can be as like as that: what the shorter has, each of it once in the other."""
    return 2 * min(len(words), len(other)) >= least * (len(words) + len(other))


def stems(text: str) -> tuple[str, ...]:
    """Words in small letters without marks, endings and words that say nothing."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", text.casefold()) if unicodedata.category(c) != "Mn")
    words = [word for word in re.findall(r"[a-z0-9]+", bare) if word not in _EMPTY]
    return tuple(
        _STEM.sub("", word) if len(word) > 4 else word.removesuffix("s") if len(word) > 3 else word for word in words
    )
