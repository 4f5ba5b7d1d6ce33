"""What whoever signs the log was shown: each switch in both ways, and the chair tied down in a van."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.panels import composed
from docgen.figures.switch_ways import switch_pairs
from docgen.figures.tied_down import ride_panel
from docgen.scene import Scene

MADE_FROM = (
    "configuration.stop",
    "configuration.chair.seat_depth_mm",
    "configuration.chair.back_height_mm",
    "transport",
)


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The panels in a row; None where the record holds nothing of them."""
    ride = ride_panel(case, words)
    panels = [*switch_pairs(case, words), *([ride] if ride else [])]
    return composed(panels) if panels else None
