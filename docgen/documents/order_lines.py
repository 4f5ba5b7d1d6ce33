"""Lines of the order as a supplier reads them: what each code already includes, what it goes with, what it answers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.run import Verdict
from docgen.documents.measures import grams
from docgen.documents.phrase import Words, joined
from docgen.documents.quoting import Quotations

_CODE = re.compile(r"\b[A-Z][0-9]{4}\b")
_NO_STANDARD_STICK = "standard_stick_ruled_out"
_OPEN_PARTS = frozenset(
    {"stop_switch", "direction_switch", "function_switch", "independent_switch", "seat_and_back"}
)  # of these a code says that they come, and not whether they are fitted
_PARTS = ("controller", "harness", "part")  # kinds of codes that only make another line work


def order_line(case: Case, item: Item, verdicts: Sequence[Verdict], words: Words) -> dict[str, Any]:
    """What the code of an item includes, which lines of this order it belongs with or lacks, and the claims it
    answers."""
    code = hcpcs.code(item.code)
    includes, connected = _included(code, words), tuple(_connected(case, item, code, words))
    return {
        "told": bool(includes or connected),
        "moves": _seat_range(case) if code and code.kind == "seating" else "",
        "fitted": item.included_fitted or (None if code and _OPEN_PARTS & {*code.includes} else ""),
        "tried": tuple(_tried(case, item, words)),
        "part": is_connecting(code),
        "includes": includes,
        "connected": connected,
        "answers": claim_answered(item.code, verdicts, code is not None and code.kind == "control"),
    }


def _tried(case: Case, item: Item, words: Words) -> Iterator[str]:
    """Force and travel at which each part of an item worked in the trial, where both or one of them is recorded."""
    after = words["base_asked"]["after"]
    for mount in case.configuration.mounting:
        force = None if mount.force_g is None else grams(mount.force_g, words=words)
        travel = None if mount.travel_mm is None else after.format(mm=f"{mount.travel_mm:g}")
        if mount.item == item.id and (force or travel):
            measures = " ".join(filter(None, (force, travel)))
            yield words["base_asked"]["tried"].format(
                part=mount.part or words["base_asked"]["a_part"], measures=measures
            )


def _included(code: hcpcs.Code | None, words: Words) -> tuple[str, ...]:
    """What a code already includes, in words."""
    if code is None:
        return ()
    has_motors = (code.motors or 1) > 1
    return tuple(words["parts"]["motors" if part == "motor" and has_motors else part] for part in code.includes)


def _connected(case: Case, item: Item, code: hcpcs.Code | None, words: Words) -> Iterator[str]:
    """The lines of this order that an item belongs with, as one text, and each of those that it lacks."""
    here = {line.code for line in case.configuration.items}
    pairs = code.pairs_with if code else ()
    goes_with = [" / ".join(option for option in options if option in here) for options in pairs if here & set(options)]
    goes_with += [partner for partner in _partners(case, item, code) if partner not in goes_with]
    if goes_with:
        yield joined(goes_with, words)
    for options in pairs:
        if not here & set(options):
            yield words["not_on_order"].format(codes=words["lists"]["or"].join(options))


def _partners(case: Case, item: Item, code: hcpcs.Code | None) -> list[str]:
    """Codes of this order that name this one as what they go with, and what a link or hardware of a control works
    with: the same pair is told at both of its lines."""
    of_control = code is not None and (code.kind == "link" or item.supports == "interface")
    partners = []
    for other in case.configuration.items:
        of_other = hcpcs.code(other.code)
        if other is item or of_other is None:
            continue
        named = any(item.code in options for options in of_other.pairs_with)
        on_control = of_other.kind == "link" or other.supports == "interface"
        holds = code is not None and code.kind == "control" and on_control
        if named or holds or (of_control and of_other.kind == "control"):
            partners.append(of_other.id)
    return list(dict.fromkeys(partners))


def _seat_range(case: Case) -> str:
    """How far the seat is to move, as the settings have it; empty where that is not recorded."""
    values = (entry.value for entry in case.configuration.settings if entry.setting == "seat_range")
    return next((value for value in values if value), "")


def is_connecting(code: hcpcs.Code | None) -> bool:
    """Whether a code is of a part that only makes another line work."""
    return code is not None and code.kind in _PARTS


def claim_answered(code: str | None, verdicts: Sequence[Verdict], control: bool = False) -> str:
    """The claim that a line answers: of a control, that no standard joystick will do; else the closest one that names
    its code.

    Empty when none of them is met.
    """
    met = [verdict for verdict in verdicts if verdict.answer.status == "met"]
    if control and (special := next((v for v in met if v.criterion.id == _NO_STANDARD_STICK), None)):
        return special.criterion.line_claim
    ranked = [
        (verdict.criterion.line_rank, verdict.criterion.line_claim)
        for verdict in met
        if verdict.criterion.line_rank is not None and code in _CODE.findall(verdict.answer.reason)
    ]
    return min(ranked)[1] if ranked else ""


def fits_together(verdicts: Sequence[Verdict], quotes: Quotations) -> Iterator[dict[str, Any]]:
    """The answers on whether the parts of the order belong together, each that names a code once, open ones first."""
    shown: set[str] = set()
    for verdict in verdicts:
        criterion, answer = verdict.criterion, verdict.answer
        asked = criterion.fits_together is True or (verdict.open and criterion.fits_together == "open")
        applies = asked and answer.status != "does_not_apply" and _CODE.search(answer.reason)
        if applies and answer.reason not in shown:
            shown.add(answer.reason)
            yield {"asks": criterion.id, "reason": quotes.reason(verdict), "open": verdict.open}
