"""Parts of a chair that are asked about once: what brings each, how it is mounted and where it is set."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Literal, TypedDict

from docgen.case.items import ASKED_PARTS, Item, StandardPart
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.documents.lines import line_numbers, orders_chair
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.fit.stopping_means import STOP_FEATURES, means

MADE_FROM = {"standard_parts": made_from("configuration.standard_parts")}


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


def standard_parts(case: Case, words: Words) -> Iterator[StandardPartRow]:
    """The parts that each new chair is asked about, the means of stopping that the record names, then whatever else is
    recorded; of a chair that stays without the first."""
    ranks = {name: at for at, name in enumerate(words["standard_part"])}
    for part in sorted([*_asked_parts(case), *case.configuration.standard_parts], key=lambda part: ranks[part.part]):
        yield _part_row(case, part, words)


def _part_row(case: Case, part: StandardPart, words: Words) -> StandardPartRow:
    """A part, with the line that it names or, where nobody has said how it comes, the one whose code brings it."""
    brought = part.item or (None if part.comes else _brings(case, part.part))
    item = next((item for item in case.configuration.items if item.id == brought), None)
    in_mounting = {mount.part for mount in case.configuration.mounting}
    is_headrest = part.part == "headrest"
    return {
        "by_code": bool(brought) and not part.item,
        "is_headrest": is_headrest,
        "set_first": is_headrest and _is_mounted_apart(case, part, brought),
        "over_pads": is_headrest and _is_of_head(item),
        "mounted": _mounted(part, brought, in_mounting),
        "set_at": _set_at(part, brought, in_mounting),
        "part": part.name if part.part == "other" else words["standard_part"][part.part],
        "comes": "line" if brought else part.comes,
        "line": line_numbers(case)[item.id] if item else 0,
        "code": (item and item.code) or "",
        "says": _with_payer(part, item, words),
        "_labels": {
            "part": "name of the part",
            "comes": "who provides it",
            "mounted": "how it is mounted, and its size",
            "set_at": _SET_HOW.get(part.part, "height, depth, side and angle"),
        },
    }


def _is_mounted_apart(case: Case, part: StandardPart, brought: str | None) -> bool:
    """Whether it is mounted, and by something else than an item of the measured parts.

    brought  the item that brings it
    """
    of_mounting = {mount.item for mount in case.configuration.mounting if mount.item}
    is_there = brought is not None or part.comes not in (None, "line")
    return bool(part.mounted) and is_there and brought not in of_mounting


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
