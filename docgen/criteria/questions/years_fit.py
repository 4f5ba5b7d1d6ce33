"""The years of the record fit each other, and the age in its words fits the date of birth.

Asks: Whether the client's age on the first day is one that drivers have, and the one that the texts name; whether a day
    stands alone, and would stand among the others in another year.
Why a payer asks: A wrong year makes a child of a grown person and a trial out of date; a reviewer stops there.
What settles it: The year looked up and corrected, or an entry of [[confirmed]] for that day.
Source: common practice, no source; that two digits of a year are swapped, or the year is one, ten or a hundred off, are
    the slips looked for.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator
from datetime import date
from functools import cache, lru_cache

from docgen.case.base import Part, is_free_text
from docgen.case.confirmed import Confirmed
from docgen.case.forgiving import keys_of_days
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.doubt import Doubt, doubtful, entries, unconfirmed
from docgen.criteria.growth import age_years, day_of_age
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, day, listed
from docgen.months import whole_years

HEADING = "record"
CLAIM = "The years of the record fit each other and the client's age"
HOLDS = True
SETTINGS: dict[str, object] = {}

YOUNGEST, OLDEST = 0.75, 105  # years, of drivers: common practice, no source
ALONE_DAYS, AMONG_DAYS, FAR_YEARS = 240, 60, 12
_ONES = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen".split()
_ONES += "seventeen eighteen nineteen".split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
_NUMBERS: dict[str, int] = dict(zip((*_ONES, *_TENS), (*range(1, 20), *range(20, 100, 10)), strict=True))
_NUMBER = rf"(?P<tens>(?:{'|'.join(_TENS)})[- ])?(?P<number>{'|'.join(_NUMBERS)}|\d{{1,3}})"
# after an age: "-year-old group 2 chair" is no person; words such as "boy with a" end the search for one
_THING = (
    r"(?:[\s-]+(?!(?:a|an|the|and|or|who|with|in|on|at|of|to|is|has|needs|uses|drives|boy|girl|man|woman|child|client)\b)"
    r"[\w-]+){0,4}?[\s-]+(?:\w*chairs?|van|car|bus|home|house|controls?|joystick|stick|scooter|base|cushion|seat|seating"
    r"|back|headrest|battery|batteries|electronics|device|lift|ramp|elevator|building|apartment|mattress|bed)\b"
)
_AGE = re.compile(
    rf"(?:\b(?:(?:(?P<subject>[\w'-]+)\s+)?(?:is|are)|turned|aged)\s+{_NUMBER}(?=\s*(?:[.,;:](?!\d)|$|and\b|now\b|years?\s+old\b))"
    rf"|\b{_NUMBER.replace('tens', 'tens2').replace('number', 'number2')}[\s-]+years?[\s-]+old\b(?!{_THING}))",
    re.I,
)
_MAY_BE_AGE = re.compile(r"\b(?:is|are|turned|aged)\s+[\dotfsen]|old", re.I)  # what every age has, found faster
_SENTENCE_END = re.compile(r"(?<=[.;!?])\s")
_TEXTS_KEPT = 1_000
_CLIENT = frozenset("he she they who client patient child boy girl man woman driver student pupil".split())
_SOMEONE_ELSE = re.compile(
    r"\b(brother|sister|sibling|twin|cousin|niece|nephew|friend|mother|father|parent|aunt|uncle|grand\w+|son|daughter"
    r"|wife|husband|partner|dog|chair|stick|when|since|until|before|after|was|were|at age)\b",
    re.I,
)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    days = [*_days(case)]
    if left := unconfirmed(case, _doubts(case, days)):
        return doubtful(left, CLAIM)
    if not days and case.client.born_on is None:
        return cannot_tell("No day is recorded.", ("client", "born_on"), mend=fill_in({"client.born_on": "<date>"}))
    return met(f"{counted(len(days), 'day stands', 'days stand')} where the others do.", ("dates",))


_OF_BEFORE = ("born_on", "chair_now_delivered_by")  # of years before the record
_Day = tuple[date, str, KeyPath, tuple[int, ...]]  # a day, its key as [[confirmed]] names it, path, and row


def _days(case: Case) -> Iterator[_Day]:
    """Every day of the record but the birth and single days taken."""
    for part, path, dotted in entries(case):
        for key in _days_of(type(part)):
            value = getattr(part, key)
            if isinstance(value, date):
                yield value, f"{dotted}.{key}" if dotted else key, (*path, key), ()
    first_line = {row.date: row.line for row in reversed(case.records)}
    for on in sorted(first_line):
        yield on, "trial.date", ("trial", "rows"), (first_line[on],)
    for on in sorted({total.date for total in case.totals}):
        yield on, "totals.date", ("trial",), ()
    for on in sorted({row.date for row in case.sessions}):
        yield on, "sessions.date", ("training",), ()


@cache
def _days_of(kind: type[Part]) -> tuple[str, ...]:
    """Keys of a table that hold a day which others can tell about."""
    if issubclass(kind, Confirmed):
        return ()
    return tuple(name for name in kind.model_fields if name in keys_of_days(kind) and name not in _OF_BEFORE)


def _doubts(case: Case, days: list[_Day]) -> Iterator[Doubt]:
    yield from _birth(case, days)
    yield from _age_in_words(case)
    stood = sorted({on for on, *_ in days})
    for on, name, path, rows in days:
        others = [other for other in stood if other != on]
        if len(others) < 2 or _nearest(on, others) < ALONE_DAYS:
            continue
        likely = [other for other in _other_years(on) if _nearest(other, others) <= AMONG_DAYS]
        far = abs(on.year - others[len(others) // 2].year) > FAR_YEARS
        if likely or far:
            yield Doubt(
                f"{_words(name)} of {day(on)} stands alone among days from {day(others[0])} to {day(others[-1])}"
                f"{_meant(likely)}.",
                (path,),
                ((name, (on,)),),
                rows,
            )


def _birth(case: Case, days: list[_Day]) -> Iterator[Doubt]:
    born, first = case.client.born_on, min((on for on, *_ in days), default=None)
    if born is None or first is None:
        return
    age = (first - born).days / 365.25
    if not YOUNGEST <= age <= OLDEST:
        was = f"{whole_years(born, first)} years old" if first >= born else "not born"
        likely = [other for other in _other_years(born) if YOUNGEST <= (first - other).days / 365.25 <= 100]
        yield Doubt(
            f"Born on {day(born)}, the client was {was} on the first day of the record, {day(first)}{_meant(likely)}.",
            (("client", "born_on"),),
            (("client.born_on", (born,)),),
        )


def _age_in_words(case: Case) -> Iterator[Doubt]:
    """An age that a text of the case gives the client, against the date of birth."""
    age, born, on = age_years(case), case.client.born_on, day_of_age(case)
    if age is None or born is None or on is None:
        return
    people, own = _others_named(case), _words_of_name(case)
    for part, path, _ in entries(case):
        for key in _texts_of(type(part)):
            text = getattr(part, key)
            for sentence, stated in _ages_told(text) if isinstance(text, str) else ():
                if not _fits(age, stated) and _is_of_client(sentence, own, people):
                    others = _other_years(born)
                    meant = [other for other in others if _fits(age + (born - other).days / 365.25, stated)]
                    yield Doubt(
                        f"By the date of birth, {day(born)}, the client is {whole_years(born, on)} years old, and a "
                        f'text says "{sentence.strip()[:80]}"{_meant(meant)}.',
                        (("client", "born_on"), (*path, key)),
                        (("client.born_on", (born,)),),
                    )


def _fits(age: float, stated: int) -> bool:
    """Whether somebody of this age is called so many years old, within a birthday of when it was written."""
    return stated - 1 <= age < stated + 2


@cache
def _texts_of(kind: type[Part]) -> tuple[str, ...]:
    """Keys of a table that hold words of the therapist's own, of the client's body and life."""
    return tuple(
        name for name, field in kind.model_fields.items() if is_free_text(field) and not name.startswith("chair_now")
    )


@lru_cache(_TEXTS_KEPT)
def _ages_told(text: str) -> tuple[tuple[str, int], ...]:
    """Each sentence of a text that gives the client an age, with the age. A case is asked in several states, and few of
    its texts differ between them."""
    if not (_MAY_BE_AGE.search(text) and _AGE.search(text)):
        return ()
    stated_in = ((sentence, _age_told(sentence)) for sentence in _SENTENCE_END.split(text))
    return tuple((sentence, stated) for sentence, stated in stated_in if stated is not None)


def _age_told(sentence: str) -> int | None:
    """The age that a sentence gives the client now, in years; None when it gives none, or speaks of another before."""
    phrase = _AGE.search(sentence)
    if not phrase or _SOMEONE_ELSE.search(_before(phrase)):
        return None
    number: str = (phrase["number"] or phrase["number2"]).lower()
    tens: str = (phrase["tens"] or phrase["tens2"] or "").lower().strip("- ")
    return (int(number) if number.isdigit() else _NUMBERS[number]) + _NUMBERS.get(tens, 0)


def _others_named(case: Case) -> frozenset[str]:
    """Each word of the names of everyone in the case but the client, where it is no name of the client's too."""
    return frozenset(word for person in case.people for word in (person.name or "").split()) - _words_of_name(case)


def _words_of_name(case: Case) -> frozenset[str]:
    """Each word of the client's names."""
    return frozenset((*(case.client.name or "").split(), *(case.client.called or "").split()))


def _is_of_client(sentence: str, own: frozenset[str], people: frozenset[str]) -> bool:
    """Whether the age in a sentence is said of a person ("she is 31", and not "neck pain is 1"), and follows the name
    of none of these people, who are not the client."""
    phrase = _AGE.search(sentence)
    if phrase is None or (phrase["subject"] and phrase["subject"] not in own | people | _with_capital(_CLIENT)):
        return False
    return people.isdisjoint(re.findall(r"[^\W\d_][\w'-]*", _before(phrase)))


def _before(phrase: re.Match[str]) -> str:
    """What a sentence says before an age, whose age it is with it."""
    return phrase.string[: phrase.end("subject") if phrase["subject"] else phrase.start()]


@cache
def _with_capital(words: frozenset[str]) -> frozenset[str]:
    """Words in small letters, and as they begin a sentence."""
    return words | {word.capitalize() for word in words}


def _nearest(on: date, others: list[date]) -> int:
    at = bisect_left(others, on)
    return min(abs((other - on).days) for other in others[max(0, at - 1) : at + 1])


def _other_years(on: date) -> Iterator[date]:
    """The day in each year that a slip of the pen could have meant."""
    written = str(on.year)
    swapped = {int(written[:i] + written[i + 1] + written[i] + written[i + 2 :]) for i in range(3)}
    for year in dict.fromkeys((*(on.year + n for n in (1, -1, 100, -100, 10, -10)), *sorted(swapped))):
        if year != on.year and 1900 <= year <= 2199:
            yield on.replace(year=year, day=28 if (on.month, on.day) == (2, 29) else on.day)


def _meant(likely: list[date]) -> str:
    """The years that the slip is likely to have meant."""
    years = list(dict.fromkeys(str(on.year) for on in likely))[:3]
    return f"; perhaps the year is {listed(years, 'or')}" if years else ""


def _words(name: str) -> str:
    return f"The day {name}" if "." in name else f"The day '{name}'"
