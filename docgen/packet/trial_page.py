"""A planned trial as a page beside the packet, for therapist and supplier, and its recording sheets filled in.

It shows findings, goals, the places that are measured, who guards and the cautions: no name but the one the client is
called by, no phone number, no diagnosis, nothing of the payer but what its rules ask of a trial.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from docgen.case.model import Case
from docgen.documents.planned import (
    asked_claims,
    borrow_rows,
    card_rows,
    cautions,
    hazards,
    looked_at,
    measured_from,
    set_up_rows,
    simpler_rows,
)
from docgen.documents.planned_order import (
    block_rows,
    chance_rows,
    holds_sentence,
    number_sentences,
    order_sentences,
    reckoned_words,
    visit_minutes,
)
from docgen.evidence.orders import WILLIAMS
from docgen.evidence.stop_rules import MOST_FATIGUE, MOST_PAIN, MOST_RISE
from docgen.evidence.trial_size import SOURCE
from docgen.fit.condition import emergency_wanted
from docgen.packet.assess import Assessed
from docgen.packet.trees import template_tree
from docgen.rendering.formats import format_names, format_of
from docgen.rendering.labels import ENGLISH
from docgen.rendering.page import NO_DATE, Page
from docgen.shelf.match import Match
from docgen.shelf.planned import Planned


def trial_page(assessed: Assessed, matched: Match, plan: Planned, formats: Iterable[str] = ()) -> dict[str, bytes]:
    """File name -> bytes of the page in each format; all formats when none is named."""
    case = assessed.file.case
    called = case.client.called or "the client"
    tree = template_tree("_trial.md", page_context(assessed, matched, plan))
    page = Page(f"Trial plan for {called}", f"{called}, trial plan", case.trial.plan.on or NO_DATE)
    return {
        f"trial_plan.{suffix}": format_of(suffix).render(tree, page, {}, labels=ENGLISH)
        for suffix in tuple(formats) or format_names()
    }


def page_context(assessed: Assessed, matched: Match, plan: Planned) -> dict[str, Any]:
    """All that the template may use."""
    case = assessed.file.case
    trial = case.trial
    called = case.client.called or "the client"
    return {
        "called": called,
        "evaluator": "The therapist",
        "shelf": {"name": matched.shelf.name},
        "plan": {
            name: getattr(trial.plan, name)
            for name in (*_OF_PLAN, "on", "visits", "visit_minutes", "difference_percent", "speed_m_s")
        },
        "trial": {name: getattr(trial, name) for name in ("chair", "seating", "counted_by", "place")},
        "guard": case.called_by_relation(trial.plan.guard) if trial.plan.guard else None,
        "safety": _safety(case, matched),
        "open_conditions": any(v.criterion.id == "conditions_answered" and v.open for v in assessed.verdicts),
        "controls": [{"letter": control.letter, "name": control.name} for control in plan.controls],
        "borrow": list(borrow_rows(plan)),
        "zero": measured_from(case),
        "set_ups": list(set_up_rows(case, plan)),
        "simpler": list(simpler_rows(plan.simpler)),
        "cards": list(card_rows(plan.cards)),
        "cards_recorded": bool(trial.tasks),
        "stop_card": any(card.of == "stop" for card in plan.cards),
        "goals": [goal.says for goal in case.goals],
        "places": _places(case),
        "asked": asked_claims(assessed.verdicts),
        "blocks": [
            {**block, "cards": " ".join(str(number) for number, _ in block["cards"])} for block in block_rows(plan)
        ],
        "holds": holds_sentence(plan),
        "minutes": visit_minutes(plan),
        "reckoned": reckoned_words(plan),
        "fair": list(order_sentences(plan, matched)),
        "lot": plan.order is not None and plan.order.kind not in ("alone", "none") and len(plan.order.rows) > _ONE_PAIR,
        "power": "80 of 100",
        "chances": list(chance_rows(plan)),
        "source": f"{SOURCE}; squares of orders: {WILLIAMS}",
        "tells": list(number_sentences(plan)),
        "looked_at": list(looked_at(matched, plan)),
    }


_OF_PLAN = ("drawn", "guard_stop", "worn", "stop_when")
_ONE_PAIR = 2  # visits: with one mirrored pair A is the one expected to do better, with more it is drawn by lot


def _safety(case: Case, matched: Match) -> dict[str, Any]:
    """When driving ends: limits for anyone, and what is recorded of this client."""
    return {
        "pain": f"{MOST_PAIN:g}",
        "rise": f"{MOST_RISE:g}",
        "fatigue": f"{MOST_FATIGUE:g}",
        "scale": "10",
        "rested": "1",
        "hazards": hazards(case, matched),
        "cautions": cautions(case),
        "emergency": emergency_wanted(case),
    }


def _places(case: Case) -> list[dict[str, Any]]:
    """The places that are measured, with what a card has to hold."""
    return [
        {
            "name": space.name,
            "clear_width_mm": space.clear_width_mm if space.kind in ("doorway", "corridor") else None,
            "turning_mm": space.turning_mm,
            "clear_ahead_mm": space.clear_ahead_mm,
            "ramp": space.kind == "ramp",
        }
        for space in case.spaces
    ]
