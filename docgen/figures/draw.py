"""Every drawing of a case, found by scanning this folder; a drawing the case cannot fill is left out.

A drawing is a module here with

    scene(case, evidence, words) -> Scene | None    what is drawn; None where the case lacks the facts
    MADE_FROM                  keys of the case that it is drawn from, or a class of privacy where it tells less than
                               they hold; it is shown only to who may see them
    WORDS                      optional: its words in English; [figures] of a language's words.toml replaces them
    SHOWN_IN, CAPTION          optional: "document: Section" at whose end it stands, where no template places it
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from types import ModuleType

import docgen.figures
from docgen.case.model import Case
from docgen.discover import modules_in
from docgen.evidence.fact import Evidence
from docgen.scene import Scene


@cache
def figures() -> Mapping[str, ModuleType]:
    """Each drawing's module by its name, which is that of its file."""
    named = {module.__name__.rpartition(".")[2]: module for module in modules_in(docgen.figures)}
    drawn = {name: module for name, module in named.items() if hasattr(module, "scene")}
    if bare := [name for name, module in drawn.items() if not getattr(module, "MADE_FROM", ())]:
        raise ValueError(f"drawings without a class of privacy, to be declared in MADE_FROM: {', '.join(bare)}")
    return drawn


def shown_in(document: str) -> dict[str, tuple[str, str]]:
    """Drawings that place themselves in this document: name -> section at whose end it stands, caption."""
    placed = {name: getattr(module, "SHOWN_IN", "").partition(": ") for name, module in figures().items()}
    return {
        name: (section, figures()[name].CAPTION) for name, (where, _, section) in placed.items() if where == document
    }


def drawings(case: Case, evidence: Evidence, words: Mapping[str, str], names: Iterable[str]) -> dict[str, Scene]:
    """Name -> scene for each named drawing that this case has the facts for, its parts as fitted.

    words  of the language; a drawing's own stand in where it has none
    """
    case = case.as_fitted
    modules = {name: figures()[name] for name in dict.fromkeys(names)}
    scenes = {
        name: module.scene(case, evidence, {**getattr(module, "WORDS", {}), **words})
        for name, module in modules.items()
    }
    return {name: scene for name, scene in scenes.items() if scene is not None}
