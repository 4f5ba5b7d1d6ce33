"""One free text of a case -> the same about nobody, and the words of it that a person has to look at.

Whoever comes first has a stretch: what the case itself names, addresses, ages, public codes, numbers after a word such
as serial, days, measures; then every number that is left, then names. Public codes and measures keep what stands there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta

from docgen.case.nobody.contacts import contacts_in
from docgen.case.nobody.day_words import day_words_in, may_be_day_words_in, years_in
from docgen.case.nobody.days import moved_days
from docgen.case.nobody.measures import measures_in, public_codes_in
from docgen.case.nobody.names import Names
from docgen.case.nobody.numbers import ages_in, cued_numbers_in, known_numbers_in, may_be_days_in, numbers_left_in
from docgen.case.nobody.spans import Span, apart, without
from docgen.case.nobody.tokens import words_of


class FreeText:
    """Takes out of texts what leads to someone.

    names   finds names
    known   numbers that the case itself names
    move    how far days are moved
    near    the day nearest to which a month without a year is read
    labels  what stands in the place of each kind
    """

    def __init__(
        self, names: Names, known: Iterable[str], move: timedelta, near: date, labels: Mapping[str, str]
    ) -> None:
        self.names, self.known, self.move, self.near, self.labels = names, tuple(known), move, near, labels
        self._spans: dict[str, list[Span]] = {}

    def spans(self, text: str) -> list[Span]:
        """What takes the place of what, in order, without overlaps; some keep what stands there."""
        if text not in self._spans:
            self._spans[text] = apart(self._candidates(text), text)
        return self._spans[text]

    def copy(self, text: str) -> str:
        """The text about nobody."""
        return without(text, self.spans(text))

    def doubtful(self, text: str) -> Iterator[str]:
        """Words and days that stay and may lead to someone, as they are written."""
        taken = self.spans(text)
        for token in self.names.doubtful(text, taken):
            yield text[token.start : token.end]
        for span in (*may_be_days_in(text), *may_be_day_words_in(text)):
            if not any(span.start < other.end and other.start < span.end for other in taken):
                yield span.label

    def _candidates(self, text: str) -> Iterator[Span]:
        labels, day, names = self.labels, self.labels["day"], list(self.names.spans(text))
        yield from known_numbers_in(text, self.known, labels["number"])
        yield from contacts_in(text, labels)
        yield from (span for span in names if not span.generic and len(words_of(text[span.start : span.end])) > 1)
        yield from ages_in(text, labels["age"])
        yield from public_codes_in(text)
        yield from cued_numbers_in(text, labels["number"])
        yield from day_words_in(text, self.move, self.near, day)
        yield from moved_days(text, self.move, self.near, day)
        yield from years_in(text, self.move, self.near, day)
        yield from measures_in(text)
        yield from numbers_left_in(text, labels)
        yield from names
