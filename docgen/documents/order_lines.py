"""Lines of the order as a supplier reads them: what each code already includes, what it goes with, what it answers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any, TypedDict

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.run import Verdict
from docgen.documents.made_from import made_from
from docgen.documents.measures import grams
from docgen.documents.phrase import Words, joined
from docgen.documents.quoting import Quotations
from docgen.documents.settings_by_part import asked_of_control, asked_of_controller, lock_lines, unsettled
from docgen.fit.settings import drive_settings

MADE_FROM = {"boxes": made_from(code="configuration.items.code", box="configuration.items.box")}

_CODE = re.compile(r"\b[A-Z][0-9]{4}\b")
_NO_STANDARD_STICK = "standard_stick_ruled_out"
_OPEN_PARTS = frozenset(
    {"stop_switch", "direction_switch", "function_switch", "independent_switch", "seat_and_back"}
)  # of these a code says that they come, and not whether they are fitted
_SEAT_RANGE, _SEAT_STOPS, _INHIBITS = ("seat_range",), ("seat_stop", "recline_stop"), ("tilt_limit", "recline_limit")
_SEAT_SPEEDS = ("seat_speed", "recline_speed")
_PARTS = ("controller", "harness", "part")  # kinds of codes that only make another line work


def order_line(case: Case, item: Item, verdicts: Sequence[Verdict], words: Words) -> dict[str, Any]:
    """What the code of an item includes, which lines of this order it belongs with or lacks, and the claims it
    answers."""
    code = hcpcs.code(item.code)
    includes, connected = _included(code, words), tuple(_connected(case, item, code, words))
    return {
        "told": bool(includes or connected),
        "moves": "; ".join(_seat_asked(case, code, words)),
        "sets": _settings_asked(case, code, words),
        "settles": _settles(case, code, words),
        "own_settings": _own_settings(case, code, words),
        "speeds": tuple(_speeds_asked(case, words)) if code is not None and code.kind == "seating" else (),
        "set_names": asked_of_controller(case, words) if code is not None and code.kind == "controller" else (),
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
    if not goes_with and any(part.item == item.id and part.mounted for part in case.configuration.standard_parts):
        yield words["base_asked"]["mounted_on"]
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


def _settings_asked(case: Case, code: hcpcs.Code | None, words: Words) -> str:
    """That a controller takes every setting of the order, those of the control itself left out, in each of its
    profiles; empty for any other line."""
    if code is None or code.kind != "controller":
        return ""
    n_profiles = len(case.configuration.profiles)
    wording, own = words["base_asked"], asked_of_control(case, words)
    has_own = (line.code for line in case.configuration.items if (of := hcpcs.code(line.code)) and of.kind == "control")
    control = next(has_own, None) if own else None
    but = wording["but_own"].format(names=joined(own, words), code=control) if control else ""
    profiles = wording["in_profiles"].format(n=n_profiles) if n_profiles > 1 else ""
    if unsettled(case):
        but += wording["and_to_settle" if but else "but_to_settle"]
    return str(wording["every_setting"] + but + profiles)


def _settles(case: Case, code: hcpcs.Code | None, words: Words) -> str:
    """Settings that a controller may leave to another line, until it is shown which of them gives these; empty for any
    other line."""
    if code is None or code.kind != "controller" or not (names := unsettled(case)):
        return ""
    lines = joined(lock_lines(case), words, "or")
    return str(words["base_asked"]["settles"].format(names=joined(names, words), codes=lines))


def _own_settings(case: Case, code: hcpcs.Code | None, words: Words) -> str:
    """Settings of the order that are set at the control itself; empty for any other line."""
    names = asked_of_control(case, words) if code is not None and code.kind == "control" else ()
    return str(words["base_asked"]["own_settings"].format(names=joined(names, words))) if names else ""


def _seat_asked(case: Case, code: hcpcs.Code | None, words: Words) -> Iterator[str]:
    """What a line of the seat is to be bought for, as the settings have it: its range and stops; at the connection of
    its motors, else beside these, the angles at which it shuts off driving."""
    kind = code.kind if code else ""
    if kind == "seating":
        yield from (value for _, value in _set(case, _SEAT_RANGE))
        yield from (f"{name}: {value}" for name, value in _set(case, _SEAT_STOPS))
        if [*_speeds_asked(case, words)]:
            by = _controller(case)
            yield words["base_asked"]["speeds_by" if by else "speeds"].format(code=by)
    codes = (hcpcs.code(item.code) for item in case.configuration.items)
    inhibited_by = "connection" if any(other and other.kind == "connection" for other in codes) else "seating"
    if kind == inhibited_by:
        angles = [f"{name}: {value}" for name, value in _set(case, _INHIBITS)]
        yield from angles
        if angles and (by := _controller(case)):
            yield words["base_asked"]["angles_by"].format(code=by)


def _controller(case: Case) -> str:
    """The code of the line by which the settings are entered; empty where the order has none."""
    codes = (hcpcs.code(item.code) for item in case.configuration.items)
    return next((code.id for code in codes if code and code.kind == "controller"), "")


def _speeds_asked(case: Case, words: Words) -> Iterator[str]:
    """How fast each motor of the seat may move, with what passes: it decides which one is bought."""
    wording = words["base_asked"]
    passes = {entry.setting: entry.passes for entry in case.configuration.settings if entry.passes}
    for id_ in _SEAT_SPEEDS:
        for name, value in _set(case, (id_,)):
            speed = wording["driven_passes"].format(value=value, passes=passes[id_]) if id_ in passes else value
            yield wording["driven"].format(name=name, value=speed)


def _set(case: Case, names: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Name and value of each of these settings that has a value, in their order."""
    values = {
        entry.setting: entry.value for entry in case.configuration.settings if entry.value and not entry.is_unused
    }
    for name in names:
        if name in values:
            shown = drive_settings()[name].name
            yield f"{shown[:1].lower()}{shown[1:]}", values[name] or ""


class BoxRow(TypedDict):
    """A line that brings a box of electronics, with where it is mounted; None where nobody has said."""

    code: str
    box: str | None
    _labels: dict[str, str]


def boxes(case: Case) -> Iterator[BoxRow]:
    """Each line whose code includes electronics or links a device, in the order of the case."""
    for item in case.configuration.items:
        code = hcpcs.code(item.code)
        if code is not None and ("electronics" in code.includes or code.kind == "link"):
            label = "place of the box, and route of its cables"
            yield {"code": code.id, "box": item.box, "_labels": {"box": label}}


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
