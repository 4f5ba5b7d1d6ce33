"""Numbers that say nothing about who it is: measures, counts, times of day, public codes and standards. They stay."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from docgen.case.nobody.spans import Span
from docgen.codes import hcpcs, icd10

UNIT = (
    "mm|cm|m|km|kg|g|mg|mcg|ml|mL|s|ms|min|mins|minutes?|h|hr|hrs|hours?|sec|secs|seconds?|steps?|percent|%|deg|degrees?|°C?|º|"
    'inch(?:es)?|in\\.|"|ft|feet|foot|yards?|miles?|metres?|meters?|lb|lbs|pounds?|kph|mph|m/s|mm/s|deg/s|Hz|hz|kHz|volts?|mV|µV|uV|mAh|Ah|'
    "Wh|watts?|newtons?|N|Nm|kPa|mmHg|bpm|dB|rpm|gf|ounces?|oz|kcal|cc|litres?|liters?"
)
COUNTED = (
    "attempts?|tries|trials?|runs?|stops?|targets?|times|sessions?|lessons?|weeks?|days?|months?|years?(?! of age)|hits?|misses|contacts?|"
    "presses|touches|repetitions?|reps|turns?|transfers?|doors?|doorways?|people|words?|points?|tasks?|errors?|bumps?|"
    "commands?|cycles?|rows?|pages?|minutes|passes|items?|questions?|taps?|activations?|releases?|entries|long|wide|deep|high|across|thick|apart|tall|clear"
)
_NUMBER = r"\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d{1,5}(?:[.,]\d+)?"
_JOIN = r"(?:\s?[\-\u2013/x×]\s?|, | ?to | ?or | ?and | ?by |, and |\s?±\s?)"
_FRACTION_OF = "strength|grade|graded|score|scored|scores|pain|stops?|hits?|attempts?|rated|level|mmt|tone|spasticity|ashworth|power|fatigue|tiredness|trials?|tries|targets?|rating|bother|effort"

_LOOKS: tuple[re.Pattern[str], ...] = tuple(
    re.compile(pattern, flags)
    for pattern, flags in (
        (r"(?<![\w.])\d{1,4} (?:out )?of \d{1,4}(?![\w/\-]|[.,]\d)(?! [A-Z][a-z])", 0),
        (rf"(?<![\w.])(?:{_NUMBER})(?:{_JOIN}(?:{_NUMBER})){{0,19}}[\s\-]?(?:{UNIT})(?![^\W_])", 0),
        (rf"(?<![\w.])\d{{1,4}}(?:{_JOIN}\d{{1,4}}){{0,19}} (?:[a-z]{{1,99}} )?(?:{COUNTED})\b", re.I),
        (r"(?<![\w.:])(?:[01]?\d|2[0-4]):[0-5]\d(?::[0-5]\d)?(?![\w:])", 0),
        (r"(?<![\w.])\d{2,4}\s?[x×]\s?\d{2,4}(?:\s?[x×]\s?\d{2,4})?(?!\w)", 0),
        (r"(?<![\w.])(?![1-3]?\d\.(?:0?[1-9]|1[0-2])\.(?:\s?[a-z,)]|$))[+\-\u2212]?\d{1,3}\.\d{1,2}(?!\w|[.,/\-]\d)", 0),
        (r"(?<![\w.])0?\.\d{1,4}(?!\w|[.,/\-]\d)", 0),
        (rf"\b(?:{_FRACTION_OF})\b(?:\s(?:of|at|was|is|were|from|now|about))*[:\s]+(?P<span>\d{{1,2}}[+\-]?/\d{{1,2}}[+\-]?(?:\s?(?:to|,|and|\u2013)\s?\d{{1,2}}[+\-]?/\d{{1,2}}[+\-]?)*)", re.I),
        (r"(?<![\w/])\d{1,3}/\d{1,3}(?= (?:of|the way|full)\b)", re.I),
        (r"(?<!\w)[1-9]\d{0,2}/100(?!\w|/)", 0),  # no day of a month
        # a blood pressure, whose unit nobody says
        (r"\b(?:cuff|blood pressure|systolic|diastolic|(?:top|bottom) number)(?: (?:reads|is|of|at|above|over|below|under))+ (?P<span>[1-9]\d{1,2})(?![\w/\-]|[.,]\d)", re.I),
        (r"\b[CTLS]\d{1,2}(?:\s?[-\u2013/]\s?[CTLS]?\d{1,2})?\b", 0),  # levels of the spine
        (r"(?<![\w\-/.:#])(?:SpO2|CO2|O2|H2O|A1c|B12|T\d|PHQ-\d|COVID-19|GAD-\d|[A-Za-z]\d|\d[A-Za-z]|\d{1,2}(?:st|nd|rd|th)|q\d{1,2}h|x\d{1,2}|IP[X\d]\d|USB-?\d)(?![\w\-/:#]|\.\w)", 0),
        (r"(?<![\w\-/.])(?:911|112)(?![\w/]|-\d|\.\d)", 0),
    )
)  # fmt: skip
_STANDARDS: tuple[re.Pattern[str], ...] = tuple(
    re.compile(pattern, flags)
    for pattern, flags in (
        (r"\b(?:ISO|IEC|EN|ASTM|ANSI|RESNA|WC|IEEE)(?:/(?:IEC|RESNA|TR|TS))*[ \-]{0,2}\d[\d\-:]*(?: section \d+)?", 0),
        (r"\b\d{2} (?:CFR|C\.F\.R\.|USC|U\.S\.C\.)(?: §+)?(?: part)? ?\d[\d.]*(?:\([a-zA-Z0-9]+\))*", re.I),
        (r"(?<=§)\s?\d[\d.]*(?:\([a-zA-Z0-9]+\))*", 0),
        (r"\b(?:LCD|NCD|policy article|article|revision|chapter|section|part)[ :]+\(?(?P<span>(?:[AL]\d{5}|\d{1,3}(?:\.\d{1,3}){1,4}|[1-9]\d?))\b", re.I),
        (r"\b(?:CPT|HCPCS)(?: codes?)?[ :]+(?P<span>\d{4}[\dTF](?:(?:, | and | or )\d{4}[\dTF])*)\b", 0),
        (r"\b[bsde][1-9]\d{2}(?:\.\d)?(?!\w)", 0),  # ICF, second level
        (r"\bICF:?(?: codes?)? (?P<span>[bsde][1-9]\d{2,4}(?:(?:, | and |/)[bsde][1-9]\d{2,4})*)\b", 0),
    )
)  # fmt: skip
_PROCEDURE = re.compile(r"(?<![\w\-/.#])[A-Z]\d{4}(?![\w\-/#])")
_DIAGNOSIS = re.compile(r"(?<![\w\-/.#])[A-TV-Z]\d[\dAB](?:\.[\dA-Z]{1,4})?(?![\w\-/#])")


def measures_in(text: str) -> Iterator[Span]:
    """Every number of the text that may stay, with itself in its place."""
    yield from _kept(text, _LOOKS)


def public_codes_in(text: str) -> Iterator[Span]:
    """Standards, rules, codes of this program's list and diagnosis codes that exist, with themselves in their place."""
    yield from _kept(text, _STANDARDS)
    listed = {*hcpcs.codes(), *hcpcs.bases()}
    for match in _PROCEDURE.finditer(text):
        if match[0] in listed:
            yield Span(*match.span(), match[0])
    for match in _DIAGNOSIS.finditer(text):
        if icd10.exists(match[0]):
            yield Span(*match.span(), match[0])


def _kept(text: str, patterns: Iterable[re.Pattern[str]]) -> Iterator[Span]:
    for pattern in patterns:
        for match in pattern.finditer(text):
            start, end = match.span("span" if "span" in pattern.groupindex else 0)
            yield Span(start, end, text[start:end])
