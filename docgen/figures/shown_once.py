"""What whoever signs the log was shown: each switch in both ways, the settings, what swings, the chair tied down
in a van, and where a helper stands."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.helper_places import helper_panels
from docgen.figures.panels import composed
from docgen.figures.swing_ways import swing_pair
from docgen.figures.switch_ways import settings_switch, switch_pairs
from docgen.figures.tied_down import ride_panel
from docgen.scene import Scene

MADE_FROM = (
    "configuration.stop",
    "configuration.choose_looks",
    "configuration.swing_looks",
    "configuration.mounting.swings",
    "configuration.profiles",
    "configuration.chair.seat_depth_mm",
    "configuration.chair.back_height_mm",
    "transport",
    "supervision",
)


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The panels in a row; None where the record holds nothing of them."""
    ride = ride_panel(case, words)
    chosen, swung = settings_switch(case, words), swing_pair(case, words)
    panels = [
        *switch_pairs(case, words),
        *([chosen] if chosen else []),
        *([swung] if swung else []),
        *([ride] if ride else []),
        *helper_panels(case, words),
    ]
    return composed(panels) if panels else None
