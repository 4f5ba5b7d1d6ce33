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
    "base_takes_the_controller",
    "connection_code_fits_motors",
    "control_code_fits_control",
    "seat_parts_fit_base",
    "unclear_lines_settled",
    "weight_within_class",
)
_IN_THE_TABLE = (
    "control_and_electronics_match",
    "parts_have_their_control",
)  # told only where the table's pairs are not whole
# What a line is on the order for, the closest first: a control or a part before the base that takes them.
_ANSWERED = (
    "own_code_needed",
    "small_joystick_measured",
    "control_code_fits_control",
    "seating_has_ground",
    "connection_code_fits_motors",
    "hardware_serves_transfer",
    "seat_parts_fit_base",
    "other_devices_left_out",
    "electronics_have_a_trigger",
    "parts_have_their_control",
    "power_option_has_ground",
    "base_group_fits_diagnosis",
    "weight_within_class",
)
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
        "answers": claim_answered(item.code, verdicts, code is not None and code.kind == "control"),
    }


def claim_answered(code: str | None, verdicts: Sequence[Verdict], control: bool = False) -> str:
    """The claim that a line answers: of a control, that no standard joystick will do; else the first of `_ANSWERED` that names its code.

    Empty when none of them is met.
    """
    met = {v.criterion.id: v for v in verdicts if v.answer.status == "met"}
    named = (one for one in _ANSWERED if one in met and code in _CODE.findall(met[one].answer.reason))
    first = "standard_stick_ruled_out" if control and "standard_stick_ruled_out" in met else next(named, None)
    return met[first].criterion.claim if first else ""


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
