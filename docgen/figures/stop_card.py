"""How to stop it at one glance: the chair with the letter of each switch, and what each letter is."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.chair import symbol
from docgen.figures.panels import Told, beside, composed, listed, stacked
from docgen.figures.stop_sites import Switch, switches_of, views_of
from docgen.scene import Scene

MADE_FROM = ("configuration.stop", "sitting.seat_switch", "configuration.chair.seat_width_mm")

_SHARE, _SHARE_OF_MANY = 0.7, 0.55  # of the usual size of the views
_WIDE, _CLOSE, _IN_ONE_COLUMN = 250.0, 1.0, 5  # width of the names; between two of them; how many stand in one column


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The chair, and below it the name of each letter; None when no switch is described."""
    there = switches_of(case)
    if not there:
        return None
    share = _SHARE if len(there) <= _IN_ONE_COLUMN else _SHARE_OF_MANY
    views = views_of(case, [(letter, kind, place) for letter, kind, _, _, place in there], words, share)
    # a lever that frees the wheels, beside one that locks the drive or moves the seat, is taken for it
    alike = any(kind in ("lock", "seat") for _, kind, _, _, _ in there)
    w = _WIDE if len(there) <= _IN_ONE_COLUMN else _WIDE / 2
    names = [_name(switch, w, words, alike) for switch in there]
    if w == _WIDE:
        return composed([*views, stacked(names, _CLOSE)])
    columns = [(stacked(names[:n], _CLOSE), stacked(names[n:], _CLOSE)) for n in range(1, len(names))]
    return composed([*views, beside(min(columns, key=lambda pair: max(column.h for column in pair)))])


def _name(switch: Switch, w: float, words: Mapping[str, str], alike: bool) -> Scene:
    """The name of a switch beside its letter and its sign."""
    letter, kind, name, text, place = switch
    alt = words["stop_alt"].format(letter=letter, name=words[name], place=text.rstrip(". "))
    lines = [Told(words[name], True)]
    if kind == "lever" and alike:
        lines.append(Told(words["not_to_stop"]))
        alt += f" {words['not_to_stop']}."
    if place is None:
        lines.append(Told(words["no_site"]))
        alt += f" {words['no_site']}."
    return listed(letter, lines, alt, symbol(kind, 0, 0), w)
