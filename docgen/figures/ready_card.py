"""How the driver sits before a drive: from the side, each thing to see to named at its place."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.ready_check_stop import ready
from docgen.scene import Scene

MADE_FROM = ("configuration.commands",)


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene:
    """A seated person in the chair, each step with its number in the list beside it."""
    drawn, alt = ready(4, words)
    return Scene(166.0, 174.0, alt, tuple(drawn))
