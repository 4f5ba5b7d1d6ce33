"""What the order holds, read through the code list: lines with codes, controls, seat motors, the day that counts."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from docgen.case.items import Item
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, cannot_tell
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.sentences import listed

ITEMS: KeyPath = ("configuration", "items")
CHAIR: KeyPath = ("configuration", "chair")
OWN_CODE = "K0108"
CONNECTIONS = {"one": "E2310", "more": "E2311"}  # of the drive control to one seat motor, and to two or more
FILL_IN_KIND = fill_in({"request.kind": '<"new_chair", "control_only" or "replacement">'})

# features that say how a control senses the driver; the others say where it stands or how it drives
SENSING = (
    "proximity_sensing",
    "contact_switch_sensing",
    "switch_type_by_site",
    "force_threshold_pad",
    "optical_beam_sensing",
    "muscle_signal_switch",
    "pneumatic_four_command",
    "two_site_commands.breath_and_head",
    "head_angle_proportional",
    "force_graded_speed",
    "compact_joystick",
    "mini_joystick",
    "isometric_joystick",
    "single_switch_scanning",
)

# parts that come with some codes, and the words by which a line may ask for them again
PARTS = {"stop_switch": ("stop switch", "emergency stop"), "direction_switch": ("direction switch",)}
APPLIANCES = (
    "lamp",
    "lights",
    "lighting",
    "tv",
    "television",
    "radio",
    "appliance",
    "thermostat",
    "curtain",
    "door opener",
    "smart home",
)

Line = tuple[int, Item]


def lines(case: Case, codes: Iterable[str] | None = None) -> list[Line]:
    """Lines of the order that have a code, with their places; only those with one of these codes when given."""
    wanted = None if codes is None else set(codes)
    return [
        (i, item)
        for i, item in enumerate(case.configuration.items)
        if item.code and (wanted is None or item.code in wanted)
    ]


def without_code(case: Case) -> list[Line]:
    """Lines of the order of which no code is recorded, nor that there is none."""
    return [(i, item) for i, item in enumerate(case.configuration.items) if not item.code and not item.no_code]


def fill_in_codes() -> Mend:
    """The codes of lines that have none yet, or the word that there is none."""
    return Mend(
        "Fill in code <procedure code> in [[configuration.items]], or no_code = true where there is none.",
        fill=("code",),
    )


def no_codes(case: Case) -> Answer | None:
    """The answer for an order on which no line has a code, or None."""
    if lines(case):
        return None
    if not case.configuration.items:
        return cannot_tell("No item is recorded.", ITEMS, mend=add_entry("configuration.items", "code"))
    return cannot_tell("No item has a code.", ITEMS, mend=fill_in({"code": "<procedure code>"}, " of each item"))


def controls(case: Case) -> list[Line]:
    """Lines that ask for a special drive control, by its code or by how it senses the driver."""
    special = hcpcs.of_kind("control")
    return [
        (i, item)
        for i, item in lines(case)
        if item.code in special or (item.code == OWN_CODE and set(item.features) & set(SENSING))
    ]


def places(chosen: Iterable[Line], key: str = "code") -> list[KeyPath]:
    """Where the lines stand in the case."""
    return [(*ITEMS, i, key) for i, _ in chosen]


def named(chosen: Iterable[Line]) -> str:
    """E2377 (expandable controller) and E2313 (harness)."""
    return listed(f"{item.code} ({item.name})" for _, item in chosen)


def codes(chosen: Iterable[Line]) -> list[str]:
    """The codes of the lines, in their order."""
    return [item.code for _, item in chosen if item.code]


def code_of(item: Item) -> hcpcs.Code:
    """What the list says of the code of a line that was chosen by it. Raises LookupError for one outside the list."""
    code = hcpcs.code(item.code)
    if code is None:
        raise LookupError(f"{item.code} is not in the list of codes")
    return code


def tells(item: Item, words: Iterable[str]) -> bool:
    """Whether the name or the purpose of the line holds one of these whole words, singular or plural."""
    text = f"{item.name} {item.purpose or ''}".lower()
    return any(re.search(rf"\b{re.escape(word)}(?:e?s)?\b", text) for word in words)


def day_that_counts(case: Case) -> tuple[date, str] | None:
    """The day by which codes are judged, and what day it is: delivery, else request, else order."""
    for on, words in (
        (case.dates.delivered_on, "the day of delivery"),
        (case.request.requested_on, "the day of the request"),
        (case.dates.ordered_on, "the day of the order"),
    ):
        if on:
            return on, words
    return None


def control_alone(case: Case) -> bool:
    """Whether a control for a chair already there is requested, and no chair."""
    return case.request.kind == "control_only"


def base_is_requested(case: Case) -> bool:
    """Whether a chair is requested whose own code is a base of the list."""
    return hcpcs.base(case.configuration.chair.base_code) is not None and not control_alone(case)


def thing_asked_for(case: Case) -> str:
    """The chair, or the control where that alone is requested."""
    return "control" if control_alone(case) else "chair"


def base(case: Case) -> hcpcs.Base | None:
    """The power base asked for: the chair's base code, else a line of the order that is a base."""
    return hcpcs.base(case.configuration.chair.base_code) or next(
        (power_base for _, item in lines(case) if (power_base := hcpcs.base(item.code))), None
    )


def motors_of_codes(case: Case) -> int | None:
    """Seat motors that the seating codes on the order bring; None when one of them does not say, or only by
    inference."""
    seating = [(code_of(item), item.quantity or 1) for _, item in lines(case, hcpcs.of_kind("seating"))]
    total = 0
    for code, quantity in seating:
        if code.motors is None or code.known == "inference":
            return None
        total += code.motors * quantity
    return total


def seat_motors(case: Case) -> int | None:
    """Seat motors: as recorded, else as the seating codes bring them; None when neither tells."""
    recorded = case.configuration.chair.seat_actuators
    if recorded is not None:
        return recorded
    return motors_of_codes(case) or None


_SAYS = {
    "single": re.compile(r"\b(?:one|1|a|single|a single)[ -]power[ -](?:option|function)\b", re.IGNORECASE),
    "multiple": re.compile(r"\b(?:two|three|several|multiple|more)[ -]power[ -](?:option|function)s?\b", re.IGNORECASE),
}
_BY_CODE = {"none": "no power option", "single": "a single power option", "multiple": "multiple power options"}


def options_said_otherwise(case: Case) -> str:
    """The power options of the base by its code, where the words for the chair say others; empty where they do not."""
    known = base(case)
    options_named = {options for options, words in _SAYS.items() if words.search(case.configuration.chair.name or "")}
    if known is None or not known.options or not options_named or known.options in options_named:
        return ""
    return _BY_CODE[known.options]
