"""Names in free text: every occurrence of a known name, or of a part of it, whatever its case, accents and endings.

Where two people or places share a part, the part alone gets a name of its own. Names that nobody listed are found by
strangers.py.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence

from msgspec import Struct

from docgen.case.nobody.spans import Span
from docgen.case.nobody.strangers import Strangers
from docgen.case.nobody.tokens import Token, tokens, words_of
from docgen.case.nobody.vocabulary import CONDITIONS, KINDS, PARTICLES, SHORT

_BETWEEN = re.compile(r"[\s.,'\u2019&/_\-\u2010-\u2015]{1,3}")
_INITIAL = re.compile(r"(?<!\w)(?:([A-Z])\.[ \-]?)(?:[A-Z]\.[ \-]?)*$")  # before a surname: E. or E. S.
_JOINED = re.compile(r"(?<!\w)[DOdLl]['\u2019]$")  # before a name: O'Dowd, D'Angelo


class Owner(Struct, frozen=True):
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


def owner(label: str, names: Iterable[str | None], person: bool) -> Owner | None:
    """The owner of these names; None when there is none."""
    word_runs = tuple(dict.fromkeys(words for name in names if name and (words := words_of(name))))
    return Owner(label, word_runs, person) if word_runs else None


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
        self.owners, self.ordinary, self.label = tuple(owners), frozenset(ordinary) | KINDS | CONDITIONS, label
        self.of_word: dict[str, set[Owner]] = {}
        self.of_initials: dict[str, set[Owner]] = {}
        for holder in self.owners:
            for word in holder.words:
                self.of_word.setdefault(word, set()).add(holder)
            for name in holder.names:
                for run in {"".join(name), "".join(name[-2:]), "".join(name[1:])} if len(name) > 1 else ():
                    self.of_word.setdefault(run, set()).add(holder)  # written together, as in an address
                for letters in _initials(name, holder.person):
                    self.of_initials.setdefault(letters, set()).add(holder)
        self.most_initials = max(map(len, self.of_initials), default=0)
        self.strangers = Strangers(self.ordinary, texts)

    def spans(self, text: str) -> Iterator[Span]:
        """Every name in the text, in order, without overlaps."""
        before: Span | None = None
        for span in self._candidates(text):
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
        """Words of known names in a finished page, but for those that the program itself uses; empty when none is
        left."""
        return sorted(
            {
                token.word
                for token in tokens(text)
                if self._strong(token) and token.word not in own and self.of_word.get(token.word)
            }
        )

    def doubtful(self, text: str, taken: Sequence[Span]) -> list[Token]:
        """Words outside the stretches taken that stay and may be a name: parts of a known one, and strangers."""
        parts = [
            token
            for token in tokens(text)
            if len(token.word) > 2
            and token.word not in PARTICLES
            and any(known.person for known in self.of_word.get(token.word, ()))
            and not any(span.start <= token.start < span.end for span in taken)
        ]
        return sorted({*parts, *self.strangers.doubtful(text, taken)}, key=lambda token: token.start)

    def _candidates(self, text: str) -> Iterator[Span]:
        words, at = tokens(text), 0
        while at < len(words):
            candidate = self._initials(text, words, at) or self._run(text, words, at) or self._stranger(text, words, at)
            if candidate:
                yield candidate[0]
            at = candidate[1] if candidate else at + 1

    def _stranger(self, text: str, words: Sequence[Token], at: int) -> tuple[Span, int] | None:
        if len(words[at].word) == 1 and at + 1 < len(words) and self._owners(words[at + 1]):
            return None  # the initial of someone known
        end = self.strangers.run(text, words, at)
        if end is None:
            return None
        joined = _JOINED.search(text[: words[at].start])
        return Span(joined.start() if joined else words[at].start, words[end - 1].end, "", True), end

    def _initials(self, text: str, words: Sequence[Token], at: int) -> tuple[Span, int] | None:
        """Initials in capitals: IOV, or with stops, I.O.V."""
        token = words[at]
        if (
            token.upper
            and len(token.word) > 1
            and token.word not in SHORT
            and (owners := self.of_initials.get(token.word))
        ):
            return self._named(owners, (), text, token.start, token.end), at + 1
        end = at
        while (
            end < min(len(words), at + self.most_initials + 1)  # of a longer run nobody is known
            and len(words[end].word) == 1
            and words[end].upper
            and (end == at or re.fullmatch(r"\.[ \-]?|-", text[words[end - 1].end : words[end].start]))
        ):
            end += 1
        letters = "".join(token.word for token in words[at:end])
        if len(letters) > 1 and (owners := self.of_initials.get(letters)):
            stop = words[end - 1].end
            return self._named(owners, (), text, words[at].start, stop + text.startswith(".", stop)), end
        return None

    def _run(self, text: str, words: Sequence[Token], at: int) -> tuple[Span, int] | None:
        """The longest stretch of words that all belong to one owner."""
        owners, end = self._widened(text, words, at)
        if not owners:
            return None
        run = words[at : self._narrowed(owners, words, at, end)]
        owners = set.intersection(*(known for token in run if (known := self._owners(token))))
        if not self._is_name(owners, run):
            return None
        return self._named(owners, run, text, run[0].start, run[-1].end), at + len(run)

    def _widened(self, text: str, words: Sequence[Token], at: int) -> tuple[set[Owner], int]:
        """Who may own the word at a place, and the end of the words after it that can be theirs too."""
        owners, end = self._owners(words[at]), at + 1
        while owners and end < len(words) and _BETWEEN.fullmatch(text[words[end - 1].end : words[end].start]):
            if both := owners & self._owners(words[end]):
                owners, end = both, end + 1
            elif (
                len(words[end].word) == 1
                and words[end].upper
                and end + 1 < len(words)
                and (both := owners & self._owners(words[end + 1]))
            ):
                owners, end = both, end + 2  # a middle initial
            else:
                break
        return owners, end

    def _narrowed(self, owners: set[Owner], words: Sequence[Token], at: int, end: int) -> int:
        """The end of the stretch without ordinary words behind it, unless it is a whole name with them."""
        while (
            end > at + 1
            and not self._full(owners, words[at:end])
            and not self._strong(words[end - 1])
            and (not words[end - 1].capital or words[end - 1].word in PARTICLES)
        ):
            end -= 1
        return end

    def _is_name(self, owners: set[Owner], run: Sequence[Token]) -> bool:
        """Whether words of one owner are a name as they stand there, and not the ordinary words they also are."""
        return bool(
            (self._full(owners, run) and (len(run) > 1 or self._alone(run[0])))
            or any(map(self._alone, run))
            or self._titled(run)
        )

    def _owners(self, token: Token) -> set[Owner]:
        if owners := self.of_word.get(token.word):
            return owners
        stem = token.word.removesuffix("s")
        return (
            self.of_word.get(stem, set())
            if len(stem) > 2 and stem != token.word and stem not in self.ordinary
            else set()
        )

    def _strong(self, token: Token) -> bool:
        """Whether the word is a name wherever it stands."""
        return len(token.word) > 2 and token.word not in self.ordinary and token.word not in PARTICLES

    def _alone(self, token: Token) -> bool:
        """Whether the word is a name as it is written here, with nothing beside it."""
        if self._strong(token):
            return True
        of_person = any(holder.person for holder in self._owners(token))
        plain = token.word in PARTICLES or (len(token.word) < 3 and token.word in self.ordinary)
        return of_person and token.capital and len(token.word) > 1 and not plain

    def _titled(self, run: Sequence[Token]) -> bool:
        """Whether two or more words of a name stand together with capitals, ordinary as each may be."""
        return sum(token.capital and token.word not in PARTICLES for token in run) > 1

    def _full(self, owners: set[Owner], run: Sequence[Token]) -> list[Owner]:
        words = {token.word for token in run}
        return [
            holder
            for holder in owners
            if any(set(name) - PARTICLES <= words or "".join(name) in words for name in holder.names)
        ]

    def _named(self, owners: set[Owner], run: Iterable[Token], text: str, start: int, end: int) -> Span:
        """One owner, or the one whose whole name it is; a person by any part; else a name of its own."""
        full = self._full(owners, list(run))
        named = full if len(full) == 1 else [holder for holder in owners if holder.person] if len(owners) == 1 else []
        if not run and len(owners) == 1:
            named = list(owners)
        if named:
            before = _INITIAL.search(text[:start]) if named[0].person else None
            if before and any(name[0].startswith(before[1].lower()) for name in named[0].names):
                start = before.start()
            return Span(start, end, named[0].label)
        return Span(start, end, "", True)


def _initials(name: tuple[str, ...], person: bool) -> Iterator[str]:
    words = [word for word in name if word not in PARTICLES]
    if len(words) > (1 if person else 2):
        yield "".join(word[0] for word in words)
    if person and len(words) > 2:
        yield words[0][0] + words[1][0]
        yield words[0][0] + words[-1][0]
