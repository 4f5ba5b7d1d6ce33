"""What is packed for a planned trial, what is the same for every control, what goals ask besides the cards.

Everything here follows from the record, but for lines marked as common practice: those have no source.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.case.need import Space
from docgen.documents.planned import SUPPORT_SITES, SUPPORTS, mounted
from docgen.documents.planned_safety import needs_relief
from docgen.fit.feature import features
from docgen.shelf.device import Device
from docgen.shelf.planned import Control, Planned


class PackRow(TypedDict):
    """Something to pack; `why` is what of the record asks for it, empty where it is common practice."""

    item: str
    why: str


class OnceRow(TypedDict):
    """What a goal or a command asks for besides the cards: shown once with each control, not counted."""

    drive: str
    why: str


def pack_rows(case: Case, plan: Planned) -> Iterator[PackRow]:
    """The packing list of the driven controls, each thing once."""
    yield {"item": case.trial.chair or "the chair of the trial", "why": "chair of the trial"}
    for control in plan.driven:
        for item, why in _control_items(case, control):
            yield {"item": f"{control.letter}: {item}", "why": why}
    yield from _shared_rows(case)
    for item in _PRACTICE:
        yield {"item": item, "why": ""}


def _control_items(case: Case, control: Control) -> Iterator[tuple[str, str]]:
    """What is packed for one control, and what of the record asks for it."""
    device = control.judged.device if control.judged else None
    if parts := [mount.part for mount in mounted(case, control) if mount.site not in SUPPORT_SITES]:
        yield from ((part, "mounting record") for part in parts)
    else:
        yield from ((part, "shelf") for part in _counted_parts(device))
    if device and device.electronics:
        yield device.electronics.rstrip("."), "shelf"
    if control.judged and "swing_away_mount" in control.judged.best.on:
        yield "the mount that swings away", "shelf"
    if device and "mouth" in device.sites:
        yield "a new mouthpiece and tube of this person's own, with filter", ""


def _shared_rows(case: Case) -> Iterator[PackRow]:
    """What the record asks for whichever control is driven: supports, the guard's stop, tools, clock and camera."""
    mounting = case.configuration.mounting
    for mount in mounting:
        if mount.site in SUPPORT_SITES:
            yield {"item": mount.part, "why": "the same for every control"}
    yield {"item": case.trial.plan.guard_stop or "a stop for whoever guards", "why": "guard's stop"}
    for tool in dict.fromkeys(mount.tool for mount in mounting if mount.tool):
        yield {"item": tool, "why": "mounting record"}
    if needs_relief(case):
        yield {"item": "a clock for the weight shift", "why": "weight shift"}
    if "video" in (case.trial.counted_by or "").lower():
        yield {"item": "camera, with the written consent to film", "why": "scored from video"}


_PRACTICE = (
    "brackets, clamps and the cables of each control",
    "programmer of the chair, charger",
    "hex keys, screwdriver, cable ties",
    "floor tape, tape measure, cones",
    "stopwatch, clipboard, these sheets, wipes",
)


def _counted_parts(device: Device | None) -> list[str]:
    if device is None or device.parts is None:
        return [device.name] if device else []
    return [device.name if device.parts == 1 else f"{device.name}, {device.parts} parts"]


def common_rows(case: Case, plan: Planned) -> Iterator[tuple[str, str]]:
    """Head and words of what is the same for every control: how the client sits, and supports of the body."""
    sitting = case.sitting
    for head, words in (
        ("Pelvis", sitting.pelvis),
        ("Trunk", sitting.trunk),
        ("Head", sitting.head),
        ("Belts", sitting.belts),
    ):
        if words:
            yield head, words
    if parts := [mount for mount in case.configuration.mounting if mount.site in SUPPORT_SITES]:
        yield "Support", "; ".join(map(_support_words, parts))
    elif called := [
        features()[name].name
        for name in SUPPORTS
        if any(control.judged and control.judged.best.called_by(name) for control in plan.driven)
    ]:
        yield "Support", "; ".join(called)


def _support_words(mount: Mount) -> str:
    height = f", height {mount.height_mm:g} mm" if mount.height_mm is not None else ""
    depth = f", depth {mount.depth_mm:g} mm" if mount.depth_mm is not None else ""
    return f"{mount.part}{height}{depth}" + (f", {mount.at}" if mount.at else "")


_AWAY = ("away from", "back out", "backs out", "back away")


def once_rows(case: Case, plan: Planned) -> Iterator[OnceRow]:
    """What goals and commands of the record ask for and no card shows."""
    cards = " ".join(card.name for card in plan.cards).lower()
    commands = {command.does for command in case.configuration.commands}
    if "back" not in cards and (why := _why_back_out(case, commands)):
        yield {"drive": "Back out of a place, someone behind", "why": why}
    tightest = _tightest_turn(case)
    if tightest and not any(card.of == "turning" or "turn" in card.name.lower() for card in plan.cards):
        yield {"drive": f"Turn around on {tightest.turning_mm:g} mm of free floor", "why": tightest.name}
    if "seat" not in cards and ("seat" in commands or case.sitting.commands):
        yield {"drive": "Change from drive to seat and back, drive locked", "why": "the seat is moved by this person"}
    if "speech" not in cards and _uses_speech_device(case, commands):
        yield {"drive": "Change from drive to the speech device and back", "why": "a speech device is used"}


def _why_back_out(case: Case, commands: Collection[str]) -> str | None:
    """The goal that asks for it, in its words, or the command; None where neither does."""
    goals = (goal.says for goal in case.goals if any(word in goal.says.lower() for word in _AWAY))
    return next(goals, "a command for it is recorded" if "back" in commands else None)


def _tightest_turn(case: Case) -> Space | None:
    """The place with the least room to turn in, of those that are measured."""
    measured = [space for space in case.spaces if space.turning_mm is not None]
    return min(measured, key=lambda space: space.turning_mm or 0, default=None)


def _uses_speech_device(case: Case, commands: Collection[str]) -> bool:
    return "external_device" in commands or any(finding.id.startswith("aac") for finding in case.findings)
