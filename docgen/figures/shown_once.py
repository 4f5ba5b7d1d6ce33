"""What whoever signs the log was shown: each switch in both ways, the settings, what swings, the chair tied down
in a van, where a helper stands, and the care by hand that the sheets ask for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, get_args

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.care_by_hand import care_panels, push_drawn
from docgen.figures.carried_out import carried_panels
from docgen.figures.helper_places import helper_panels, stands_drawn
from docgen.figures.panels import composed
from docgen.figures.swing_ways import swing_pair
from docgen.figures.switch_ways import settings_drawn, settings_switch, switch_pairs, switches_drawn
from docgen.figures.tied_down import ride_drawn, ride_panel
from docgen.scene import PANELS_APART_PT, Scene

MADE_FROM = (
    "configuration.stop",
    "configuration.choose_looks",
    "configuration.swing_looks",
    "configuration.mounting.swings",
    "configuration.profiles",
    "configuration.chair.seat_depth_mm",
    "configuration.chair.back_height_mm",
    "transport",
    "configuration.charge_at",
    "sheets.by_hand",
    "supervision",
)

Pictured = Literal[
    "switches",
    "settings",
    "stand",
    "pushing",
    "charger",
    "plug",
    "pendant",
    "leg_bag",
    "cuff",
    "legs",
    "mouthpiece",
    "signs",
    "sling",
    "van",
    "fire",
]
# the care by hand that is looked for under each of these words
_ACTS: Mapping[Pictured, tuple[str, ...]] = {
    "plug": ("switch_plug", "device_plug"),
    "pendant": ("heel_pendant",),
    "leg_bag": ("leg_bag",),
    "cuff": ("cuff",),
    "legs": ("legs_up",),
    "mouthpiece": ("mouthpiece",),
    "signs": ("yes", "no", "stop"),
    "sling": ("sling",),
    "fire": ("in_arms", "by_two", "blanket", "sheet"),
}

_ROOM = 556.0  # width of a page of the log


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The panels in a row; None where the record holds nothing of them."""
    ride = ride_panel(case, words)
    chosen, swung = settings_switch(case, words), swing_pair(case, words)
    switches = switch_pairs(case, words)
    panels = [
        *([chosen] if chosen else []),
        *([swung] if swung else []),
        *([ride] if ride else []),
        *helper_panels(case, words),
        *care_panels(case, case.sheets.by_hand, words),
        *carried_panels(case.sheets.by_hand, words),
    ]
    filled = [*switches, *_filled(panels, sum(pair.w + PANELS_APART_PT for pair in switches))]
    return composed(filled) if filled else None


def pictured(case: Case) -> tuple[Pictured, ...]:
    """What this page of the log shows and the guide does not draw itself, by the words under which it points there."""
    drawn: dict[Pictured, bool] = {
        "switches": bool(switches_drawn(case)),
        "settings": settings_drawn(case),
        "stand": stands_drawn(case),
        "pushing": push_drawn(case),
        "charger": bool(case.configuration.charge_at),
        "van": ride_drawn(case),
    }
    drawn |= {word: any(act.startswith(acts) for act in case.sheets.by_hand) for word, acts in _ACTS.items()}
    return tuple(word for word in get_args(Pictured) if drawn[word])


def _filled(panels: Sequence[Scene], taken: float) -> Iterator[Scene]:
    """The panels so that each row of the page is filled: the next that has room in it stands before one that has not.

    taken  what the panels before them are wide together, with the paper between, in points
    """
    left = list(panels)
    room = _ROOM - taken % _ROOM
    while left:
        fits = next((panel for panel in left if panel.w <= room), None)
        if fits is None:
            room = _ROOM
            fits = left[0]
        left.remove(fits)
        yield fits
        room -= fits.w + PANELS_APART_PT
