"""Lines of the order as a clerk enters them, and what the payer said of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Literal, TypedDict

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.codes import hcpcs
from docgen.criteria.ordered import control_alone
from docgen.criteria.run import Verdict
from docgen.documents.made_from import made_from
from docgen.documents.order_lines import claim_answered
from docgen.documents.phrase import Words, joined
from docgen.grammar import with_verb

MADE_FROM = {
    "order_lines": made_from(
        Privacy.ORDER,
        diagnoses=("configuration.items.diagnosis_codes", "diagnoses.code"),
        months=("configuration.items.months_needed", "request.months_needed"),
        size_mm="configuration.items.size_mm",
    ),
    "lines_alike": made_from(
        Privacy.ORDER,
        diagnoses=("configuration.items.diagnosis_codes", "diagnoses.code"),
        months=("configuration.items.months_needed", "request.months_needed"),
    ),
}


_SIZED = frozenset({"E0955"})  # made in sizes that nothing else on the order tells; common practice, no source


class LineRow(TypedDict):
    """One line to order. None where the record lacks it.

    number       its place on the order, from 1; the chair comes first
    code         None where none is recorded; without_code says that there is none
    described    the class of a base as its code has it; empty for any other line
    seated_by    behind it, which line orders its power seating; empty where none does
    size_mm      size in words; None where a line that is made in sizes has none, empty for any other
    billed       in words: separately, or with which other line
    modifiers    empty where none is recorded: the supplier adds them with the claim
    diagnoses    codes, the only one of the case where the line names none
    months       length of need
    answers      the claim of the payer that the line answers; empty where none is met
    """

    number: int
    code: str | None
    without_code: bool
    name: str | None
    described: str
    seated_by: str
    size_mm: str | None
    quantity: int | None
    unit: str
    modifiers: str
    billed: str | None
    why: str | None
    purpose: str
    diagnoses: str | None
    months: int | None
    answers: str
    payer_says: str | None
    payer_said_on: date | None
    _labels: dict[str, str]


class LinesAlike(TypedDict):
    """What holds of every line, and so is said once and takes no column; False where the lines differ or one
    lacks it. An empty modifier of every line is alike too."""

    modifiers: str | Literal[False]
    billed: str | Literal[False]
    diagnoses: str | Literal[False]
    months: int | Literal[False]


def order_lines(case: Case, verdicts: Sequence[Verdict], words: Words) -> Iterator[LineRow]:
    """The chair, unless it stays, and each item, in the order of the case."""
    chair, months = case.configuration.chair, case.request.months_needed
    n_before = 0
    if orders_chair(case):
        n_before = 1
        yield {
            "number": 1,
            "code": chair.base_code,
            "without_code": False,
            "name": chair.name,
            "described": base_described(chair.base_code, words),
            "seated_by": _seating_apart(case, words),
            "size_mm": "",
            "quantity": 1,  # a person has one chair of a payer
            "unit": words["unit"]["each"],
            "modifiers": chair.modifier or "",
            "billed": words["billed"]["by_code"] if chair.base_code else None,
            "why": chair.why,
            "purpose": "",
            "diagnoses": _diagnoses(case, chair.diagnosis_codes, words),
            "months": months,
            "answers": claim_answered(chair.base_code, verdicts),
            "payer_says": chair.payer_says,
            "payer_said_on": chair.payer_said_on,
            "_labels": _labels("chair"),
        }
    for number, item in enumerate(case.configuration.items, n_before + 1):
        code = hcpcs.code(item.code)
        yield {
            "number": number,
            "code": item.code,
            "without_code": item.code is None and bool(item.no_code),
            "name": item.name,
            "described": "",
            "seated_by": "",
            "size_mm": item.size_mm or (None if item.code in _SIZED else ""),
            "quantity": item.quantity,
            "unit": words["unit"][item.unit],
            "modifiers": item.modifier or "",
            "billed": _billed(case, item, words),
            "why": item.why,
            "purpose": item.purpose or "",
            "diagnoses": _diagnoses(case, item.diagnosis_codes, words),
            "months": months if item.months_needed is None else item.months_needed,
            "answers": claim_answered(item.code, verdicts, code is not None and code.kind == "control"),
            "payer_says": item.payer_says,
            "payer_said_on": item.payer_said_on,
            "_labels": _labels(item.name),
        }


def lines_alike(rows: Sequence[LineRow]) -> LinesAlike:
    """What every one of these lines has in the same way."""

    def alike(values: Sequence[str | None]) -> str | Literal[False]:
        first = values[0] if values else None
        return first if first is not None and all(value == first for value in values) else False

    months = {row["months"] for row in rows}
    of_all = months.pop() if len(months) == 1 else None
    return {
        "modifiers": alike([row["modifiers"] for row in rows]),
        "billed": alike([row["billed"] for row in rows]),
        "diagnoses": alike([row["diagnoses"] for row in rows]),
        "months": False if of_all is None else of_all,
    }


def line_numbers(case: Case) -> dict[str, int]:
    """The number of each item on the order, by its id; the chair, where it is ordered, comes first."""
    return {item.id: at for at, item in enumerate(case.configuration.items, 2 if orders_chair(case) else 1)}


def orders_chair(case: Case) -> bool:
    """Whether the chair itself is on the order."""
    return not control_alone(case)


def _seating_apart(case: Case, words: Words) -> str:
    """That power seating which the chair's own name may speak of is a line of its own; empty where none is ordered."""
    numbers = line_numbers(case)
    lines = [
        str(numbers[item.id])
        for item in case.configuration.items
        if (code := hcpcs.code(item.code)) is not None and code.kind == "seating"
    ]
    return str(words["base"]["seating_line"].format(lines=joined(lines, words))) if lines else ""


def unlined(case: Case) -> tuple[str, ...]:
    """Codes of diagnoses that no line names; none where the lines name none."""
    named = {code for item in case.configuration.items for code in item.diagnosis_codes}
    named |= {*case.configuration.chair.diagnosis_codes}
    return tuple(d.code for d in case.diagnoses if d.code and d.code not in named) if named else ()


def base_described(code: str | None, words: Words) -> str:
    """What the code of a base stands for: group, weight class, power options, seat. Empty for one not listed."""
    base = hcpcs.base(code)
    if base is None:
        return ""
    names = words["base"]
    return str(
        names["says"].format(
            group=base.group,
            weight=names[base.weight_class],
            options=names[base.options] if base.options else names["options_not_listed"],
            seat=names["captains" if base.captains else "sling"],
        )
    )


def included_in(case: Case, item: Item) -> list[str]:
    """Codes of this order that already contain the code of an item, which is then not billed again (article A52504)."""
    return [
        line.code
        for line in case.configuration.items
        if item.code and line.code and (code := hcpcs.code(line.code)) and item.code in code.contains
    ]


def is_included(case: Case, item: Item) -> bool:
    """Whether a line is not billed by itself: it is said so, or not said and another code of this order contains its
    own."""
    return item.billed == "included" or (item.billed is None and bool(included_in(case, item)))


def _billed(case: Case, item: Item, words: Words) -> str | None:
    """What is recorded; else, told as that, what its code says: a part contained in another code of this order is not
    billed again, and a line with a code of its own is."""
    ways = words["billed"]
    if is_included(case, item):
        holders = included_in(case, item)
        return str(ways["included_in"].format(codes=joined(holders, words)) if holders else ways["included"])
    return str(ways["separately"]) if item.billed else str(ways["by_code"]) if hcpcs.code(item.code) else None


def _diagnoses(case: Case, answered: Sequence[str], words: Words) -> str | None:
    """What a line says that it answers; where there is one diagnosis alone, its code."""
    if answered:
        return joined(answered, words)
    codes = {diagnosis.code for diagnosis in case.diagnoses}
    return codes.pop() if len(codes) == 1 else None


def _labels(name: str) -> dict[str, str]:
    return {
        "code": f"code of the {name}",
        "quantity": "quantity",
        "name": f"name of the {name}",
        "size_mm": f"size of the {name}",
        "billed": "whether it is billed separately",
        "why": f"why the {with_verb(name, 'is')} needed",
        "diagnoses": "which diagnosis",
        "months": "length of need",
        "payer_says": "no answer yet",
        "payer_said_on": "date of the payer's answer",
    }
