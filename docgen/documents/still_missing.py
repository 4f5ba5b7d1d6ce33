"""What a draft still lacks: the marks that stand in its sentences and tables, gathered once by who can answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, TypedDict

from docgen.case.awaited import asked_as, respondent_at
from docgen.case.model import Case
from docgen.case.respondents import FIRST_ASKED, respondents
from docgen.criteria.sentences import capital
from docgen.documents.phrase import Words
from docgen.rendering.tree import Node

# tables of a document -> the tables of the case that they are laid out from, where the names differ
_LAID_OUT_FROM = {
    "answered": "configuration.features",
    "chosen": "trial.methods",
    "items": "configuration.items",
    "lesser": "alternatives",
    "methods": "trial.methods",
    "ordered": "order",
    "places": "spaces",
    "requested": "configuration.items",
    "screened": "limits",
    "visits_planned": "follow_up",
    "who": "client",
}
_MEMBER_ID = "client.member_id"
_PEOPLE = {"evaluator": "therapist", "practitioner": "practitioner", "supplier": "supplier"}


class Point(TypedDict):
    """Something missing: in words, where it stands, and whether nothing can be sent without it."""

    says: str
    where: str
    blocks: bool


class Asked(TypedDict):
    """Who can answer, and the points, those that block first."""

    who: str
    points: tuple[Point, ...]


def marked(tree: Node, words: Words) -> Node:
    """The document with each gap as a short mark that reads aloud: "missing: weight"; alone in a cell "missing"."""
    cells = {id(node.children[0]) for node in tree.walk() if node.kind == "cell" and len(node.children) == 1}
    for node in tree.walk():
        if node.kind == "gap":
            pattern = words["missing"]["cell" if id(node) in cells else "mark"]
            node.children = [Node("text", text=pattern.format(label=_label(node, words)))]
    return tree


def still_missing(tree: Node, answers: Iterable[Mapping[str, Any]], case: Case, words: Words) -> tuple[Asked, ...]:
    """Everything that is missing, by who can answer, in the order in which they are asked.

    tree     a document, before its gaps are marked
    answers  answers as its reader may see them: `reason`, `blocks`, `asked_of`, `keys`
    """
    names = asked_as(case)
    of_respondent: dict[str, dict[str, Point]] = {who: {} for who in respondents()}
    asked_keys: set[str] = set()
    for answer in answers:
        if answer["blocks"] and set(answer["keys"]) and all(key.startswith("awaited.") for key in answer["keys"]):
            _share_out(of_respondent, case, words)
            asked_keys.update(answer["keys"])
        elif answer["blocks"]:
            # what no key settles stands on no sheet of questions: the therapist takes it up with whoever it is of
            who = (answer["asked_of"] if answer["keys"] else "") or FIRST_ASKED
            reason = str(answer["reason"])
            of_respondent[who].setdefault(reason, {"says": reason, "where": words["missing"]["blocks"], "blocks": True})
            asked_keys.update(answer["keys"])
    for heading, gap in _gaps(tree):
        path, who = _path(gap.name, case)
        if path not in asked_keys:
            says = _label(gap, words)
            if path == _MEMBER_ID and (holder := case.client.member_id_with):
                who, says = FIRST_ASKED, words["missing"]["held_by"].format(label=says, holder=holder)
            place = heading or words["missing"]["nowhere"]
            of_respondent[who].setdefault(says, {"says": says, "where": place, "blocks": False})
    return tuple(
        {"who": names.get(who, respondents()[who].name), "points": tuple(points.values())}
        for who, points in of_respondent.items()
        if points
    )


def _share_out(of_respondent: Mapping[str, dict[str, Point]], case: Case, words: Words) -> None:
    """Each question that is still open under whom it is put to."""
    for entry in case.awaited:
        if entry.holds and entry.is_open:
            says = capital(entry.what_and_who_knows)
            of_respondent[entry.of].setdefault(
                says, {"says": says, "where": words["missing"]["blocks"], "blocks": True}
            )


def _label(gap: Node, words: Words) -> str:
    """What is missing in a few words, as the key says it or shorter."""
    label = gap.plain().removeprefix(words["not_recorded"].format(label=""))
    short: Mapping[str, str] = words["missing"]["short"]
    return short.get(label, label)


def _gaps(tree: Node) -> Iterator[tuple[str, Node]]:
    """Each gap with the heading it stands under; none below the title alone."""
    heading = ""
    for block in tree.children:
        if block.kind == "heading":
            heading = block.plain() if block.level > 1 else ""
        for node in block.walk():
            if node.kind == "gap":
                yield heading, node


def _path(name: str, case: Case) -> tuple[str, str]:
    """The dotted path of the key of the case behind a gap, and the id of who can answer for it."""
    table, *rest = [part for part in name.split(".") if not part.isdigit()]
    if table in _PEOPLE:
        return ".".join(("people", *rest)), _PEOPLE[table]
    path = ".".join((_LAID_OUT_FROM.get(table, table), *rest))
    return path, respondent_at(case, tuple(path.split(".")))
