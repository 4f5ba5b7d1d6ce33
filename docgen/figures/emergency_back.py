"""The back of the chair for the emergency page: what shuts off driving and what moves the seat, each named where it is,
and what may be taken for them."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.evidence.fact import Evidence
from docgen.figures.chair import symbol
from docgen.figures.panels import Told, composed, listed, stacked
from docgen.figures.stop_sites import Switch, switches_of, views_of
from docgen.scene import PANELS_APART_PT, Scene

# of configuration.stop, sitting.seat_switch and the width of the seat it tells no more than where a stranger finds what
# the steps name: so it is of their class, and the page need not let its reader see all of the device
MADE_FROM = (Privacy.EMERGENCY,)

_STEPS_USE, _ELSE, _TAKEN_FOR = "ABFGD", "AB", "C"  # letters of the card, which has the others too
_SHARE, _CLOSE = 0.38, 1.0
_COLUMN = 275.0  # the drawing stands in a column of the page, beside words


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The chair from behind, with where each switch is that the steps use: the stop, for the chair may still move, what
    shuts off driving alone, what moves the seat, or where there is neither of these the stop and the power; None when
    no switch is described. With the seat go the power and the plug, without which it does not move."""
    there = {switch[0]: switch for switch in switches_of(case)}
    used = _STEPS_USE if there.keys() & {"F", "G"} else _ELSE
    shown = [there[letter] for letter in used + _TAKEN_FOR if letter in there]
    if not shown:
        return None
    views = views_of(case, [(letter, kind, place) for letter, kind, _, _, place in shown], words, _SHARE)
    room = _COLUMN - views[0].w - PANELS_APART_PT
    is_plug = case.configuration.stop.other_way_looks == "plug"
    names = {"B": words["power_short"], "C": words["levers_no_stop"], "D": words["power_plug"] if is_plug else ""}
    return composed([*views, stacked([_named(switch, names, room, words) for switch in shown], _CLOSE)])


def _named(switch: Switch, names: Mapping[str, str], room: float, words: Mapping[str, str]) -> Scene:
    """A switch beside its letter: what it is for those of `names`, else where it is."""
    letter, kind, name, text, place = switch
    alt = words["stop_alt"].format(letter=letter, name=words[name], place=text.rstrip(". "))
    place_first = text[:1].upper() + text[1:].partition(",")[0].rstrip(". ")  # the card has all of it
    lines = [Told(names.get(letter) or place_first, True)]
    if kind == "lever":
        alt += f" {words['not_to_stop']}."
    if place is None:
        lines.append(Told(words["no_site"]))
        alt += f" {words['no_site']}."
    return listed(letter, lines, alt, symbol(kind, 0, 0), room)
