"""Numbers and addresses in free text that lead to a person: those the case names, and those that look like one."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from docgen.case.names import Span

_UNIT = r"(?!\s?(?:mm|cm|m|km|kg|g|s|ms|min|minutes?|hours?|steps?|percent|%|degrees?)\b)"
_YEAR = re.compile(r"(?:19|20)\d\d")
_STREET = "Street|St|Road|Rd|Avenue|Ave|Lane|Ln|Drive|Dr|Way|Court|Ct|Place|Pl|Square|Boulevard|Blvd|Terrace|Close|Row"
_LOOKS: tuple[tuple[str, re.Pattern[str]], ...] = (
    ("email", re.compile(r"[\w.+\-']+@[\w\-]+(?:\.[\w\-]+)+")),
    ("link", re.compile(r"(?:https?://|www\.)\S+[^\s.,;:)]", re.I)),
    ("number", re.compile(r"\b\d{3}-\d{2}-\d{4}\b")),
    ("link", re.compile(r"\b(?:\d{1,3}\.){3}\d{1,3}\b")),
    ("phone", re.compile(r"(?:\+\d{1,3}[ .\-]?)?(?:\(\d{2,4}\) ?|\b\d{3}[ .\-])?\b\d{3}[.\-]\d{4}\b" + _UNIT)),
    ("phone", re.compile(r"\+\d{1,3}(?:[ .\-]?\d{2,4}){2,5}\b")),
    (
        "address",
        re.compile(
            rf"\b\d{{1,5}}[a-z]?(?: [A-Z][\w'\u2019\-]+){{1,3}} (?:{_STREET})\b\.?(?:,? (?:Apt|Unit|No)\.? ?\w+)?"
        ),
    ),
    ("address", re.compile(r"\b[A-Z]{2},? \d{5}(?:-\d{4})?\b" + _UNIT)),
    (
        "number",
        re.compile(
            r"\b(?:serial|record|account|chart|case|policy|certificate|plate|VIN|MRN|IMEI)\b(?: (?:number|no\.?))?[ :#]*"
            r"(?P<span>(?=[\w\-]*\d)[\w\-]{4,})",
            re.I,
        ),
    ),
    ("age", re.compile(r"\b(?P<span>9\d|1[0-2]\d)(?=[ \-]years?[ \-](?:old|of age)\b)", re.I)),
    (
        "age",
        re.compile(
            r"\b(?:aged?(?: of)?|turn(?:s|ed|ing)|he is|she is) (?P<span>9\d|1[0-2]\d)\b" + _UNIT + r"(?! of\b)", re.I
        ),
    ),
    (
        "age",
        re.compile(
            r"\b(?P<span>ninety(?:[ \-](?:one|two|three|four|five|six|seven|eight|nine))?)(?=[ \-]years?[ \-](?:old|of age)\b)",
            re.I,
        ),
    ),
)


def numbers_in(text: str, known: Iterable[str], labels: Mapping[str, str]) -> Iterator[Span]:
    """What leads to a person, with what takes its place, surest first.

    known   numbers that the case itself names; spaces and strokes in them may differ, and a long piece counts alone
    labels  what stands in the place of each kind
    """
    for number in known:
        for pattern in _forms(number):
            yield from (Span(*found.span(), labels["number"]) for found in pattern.finditer(text))
    for kind, pattern in _LOOKS:
        for found in pattern.finditer(text):
            yield Span(*found.span("span" if "span" in pattern.groupindex else 0), labels[kind])


def _forms(number: str) -> Iterator[re.Pattern[str]]:
    characters = [re.escape(char) for char in number if char.isalnum()]
    if len(characters) > 2:
        yield re.compile(r"(?<!\w)\(?" + r"[\s\-./()_]*".join(characters) + r"(?!\w)", re.I)
    for piece in re.findall(r"\w+", number):
        if sum(char.isdigit() for char in piece) > 3 and not _YEAR.fullmatch(piece):
            yield re.compile(rf"(?<!\w){re.escape(piece)}(?!\w)" + _UNIT, re.I)
