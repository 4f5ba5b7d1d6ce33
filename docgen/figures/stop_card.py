"""How to stop it at one glance: the chair as large as side one of the card has room, with the letter of each switch,
and what each letter is that no step of the card describes."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.chair import symbol
from docgen.figures.panels import Told, composed, listed, stacked
from docgen.figures.stop_sites import Switch, switches_of, views_of
from docgen.scene import PANELS_APART_PT, Scene

MADE_FROM = ("configuration.stop", "sitting.seat_switch", "configuration.chair.seat_width_mm")

_IN_A_STEP = ("stop", "power", "plug")  # what the steps of the card name with its letter and its place
_SHARES = (1.1, 1.0, 0.9, 0.8, 0.7, 0.6, 0.55, 0.5)  # of the usual size of the views, largest first
_WIDE, _HIGH, _CLOSE = 250.0, 300.0, 0.0  # room beside the steps; between two names
_RING, _SPARE = 22.0, 4.0  # least height of a name; what is free below its last line


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The chair, and below it the other letters; None when no switch is described."""
    there = switches_of(case)
    if not there:
        return None
    is_shared = case.configuration.stop.stop_switch_by == "both"
    names = [_name(switch, words, is_shared) for switch in there if switch[1] not in _IN_A_STEP or switch[4] is None]
    key = [stacked(names, _CLOSE)] if names else []
    room = _HIGH - sum(piece.h for piece in key)
    sites = [(letter, kind, place) for letter, kind, _, _, place in there]
    sizes = (views_of(case, sites, words, share) for share in _SHARES)
    views: list[Scene] = []
    for views in sizes:
        wide = sum(view.w for view in views) + PANELS_APART_PT * (len(views) - 1)
        if wide <= _WIDE and max(view.h for view in views) <= room:
            break
    switches = " ".join(_alt(switch, words) for switch in there if switch[1] in _IN_A_STEP)  # for who does not see it
    first = replace(views[0], alt=f"{views[0].alt} {switches}".rstrip())
    return composed([first, *views[1:], *key])


def _alt(switch: Switch, words: Mapping[str, str]) -> str:
    letter, _, name, text, _ = switch
    return words["stop_alt"].format(letter=letter, name=words[name], place=text.rstrip(". "))


def _name(switch: Switch, words: Mapping[str, str], is_shared: bool) -> Scene:
    """What a switch is beside its letter and sign, and its name in the words of the record, as every page has it.

    is_shared  whether a helper reaches the driver's own stop switch, which then stands under what it is
    """
    letter, kind, name, text, place = switch
    alt = _alt(switch, words)
    description = text[:1].upper() + text[1:].rstrip(". ")
    lines = [Told(description if kind == "own_stop" and is_shared else words[name], True)]
    if kind == "lever":
        lines.append(Told(words["not_to_stop"]))
        alt += f" {words['not_to_stop']}."
    elif kind not in (*_IN_A_STEP, "own_stop"):  # the stop test has where that one is
        lines.append(Told(description))
    if place is None:
        lines.append(Told(words["no_site"]))
        alt += f" {words['no_site']}."
    named = listed(letter, lines, alt, symbol(kind, 0, 0), _WIDE)
    return replace(named, h=max(named.h - _SPARE, _RING))
