"""What reaches a person or a place in free text: mail, web and network addresses, phones, streets, coordinates."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from docgen.case.nobody.measures import UNIT
from docgen.case.nobody.spans import Span

_NO_UNIT = rf"(?!\s?(?:{UNIT})(?![^\W_]))"
# each run has a most, longer than any address, name or file has, so that a search takes time in step with its text
_LABEL = r"[a-z0-9](?:[\w\-]{0,253}[a-z0-9])?"
_AT = r"\s?(?:@|[(\[{]\s?at\s?[)\]}])\s?"
_DOT = r"(?:\.|\s?[(\[{]\s?(?:dot|\.)\s?[)\]}]\s?|\s+dot\s+)"
# kinds of streets that are nothing else in small letters, and those that are a street only with a capital
_STREET = "Street|Str|Road|Rd|Avenue|Ave|Av|Lane|Ln|Boulevard|Blvd|Highway|Hwy|Parkway|Pkwy|Turnpike|Cul-de-sac"
_ALSO_STREET = (
    "St|Drive|Dr|Way|Court|Ct|Place|Pl|Square|Sq|Terrace|Ter|Close|Row|Circle|Cir|Trail|Trl|Pike|Route|Alley|Loop|Crescent|"
    "Cres|Mews|Gardens|Walk|Path|Quay|Wharf|Grove|Park|Bend|Crossing|Landing|Ridge|Plaza|Green|Hill|Heights|View|Estates?|Cove|Point"
)
_NUMBER = r"\b\d{1,6}(?:[a-z]|[\-/]\d{1,4})?,?"
_WORD = r"(?:[^\W\d_][\w'\u2019.\-]{0,99}|\d{1,3}(?:st|nd|rd|th))"
_CAPITAL = r"(?:[A-Z\u00c0-\u00de][\w'\u2019.\-]{0,99}|\d{1,3}(?:st|nd|rd|th))"
_ROOM = r"(?:,? (?:[Aa]pt|[Aa]partment|[Uu]nit|[Ss]uite|[Ss]te|[Ff]lat|[Ll]ot|[Nn]o|#)\.? ?#?\w+)?"
_SPELLED = r"(?:zero|oh|o|one|two|three|four|five|six|seven|eight|nine|double|triple)"
_TENS = "ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety"
_FLAT = "bed|apt|apartment|unit|suite|ste|flat|room|rm|lot|bldg|building|p\\.?\\s?o\\.?\\s?box|post office box|box|locker|route|rte|rural route|highway|hwy|interstate|exit|house number|ward|district|precinct|zip(?: code)?|postcode|postal code"

_LOOKS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, re.compile(pattern, flags))
    for kind, pattern, flags in (
        ("email", rf"[\w.+\-'\u2019]{{1,255}}{_AT}{_LABEL}(?:{_DOT}{_LABEL})+", re.I),
        ("email", rf"\b[\w.+\-]{{1,255}} at {_LABEL}(?:\s+dot\s+{_LABEL})+", re.I),
        ("email", r"[\w.+\-]{1,255}@[\w\-]+", re.I),
        ("link", r"(?:[a-z][a-z+.\-]{0,99}://|www\.)\S*[^\s.,;:)\]'\"\u201d]", re.I),
        ("link", r"///[\w.]+", 0),
        ("link", rf"\b[a-z0-9][\w\-]{{0,254}}(?:\s+dot\s+{_LABEL})+\b", re.I),
        ("link", r"(?<![\w@])@[a-z_][\w.\-]*\w", re.I),
        ("link", r"\b(?:[0-9a-f]{2}[:\-]){5}[0-9a-f]{2}\b|\b[0-9a-f]{4}\.[0-9a-f]{4}\.[0-9a-f]{4}\b", re.I),
        ("link", r"(?<![\w:])(?=[0-9a-f:]*::[0-9a-f]|(?:[0-9a-f]{1,4}:){4})[0-9a-f:]{4,}[0-9a-f](?:/\d+)?(?![\w:])", re.I),
        ("link", r"\b(?:\d{1,3}\.){3}\d{1,3}(?:[:/]\d+)?\b", 0),
        # a name in a network: words of a kind joined by stops, such as example.org/page, and files such as photo.jpg
        ("link", r"(?<![\w@])[a-z0-9](?:[\w\-]{0,253}[a-z0-9])?(?:\.[a-z0-9\-]{1,255}){0,127}\.[a-z]{2,}(?:[:/?#][^\s,;)]*[^\s.,;:)])?(?![\w])", re.I),
        ("address", r"(?:[NSEW]\s?)?-?\d{1,3}\s?[°º]\s?\d{1,2}(?:\.\d+)?\s?['\u2019\u2032′](?:\s?\d{1,2}(?:\.\d+)?\s?(?:[\"\u201d\u2033″]|''))?\s?[NSEW]?(?![\w])", 0),
        ("address", r"(?<![\w.])-?\d{1,3}\.\d+\s?[°º]?\s?[NSEW]\b(?:[,;/ ]{1,3}-?\d{1,3}\.\d+\s?[°º]?\s?[NSEW]\b)?", 0),
        ("address", r"(?<![\w.])[NSEW]\s?\d{1,3}\.\d+\s?[°º]?", 0),
        ("address", r"(?<![\w.])[+\-\u2212]?\d{1,3}\.\d+(?:\s?[°º])?[,;/ ]{1,3}[\-\u2212]\d{1,3}\.\d+(?:\s?[°º])?", 0),
        ("address", r"(?<![\w.])[+\-\u2212]?\d{1,3}\.\d{3,}(?:\s?[°º])?[,;/ ]{1,3}[+\-\u2212]?\d{1,3}\.\d{3,}(?:\s?[°º])?", 0),
        ("address", r"\b(?:lat(?:itude)?|lon(?:g(?:itude)?)?)\b\.?:? ?(?P<span>[+\-\u2212]?\d[\d.°]*)", re.I),
        ("address", rf"{_NUMBER}(?: (?:{_CAPITAL}|[NSEW]\.?|[NS][EW])){{1,4}} (?:{_STREET}|{_ALSO_STREET})\b\.?{_ROOM}", 0),
        ("address", rf"{_NUMBER}(?: (?!(?:of|in|on|the|and|times|from|to|at|by)\b){_WORD}){{1,3}} (?:{_STREET})\b\.?{_ROOM}", re.I),
        ("address", rf"\b(?:[A-Z][a-z]+[ \-])?(?:[A-Z][a-z]+)(?: {_CAPITAL}){{1,2}} (?:{_STREET})\b\.?{_ROOM}(?! [A-Z])", 0),
        ("address", rf"\b\d{{1,3}}(?:st|nd|rd|th) (?:{_STREET}|St|(?:and|&) {_CAPITAL})\b", re.I),
        ("address", rf"\b{_CAPITAL} (?:and|&) \d{{1,3}}(?:st|nd|rd|th)\b", 0),
        ("address", rf"(?<=[a-z,;] )(?:{_CAPITAL} ){{1,3}}(?:{_STREET}|St|Drive|Dr|Court|Ct|Place|Pl|Terrace|Circle|Crescent)\b\.?{_ROOM}(?! (?:[A-Z]|\d))", 0),
        ("address", rf"\b(?:at|address(?: is)?:?|home:?|house|lives?|to|near) (?P<span>{_NUMBER}(?: (?!(?:of|in|on|the|and|times|from|to|at|by)\b){_WORD}){{1,3}} (?:{_ALSO_STREET})\b{_ROOM})", re.I),
        ("address", rf"\b(?:{_FLAT})\b\.? ?(?:no\.? ?|number |#)?(?P<span>#?(?=\w*\d)\w+(?:[\-/]\w+)?)\b{_NO_UNIT}", re.I),
        ("address", rf"\b(?:(?:p\.?\s?o\.?\s?)?box|room|apt|apartment|suite|flat) (?P<span>{_SPELLED})\b", re.I),
        ("address", r"(?<![\w.])\d{1,3}(?:\.\d+)?\s?[°º]\s?[NSEW]\b", 0),
        ("address", rf"\b[A-Z]{{2}},? \d{{5}}(?:-\d{{4}})?\b{_NO_UNIT}", 0),
        ("address", r"\b[A-Z]{1,2}\d[A-Z\d]? ?\d[A-Z]{2}\b|\b[A-Z]\d[A-Z] ?\d[A-Z]\d\b", 0),
        ("phone", rf"(?:\+\d{{1,3}}[ .\-]?)?(?:\(\d{{2,4}}\) ?|\b\d{{3}}[ .\-])?\b\d{{3}}[.\-]\d{{4}}\b{_NO_UNIT}(?:,? ?(?:x|ext\.?|extension) ?\d+)?", re.I),
        ("phone", r"\+\s?\d{1,3}(?:[ .\-()/]{0,3}\d{2,4}){2,5}\b", 0),
        ("phone", r"\b(?:1[ .\-])?\(?\d{3}\)?[ .\-][A-Z]{2,8}(?:-[A-Z]{2,8})*\b", 0),
        ("phone", r"\b(?:(?<!\d )x(?=\s?\d{2,5}\b)|ext\.?|extension|pager|beeper)[ :#]*(?P<span>\d+)\b", re.I),
        ("link", r"\b[\w\-]{1,255} \. (?:com|org|net|edu|gov|io|info|example)\b", re.I),
        ("number", rf"\b(?:{_TENS})(?:[ \-](?:{_TENS}|{_SPELLED})){{2,}}\b", re.I),
        ("phone", rf"\b{_SPELLED}(?:[ ,\-]+(?:and )?{_SPELLED}){{3,}}\b", re.I),
    )
)  # fmt: skip
_NO_HOST = frozenset("trial.csv totals.csv sessions.csv case.toml a.m p.m e.g i.e".split())


def contacts_in(text: str, labels: Mapping[str, str]) -> Iterator[Span]:
    """Every address of a kind in the text with its label, surest first."""
    for kind, pattern in _LOOKS:
        for match in pattern.finditer(text):
            if match[0].casefold() in _NO_HOST:
                continue
            yield Span(*match.span("span" if "span" in pattern.groupindex else 0), labels[kind])
