"""Lines of the order as a clerk enters them, standard parts that are asked about once, and what the payer said."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import date
from typing import Literal, TypedDict

from docgen.case.items import ASKED_PARTS, Item, StandardPart
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.codes import hcpcs
from docgen.criteria.ordered import control_alone
from docgen.criteria.run import Verdict
from docgen.documents.made_from import made_from
from docgen.documents.order_lines import claim_answered
from docgen.documents.phrase import Words, joined
from docgen.fit.stopping_means import STOP_FEATURES, means
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
    "standard_parts": made_from("configuration.standard_parts"),
}


_MOUNTED = frozenset(
    {"helper_stop", "drive_lock", "seat_switch", "profile_switch", "display"}
)  # a technician places them, as a headrest of its own line
_SET = frozenset({"armrests", "belt", "display", "headrest", "other"})  # nothing else tells where these stand
_SET_HOW = {
    "armrests": "height of its top above the pan",
    "belt": "anchor points of each belt, strap and support",
    "headrest": "height, depth and angle",
}
_ASKED_OF_PAYER = frozenset({"headrest", "other"})  # no code of a control or of a seat tells of these
_CODE_OF = {"headrest": "E0955"}  # article A52504
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


class StandardPartRow(TypedDict):
    """One standard part.

    part     None where it is of no kind that is asked about, and its name is not recorded
    mounted  how it is mounted; None where that is to be asked, empty where nothing is to be told
    set_at   where it stands; None where that is to be asked, empty where the measured parts or its mounting tell it
    comes    None where nobody has said; "line" too where the code of a line already includes the part
    line     number of the line that brings it, or 0
    is_headrest  whether it is the headrest, on whose post other parts may hang
    set_first    whether it is mounted, by something else than the item of the measured parts: it is set before them
    by_code      whether nobody recorded that line for the part, and its code includes it by the list of codes
    over_pads    whether it is a headrest that the line of a head control brings: it then sits over what drives
    """

    by_code: bool
    is_headrest: bool
    set_first: bool
    over_pads: bool
    mounted: str | None
    set_at: str | None
    part: str | None
    comes: Literal["with_base", "moves_over", "not_needed", "line"] | None
    line: int
    code: str
    says: str
    _labels: dict[str, str]


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


def standard_parts(case: Case, words: Words) -> Iterator[StandardPartRow]:
    """The parts that each new chair is asked about, the means of stopping that the record names, then whatever else is
    recorded; of a chair that stays without the first."""
    recorded = case.configuration.standard_parts
    ranks = {name: at for at, name in enumerate(words["standard_part"])}
    first = 2 if orders_chair(case) else 1
    items = {item.id: (number, item) for number, item in enumerate(case.configuration.items, first)}
    in_mounting = {mount.part for mount in case.configuration.mounting}
    of_mounting = {mount.item for mount in case.configuration.mounting if mount.item}
    for part in sorted([*_asked_parts(case), *recorded], key=lambda entry: ranks[entry.part]):
        brought = part.item or (None if part.comes else _brings(case, part.part))
        number, item = items.get(brought or "", (0, None))
        is_apart = bool(part.mounted and (brought or part.comes not in (None, "line"))) and brought not in of_mounting
        yield {
            "by_code": bool(brought) and not part.item,
            "is_headrest": part.part == "headrest",
            "set_first": part.part == "headrest" and is_apart,
            "over_pads": part.part == "headrest" and _is_of_head(item),
            "mounted": _mounted(part, brought, in_mounting),
            "set_at": _set_at(part, brought, in_mounting),
            "part": part.name if part.part == "other" else words["standard_part"][part.part],
            "comes": "line" if brought else part.comes,
            "line": number,
            "code": (item and item.code) or "",
            "says": _with_payer(part, item, words),
            "_labels": {
                "part": "name of the part",
                "comes": "who provides it",
                "mounted": "how it is mounted, and its size",
                "set_at": _SET_HOW.get(part.part, "height, depth, side and angle"),
            },
        }


def _is_of_head(item: Item | None) -> bool:
    """Whether the code of an item is of a control that the head works."""
    code = hcpcs.code(item.code) if item else None
    return code is not None and code.head


def _with_payer(part: StandardPart, item: Item | None, words: Words) -> str:
    """What is recorded of a part; where its line has a code that does not tell of it, what the payer answered of it, or
    that the payer is asked."""
    code = hcpcs.code(item.code) if item else None
    if item is None or code is None or part.part not in _ASKED_OF_PAYER or code.id == _CODE_OF.get(part.part):
        return part.says or ""
    takes = part.payer_takes if item.payer_says else None  # an answer of a later day is not known yet
    asked = {None: "payer_takes", True: "payer_does", False: "payer_does_not"}[takes]
    return " ".join(filter(None, (part.says, words["base_asked"][asked])))


def _mounted(part: StandardPart, brought: str | None, in_mounting: Collection[str | None]) -> str | None:
    """How a part is mounted, as recorded; None where that must be told and is not, empty where it need not be.

    brought  the item that brings it
    """
    return part.mounted if _is_placed(part, brought, in_mounting) else part.mounted or ""


def _is_placed(part: StandardPart, brought: str | None, in_mounting: Collection[str | None]) -> bool:
    """Whether it must be told where the part stands: a place that is not recorded is then a gap.

    brought  the item that brings it
    """
    if part.comes == "not_needed":
        return False
    unplaced = part.part == "other" and part.name not in in_mounting
    return part.part in _MOUNTED or (brought is not None and (part.part == "headrest" or unplaced))


def _set_at(part: StandardPart, brought: str | None, in_mounting: Collection[str | None]) -> str | None:
    """Where a part stands, as recorded; None and empty as in `_mounted`."""
    return part.set_at if _is_set(part, brought, in_mounting) else part.set_at or ""


def _is_set(part: StandardPart, brought: str | None, in_mounting: Collection[str | None]) -> bool:
    """Whether it must be told where a support, an armrest, a display or a device stands: a place that is not recorded
    is then a gap. What is measured in the mounting record has its place there, and a mounted headrest in its mounting.

    brought  the item that brings it
    """
    if part.part not in _SET or part.comes == "not_needed" or not (part.comes or brought):
        return False
    if part.part == "headrest":
        return not part.mounted
    return part.part != "other" or part.name not in in_mounting


def _asked_parts(case: Case) -> list[StandardPart]:
    """Parts of a new chair of which nothing is recorded, its profile switch too, and means of stopping of a feature."""
    in_record, asked = {part.part for part in case.configuration.standard_parts}, case.configuration
    switched = ("profile_switch",) if len(asked.profiles) > 1 and asked.choose_by != "driver" else ()
    wanted = (*((*ASKED_PARTS, *switched) if orders_chair(case) else ()), *means(case))
    unrecorded = [StandardPart.model_validate({"part": name}) for name in wanted if name not in in_record]
    return [*unrecorded, *(part for part in _stop_by_feature(case) if part.part not in in_record)]


def _stop_by_feature(case: Case) -> list[StandardPart]:
    """A helper's stop that a feature asks for, with the line that brings it or the base."""
    stop = case.configuration.stop
    asked = {feature.id: feature for feature in case.configuration.features if feature.id in STOP_FEATURES}
    if not asked or not (stop.helpers_own or stop.stop_switch):
        return []
    brought = next((item.id for item in case.configuration.items if asked.keys() & {*item.features}), None)
    with_base = any(feature.with_base for feature in asked.values())
    return [StandardPart(part="helper_stop", item=brought, comes="with_base" if with_base and not brought else None)]


def _brings(case: Case, part: str) -> str | None:
    """The item whose code is that of a part, or includes it, as the list of codes has it; None for none."""
    for item in case.configuration.items:
        code = hcpcs.code(item.code)
        if code and (part in code.includes or code.id == _CODE_OF.get(part)):
            return item.id
    return None


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
