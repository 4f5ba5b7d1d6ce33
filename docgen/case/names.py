"""Names in free text: every occurrence of a known name, or of a part of it, whatever its case, accents and endings.

Where two people or places share a part, the part alone gets a name of its own. A capital in the middle of a
sentence that no ordinary word explains is taken for a name too: in doubt, it goes.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass

_TOKEN = re.compile(r"[^\W\d_]+")
_BETWEEN = re.compile(r"[\s.,'\u2019&/_\-\u2010-\u2015]{1,3}")
_SENTENCE_START = re.compile(r"(?:^|[.!?:;\u201c\"\u2022\n]|[.!?][\u201d\")])[\s\u201c\"(\u2018']*$")
_INITIAL = re.compile(r"(?<!\w)(?:([A-Z])\.[ \-]?)(?:[A-Z]\.[ \-]?)*$")  # before a surname: E. or E. S.
_LETTERS = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i", "ħ": "h"})
# joins of names, never one by themselves
_PARTICLES = frozenset(
    "of the and for in at on s de da del della der den di do dos du el al la le van von bin ibn ter ten".split()
)
# capitals that are no one's name
_PLAIN = frozenset(
    """january february march april may june july august september october november december monday tuesday
wednesday thursday friday saturday sunday medicare medicaid english spanish braille velcro ok tv""".split()
)
# kinds of places and institutions: of a name, but no name by themselves
_KINDS = frozenset(
    """academy agency archive archives association bay board care center centre charity child children church city
clinic college community company county department district equipment faculty family foundation fund general group health home
hospital house institute library medical mobility national office park pediatric plan practice private program programme public
rehabilitation regional residence resource river road row school seating service services social society spinal state street
supplies supply team trust university valley vocational works youth lane mutual""".split()
)
# people after whom conditions are named; from memory, no source
_CONDITIONS = frozenset(
    """alzheimer angelman arnold barre becker chiari charcot cockayne down dravet duchenne emery dreifuss friedreich gehrig
guillain hoffmann huntington kennedy kugelberg krabbe lambert eaton leigh lewy lennox gastaut marie tooth menkes morquio parkinson pompe
prader rett sequard tay sachs turner ullrich welander werdnig williams willi""".split()
)
# two capitals that a note means otherwise more often than it means a person
_SHORT = frozenset(
    "ac am cp dc dr ed es id iq iv md mm mr ms no ok op or ot pm pt pe rn tv uk us usa slp atp otr".split()
)


@dataclass(frozen=True, slots=True)
class Owner:
    """Someone or something with a name.

    label    what stands in its place
    names    ways it is named, each as the folded words of the name
    person   whether a part of the name stands for the whole, as a surname does
    """

    label: str
    names: tuple[tuple[str, ...], ...]
    person: bool

    @property
    def words(self) -> frozenset[str]:
        """Every word of its names."""
        return frozenset(word for name in self.names for word in name)


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of a text and what takes its place; `generic` for a name that belongs to nobody known."""

    start: int
    end: int
    label: str
    generic: bool = False


def folded(text: str) -> tuple[str, list[int]]:
    """The text without case and accents, and for each of its characters the place in the text it comes from."""
    shown, places = [], []
    for at, char in enumerate(text):
        for one in unicodedata.normalize("NFKD", char).casefold().translate(_LETTERS):
            if not unicodedata.combining(one):
                shown.append(one)
                places.append(at)
    return "".join(shown), places


def words_of(text: str) -> tuple[str, ...]:
    """The folded words of a text, in order."""
    return tuple(_TOKEN.findall(folded(text)[0]))


def owner(label: str, names: Iterable[str | None], person: bool) -> Owner | None:
    """The owner of these names; None when there is none."""
    found = tuple(dict.fromkeys(words for name in names if name and (words := words_of(name))))
    return Owner(label, found, person) if found else None


@dataclass(frozen=True, slots=True)
class _Token:
    word: str
    start: int
    end: int
    capital: bool  # starts with a capital
    upper: bool  # all capitals


class Names:
    """Finds the names of a case in its texts.

    owners    whose names are known
    ordinary  folded words that mean something else too: a part of a name among them counts only with a capital
    texts     all free texts of the case, from which names nobody listed are gathered
    label     key of a name that belongs to nobody known -> what stands in its place
    """

    def __init__(
        self, owners: Collection[Owner], ordinary: Collection[str], texts: Collection[str], label: Callable[[str], str]
    ) -> None:
        self.owners, self.ordinary, self.label = tuple(owners), frozenset(ordinary) | _KINDS | _CONDITIONS, label
        self.of_word: dict[str, set[Owner]] = {}
        self.of_initials: dict[str, set[Owner]] = {}
        for one in self.owners:
            for word in one.words:
                self.of_word.setdefault(word, set()).add(one)
            for name in one.names:
                for run in {"".join(name), "".join(name[-2:]), "".join(name[1:])} if len(name) > 1 else ():
                    self.of_word.setdefault(run, set()).add(one)  # written together, as in an address
                for letters in _initials(name, one.person):
                    self.of_initials.setdefault(letters, set()).add(one)
        lower = {token.word for text in texts for token in _tokens(text) if not token.capital}
        self.unlisted = (
            {
                token.word
                for text in texts
                for token in _tokens(text)
                if token.capital
                and not token.upper
                and token.end - token.start > 1
                and not _SENTENCE_START.search(text[: token.start])
            }
            - lower
            - self.ordinary
            - _PLAIN
        )

    def spans(self, text: str) -> Iterator[Span]:
        """Every name in the text, in order, without overlaps."""
        before: Span | None = None
        for span in self._found(text):
            if before and before.generic and span.generic and text[before.end : span.start] == " ":
                span = Span(before.start, span.end, "", True)
            elif before:
                yield self._labelled(before, text)
            before = span
        if before:
            yield self._labelled(before, text)

    def _labelled(self, span: Span, text: str) -> Span:
        """A name of nobody known gets its label once its end is settled."""
        return Span(span.start, span.end, self.label(text[span.start : span.end]), True) if span.generic else span

    def certain(self, text: str, own: Collection[str]) -> list[str]:
        """Words of known names in a finished page, but for those that the program itself uses; empty when none is left."""
        return sorted(
            {
                token.word
                for token in _tokens(text)
                if self._strong(token) and token.word not in own and self.of_word.get(token.word)
            }
        )

    def doubtful(self, text: str) -> list[str]:
        """Words that stay and may be a name: parts of names in small letters, and unknown words with a capital."""
        taken = [(span.start, span.end) for span in self.spans(text)]
        return [
            text[token.start : token.end]
            for token in _tokens(text)
            if not any(start <= token.start < end for start, end in taken) and self._may_be_name(token)
        ]

    def _may_be_name(self, token: _Token) -> bool:
        of_person = any(one.person for one in self.of_word.get(token.word, ()))
        unknown = (
            token.capital
            and len(token.word) > (4 if token.upper else 2)
            and not any(stem in self.ordinary or stem in _PLAIN for stem in _stems(token.word))
        )
        return (of_person and token.word not in _PARTICLES and len(token.word) > 2) or unknown

    def _found(self, text: str) -> Iterator[Span]:
        tokens, at = list(_tokens(text)), 0
        while at < len(tokens):
            found = (
                self._initials(text, tokens, at) or self._run(text, tokens, at) or self._unlisted(text, tokens[at], at)
            )
            if found:
                yield found[0]
            at = found[1] if found else at + 1

    def _unlisted(self, text: str, token: _Token, at: int) -> tuple[Span, int] | None:
        known = token.capital and token.word in self.unlisted
        return (Span(token.start, token.end, "", True), at + 1) if known else None

    def _initials(self, text: str, tokens: list[_Token], at: int) -> tuple[Span, int] | None:
        """Initials in capitals: IOV, or with stops, I.O.V."""
        token = tokens[at]
        if (
            token.upper
            and len(token.word) > 1
            and token.word not in _SHORT
            and (owners := self.of_initials.get(token.word))
        ):
            return self._named(owners, (), text, token.start, token.end), at + 1
        end = at
        while (
            end < len(tokens)
            and len(tokens[end].word) == 1
            and tokens[end].upper
            and (end == at or re.fullmatch(r"\.[ \-]?|-", text[tokens[end - 1].end : tokens[end].start]))
        ):
            end += 1
        letters = "".join(one.word for one in tokens[at:end])
        if len(letters) > 1 and (owners := self.of_initials.get(letters)):
            stop = tokens[end - 1].end
            return self._named(owners, (), text, tokens[at].start, stop + text.startswith(".", stop)), end
        return None

    def _run(self, text: str, tokens: list[_Token], at: int) -> tuple[Span, int] | None:
        """The longest stretch of words that all belong to one owner."""
        owners, end = self._owners(tokens[at]), at + 1
        if not owners:
            return None
        while end < len(tokens) and _BETWEEN.fullmatch(text[tokens[end - 1].end : tokens[end].start]):
            if both := owners & self._owners(tokens[end]):
                owners, end = both, end + 1
            elif (
                len(tokens[end].word) == 1
                and tokens[end].upper
                and end + 1 < len(tokens)
                and (both := owners & self._owners(tokens[end + 1]))
            ):
                owners, end = both, end + 2  # a middle initial
            else:
                break
        while (
            end > at + 1
            and not self._full(owners, tokens[at:end])
            and not self._strong(tokens[end - 1])
            and (not tokens[end - 1].capital or tokens[end - 1].word in _PARTICLES)
        ):
            end -= 1
        run = tokens[at:end]
        owners = set.intersection(*(found for token in run if (found := self._owners(token))))
        if not (
            self._full(owners, run)
            and (len(run) > 1 or self._alone(run[0]))
            or any(map(self._alone, run))
            or self._titled(run)
        ):
            return None
        return self._named(owners, run, text, run[0].start, run[-1].end), end

    def _owners(self, token: _Token) -> set[Owner]:
        if owners := self.of_word.get(token.word):
            return owners
        stem = token.word.removesuffix("s")
        return (
            self.of_word.get(stem, set())
            if len(stem) > 2 and stem != token.word and stem not in self.ordinary
            else set()
        )

    def _strong(self, token: _Token) -> bool:
        """Whether the word is a name wherever it stands."""
        return len(token.word) > 2 and token.word not in self.ordinary and token.word not in _PARTICLES

    def _alone(self, token: _Token) -> bool:
        """Whether the word is a name as it is written here, with nothing beside it."""
        if self._strong(token):
            return True
        of_person = any(one.person for one in self._owners(token))
        plain = token.word in _PARTICLES or (len(token.word) < 3 and token.word in self.ordinary)
        return of_person and token.capital and len(token.word) > 1 and not plain

    def _titled(self, run: list[_Token]) -> bool:
        """Whether two or more words of a name stand together with capitals, ordinary as each may be."""
        return sum(token.capital and token.word not in _PARTICLES for token in run) > 1

    def _full(self, owners: set[Owner], run: list[_Token]) -> list[Owner]:
        words = {token.word for token in run}
        return [
            one
            for one in owners
            if any(set(name) - _PARTICLES <= words or "".join(name) in words for name in one.names)
        ]

    def _named(self, owners: set[Owner], run: Iterable[_Token], text: str, start: int, end: int) -> Span:
        """One owner, or the one whose whole name it is; a person by any part; else a name of its own."""
        full = self._full(owners, list(run))
        told = full if len(full) == 1 else [one for one in owners if one.person] if len(owners) == 1 else []
        if not run and len(owners) == 1:
            told = list(owners)
        if told:
            before = _INITIAL.search(text[:start]) if told[0].person else None
            known = before and any(name[0].startswith(before[1].lower()) for name in told[0].names)
            return Span(before.start() if known else start, end, told[0].label)
        return Span(start, end, "", True)


def _tokens(text: str) -> Iterator[_Token]:
    shown, places = folded(text)
    for found in _TOKEN.finditer(shown):
        start = places[found.start()]
        end = places[found.end()] if found.end() < len(places) else len(text)
        while end > start + 1 and not text[end - 1].isalpha() and not unicodedata.combining(text[end - 1]):
            end -= 1
        raw = text[start:end]
        yield _Token(found[0], start, end, raw[:1].isupper(), raw.isupper())


def _stems(word: str) -> Iterator[str]:
    yield word
    for ending, instead in (
        ("s", ""),
        ("es", ""),
        ("ed", ""),
        ("ed", "e"),
        ("ing", ""),
        ("ing", "e"),
        ("ies", "y"),
        ("ly", ""),
    ):
        if word.endswith(ending):
            yield word.removesuffix(ending) + instead


def _initials(name: tuple[str, ...], person: bool) -> Iterator[str]:
    words = [word for word in name if word not in _PARTICLES]
    if len(words) > (1 if person else 2):
        yield "".join(word[0] for word in words)
    if person and len(words) > 2:
        yield words[0][0] + words[1][0]
        yield words[0][0] + words[-1][0]
