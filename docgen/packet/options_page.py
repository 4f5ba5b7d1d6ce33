"""The controls that a client and a family can choose between, as a page of its own: DOCX, PDF, HTML.

It shows what its readers need to choose and no more: what was found and is wanted in the words of the case, the
controls, what was counted of each and what was noted of a stop that was missed. No diagnosis, no number with a payer,
no phone but the therapist's, no one's private note.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from docgen.case.model import Case
from docgen.case.who import Person
from docgen.criteria.sentences import capital, day
from docgen.documents.options import (
    LETTERS,
    ControlRow,
    control_rows,
    goal_rows,
    lender_rows,
    person_today,
    tries_explained,
)
from docgen.documents.options_findings import findings_shown
from docgen.documents.options_matters import matters_rows
from docgen.documents.options_words import plain_words
from docgen.figures.controls_side_by_side import side_by_side
from docgen.packet.assess import Assessed
from docgen.packet.explained import explain_in_place
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
_EITHER_SIDE = frozenset({"hand", "foot"})


def options_page(
    assessed: Assessed, matched: Match, given: Options, formats: Iterable[str] = (), on: date | None = None
) -> dict[str, bytes]:
    """File name -> bytes of the page in each format; all formats when none is named.

    on  the date of the page; a line to write it on when None
    """
    called = assessed.file.case.client.called or "the client"
    title = f"Which control to try {_order(given)}, {called}"
    page = Page(title, f"{called}, controls to try", NO_DATE, STATUS)
    tree, scenes = options_tree(assessed, matched, given, on), {"controls": options_scene(given.options)}
    return {
        f"options.{suffix}": format_of(suffix).render(tree, page, scenes, FAMILY, labels=ENGLISH)
        for suffix in tuple(formats) or format_names()
    }


def options_tree(assessed: Assessed, matched: Match, given: Options, on: date | None = None) -> Node:
    """The page before it is rendered."""
    tree = template_tree("_options.md", options_context(assessed, matched, given, on))
    for table in (node for node in tree.walk() if node.kind == "table"):
        table.attrs |= {"even": len(given.options), "row_heads": True}  # as much room for each control
    explain_in_place(tree, plain_words()["explain"])
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


def options_context(assessed: Assessed, matched: Match, given: Options, on: date | None = None) -> dict[str, Any]:
    """All that the template may use."""
    case, options = assessed.file.case, given.options
    evaluator = next(iter(case.with_role("evaluator")), None)
    bearing = findings_shown(case, matched, options)
    boxes = [_BOX] * 3  # a lot, a little, not
    controls = list(control_rows(case, options, bearing.less_good))
    today = Gap("goals.level", "not recorded: how it goes today")
    goals: list[dict[str, Any]] = [{**goal, "now": goal["now"] or today} for goal in goal_rows(case)]
    return {
        "called": case.client.called or "the client",
        "order": _order(given),
        **person_today(case),
        "no_now": Gap("request.chair_now", "not recorded: the chair now"),
        "no_hard": Gap("activities", "not recorded: what is hard now"),
        "goals": goals,
        "no_goals": Gap("goals", "not recorded: what the client wants to do"),
        "caption": _caption(controls, options),
        "controls": controls,
        "tries": _tries(case, options),
        "findings": bearing.rows,
        "also": bearing.also,
        "alike": bearing.alike,
        "no_findings": Gap("findings", "not recorded: what was found about the body and the day"),
        "matters": [{**row, "cells": [*boxes, *row["cells"]]} for row in matters_rows(case, matched, options)],
        "blank_line": [*boxes, *("" for _ in controls)],
        "lenders": lender_rows(options),
        "no_lender": Gap("trial.methods.device", "not recorded: who lends the controls"),
        **_next(case, evaluator),
        "made_on": day(on) if on else "____________",
        "dates": _dates(assessed, given),
        "earns": _earns(evaluator),
        "more": [capital(name) for name in given.more],
    }


def _order(given: Options) -> str:
    """Whether a control of the page was tried already."""
    return "next" if any(option.tried for option in given.options) else "first"


def _caption(controls: Iterable[ControlRow], options: Iterable[Option]) -> str:
    named = " ".join(f"{control['letter']}: {control['name']}." for control in controls)
    either = any(_EITHER_SIDE & {*option.judged.device.sites} for option in options)
    return f"{named} Black: what you work.{' Left or right is an example.' if either else ''}"


def _tries(case: Case, options: Iterable[Option]) -> dict[str, Any]:
    """What a try and one that is done are; what the case lacks of it is a gap."""
    words: dict[str, Any] = {**tries_explained(case, options)}
    gaps = {
        "stop_rule": Gap("trial.tasks.rule", "not recorded: the rule of a stop"),
        "place": Gap("trial.place", "not recorded"),
    }
    return {key: words[key] or gaps.get(key, "") for key in words}


def _next(case: Case, evaluator: Person | None) -> dict[str, Any]:
    """Who is told, when and for how long the try is."""
    plan = case.trial.plan
    visits = f"{plan.visits} {'visit' if plan.visits == 1 else 'visits'}" if plan.visits else None
    length = f"{plan.visit_minutes:g} minutes each" if plan.visit_minutes else None
    return {
        "evaluator": (evaluator and evaluator.name) or "the therapist",
        "phone": (evaluator and evaluator.phone) or Gap("people.phone", "not recorded: the therapist's phone"),
        "answers": (evaluator and evaluator.answers) or "",
        "when": Gap("visits.on", "not recorded"),
        "how_long": ", ".join(filter(None, [visits, length])) or Gap("trial.plan.visit_minutes", "not recorded"),
    }


def _dates(assessed: Assessed, given: Options) -> str:
    """From when the findings and what is said of the controls are."""
    last_found = max((finding.on for finding in assessed.file.case.findings if finding.on), default=None)
    checked = [option.judged.device.checked_on for option in given.options]
    stated = [on for on in checked if on is not None]
    parts = [f"Last finding: {day(last_found)}." if last_found else "The day of the findings is not recorded."]
    if len(stated) == len(checked) and stated:
        same = len({*stated}) == 1
        parts.append(f"Facts on the controls: checked on {day(min(stated))}{'' if same else ' and after'}.")
    else:
        parts.append("When the facts on the controls were checked is not recorded.")
    return " ".join(parts)


def _earns(evaluator: Person | None) -> str:
    """Who paid and who earns, as far as it is recorded."""
    employed = evaluator.employed_by_supplier if evaluator else None
    employment = {
        True: "The therapist works for the supplier.",
        False: "The therapist does not work for the supplier.",
        None: "Whether the therapist works for the supplier is not recorded.",
    }[employed]
    return f"{employment} Not recorded, so ask: who paid for this page, and who earns by a control."
