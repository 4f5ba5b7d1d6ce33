"""Where to stop the chair: as a helper behind it sees it and, where a switch is in front, from above; each switch and
lever at the place that the case says, and what its letter stands for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.chair import ON_CHAIR, Site, chair_from_above, has_tray, switches, symbol
from docgen.figures.panels import PAGE, PANEL, Told, bounds, composed, listed, panel, stacked
from docgen.figures.rider import from_behind, scaled, sites_from_behind, sizes_of
from docgen.figures.strokes import arrow
from docgen.scene import LETTERS_PT, PANELS_APART_PT, Scene, Shape, Text

MADE_FROM = ("configuration.stop", "sitting.seat_switch", "configuration.chair.seat_width_mm")

Switch = tuple[str, str, str, str, str | None]
"""Letter, kind, name among the words of figures, place in words, place on the chair."""
_BEHIND, _ABOVE = 0.168, 0.94  # points for a mm from behind; the scale of the view from above


_CLOSE, _LEAST = 8.0, 140.0  # between words one below the other; width of words that stand beside the views

_FEW, _SMALL, _THIRD = 5, 0.7, 158.0  # with more switches the views are smaller, and the words below them narrower


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The chair and what each letter stands for; None when no switch is described."""
    there = switches_of(case)
    if not there:
        return None
    share = 1.0 if len(there) <= _FEW else _SMALL
    views = views_of(case, [(letter, kind, place) for letter, kind, _, _, place in there], words, share)
    left = PAGE - sum(view.w + PANELS_APART_PT for view in views)
    room = min(PANEL, left) if left >= _LEAST else PANEL
    entries = [_entry(switch, room, words) for switch in there]
    beside: list[Scene] = []
    high = max((view.h for view in views), default=0.0)
    while entries and (not beside or stacked([*beside, entries[0]], _CLOSE).h <= max(high, 1.0)):
        beside.append(entries.pop(0))
    rest = [_entry(switch, PANEL if len(there) <= _FEW else _THIRD, words) for switch in there[len(beside) :]]
    return composed([*views, stacked(beside, _CLOSE), *rest])


def switches_of(case: Case) -> list[Switch]:
    """Each switch and lever that the case describes; its place on the chair is None where that is not recorded."""
    stop, sitting = case.configuration.stop, case.sitting
    return [
        (letter, kind, name, text, place)
        for letter, kind, name, text, place in (
            ("A", "stop", "stop_switch", *stop.at_hand),
            ("B", "power", "power_off", stop.power_for_helpers, stop.power_off_site),
            ("C", "lever", "roll_levers", stop.freewheel, stop.freewheel_site),
            ("D", "plug", "other_way", stop.other_way, stop.other_way_site),
            ("E", "own_stop", "drivers_own", *stop.drivers_own),
            ("E", "stop", "second_stop", *stop.second),
            ("F", "lock", "drive_off", stop.drive_off, stop.drive_off_site),
            ("G", "seat", "seat_switch", sitting.seat_switch, sitting.seat_switch_site),
        )
        if text
    ]


def _entry(switch: Switch, room: float, words: Mapping[str, str]) -> Scene:
    """What one letter stands for, and where it is in words."""
    letter, kind, named, text, place = switch
    name = words[named]
    lines = [Told(name, True), Told(text[:1].upper() + text[1:].rstrip(". "))]
    alt = words["stop_alt"].format(letter=letter, name=name, place=text.rstrip(". "))
    if place is None:
        lines.append(Told(words["no_site"], True))
        alt += f" {words['no_site']}."
    return listed(letter, lines, alt, symbol(kind, 0, 0), room)


def views_of(case: Case, sites: Sequence[Site], words: Mapping[str, str], share: float = 1.0) -> list[Scene]:
    """From behind, what a helper there sees; from above, what is in front or beside the driver.

    share  of the usual size that they are drawn in
    """
    size = sizes_of(case.configuration.chair)
    scale = _BEHIND * share
    behind = {place: [(x * scale, y * scale) for x, y in spots] for place, spots in sites_from_behind(size).items()}
    views = []
    if any(place in behind for _, _, place in sites):
        drawn = [*scaled(from_behind(size), scale), *switches(sites, behind)]
        views.append(panel(drawn, words["stop_behind"], words["from_behind"]))
    in_front = [site for site in sites if site[2] is not None and site[2] not in behind]
    if in_front or not views:
        views.append(above_view(in_front, words["seen_from_above"], words, _ABOVE * share))
    return views


def above_view(sites: Sequence[Site], title: str, words: Mapping[str, str], scale: float = _ABOVE) -> Scene:
    """The chair from above with these switches."""
    places = {place: [(x * scale, y * scale) for x, y in spots] for place, spots in ON_CHAIR.items()}
    chair = chair_from_above(0, 0, scale, has_tray(sites))
    top = bounds(chair)[1]
    named: list[Shape] = [
        Text(10, top - 9, words["front"], LETTERS_PT),
        *arrow([(0, top - 3), (0, top - 24)], 2.4, 10),
    ]
    if has_tray(sites):
        named.append(Text(0, -34 * scale, words["tray"], LETTERS_PT, anchor="middle"))
    return panel([*chair, *named, *switches(sites, places)], words["stop_title"], title)
