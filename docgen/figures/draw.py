"""Every drawing of a case, found by scanning this folder; a drawing the case cannot fill is left out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from importlib import import_module

from docgen.case.model import Case
from docgen.evidence.fact import Evidence
from docgen.scene import Scene


def drawings(case: Case, evidence: Evidence, words: Mapping[str, str], names: Iterable[str]) -> dict[str, Scene]:
    """Name -> scene for each named drawing that this case has the facts for.

    Each drawing is a module of docgen.figures with a function scene(case, evidence, words).
    """
    found = {
        name: import_module(f"docgen.figures.{name}").scene(case, evidence, words) for name in dict.fromkeys(names)
    }
    return {name: scene for name, scene in found.items() if scene is not None}
