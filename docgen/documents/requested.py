"""The table of equipment requested: each line of the order as a reviewer meets it first, with its reason in a few
words, and the published coverage that the control rests on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypedDict

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.run import Verdict
from docgen.documents.lines import order_lines, orders_chair
from docgen.documents.made_from import made_from
from docgen.documents.order_lines import is_connecting
from docgen.documents.phrase import Words
from docgen.fit.finding import finding_name
from docgen.fit.match import Fit

MADE_FROM = {
    "requested": made_from("configuration.items.brief", "configuration.chair.brief", "findings.id"),
    "coverage": made_from("request.payer"),
}

_CONTROLS = ("control", "unlisted")
_MOST_FINDINGS = 2
_SPECIAL_CONTROL = "standard_stick_ruled_out"


class RequestedRow(TypedDict):
    """One line.

    billed  whether it is billed separately, as the order tells it
    reason  why, in a few words: the therapist's own, else what it works with, else the findings that call for it
    """

    code: str | None
    name: str | None
    quantity: int | None
    billed: str | None
    reason: str
    _labels: dict[str, str]


def requested(case: Case, fit: Fit, verdicts: Sequence[Verdict], words: Words) -> Iterator[RequestedRow]:
    """Each line of the order, in its order."""
    reasons = [_reason(case, item, fit, words) for item in case.configuration.items]
    if orders_chair(case):
        reasons.insert(0, case.configuration.chair.brief or "")
    for row, reason in zip(order_lines(case, verdicts, words), reasons, strict=True):
        yield {
            "code": words["requested"]["no_code"] if row["without_code"] else row["code"],
            "name": row["name"],
            "quantity": row["quantity"],
            "billed": row["billed"],
            "reason": reason or words["requested"]["told_below"],
            "_labels": row["_labels"],
        }


def coverage(case: Case, verdicts: Sequence[Verdict]) -> str:
    """The published coverage that a special drive control rests on, from the payer's row; empty where the record does
    not bear it out, no row that was read says it, or the base has not the power options that it speaks of."""
    base = hcpcs.base(case.configuration.chair.base_code)
    bare = base is not None and base.options == "none"
    rows = (v.requirement for v in verdicts if v.criterion.id == _SPECIAL_CONTROL and v.answer.status == "met")
    return next((row.rests_on for row in rows if row.rests_on and not (bare and row.rests_on_power)), "")


def _reason(case: Case, item: Item, fit: Fit, words: Words) -> str:
    # why a part is needed that has no reason yet is nobody's word: the letter asks for it where the line is told
    needed = _works_with(case, item, words) if item.why else ""
    return item.brief or needed or _findings(case, item, fit)


def _works_with(case: Case, item: Item, words: Words) -> str:
    """Of a part that only makes another line work: the drive control on the order."""
    if not is_connecting(hcpcs.code(item.code)):
        return ""
    lines = [(line.name, hcpcs.code(line.code)) for line in case.configuration.items]
    controls = [name for name, known in lines if known and known.kind in _CONTROLS]
    return str(words["requested"]["needed_by"].format(name=controls[0])) if controls else ""


def _findings(case: Case, item: Item, fit: Fit) -> str:
    """Names of the first findings that the line answers, itself or by what it brings, one's own in its words; what
    makes a part of it a danger is no reason for it."""
    brought = [chosen for chosen in fit.chosen if chosen.feature.id in item.features]
    dangers = {against.finding for chosen in brought for against in chosen.at_odds if against.safety}
    ids = [*item.because, *(finding for chosen in brought for finding in chosen.because if finding not in dangers)]
    if (known := hcpcs.code(item.code)) and known.kind == "seating":  # that the seat has to move is the line again
        ids = [name for name in ids if name != "seat_functions_needed"]
    own = {finding.id: finding.says.rstrip(".") for finding in case.findings if finding.own}
    return "; ".join(own.get(name) or finding_name(name) for name in [*dict.fromkeys(ids)][:_MOST_FINDINGS])
