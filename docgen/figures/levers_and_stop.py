"""What a helper looks at before the seat: a brake release lever that locks and one that rolls, and the stop switch
pressed and set back, as the log shows them among all that was taught."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.figures.panels import composed
from docgen.figures.switch_ways import levers_pair, stop_pair
from docgen.scene import Scene

MADE_FROM = ("configuration.stop",)


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """The pairs side by side; None where the record says neither which way the levers point nor what the stop is."""
    stop = case.configuration.stop
    pairs: list[Scene] = []
    if stop.levers_roll and stop.freewheel:
        pairs.append(levers_pair(stop, words))
    if stop.stop_looks and stop.at_hand[0]:
        pairs.append(stop_pair(stop, words))
    return composed(pairs) if pairs else None
