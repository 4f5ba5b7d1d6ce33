"""The features of the requested control, and the lines of the order that bring them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.criteria.run import Verdict
from docgen.documents.made_from import made_from
from docgen.documents.order_lines import order_line
from docgen.documents.phrase import Words, spoken_count
from docgen.documents.telling import finding_sentences, said_once
from docgen.fit.match import Chosen, Fit
from docgen.grammar import with_verb

MADE_FROM = {
    "features": made_from(
        Privacy.DEVICE,  # which features a control has is seen on the chair
        note="configuration.features.note",
        answer="configuration.features.answer",
        because="configuration.features.because",
        risks="findings",
        justification="configuration.items.why",
        line=("configuration.items.code", "configuration.items.name"),
    ),
    "items": made_from("configuration.items.name", findings="findings"),
}


def feature_row(case: Case, chosen: Chosen) -> dict[str, Any]:
    """One requested feature: its words for each document, why it is requested and what speaks against it."""
    feature = chosen.feature
    own = next(asked for asked in case.configuration.features if asked.id == feature.id)
    return {
        "id": feature.id,
        "name": feature.name,
        "plain": feature.plain or feature.name,
        "what": feature.what,
        "trial": feature.trial,
        "justification": feature.justified(case),
        "without": feature.without,
        "care": feature.care,
        "training": feature.training,
        "note": chosen.note or "",
        "answer": chosen.answer or "",
        "because": tuple(finding.replace("_", " ") for finding in chosen.because),
        "line": next((i.code or i.name for i in case.configuration.items if feature.id in i.features), ""),
        "with_base": bool(own.with_base),
        "risks": tuple(against.risk for against in chosen.at_odds),
    }


def item_rows(case: Case, fit: Fit, verdicts: Sequence[Verdict], words: Words) -> Iterator[dict[str, Any]]:
    """Each line of the order with what it brings, the findings no feature has told, and what a supplier must know of
    its code."""
    by_id = {chosen.feature.id: chosen for chosen in fit.chosen}
    before = {finding for chosen in fit.chosen for finding in chosen.because}
    for item in case.configuration.items:
        brought = [by_id[f] for f in item.features if f in by_id]
        new = [finding for finding in item.because if finding not in before]
        before.update(new)
        yield {
            "name": item.name,
            "code": item.code,
            "line": item.code or item.name,
            "quantity": item.quantity,
            "counted": _counted(item, words),
            "why": item.why,
            "without": item.without,
            "purpose": item.purpose or "",
            "features": tuple(chosen.feature.name for chosen in brought),
            "findings": finding_sentences(case, said_once(case, new), words),
            "_labels": {
                "code": f"code of the {item.name}",
                "fitted": "which of these are fitted",
                "quantity": f"how many of the {item.name}",
                "counted": f"code of the {item.name}",
                "why": f"why the {with_verb(item.name, 'is')} needed",
                "without": f"what happens without the {item.name}",
            },
        } | order_line(case, item, verdicts, words)


def _counted(item: Item, words: Words) -> str | None:
    """The code of an item, with how many of it where that is more than one."""
    if item.code is None or item.quantity in (None, 1):
        return item.code
    n = spoken_count(item.quantity, words) or str(item.quantity)
    return str(words["some_of"].format(code=item.code, n=n))
