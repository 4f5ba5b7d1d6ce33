"""From driving to rest and back: for each change the driver's command, what the chair then does, and what is heard."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.asked import Command
from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.panels import PANEL, composed, lettered, panel
from docgen.figures.strokes import arrow
from docgen.scene import Rect, Scene

MADE_FROM = ("configuration.commands", "configuration.change_waits")

_STATES = ("rest", "seat", "external_device", "drive")


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """One panel a change, driving last with a heavy frame, each marked where it has to wait; None when the case gives
    no such command."""
    changes = [command for state in _STATES for command in case.configuration.commands if command.does == state]
    if not changes:
        return None
    waits = bool(case.configuration.change_waits)
    return composed([_change(command, waits, words) for command in changes])


def _change(command: Command, waits: bool, words: Mapping[str, str]) -> Scene:
    """The command, an arrow, and in a frame what the chair does then."""
    state, drives = words[f"state_{command.does}"], command.does == "drive"
    by_driver = command.input.rstrip(". ")
    action = words["change_waits"].format(input=by_driver) if waits else by_driver[:1].upper() + by_driver[1:]
    heard = words["heard"].format(sound=command.hear.rstrip(". ")) if command.hear else ""
    action_lines, y = lettered(2, 12, action, PANEL - 6, True)
    top = y - 8
    lines, y = lettered(40, top + 16, state, PANEL - 54, True)
    sound, y = lettered(40, y, heard, PANEL - 54)
    frame = Rect(32, top, PANEL - 36, y - top - 5, fill=1.0 if drives else 0.92, width=2.2 if drives else 1.0, radius=6)
    alt = words["state_alt"].format(input=action, state=state) + (f" {heard}." if heard else "")
    way = arrow([(12, top), (12, top + 16), (30, top + 16)], 2.4, 10)
    return panel([*action_lines, frame, *way, *lines, *sound], alt)
