"""What the tests of the Spanish documents share: cases, and the guide of one in Spanish."""

from __future__ import annotations

from pathlib import Path

from docgen.case.model import Case
from docgen.case.read import CaseFile
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import load
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import Assessed
from docgen.packet.languages import Foreign, in_language
from docgen.packet.render import page_words
from docgen.packet.translation import texts, translated
from docgen.packet.trees import tables, trees_of
from docgen.packet.wording import wording
from docgen.rendering.tree import Node


def assessed(**tables) -> Assessed:
    """A case of these tables, assessed but for the payer's questions, which no guide shows."""
    return of(Case.model_validate({"format": "docgen case 1", "id": "robin-example", **tables}, strict=False))


def of(case: Case, folder: Path = Path("robin-example")) -> Assessed:
    file = CaseFile(case, folder, {}, "")
    grounds = Grounds(case, evidence(case), fit(case, lambda *path: "case.toml"))
    return Assessed(file, grounds.evidence, grounds, load("general", ""), ())


def guide(one: Assessed) -> Foreign:
    return in_language(one, "es", ["guide"])


def guide_tree(one: Assessed) -> Node:
    """The tree of the guide alone, without looking for what of it, drawings included, is left in English."""
    spanish = wording("es")
    result = translated(one, spanish).assessed
    return trees_of(result, ["guide"], spanish, tables(result, spanish, ()))["guide"]


def sheets(one: Assessed) -> Foreign:
    """Card, guide and log: what one says, another does not say again."""
    return in_language(one, "es", ["card", "guide", "log"])


def said(foreign: Foreign) -> str:
    """All that the pages say, drawings included."""
    return page_words(foreign.assessed, foreign.trees, wording("es"))


def phrases(case: Case, phrase=lambda at: f"frase{at}") -> str:
    """An es.toml with a phrase for every text of a case."""
    known = dict.fromkeys(" ".join(text.split()) for _, text in texts(case))
    return "\n".join(f"{_quoted(text)} = {_quoted(phrase(at))}" for at, text in enumerate(known)) + "\n"


def _quoted(text: str) -> str:
    import json

    return json.dumps(text, ensure_ascii=False)
