"""A shelf held against one client, in words: what is set apart and why, what stands first, what is not known.

The same rows make the page and what the command prints. Generic words of a feature say what can go wrong; that it does
in this client is said by the finding beside them.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.criteria.sentences import day, listed
from docgen.documents.matched_apart import recorded_words, why_apart
from docgen.documents.matched_pairs import below_words
from docgen.documents.matched_seen import seen_words
from docgen.fit.feature import features
from docgen.fit.finding import finding_name
from docgen.shelf.client import met_by
from docgen.shelf.device import Device
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match
from docgen.shelf.seen import Seen
from docgen.shelf.set_up import Guard

Place = Literal["leads", "may_lead", "not_first"]
Apart = Literal["harm", "harm_unknown", "movement"]
_CHECKED = {"owners_manual": "the owner's manual", "supplier": "the supplier's word", "tried_here": "a try here"}


class DeviceRow(TypedDict):
    """A device in the layers.

    place    first whatever the answers, first under some, or not first; `layer` counts from 1, and is None for one that
             may yet be set apart
    number   its place on the shelf, from 1
    meets    needs and movements that it answers, with the features that do; `meets_what` without them
    guarded  what it could do harm by, with what answers it; `set_up_with` the answers alone, with the findings
    against  what speaks against it, ways of reverse that are left off among it
    cautions what is told of every control at its site
    ask      what has to be known before it is first
    below    devices that stand above it, and on what; `after` with their numbers
    seen     attempts with it in the trial, with the interval; empty where it was not tried
    """

    id: str
    name: str
    place: Place
    layer: int | None
    number: int
    meets: str
    meets_what: str
    guarded: str
    set_up_with: str
    against: str
    cautions: str
    ask: str
    below: str
    after: str
    seen: str
    from_words: str
    limits: str


class ApartRow(TypedDict):
    """A device set apart, and why; `seen` as in the layers."""

    id: str
    name: str
    number: int
    stage: Apart
    why: str
    seen: str


def device_rows(case: Case, matched: Match, shown: Seen) -> Iterator[DeviceRow]:
    """Devices that stand in the layers, or could: first those that lead, simplest first within each."""
    layer = {name: at for at, devices in enumerate(matched.layers, 1) for name in devices}
    number = numbers(matched)
    waiting = [name for name in matched.may_lead if name not in layer]
    rest = [name for devices in matched.layers for name in devices if name not in matched.may_lead]
    leads = [name for name in matched.may_lead if name in matched.leads]
    may = [name for name in matched.may_lead if name in layer and name not in leads]
    for name in (*leads, *may, *waiting, *rest):
        judged = matched.devices[name]
        yield {
            "id": name,
            "name": judged.device.name,
            "place": "leads" if name in matched.leads else "may_lead" if name in matched.may_lead else "not_first",
            "layer": layer.get(name),
            "number": number[name],
            "meets": _meets(matched, judged),
            "meets_what": "; ".join(map(finding_name, _met(matched, judged))),
            "guarded": guarded_words(judged),
            "set_up_with": set_up_words(judged),
            "against": _against(matched, judged),
            "cautions": caution_words(judged),
            "ask": listed((features()[f].name for f in matched.questions.get(name, ())), "or"),
            "below": below_words(matched, name, {}),
            "after": below_words(matched, name, number),
            "seen": seen_words(shown, name),
            "from_words": from_words(judged.device),
            "limits": " ".join(_limits(case, judged.device)),
        }


def apart_rows(case: Case, matched: Match, shown: Seen) -> Iterator[ApartRow]:
    """Devices set apart, with the reason, what is told of them besides and what the record says of them."""
    stages: tuple[Apart, ...] = ("harm", "harm_unknown", "movement")
    number = numbers(matched)
    for stage in stages:
        for judged in matched.apart(stage):
            recorded = recorded_words(case, judged.device)
            failed = bool(recorded) and judged.stage == "movement" and judged.movement == "not_recorded"
            reasons = [] if failed else [*why_apart(judged)]
            yield {
                "id": judged.device.id,
                "name": judged.device.name,
                "number": number[judged.device.id],
                "stage": "harm" if failed else stage,
                "why": " ".join(filter(None, (*reasons, caution_words(judged), recorded))),
                "seen": seen_words(shown, judged.device.id),
            }


def numbers(matched: Match) -> dict[str, int]:
    """Number of each device on a page: its place on the shelf, from 1."""
    return {name: at for at, name in enumerate(matched.devices, 1)}


def guarded_words(judged: Judged) -> str:
    """Harms that something in use answers, each with its finding and its answer."""
    known, site = met_by(), judged.client.site
    guards = {(guard.finding, guard.by): guard for guard in judged.best.guards}.values()

    def answer(guard: Guard) -> str:
        by = [features()[name].name for name in guard.by] or ["the answer recorded"]
        takes = [known[guard.finding].beside] if guard.finding in known and site[guard.finding] else []
        return listed([*by, *takes])

    return "; ".join(
        f"{finding_name(guard.finding)}: {guard.risk.rstrip('.')}. Answer: {answer(guard)}" for guard in guards
    )


def set_up_words(judged: Judged) -> str:
    """What answers its harms, each with the findings that bring them."""
    by_answer: dict[tuple[str, ...], dict[str, None]] = {}
    for guard in judged.best.guards:
        by_answer.setdefault(guard.by, {})[finding_name(guard.finding)] = None
    return "; ".join(
        f"{listed((features()[name].name for name in by), 'and') or 'the answer recorded'} ({listed(findings)})"
        for by, findings in by_answer.items()
    )


def caution_words(judged: Judged) -> str:
    """What is told of every control at its site, with the findings that make it so."""
    return " ".join(f"{says.rstrip('.')} ({listed(map(finding_name, by))})." for says, by in judged.cautions)


def lender_rows(matched: Match) -> Iterator[dict[str, str]]:
    """A question a device to whoever lends it, where the answer could change which stands first."""
    for name, asked in matched.questions.items():
        device = matched.devices[name].device
        yield {
            "device": device.name,
            "lent_by": device.lent_by or "not stated",
            "asks": listed((features()[feature].name for feature in asked), "and"),
        }


def _limits(case: Case, device: Device) -> Iterator[str]:
    yield from device.limits
    yield from _too_wide(case, device)
    yield from stated_besides(device)


def stated_besides(device: Device) -> Iterator[str]:
    """What an entry states beside features: the electronics it needs, what else it runs, whether it can be silent."""
    if device.electronics:
        yield f"Electronics: {device.electronics.rstrip('.')}."
    if device.outputs:
        yield f"It also runs: {listed(output.rstrip('.') for output in device.outputs)}."
    if device.feedback_can_be_off is not None:
        yield f"Its sounds and lights {'can' if device.feedback_can_be_off else 'cannot'} be turned off."


def checked_words(device: Device) -> str:
    """When a device was checked and against what; empty where that is not stated."""
    if device.checked_on is None:
        return ""
    against = f", from {_CHECKED[device.checked_from]}" if device.checked_from else ""
    return f"checked {day(device.checked_on)}{against}"


def from_words(device: Device) -> str:
    """Who lends a device, and when it was checked."""
    return "; ".join(filter(None, (device.lent_by or "not stated", checked_words(device))))


def _met(matched: Match, judged: Judged) -> dict[str, list[str]]:
    """Findings that its own features meet, and those features; not what the chair can carry beside any device.

    Of a finding that brings a harm only what drives the device counts: what answers the harm is told as an answer.
    """
    own = {name for _, name in judged.device.stated()}
    meeting, known = judged.best.table.meeting, features()
    answered: dict[str, list[str]] = {}
    for finding in matched.client.findings:
        standing = judged.standing(finding)
        if finding in judged.best.met and standing in ("meets", "uses", "guarded", "unknown"):
            answered[finding] = [
                name
                for name in judged.best.meets(finding)
                if name in own and finding in meeting.get(name, ())
                if standing != "guarded" or known[name].part == "control"
            ]
    return {finding: names for finding, names in answered.items() if names}


def _meets(matched: Match, judged: Judged) -> str:
    return "; ".join(
        f"{finding_name(finding)}: {listed(features()[name].name for name in names)}"
        for finding, names in _met(matched, judged).items()
    )


def _against(matched: Match, judged: Judged) -> str:
    """What speaks against it, a finding after another, each risk once; and what is left off."""
    by_finding = {
        finding: dict.fromkeys(risk.rstrip(".") for _, risk in judged.best.against(finding))
        for finding in matched.client.findings
    }
    clauses = [f"{finding_name(finding)}: {'; '.join(risks)}" for finding, risks in by_finding.items() if risks]
    return "; ".join([*clauses, *left_off_words(judged)])


def left_off_words(judged: Judged) -> Iterator[str]:
    """Ways of reverse that are left off because they can hurt, which leaves none of those of the device."""
    for harm in judged.best.left_off:
        cause = f" ({finding_name(harm.finding)})" if harm.finding else ""
        name = features()[harm.feature].name if harm.feature else ""
        yield f"{name} is left off: {harm.risk.rstrip('.')}{cause}. Reverse has to be reached another way"


def _too_wide(case: Case, device: Device) -> Iterator[str]:
    """The doorways that a chair with the device is too wide for, or that its width there is not known."""
    doors = [space for space in case.spaces if space.kind == "doorway" and space.clear_width_mm is not None]
    if not device.adds_width_mm:
        return
    if not doors or case.configuration.chair.width_mm is None:
        yield f"It adds {device.adds_width_mm:g} mm to the width; whether the doorways leave that is not recorded."
        return
    wide = case.configuration.chair.width_mm + device.adds_width_mm
    for door in doors:
        if door.clear_width_mm is not None and door.clear_width_mm <= wide:
            yield f"With it the chair is {wide:g} mm wide, and the {door.name} leaves {door.clear_width_mm:g} mm."
