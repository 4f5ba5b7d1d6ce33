"""Lines of the order as a supplier reads them: what each code already includes, what it goes with, what it answers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from docgen.case.asked import Item
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.run import Verdict
from docgen.documents.phrase import Words

# What a clerk must know to put the parts together; the other questions are about papers and payment.
_FITS_TOGETHER = (
    "base_takes_the_controller", "connection_code_fits_motors", "control_code_fits_control", "seat_parts_fit_base",
    "unclear_lines_settled", "weight_within_class",
)
_IN_THE_TABLE = ("control_and_electronics_match", "parts_have_their_control")  # told only where the table's pairs are not whole
_CODE = re.compile(r"\b[A-Z][0-9]{4}\b")
_PARTS = ("controller", "harness", "part")  # kinds of codes that only make another line work


def order_line(case: Case, item: Item, verdicts: Sequence[Verdict], words: Words) -> dict[str, Any]:
    """What the code of an item includes, which lines of this order it belongs with, and the claims it answers."""
    code = hcpcs.code(item.code)
    here = {one.code for one in case.configuration.items}
    goes_with = [" / ".join(one for one in options if one in here) for options in code.pairs_with] if code else []
    lacking = [options for options in code.pairs_with if not here & set(options)] if code else []
    includes = tuple(words["parts"][part] for part in code.includes) if code else ()
    return {
        "told": bool(includes or any(goes_with) or lacking),
        "part": code is not None and code.kind in _PARTS,
        "includes": includes,
        "goes_with": tuple(filter(None, goes_with)),
        "lacks": tuple(words["lists"]["or"].join(options) for options in lacking),
        "answers": tuple(dict.fromkeys(v.criterion.claim for v in _about(item, here, verdicts))),
    }


def _about(item: Item, here: set[str | None], verdicts: Sequence[Verdict]) -> Iterator[Verdict]:
    """Claims met that are about this line: those that name its code, but not every code of the order."""
    for verdict in verdicts:
        named = set(_CODE.findall(verdict.answer.reason))
        asked = verdict.criterion.heading in ("order", "alternatives") and verdict.answer.status == "met"
        if asked and item.code in named and not (len(here) > 1 and here <= named):
            yield verdict


def for_the_supplier(verdict: Verdict) -> str:
    """The reason, or the bare claim where the reason tells a finding about the client."""
    rests_on_findings = any(path and path[0] == "findings" for path in verdict.answer.where)
    return f"{verdict.criterion.claim}." if rests_on_findings else verdict.answer.reason


def fits_together(verdicts: Sequence[Verdict]) -> Iterator[dict[str, Any]]:
    """The answers on whether the parts of the order belong together, each that names a code once, open ones first."""
    told: set[str] = set()
    for verdict in verdicts:
        criterion, answer = verdict.criterion, verdict.answer
        asked = criterion.id in _FITS_TOGETHER or (verdict.open and criterion.id in _IN_THE_TABLE)
        applies = asked and answer.status != "does_not_apply" and _CODE.search(answer.reason)
        reason = for_the_supplier(verdict)
        if applies and reason not in told:
            told.add(reason)
            yield {"reason": reason, "open": verdict.open}
