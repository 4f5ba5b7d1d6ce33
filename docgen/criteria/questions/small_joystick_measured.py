"""A compact or mini joystick stands on the client's measured force and travel.

Asks: Whether a finding behind the joystick gives a force and a distance, to hold beside what its class needs.
Why a payer asks: The classes differ by force and travel alone; a smaller one is for a client who cannot push or reach
    what the larger needs.
What settles it: measure of the finding, such as "35 g, 6 mm"; the finding in because of the line or of a feature it
    brings. A force or distance is read as present, never judged: two hands and two tries
    cannot be told apart in words; where the most grams told are fewer than the class takes, that is said.
Source: Article A52504: standard about 340 g and 25 mm, compact about 340 g and at most 15 mm, mini about 25 g and at
    most 5 mm.
"""

from __future__ import annotations

import re

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.case.need import Finding
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend
from docgen.criteria.ordered import ITEMS, Line, code_of, lines, named, no_codes, places
from docgen.criteria.sentences import capital, listed
from docgen.fit.finding import is_ability
from docgen.units import fine_inches

HEADING = "order"
CLAIM = "A small joystick is supported by measured force and travel"
LINE_RANK = 20
SETTINGS: dict[str, object] = {}

_FORCE, _TRAVEL = (
    re.compile(r"\d\s*(?:g|grams?|kg|N|newtons?|oz|ounces?|lbf?|pounds?)\b", re.I),
    re.compile(r"\d\s*(?:mm|millimeters?|cm|in|inch(?:es)?)\b", re.I),
)

_GRAMS = re.compile(r"(\d+(?:\.\d+)?)\s*(?:g|grams?)\b", re.I)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    small = [(i, item) for i, item in lines(case) if (code := hcpcs.code(item.code)) and code.force_g]
    if not small:
        return does_not_apply("No compact or mini joystick is requested.", ITEMS)
    for line in small:
        findings = _behind(line[1], case)
        lacks = [
            words
            for words, form in (("a force", _FORCE), ("a travel", _TRAVEL))
            if not any(form.search(finding.measure or "") for _, finding in findings if is_ability(finding.id))
        ]
        if lacks:
            return cannot_tell(
                f"{_needs(line)}; no finding behind it measures {listed(lacks, 'or')}{_less(line[1], case)}.",
                *places([line]),
                *(("findings", i) for i, _ in findings),
                ("findings",),
                mend=Mend(
                    (
                        "Fill in measure <force in g and travel in mm> of the finding in because of the line or "
                        "of its features."
                    ),
                    fill=("measure", "because", "features"),
                ),
            )
    sentences = [
        f"{_needs(line)}; measured: {listed(measure.rstrip('.') for measure in _measures(line[1], case))}"
        f"{_less(line[1], case)}"
        for line in small
    ]
    return met(
        f"{capital('. '.join(sentences))}.",
        *places(small),
        *(("findings", i) for line in small for i, _ in _behind(line[1], case)),
    )


def _measures(item: Item, case: Case) -> list[str]:
    """What was measured in force or travel behind an item."""
    return [
        finding.measure
        for _, finding in _behind(item, case)
        if finding.measure
        and is_ability(finding.id)
        and (_FORCE.search(finding.measure) or _TRAVEL.search(finding.measure))
    ]


def _less(item: Item, case: Case) -> str:
    """That the most grams told behind an item are less than its class takes, as the end of a sentence; else empty."""
    grams_told = [float(g) for measure in _measures(item, case) for g in _GRAMS.findall(measure)]
    if not grams_told or max(grams_told) >= recorded(code_of(item).force_g):
        return ""
    return f"; the most told is {max(grams_told):g} g, which is less: whether more can be pushed is to be said"


def _needs(line: Line) -> str:
    code = code_of(line[1])
    travel = f"{recorded(code.travel_mm):g} mm ({fine_inches(recorded(code.travel_mm))} in)"
    return f"{named([line])} is of a class that takes about {code.force_g:g} g and moves at most {travel}"


def _behind(item: Item, case: Case) -> list[tuple[int, Finding]]:
    """The findings behind an item, with their places."""
    brought = {feature.id: feature.because for feature in case.configuration.features}
    ids = {*item.because, *(finding for name in item.features for finding in brought.get(name, ()))}
    return [(i, finding) for i, finding in enumerate(case.findings) if finding.id in ids]
