"""A shelf held against a case, as a page beside the packet for therapist and supplier: DOCX, PDF, HTML.

It shows findings, the devices and what the trial showed of them: no name but the one the client is called by, no
contact, no home, no diagnosis and nothing of the payer.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from docgen.criteria.sentences import capital
from docgen.documents.matched import (
    apart_rows,
    device_rows,
    lender_rows,
    numbers,
)
from docgen.documents.matched_findings import beside_rows, mark_rows
from docgen.documents.matched_seen import trial_sentences
from docgen.fit.finding import finding_name
from docgen.packet.assess import Assessed
from docgen.packet.trees import template_tree
from docgen.rendering.formats import format_names, format_of
from docgen.rendering.labels import ENGLISH
from docgen.rendering.page import NO_DATE, Page
from docgen.shelf.match import Match
from docgen.shelf.seen import Differs, Seen


def match_page(
    assessed: Assessed, matched: Match, shown: Seen, differ: tuple[Differs, ...], formats: Iterable[str] = ()
) -> dict[str, bytes]:
    """File name -> bytes of the page in each format; all formats when none is named."""
    called = assessed.file.case.client.called or "the client"
    tree = template_tree("_match.md", page_context(assessed, matched, shown, differ))
    page = Page(f"Devices compared with the findings of {called}", f"{called}, devices compared", NO_DATE)
    return {
        f"match.{suffix}": format_of(suffix).render(tree, page, {}, labels=ENGLISH)
        for suffix in tuple(formats) or format_names()
    }


def page_context(assessed: Assessed, matched: Match, shown: Seen, differ: tuple[Differs, ...]) -> dict[str, Any]:
    """All that the template may use."""
    case = assessed.file.case
    devices = [{**row, "from_words": capital(row["from_words"])} for row in device_rows(case, matched, shown)]
    marks, alike = mark_rows(matched)
    apart = list(apart_rows(case, matched, shown))
    return {
        "called": case.client.called or "the client",
        "evaluator": "The therapist",
        "shelf": {"name": matched.shelf.name},
        **{place: [row for row in devices if row["place"] == place] for place in ("leads", "may_lead", "not_first")},
        **{stage: [row for row in apart if row["stage"] == stage] for stage in ("harm", "harm_unknown", "movement")},
        "beside": list(beside_rows(matched)),
        "to_lenders": list(lender_rows(matched)),
        "needs_open": [{"name": finding_name(finding)} for finding in matched.open_needs],
        "trial": list(trial_sentences(matched, shown, differ)),
        "marks": marks,
        "alike": alike,
        "all_devices": [
            {"number": n, "name": matched.devices[name].device.name} for name, n in numbers(matched).items()
        ],
    }
