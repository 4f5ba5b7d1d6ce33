"""A planned trial as a page beside the packet, for therapist and supplier, and its recording sheets filled in.

It shows findings, goals, the places that are measured, who guards, the cautions and the signs of an emergency with the
number to call then: no name but the one the client is called by, no diagnosis, nothing of the payer but what its rules
ask of a trial.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from docgen.case.model import Case
from docgen.case.short_form import KIND_NAMES
from docgen.documents.planned import (
    asked_claims,
    borrow_rows,
    card_rows,
    looked_at,
    measured_from,
    of_driving,
    set_up_rows,
    simpler_rows,
)
from docgen.documents.planned_order import (
    block_rows,
    chance_rows,
    difference_words,
    holds_sentence,
    number_sentences,
    order_sentences,
    reckoned_words,
    visit_minutes,
)
from docgen.documents.planned_packing import common_rows, once_rows, pack_rows
from docgen.documents.planned_safety import (
    call_rows,
    cautions,
    hazards,
    hold_sentences,
    needs_relief,
    not_driven_words,
    other_speeds,
    relief_sentences,
    sensing_sentences,
    sign_rows,
    stop_in_spasm,
    stop_limit,
    stop_rules,
    to_fill_in,
)
from docgen.evidence.orders import WILLIAMS
from docgen.evidence.trial_size import SOURCE
from docgen.fit.condition import emergency_wanted
from docgen.packet.assess import Assessed
from docgen.packet.trees import template_tree
from docgen.rendering.formats import format_names, format_of
from docgen.rendering.labels import ENGLISH
from docgen.rendering.page import NO_DATE, Page
from docgen.shelf.match import Match
from docgen.shelf.planned import Control, Planned, kind_of_method


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
        "blank": "_" * _BLANK,
        "evaluator": "The therapist",
        "shelf": {"name": matched.shelf.name},
        "plan": {
            name: getattr(trial.plan, name)
            for name in (*_OF_PLAN, "on", "visits", "visit_minutes", "difference_percent", "speed_m_s")
        },
        "trial": {name: getattr(trial, name) for name in ("chair", "seating", "counted_by", "place")},
        "guard": case.called_by_relation(trial.plan.guard) if trial.plan.guard else None,
        "safety": _safety(case, matched, plan),
        "fill_in": list(to_fill_in(case, plan)),
        "later": _known_later(case),
        "other_speeds": list(other_speeds(case, plan)),
        "sensing": list(sensing_sentences(case, plan)),
        "holds_long": list(hold_sentences(case, matched, plan)),
        "in_spasm": stop_in_spasm(case),
        "relief": relief_sentences(case),
        "needs_relief": needs_relief(case),
        "not_driven": [
            {
                "letter": control.letter,
                "name": control.name,
                "why": not_driven_words(control),
                "of": _kind_of(case, control),
            }
            for control in plan.not_driven
        ],
        "worn_at_fit": case.configuration.worn,
        "common": list(common_rows(case, plan)),
        "packed": list(pack_rows(case, plan)),
        "once": list(once_rows(case, plan)),
        "stop_limit": stop_limit(case),
        "of_hundred": "more of 100 attempts done",
        "decides": difference_words(plan),
        "open_conditions": any(v.criterion.id == "conditions_answered" and v.open for v in assessed.verdicts),
        "controls": [{"letter": control.letter, "name": control.name} for control in plan.driven],
        "planned": bool(plan.controls),
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
        "source": SOURCE + (f"; squares of orders: {WILLIAMS}" if len(plan.driven) > _ONE_PAIR else ""),
        "payer": assessed.payer.name,
        "tells": list(number_sentences(plan)),
        "looked_at": list(looked_at(matched, plan)),
    }


_OF_PLAN = ("drawn", "guard_stop", "worn", "stop_when", "drop_when", "tilted_by", "longest_hold")
_BLANK = 30  # characters of a line to write on
_ONE_PAIR = 2  # visits: with one mirrored pair A is the one expected to do better, with more it is drawn by lot


def _kind_of(case: Case, control: Control) -> str:
    """The kind of a control in words, as the table of simpler controls names it; empty where it is not known."""
    kind = control.judged.device.kind if control.judged else kind_of_method(case, control.id)
    return KIND_NAMES.get(kind, "") if kind else ""


def _known_later(case: Case) -> date | None:
    """The last day of a finding, where that is later than the day of the plan."""
    on = case.trial.plan.on
    last = max((finding.on for finding in case.findings if finding.on is not None), default=None)
    return last if on is not None and last is not None and last > on else None


def _safety(case: Case, matched: Match, plan: Planned) -> dict[str, Any]:
    """When driving ends: limits for anyone, and what is recorded of this client."""
    return {
        "stop_rules": list(stop_rules(case, plan)),
        "rested": "1",
        "hazards": hazards(case, of_driving(matched)),
        "cautions": cautions(case),
        "emergency": emergency_wanted(case),
        "signs": list(sign_rows(case)),
        "calls": list(call_rows(case)),
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
