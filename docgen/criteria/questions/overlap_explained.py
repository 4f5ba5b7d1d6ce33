"""A line that does again what another line already does says why.

Asks: Whether a connection of the drive control to the seat, and a headrest beside a head array, each carry a reason.
Why a payer asks: A power seat comes with a switch of its own, and a head array with its pads; a second way looks like a
    double order.
What settles it: why of the line, and the finding behind it: because of the line, or of a feature it brings.
Source: Content of the codes in article A52504; that a reason is wanted is inference.
"""

from __future__ import annotations

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import ITEMS, Line, lines, named, no_codes, places
from docgen.criteria.sentences import capital, listed

HEADING = "order"
CLAIM = "A line that overlaps another says why both are needed"
SETTINGS = {"points": ["seat_connection", "headrest"]}
CHOICES = {"points": tuple(SETTINGS["points"])}


def answer(grounds: Grounds, points: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    overlaps = [(line, words) for point in points for lines_of, words in (_POINTS[point],) for line in lines_of(case)]
    if not overlaps:
        return does_not_apply("No line does again what another line does.", ITEMS)
    bare = [(line, words, lacks) for line, words in overlaps if (lacks := _lacks(line[1], case))]
    if bare:
        line, words, lacks = bare[0]
        return cannot_tell(
            f"{named([line])}: {words}. Not recorded: {listed(_WORDS[key] for key in lacks)}.",
            *((*ITEMS, id_[0][0]) for id_ in bare),
            mend=fill_in({key: _FORMS[key] for key in lacks}, " in [[configuration.items]]"),
        )
    return met(
        " ".join(
            f"{capital(words)}; why {named([line])} is needed besides it is recorded: {line[1].why.rstrip('. ')}."
            for line, words in overlaps
            if line[1].why
        ),
        *places((line for line, _ in overlaps), "why"),
    )


def _connection(case: Case) -> list[Line]:
    return lines(case, hcpcs.of_kind("connection"))


def _headrest(case: Case) -> list[Line]:
    return lines(case, ("E0955",)) if lines(case, ("E2329", "E2330")) else []


def _lacks(item: Item, case: Case) -> list[str]:
    brought = {feature.id: feature.because for feature in case.configuration.features}
    behind = item.because or any(brought.get(id_) for id_ in item.features)
    return ["why"] * (not item.why) + ["because"] * (not behind)


_POINTS = {
    "seat_connection": (_connection, "the power seat comes with a switch of its own, apart from the drive control"),
    "headrest": (_headrest, "the head array brings the pads that the head rests against"),
}
_WORDS = {"why": "why both are needed", "because": "the finding behind it"}
_FORMS = {"why": "<why both are needed, in one sentence>", "because": "<id of a finding>"}
