"""Numbers in free text that lead to a person: those the case names, ages over 89, and every one that is no measure."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from docgen.case.nobody.measures import COUNTED, UNIT
from docgen.case.nobody.spans import Span
from docgen.case.nobody.vocabulary import ACRONYMS

_NO_UNIT = rf"(?!\s?(?:{UNIT})(?![^\W_]))"
_YEAR = re.compile(r"(?:19|20)\d\d")
_OVER = r"(?:9\d|1[0-2]\d)"
_ONES = "one|two|three|four|five|six|seven|eight|nine"
_SPELLED = rf"(?:ninety(?:[ \-](?:{_ONES}))?|(?:one |a )?hundred(?:[ \-]and)?(?:[ \-](?:{_ONES}|ten|eleven|twelve))?)"
_OLD = r"(?:[ \-]?(?:years?|yrs?)[ \-](?:old|of age|young)\b|[ \-]?(?:y\.?/?o\.?|yo)(?!\w)|[ \-]year[ \-]olds?\b)"
_WHO = r"he|she|they|who|client|patient|driver|mother|father|mom|dad|grand(?:mother|father|ma|pa|ad)|gran|granny|nan|nana|papa|resident|roommate|sister|brother|aunt|uncle|wife|husband|neighbou?r"
_AGES = tuple(
    re.compile(pattern, re.I)
    for pattern in (
        rf"(?<![\w.])(?P<span>{_OVER}(?:yo\b|y\.?/?o\b\.?)?)(?={_OLD}|(?<=o)|(?<=o\.))",
        rf"\b(?:aged?(?: of)?|age:|turn(?:s|ed|ing)|(?:{_WHO})(?:[ ]is|[ ]was|'s|\u2019s)(?: now| already| almost| nearly)?),? (?P<span>{_OVER})\b{_NO_UNIT}(?! of\b)",
        rf"\b(?:at|now|is) (?P<span>{_OVER})(?=[.,;)]? (?:he|she|they|and still|years)\b|,)",
        rf"\b(?:(?:{_WHO})|(?-i:[A-Z][\w\-]{{1,99}})),? ?[(,] ?(?P<span>{_OVER})(?=\)|, )",
        rf"\b(?P<span>{_OVER}(?:st|nd|rd|th))(?= (?:birthday|year)\b)",
        rf"\b(?P<span>{_OVER}) (?:years|yrs)(?= ago\b| and \d+ months old\b)",
        rf"\b(?P<span>{_SPELLED})(?={_OLD})",
        rf"\b(?:aged?(?: of|:)?|turn(?:s|ed|ing)|(?:{_WHO})(?: is| was|'s|\u2019s)(?: now)?) (?P<span>{_SPELLED})(?![ \-]?(?:{UNIT}|percent|of)\b)",
        rf"\b(?P<span>(?:{_SPELLED[3:-1]})(?:th|st|nd|rd)|ninetieth|ninety-(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth)|(?:one )?hundredth)(?= (?:birthday|year)\b)",
        r"\b(?:in|into|well into) (?:his|her|their)(?: early| late| mid)?[ \-](?P<span>(?:nineties|['\u2019]?90['\u2019]?s|hundreds))\b",
        r"\b(?P<span>nonagenarian|centenarian)s?\b",
    )
)
_CUED = re.compile(
    r"\b(?:file|docket|ticket|receipt|voucher|combination|bib|jersey|serial|s/n|sn|record|account|acct|chart|case|claim|policy|group|member|subscriber|medicaid|medicare|certificate|licen[cs]e|"
    r"permit|plates?|tags?|registration|reg|vin|mrn|imei|udi|npi|dea|ssn|social security|passport|badge|employee|invoice|order|ref|reference|"
    r"confirmation|tracking|lot|model|device|asset|pin|passcode|password|code|id|ends in|ending in|ending)\b\.?(?: (?:number|no|nr|id|plate|code|is|was|reads|of))*\.?[ :#]*"
    r"(?P<span>[\"\u201c']?(?:(?=[\w\-./]*\d)[\w\-./]{2,}\w|(?-i:[A-Z][A-Z\-]+)(?:[ \-](?-i:[A-Z\d]{2,}))*|\d{2})(?!\w))"
    + _NO_UNIT
    + rf"(?! (?:{COUNTED})\b)",
    re.I,
)
_NUMBERED = re.compile(
    rf"\b(?:numbers?|no\.|nos\.|nr\.?)(?: is| was)?[ :#]*(?P<span>\d(?:[\d \-/.]*\d)?)(?![\w/]|[.,]\d){_NO_UNIT}(?! (?:{COUNTED}|of|to)\b)",
    re.I,
)
_GROUPED = re.compile(r"(?<![\w.])[(+]?\d(?:[ .\-()/\u2010-\u2013\u00a0]{0,3}\d){6,}(?!\w)")
# a token with a digit in it, with what is tied to it; capitals before or after it as on a plate
_ANY = re.compile(
    r"(?:(?<!\w)(?P<plate>[A-Z]{1,4})[ \-\u00b7](?=\d{3}))?(?:(?<!\w)[A-Z]{1,5}[\-_](?=\d))?#?\w{0,255}\d\w*(?:[\-./:#\u2013_]+\w*\d\w*|[\-_][A-Z]{1,5}\b)*(?: (?:[A-Z]{2,3}|\d{3}[A-Z]{1,3})\b(?=$|[.,;) ]))?"
)
_SMALL = re.compile(r"\d{1,2}(?:st|nd|rd|th)?(?:[\-/\u2013.]\d{1,2})?")
_DIGITS = re.compile(r"\d{3,}")
_MAY_BE = (
    r"(?<![\w/.\-])(?:0?[1-9]|1[0-2])/(?:0?[1-9]|[12]\d|3[01])(?![\w/]|\.\d)",  # a fraction, or month and day
    r"(?<![\w/.\-])[1-9]\d?\.(?:0?[1-9]|1[0-2])\.(?=\s?[a-z,)]|$)",  # the end of a sentence, or day and month
    r"(?<![\w/.\-])(?:0[1-9]-[0-3]?\d|1[0-2]-0[1-9]|(?:[1-9]|1[0-2])-(?:1[3-9]|2\d|3[01]))(?![\w/\-]|\.\d)",  # a range, or both
    r"(?<![\w/.,:\-])9\d(?![\w/\-]|[.,:]\d)",  # a count, or an age
)
_DOUBTFUL = re.compile("|".join(_MAY_BE))


def known_numbers_in(text: str, known: Iterable[str], label: str) -> Iterator[Span]:
    """Numbers that the case itself names; spaces and strokes in them may differ, and a long piece counts alone."""
    for number in known:
        for pattern in _forms(number):
            yield from (Span(*match.span(), label) for match in pattern.finditer(text))


def ages_in(text: str, label: str) -> Iterator[Span]:
    """Ages over 89, in digits and in words (45 CFR 164.514(b)(2)(i)(C))."""
    for pattern in _AGES:
        for match in pattern.finditer(text):
            yield Span(*match.span("span"), label)


def cued_numbers_in(text: str, label: str) -> Iterator[Span]:
    """What stands after a word such as serial, plate or record number, digits or not."""
    for match in (*_CUED.finditer(text), *_NUMBERED.finditer(text)):
        yield Span(*match.span("span"), label)


def numbers_left_in(text: str, labels: Mapping[str, str]) -> Iterator[Span]:
    """Every run of three or more digits, and letters tied to digits; to be asked after all that may stay."""
    for match in _GROUPED.finditer(text):
        yield Span(*match.span(), labels["phone"])
    for match in _ANY.finditer(text):
        if not _SMALL.fullmatch(match[0].strip()):
            named = (match["plate"] or "").casefold() in ACRONYMS  # SSN 078 05 1120: the letters are a word
            start = match.end("plate") + 1 if match["plate"] and named else match.start()
            yield Span(start, match.end(), labels["number"])
    for match in _DIGITS.finditer(text):  # tied to something that stays
        yield Span(*match.span(), labels["number"])


def may_be_days_in(text: str) -> Iterator[Span]:
    """What may be a day or an age and may be none, 3/4 or 96, with itself in its place: a person must look."""
    for match in _DOUBTFUL.finditer(text):
        yield Span(*match.span(), match[0])


def _forms(number: str) -> Iterator[re.Pattern[str]]:
    characters = [re.escape(char) for char in number if char.isalnum()]
    if len(characters) > 2:
        yield re.compile(r"(?<!\w)\(?" + r"[\s\-./()_]*".join(characters) + r"(?!\w)", re.I)
    for piece in re.findall(r"\w+", number):
        if sum(char.isdigit() for char in piece) > 3 and not _YEAR.fullmatch(piece):
            yield re.compile(rf"(?<!\w){re.escape(piece)}(?!\w){_NO_UNIT}", re.I)
