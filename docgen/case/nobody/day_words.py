"""Parts of a year, years, days in words and feasts in free text: moved where they can be, else out."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta

from docgen.case.nobody.days import compiled, full_year, like_year, nearest, too_long_ago
from docgen.case.nobody.measures import COUNTED, UNIT
from docgen.case.nobody.spans import Span
from docgen.months import FOREIGN, NAMES, month_like, month_number

_YEAR = r"(?P<year>(?:19|20)\d\d|['\u2019]\d\d)"
_SEASONS = {"winter": 1, "spring": 4, "summer": 7, "fall": 10, "autumn": 10}  # the month in its middle
_QUARTERS = {"q1": 2, "q2": 5, "q3": 8, "q4": 11}
_FIRST = (
    "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth "
    "sixteenth seventeenth eighteenth nineteenth twentieth"
).split()
_ORDINALS = {
    word: n
    for n, word in enumerate(
        [*_FIRST, *(f"twenty-{word}" for word in _FIRST[:9]), "thirtieth", "thirty-first"], start=1
    )
}
_ORDINAL = "|".join(sorted(_ORDINALS, key=len, reverse=True)).replace("-", "[- ]")
_ONES = "one|two|three|four|five|six|seven|eight|nine"
_UNDER_100 = rf"(?:oh[ -](?:{_ONES})|ten|eleven|twelve|\w+teen|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)(?:[ -](?:{_ONES}))?)"
_FEAST = (
    r"Christmas(?: (?:Eve|Day))?|New Year'?s?(?: (?:Eve|Day))?|Easter(?: (?:Sunday|Monday))?|Thanksgiving(?: Day)?|Halloween|"
    r"Hanukkah|Chanukah|Passover|Yom Kippur|Rosh Hashanah|Ramadan|Eid(?: al[- ](?:Fitr|Adha))?|Diwali|Mother's Day|Father's Day|"
    r"Memorial Day|Labor Day|Independence Day|(?:Fourth|4th) of July|Valentine'?s(?: Day)?|St\.? Patrick'?s Day|Veterans Day|"
    r"Martin Luther King(?: Jr\.?)? Day|Juneteenth|Good Friday|Ash Wednesday|Palm Sunday|Mardi Gras|Groundhog Day|Pentecost|Whitsun"
)
_THE_DAY = r"(?P<span>\d{1,2}(?:st|nd|rd|th))"
_ENDS = r"(?=$|[.,;:)!?]| (?:and|at|in the|with|he|she|they|we|it|when|after|before|of (?:this|last|next|the) (?:month|year)|of month|to|until|for|because|but|was|is|by|or)\b)"


# asked before the days that days.py knows: they hold a month or a year of their own
_WHOLE = compiled(
    (rf"\b(?:{_FEAST}),?(?: of)? (?:19|20)\d\d\b", re.I, "out"),
    (rf"\b(?P<part>spring|summer|fall|autumn|winter|Q[1-4])(?P<join>,? (?:of )?(?:the year )?|[-/]?){_YEAR}\b(?![-/\u2013]\d\d)", re.I, "season"),
    (rf"(?<!\w){_YEAR}(?P<join> |-?)(?P<part>Q[1-4]|spring|summer|autumn|winter)\b", re.I, "season"),
    (r"\b(?:week|wk|CW|KW)\.? ?\d{1,2}(?: of|,|/)? ?(?:19|20)\d\d\b|\b(?:19|20)\d\d-?W\d\d(?:-?\d)?\b", re.I, "out"),
    (rf"\b(?P<ordinal>{_ORDINAL})(?P<join> (?:day )?of | )(?P<name>{NAMES})\b(?:(?P<comma>,? )(?P<year>(?:19|20)\d\d)\b)?", re.I, "ordinal"),
    (rf"\b(?P<name>{NAMES})(?P<join> (?:the )?)(?P<ordinal>{_ORDINAL})\b(?:(?P<comma>,? )(?P<year>(?:19|20)\d\d)\b)?", re.I, "ordinal"),
    (rf"\b(?:\d{{1,2}}(?:er|\.|º)? ?(?:de )?)?(?:{FOREIGN})(?:,? (?:de |del )?(?:19|20)\d\d)\b|\b\d{{1,2}}(?:er|\.|º)? ?(?:de )?(?:{FOREIGN})\b", re.I, "out"),
)  # fmt: skip
# asked after them
_LEFT = compiled(
    (rf"\b(?:since|from) (?P<span>[3-9]\d)(?!\w|[.,:/\-]\d|\s?(?:{UNIT}|%)(?![^\W_])| (?:{COUNTED}|to|of|or)\b)", re.I, "out"),
    (rf"\b(?:nineteen|twenty)[ -]{_UNDER_100}\b(?!(?:[ -]\w+)? (?:{UNIT}|{COUNTED})\b)", re.I, "out"),
    (rf"\btwo thousand(?: and)?[ -](?:{_ONES}|{_UNDER_100})\b", re.I, "out"),
    (r"(?<![\w.\-/])(?P<year>(?:19|20)\d\d)(?P<join>[-/\u2013])(?P<second>\d\d)(?![\w/]|[-.]\d)", 0, "school_year"),
    (r"(?<!\w)(?:the )?(?P<span>(?:(?:19|20)\d|['\u2019]\d)0['\u2019]?s)\b", re.I, "out"),
    (rf"(?<![\w.,/#$\-])(?P<year>(?:19|20)\d\d)(?!\w|[.,/:]\d|-\d{{3}}|\s?(?:{UNIT}|%|x|×)(?![^\W_])| (?:{COUNTED})\b)", 0, "year"),
    (rf"(?<=[\u2013\-])(?P<year>(?:19|20)\d\d)(?!\w|[.,/:\-]\d|\s?(?:{UNIT})(?![^\W_])| (?:{COUNTED})\b)", 0, "year"),
    (rf"(?<![\w'\u2019])(?P<year>['\u2019]\d\d)(?!\w|['\u2019]|\s?(?:{UNIT})(?![^\W_])| (?:{COUNTED})\b)", 0, "year"),
    (rf"\b(?:on|by|since|until|till|from|before|after|around|about|(?:mon|tues|wednes|thurs|fri|satur|sun)day),? the {_THE_DAY}{_ENDS}", re.I, "out"),
    (rf"\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)\w*\.?,? (?:the )?(?P<span>\d{{1,2}}(?:st|nd|rd|th)?)(?!\w|[:/.]\d|\s?(?:{UNIT}|am|pm)(?![^\W_])| (?:{COUNTED})\b)", 0, "out"),
    (rf"\bthe {_THE_DAY}(?= of (?:this|last|next|the|each|every) month\b)", re.I, "out"),
)  # fmt: skip
_MAY_BE_DAY = re.compile(
    rf"\b(?:{_FEAST})\b|\b(?:in|since|last|until|by|early|late|mid)[ -](?P<span>may|march)\b(?! be\b)"
    rf"|\b(?:on|since|until|till|before|after) the (?P<ordinal>{_ORDINAL}){_ENDS}",
    re.I,
)


def day_words_in(text: str, move: timedelta, near: date, unknown: str) -> Iterator[Span]:
    """Seasons, quarters, feasts and days in words: moved, or `unknown` where what they say cannot be moved."""
    return _moved(_WHOLE, text, move, near, unknown)


def years_in(text: str, move: timedelta, near: date, unknown: str) -> Iterator[Span]:
    """Years, and days without a month: what is left when every other day of the text is known."""
    return _moved(_LEFT, text, move, near, unknown)


def _moved(
    forms: Iterable[tuple[re.Pattern[str], str]], text: str, move: timedelta, near: date, unknown: str
) -> Iterator[Span]:
    for pattern, form in forms:
        for match in pattern.finditer(text):
            try:
                label = _REWRITTEN[form](match, move, near) if form in _REWRITTEN else unknown
            except (ValueError, OverflowError):  # no such day, no such year
                continue
            start, end = match.span("span") if "span" in pattern.groupindex else match.span()
            yield Span(start, end, unknown if too_long_ago(match.groupdict().get("year"), near) else label)


def may_be_day_words_in(text: str) -> Iterator[Span]:
    """Feasts without a year, may and march where they may be months, "the sixth", with themselves in their place."""
    for match in _MAY_BE_DAY.finditer(text):
        start, end = match.span(match.lastgroup or 0)
        yield Span(start, end, text[start:end])


def _season(match: re.Match[str], move: timedelta, near: date) -> str:
    part = match["part"].casefold()
    quarters = part in _QUARTERS
    day = date(full_year(match["year"], near), (_QUARTERS if quarters else _SEASONS)[part], 15) + move
    if quarters:
        shown = f"Q{(day.month + 2) // 3}"
    else:
        names = ("winter", "spring", "summer", "fall" if part != "autumn" else part)
        shown = names[(day.month % 12) // 3]
        shown = shown.capitalize() if match["part"][0].isupper() else shown
    year = like_year(match["year"], day.year)
    parts = (shown, year) if match.start("part") < match.start("year") else (year, shown)
    return match["join"].join(parts)


def _ordinal(match: re.Match[str], move: timedelta, near: date) -> str:
    """The fourth of March, March fourth; "may first" in small letters is no day."""
    month, number = month_number(match["name"]), _ORDINALS[match["ordinal"].casefold().replace(" ", "-")]
    if match["name"].islower() and "of" not in match["join"] and match["name"] in ("may", "march", "mar"):
        raise ValueError("words, not a day")
    day = (date(int(match["year"]), month, number) if match["year"] else nearest(month, number, near)) + move
    shown = (str(day.day), month_like(match["name"], day))
    ordered = shown if match.start("ordinal") < match.start("name") else shown[::-1]
    return match["join"].join(ordered) + (f"{match['comma']}{day.year}" if match["year"] else "")


def _school_year(match: re.Match[str], move: timedelta, near: date) -> str:
    first = int(match["year"])
    if int(match["second"]) <= first % 100 and first % 100 != 99:
        raise ValueError("no years one after the other")
    after = (int(match["second"]) - first) % 100
    year = (date(first, 7, 1) + move).year
    return f"{year}{match['join']}{(year + after) % 100:02d}"


def _year(match: re.Match[str], move: timedelta, near: date) -> str:
    year = full_year(match["year"], near)
    if not near.year - 130 < year < near.year + 15:
        raise ValueError("no year of a life")
    return like_year(match["year"], (date(year, 7, 1) + move).year)


_REWRITTEN: dict[str, Callable[[re.Match[str], timedelta, date], str]] = {
    "season": _season,
    "ordinal": _ordinal,
    "school_year": _school_year,
    "year": _year,
}
