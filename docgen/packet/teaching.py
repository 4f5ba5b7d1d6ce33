"""An assessed case -> the same about nobody, for teaching, and what marks each page of such a copy."""

from __future__ import annotations

import re
import secrets
from functools import cache
from pathlib import Path

from msgspec.structs import replace

import docgen
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import payers
from docgen.criteria.run import verdicts
from docgen.errors import Problem, UserError
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import Assessed, asked_on
from docgen.packet.wording import Wording
from docgen.rendering.tree import Node
from docgen.resources import folder

_WORD = re.compile(r"[^\W\d_]+")
_PROSE = ("features/*.toml", "fit/*.toml")  # read by people; identifiers of code are no ordinary words
_PRINTED = (
    "criteria/**/*.py",
    "documents/*.py",
    "evidence/**/*.py",
    "figures/*.py",
    "fit/*.py",
    "payers/*.toml",
    "codes/*.toml",
)


def teaching_copy(assessed: Assessed, worded: Wording, out: Path, weeks: int | None = None) -> Assessed:
    """The case about nobody, with what follows from it: the answers under the rules that were in force for the real
    one.

    out    folder of the packets; the id of the copy is drawn so that no packet there has it and nothing follows from it
    weeks  how far days are moved; drawn when None, and kept nowhere
    """
    # looks for a hundred forms of names and numbers, which no other packet needs
    from docgen.case.nobody.copy import LEAST_WEEKS, MOST_WEEKS, deidentified
    from docgen.case.nobody.keys import weeks_apart

    case, labels = assessed.file.case, worded.words["deidentified"]
    draw = secrets.SystemRandom()
    if weeks is None:
        weeks = weeks_apart(case, draw.sample(range(LEAST_WEEKS, MOST_WEEKS + 1), MOST_WEEKS + 1 - LEAST_WEEKS))
    case_id = next(
        name for _ in iter(int, 1) if not (out / (name := f"deidentified-{draw.randrange(1000, 10000)}")).exists()
    )
    copy = deidentified(case, case_id, weeks, labels, _ordinary())
    facts = evidence(copy.case)
    grounds = Grounds(copy.case, facts, fit(copy.case, assessed.file.where))
    answered = verdicts(grounds, assessed.payer, asked_on(case, assessed.payer))
    payer = assessed.payer
    if payer.id not in {known.id for known in payers()}:  # a clinic's own file can name a plan and its place
        payer = payer.model_copy(
            update={"name": labels["rules"].format(payer=copy.case.request.payer_name or labels["removed"])}
        )
        answered = tuple(
            replace(
                verdict,
                requirement=verdict.requirement.model_copy(
                    update={
                        "citation": copy.text(verdict.requirement.citation),
                        "version": copy.text(verdict.requirement.version),
                    }
                ),
            )
            for verdict in answered
        )
    file = replace(assessed.file, case=copy.case, key="")  # a key would lead back
    return replace(assessed, file=file, evidence=facts, grounds=grounds, payer=payer, verdicts=answered, copy=copy)


def marked(tree: Node, assessed: Assessed, worded: Wording, name: str) -> Node:
    """The page of a copy: what it is stands at its head, and nobody signs it. A page that is no copy stays as it is.

    Raises UserError when a name of the case is still there, such as one that a clinic's own template holds.
    """
    if assessed.copy is None:
        return tree
    if left := assessed.copy.names.certain(tree.plain(), _own()):
        path = worded.paths.get(f"{name}.md", name)
        raise UserError(
            [
                Problem(
                    f"{path}:1",
                    f"made a page that still holds '{left[0]}', a part of a name of the case",
                    "Take it out of your templates.",
                )
            ]
        )
    wording_of_copy = worded.words["deidentified"]
    _unsigned(tree, wording_of_copy["unsigned"])
    lines = [
        Node(
            "paragraph",
            children=[
                Node("strong", children=[Node("text", wording_of_copy["head"])]),
                Node("text", f" {wording_of_copy['says']}"),
            ],
        )
    ]
    at = next((place + 1 for place, node in enumerate(tree.children) if node.kind == "heading"), 0)
    tree.children.insert(at, Node("callout", attrs={"tone": "warning"}, children=lines))
    return tree


def _unsigned(node: Node, text: str) -> None:
    for place, child in enumerate(node.children):
        if child.kind == "signature":
            node.children[place] = Node("paragraph", children=[Node("text", text)])
        else:
            _unsigned(child, text)


@cache
def _ordinary() -> frozenset[str]:
    """Words in small letters of the program's own pages: they mean something else than a name."""
    return frozenset(word for text in _texts(_PROSE) for word in _WORD.findall(text) if word.islower())


@cache
def _own() -> frozenset[str]:
    """Every word that the program itself can print, in small letters."""
    return frozenset(word.casefold() for text in _texts((*_PROSE, *_PRINTED)) for word in _WORD.findall(text))


def _texts(patterns: tuple[str, ...]) -> list[str]:
    package = Path(docgen.__file__).parent
    english = folder("templates") / "en"  # the language of a copy: a word of another may be a name
    paths = [
        *english.rglob("*.md"),
        *english.rglob("*.toml"),
        *(path for pattern in patterns for path in package.glob(pattern)),
    ]
    return [path.read_text(encoding="utf-8") for path in sorted(paths)]
