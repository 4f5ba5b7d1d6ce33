"""A planned trial in words: what is borrowed, how each control is set up, the cards, what to look at and to guard.

The same rows make the page, the recording sheets and the data for programs. What is not recorded is None in a row.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypedDict

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.case.short_form import KIND_NAMES
from docgen.criteria.run import Verdict
from docgen.criteria.sentences import capital, counted, listed
from docgen.documents.matched import from_words, stated_besides
from docgen.documents.matched_apart import harm_sentence, why_apart
from docgen.fit.feature import features
from docgen.fit.finding import finding_name, vocabulary
from docgen.shelf.device import Device
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match
from docgen.shelf.planned import Card, Control, Planned, Simpler

# claims about a trial that a payer may ask, and that its rows have to answer
_ASKED_OF_ROWS = (
    "standard_stick_ruled_out",
    "simpler_controls_compared",
    "drives_reliably",
    "stops_on_request",
    "stops_within_space",
    "asked_for_shown_enough",
    "set_up_was_tried",
)

SUPPORTS = ("suboccipital_support", "forearm_support")  # of the body: the same whatever control is driven
SUPPORT_SITES = ("skull_base",)
_CHANGES_IN_A_BLOCK = frozenset({"effort", "release"})  # concerns of which a block of a trial can change something
_WHILE_DRIVING = _CHANGES_IN_A_BLOCK | {"movement", "learning", "senses", "body"}


class BorrowRow(TypedDict):
    """A device to borrow. `letter` is empty where it is not among the compared; `warning` says why it may not be driven
    yet."""

    letter: str
    name: str
    lent_by: str
    asks: str
    notes: str
    warning: str


class PartRow(TypedDict):
    """One part as measured on the chair; None for what is not."""

    part: str
    gap_mm: float | None
    height_mm: float | None
    depth_mm: float | None
    midline_mm: float | None
    angle_deg: float | None


class SetUpRow(TypedDict):
    """How one control is set up for this client.

    set_with, left_off  features to have, for which the match has the findings; those to do without, with why
    states              what the shelf states of it: parts, force, travel, what can be programmed
    tried, own          whether it is a method of the trial, and how it was set then
    parts               places as measured on the chair, of this very control alone; `n_parts` where none is
    """

    letter: str
    name: str
    warning: str
    on_shelf: bool
    set_with: tuple[str, ...]
    left_off: tuple[str, ...]
    states: str
    tried: bool
    own: str
    seat_deg: float | None
    parts: tuple[PartRow, ...]
    blank: tuple[int, ...]


class CardRow(TypedDict):
    """A task card: what is driven, and what counts as done; `proposed` where the record has no such task."""

    number: int
    of: str
    proposed: bool
    name: str
    rule: str | None
    limit_mm: float | None
    within_mm: float | None


class SimplerRow(TypedDict):
    """A simpler kind of control and what the record says of it; `says` is empty where that is nothing."""

    kind: str
    ground: str
    says: str


def warning(judged: Judged | None) -> str:
    """Why a device may not be driven before something is known or answered; empty where nothing says so."""
    if judged is None or judged.stage == "layered":
        return ""
    if judged.stage == "movement":
        unrecorded = "" if judged.movement == "none" else " Not recorded is not the same as none."
        return f"{' '.join(why_apart(judged))}{unrecorded}"
    harms = judged.best.harms if judged.stage == "harm" else judged.may_harm
    reasons = " ".join(dict.fromkeys(harm_sentence(judged, harm) for harm in harms)) or "What drives it is not stated."
    if judged.stage == "harm":
        return (
            f"It can do harm. {reasons} Not driven until what answers it is recorded; its ground may be told "
            "instead of a try."
        )
    return f"Whether it can do harm is not known. {reasons} Not driven until the lender has answered."


def kind_warning(judged: Judged) -> str:
    return f"Of its kind, {judged.device.name}: {warning(judged)}"


def borrow_rows(plan: Planned) -> Iterator[BorrowRow]:
    """What to borrow, from whom, with what to ask first."""
    letters = {control.judged.device.id: control.letter for control in plan.controls if control.judged}
    for judged in plan.borrow:
        device = judged.device
        yield {
            "letter": letters.get(device.id, ""),
            "name": device.name,
            "lent_by": from_words(device) if _known_then(device, plan) else device.lent_by or "not stated",
            "asks": "; ".join(_asks(device, plan)),
            "notes": " ".join((*device.limits, *stated_besides(device))),
            "warning": warning(judged),
        }


def _known_then(device: Device, plan: Planned) -> bool:
    """Whether the shelf had been checked on the day of the plan: a later check is not cited."""
    on = plan.plan.on
    return on is None or device.checked_on is None or device.checked_on <= on


def _asks(device: Device, plan: Planned) -> Iterator[str]:
    """What the lender is asked: features that nobody has stated, and, of a device not tried here, whether it fits."""
    if names := [features()[name].name for name in plan.questions.get(device.id, ())]:
        yield f"Does it have: {listed(names)}?"
    if device.checked_from != "tried_here" or not _known_then(device, plan):
        yield f"Does it run on the chair of the trial{_needing(device)}?"


def _needing(device: Device) -> str:
    return f" (it needs {device.electronics.rstrip('.')})" if device.electronics else ""


def set_up_rows(case: Case, plan: Planned) -> Iterator[SetUpRow]:
    """Each control driven, or each device to borrow where none is decided yet."""
    methods = {method.device: method for method in case.trial.methods if method.device}
    named = (
        plan.driven
        if plan.controls
        else tuple(
            Control("", judged.device.id, judged.device.name, methods.get(judged.device.id), judged, ())
            for judged in plan.borrow
        )
    )
    for control in named:
        own = [mount for mount in mounted(case, control) if mount.site not in SUPPORT_SITES]
        parts = tuple(map(_part, own))
        n_parts = control.judged.device.parts if control.judged else None
        method = control.method
        yield {
            "letter": control.letter,
            "name": control.name,
            "warning": warning(control.judged) or " ".join(map(kind_warning, control.alike)),
            "on_shelf": control.judged is not None,
            "set_with": tuple(filter(None, _set_with(control.judged))),
            "left_off": tuple(_left_off(control.judged)),
            "states": _states(control.judged),
            "tried": method is not None,
            "own": (method.setup if method else None) or "",
            "seat_deg": method.seat_deg if method else None,
            "parts": parts,
            "blank": () if parts else tuple(range(1, (n_parts or 0) + 1)),
        }


def mounted(case: Case, control: Control) -> tuple[Mount, ...]:
    """The mounting record, where it is of this very control: measures of another are no start for it."""
    asked = case.configuration.method
    is_asked = asked is not None and control.method is not None and control.method.id == asked
    return case.configuration.mounting if is_asked else ()


_FROM = {
    "seat_pan": "heights above the seat pan",
    "loaded_cushion": "heights above the loaded cushion",
    "back_posts": "depths from the back posts",
    "posts_at_pan": "depths from the back posts at the height of the seat pan",
    "back_canes": "depths from the back canes",
    "loaded_back": "depths from the loaded back",
    "face": "to the center of the face",
    "body": "to the center of the body of the part",
}


def measured_from(case: Case) -> str:
    """What the places of the mounting record are measured from; empty where nobody has said."""
    zero = case.configuration.measured_from
    return ", ".join(_FROM[point] for point in (zero.height, zero.depth, zero.point) if point)


def _part(mount: Mount) -> PartRow:
    return {
        "part": mount.part,
        "gap_mm": mount.gap_mm,
        "height_mm": mount.height_mm,
        "depth_mm": mount.depth_mm,
        "midline_mm": mount.midline_mm,
        "angle_deg": mount.angle_deg,
    }


def _set_with(judged: Judged | None) -> Iterator[str]:
    """What is set up of what the device can have: features that a finding calls for, and one of each choice.

    Of a choice that no finding decides, all that nothing speaks against are named, for the therapist to decide.
    """
    if judged is None:
        return
    for name in judged.device.can_have:
        if name in judged.best.on and name not in SUPPORTS and judged.best.called_by(name):
            yield features()[name].name
    for choice in judged.device.choices:
        left = [name for name in choice if name in judged.best.on]
        called = [name for name in left if judged.best.called_by(name)] or left
        yield " or ".join(features()[name].name for name in called) if called else ""


def _left_off(judged: Judged | None) -> Iterator[str]:
    """Features that it can have and that a finding speaks against."""
    if judged is None:
        return
    can = {*judged.device.can_have, *(name for choice in judged.device.choices for name in choice)}
    for name in sorted(can - judged.best.on):
        risks = judged.best.table.risks.get(name, ())
        for risk in risks:
            yield f"{features()[name].name} ({finding_name(risk.finding)}: {risk.risk.rstrip('.')})"


def _states(judged: Judged | None) -> str:
    """What the shelf states of its parts and forces; examples of the shelf, to be checked on the device lent."""
    if judged is None:
        return ""
    device = judged.device
    stated = [
        counted(device.parts, "part", "parts") if device.parts is not None else "",
        counted(device.switches, "switch", "switches") if device.switches is not None else "",
        f"force to act {device.force_g:g} g" if device.force_g is not None else "",
        f"travel {device.travel_mm:g} mm" if device.travel_mm is not None else "",
        f"senses at {device.sensing_mm:g} mm" if device.sensing_mm is not None else "",
        f"takes {device.range_deg:g} degrees" if device.range_deg is not None else "",
        f"mount: {listed(device.mounts, 'or')}" if device.mounts else "",
    ]
    return "; ".join(filter(None, stated))


def card_rows(cards: Sequence[Card]) -> Iterator[CardRow]:
    """The cards in their order."""
    for number, card in enumerate(cards, 1):
        yield {
            "number": number,
            "of": card.of,
            "proposed": card.id is None,
            "name": card.name,
            "rule": card.rule,
            "limit_mm": card.limit_mm,
            "within_mm": None if card.within_m is None else card.within_m * 1000,
        }


def simpler_rows(simpler: Sequence[Simpler]) -> Iterator[SimplerRow]:
    """Each simpler kind, with its ground in the record or the findings that offer one."""
    for entry in simpler:
        reasons = [alternative.reason for alternative in entry.entries if alternative.reason]
        if entry.ground == "offered":
            reasons = [listed(dict.fromkeys(f for judged in entry.offered for f in _findings_against(judged)))]
        yield {"kind": KIND_NAMES[entry.kind], "ground": entry.ground, "says": " ".join(dict.fromkeys(reasons))}


def _findings_against(judged: Judged) -> Iterator[str]:
    """Names of the findings by which a device is set apart."""
    harms = (harm.finding for harm in judged.best.harms if harm.finding)
    yield from map(finding_name, harms if judged.stage == "harm" else judged.moved_by)


def asked_claims(verdicts: Sequence[Verdict]) -> tuple[str, ...]:
    """What the payer's rules ask of the rows of a trial, as claims."""
    asked = {verdict.criterion.id: verdict.criterion.claim for verdict in verdicts if verdict.bound}
    return tuple(asked[name] for name in _ASKED_OF_ROWS if name in asked)


def looked_at(matched: Match, plan: Planned) -> Iterator[dict[str, str]]:
    """Findings that the controls compared may change or meet, with what to record of each in every block: of the sites
    that drive them, and of the whole person."""
    known = vocabulary()
    sites = {None, *(site for judged in plan.borrow for site in judged.device.sites)}
    for finding in _of_concerns(matched, _CHANGES_IN_A_BLOCK):
        if finding in known and matched.client.site[finding] in sites:
            yield {"name": capital(finding_name(finding)), "record": known[finding].record}


def _of_concerns(matched: Match, wanted: frozenset[str]) -> tuple[str, ...]:
    """Findings of these concerns, in the order of the concerns."""
    return tuple(finding for concern in matched.client.concerns if concern.id in wanted for finding in concern.findings)


def of_driving(matched: Match) -> tuple[str, ...]:
    """Findings that bear on driving, whatever they can do."""
    return _of_concerns(matched, _WHILE_DRIVING)
