"""The controls that a client and a family can choose between, as a page of its own: DOCX, PDF, HTML.

It shows what its readers need to choose and no more: what was found and is wanted in the words of the case, the
controls, and what was counted of each. No diagnosis, no number with a payer, no phone, no one's private note.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from docgen.criteria.sentences import capital, day
from docgen.documents.options import LETTERS, control_rows, finding_rows, goal_rows, lender_rows, matters_rows
from docgen.figures.controls_side_by_side import side_by_side
from docgen.packet.assess import Assessed
from docgen.packet.trees import template_tree
from docgen.rendering.formats import format_names, format_of
from docgen.rendering.labels import ENGLISH
from docgen.rendering.page import NO_DATE, Page
from docgen.rendering.style import FAMILY
from docgen.rendering.template import Gap
from docgen.rendering.tree import Node
from docgen.scene import Scene
from docgen.shelf.match import Match
from docgen.shelf.options import Option, Options

STATUS = "To talk over with the therapist"
_BOX = "\u25a1"


def options_page(assessed: Assessed, matched: Match, given: Options, formats: Iterable[str] = ()) -> dict[str, bytes]:
    """File name -> bytes of the page in each format; all formats when none is named."""
    called = assessed.file.case.client.called or "the client"
    page = Page(f"Which control to try first, {called}", f"{called}, controls to try", NO_DATE, STATUS)
    tree, scenes = options_tree(assessed, matched, given), {"controls": options_scene(given.options)}
    return {
        f"options.{suffix}": format_of(suffix).render(tree, page, scenes, FAMILY, labels=ENGLISH)
        for suffix in tuple(formats) or format_names()
    }


def options_tree(assessed: Assessed, matched: Match, given: Options) -> Node:
    """The page before it is rendered."""
    tree = template_tree("_options.md", options_context(assessed, matched, given))
    for table in (node for node in tree.walk() if node.kind == "table"):
        table.attrs["even"] = len(given.options)  # as much room for each control
    return tree


def options_scene(options: Iterable[Option]) -> Scene:
    """The drawing of the page."""
    return side_by_side(
        [
            (letter, option.judged.device.sites, option.judged.device.drives or ())
            for letter, option in zip(LETTERS, options, strict=False)
        ],
        "A driver in a chair from above, once for each control, with what is worked in black.",
    )


def options_context(assessed: Assessed, matched: Match, given: Options) -> dict[str, Any]:
    """All that the template may use."""
    case = assessed.file.case
    evaluator = next(iter(case.with_role("evaluator")), None)
    findings, left_out = finding_rows(case, matched, given.options)
    boxes = [_BOX] * 3  # a lot, a little, not
    controls = list(control_rows(given.options))
    today = Gap("goals.level", "not recorded: how it goes today")
    goals: list[dict[str, Any]] = [{**goal, "now": goal["now"] or today} for goal in goal_rows(case)]
    return {
        "called": case.client.called or "the client",
        "evaluator": (evaluator and evaluator.name) or "the therapist",
        "controls": controls,
        "lenders": lender_rows(given.options),
        "findings": findings,
        "left_out": left_out,
        "no_findings": Gap("findings", "not recorded: what was found about the body and the day"),
        "goals": goals,
        "no_goals": Gap("goals", "not recorded: what the client wants to do, and how it goes today"),
        "matters": [{**row, "cells": [*boxes, *row["cells"]]} for row in matters_rows(given.options)],
        "blank_line": [*boxes, *("" for _ in controls)],
        "dates": _dates(assessed, given),
        "more": [capital(name) for name in given.more],
    }


def _dates(assessed: Assessed, given: Options) -> str:
    """From when the findings and what is said of the controls are."""
    last_found = max((finding.on for finding in assessed.file.case.findings if finding.on), default=None)
    checked = [option.judged.device.checked_on for option in given.options]
    stated = [on for on in checked if on is not None]
    parts = [f"Last finding: {day(last_found)}." if last_found else "The day of the findings is not recorded."]
    if len(stated) == len(checked) and stated:
        parts.append(f"Controls checked: {day(min(stated))} or later.")
    else:
        parts.append("When the controls were checked is not recorded.")
    return " ".join(parts)
