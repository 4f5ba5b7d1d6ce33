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
    """One panel a change, driving last with a heavy frame; None when the case gives no such command, or where the
    change has to wait: a picture would show how to do what is not yet allowed."""
    changes = [command for state in _STATES for command in case.configuration.commands if command.does == state]
    if not changes or case.configuration.change_waits:
        return None
    return composed([_change(command, words) for command in changes])


def _change(command: Command, words: Mapping[str, str]) -> Scene:
    """The command, an arrow, and in a frame what the chair does then."""
    state, drives = words[f"state_{command.does}"], command.does == "drive"
    action = command.input[:1].upper() + command.input[1:].rstrip(". ")
    heard = words["heard"].format(sound=command.hear.rstrip(". ")) if command.hear else ""
    action_lines, y = lettered(2, 12, action, PANEL - 6, True)
    top = y - 8
    lines, y = lettered(40, top + 16, state, PANEL - 54, True)
    sound, y = lettered(40, y, heard, PANEL - 54)
    frame = Rect(32, top, PANEL - 36, y - top - 5, fill=1.0 if drives else 0.92, width=2.2 if drives else 1.0, radius=6)
    alt = words["state_alt"].format(input=action, state=state) + (f" {heard}." if heard else "")
    way = arrow([(12, top), (12, top + 16), (30, top + 16)], 2.4, 10)
    return panel([*action_lines, frame, *way, *lines, *sound], alt)
