"""The trial was run as it was planned.

Asks: Whether the rows show a sign of unfairness that the plan of the trial was to keep out, and which it kept out.
Why a payer asks: A difference between two controls is worth what its order was; an order that was planned beforehand
    and kept is the ground on which a comparison stands.
What settles it: trial.plan with methods, visits, visit_minutes and the day on which it was made, before the first row;
    rows with their order. What happened otherwise is told, not mended.
Source: single-case standards ask for planned and actual order (CENT 2015, SCRIBE 2016, abstracts); the signs are common
    practice, no source.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.attendant import caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import day, listed
from docgen.evidence.planned_trial import Kept, is_planned_before, kept, kept_out, order_of, planned_methods

HEADING = "record"
CLAIM = "The trial was run as it was planned"
SHOWN_IN = ("letter: Equipment Trial and Results",)
QUIET = True
SETTINGS: dict[str, object] = {}

PLAN = ("trial", "plan")
# what a plan keeps out, in words that follow "so that"
KEPT_OUT = {
    "no_shared_day": "the controls were driven on the same days",
    "always_first": "none always came first",
    "more_days": "none had more days",
    "order_unknown": "the order of each day is recorded",
    "other_tasks": "the tasks were the same",
    "other_helper": "the same person guarded",
    "other_speed": "the speed was the same",
    "more_metres": "an attempt was as long with each",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    plan = case.trial.plan
    order = order_of(plan, needs_rest=True)
    if caregiver_drives(case):
        return does_not_apply(
            "A caregiver drives, and no control for the client is requested.", ("attendant", "drives")
        )
    if order is None or not order.rows:
        return _not_planned(case)
    pairs = kept(case)
    if not pairs:
        return cannot_tell(
            "The trial is planned, and no rows compare its controls yet.",
            PLAN,
            ("trial", "rows"),
            mend="Run the trial with its recording sheets, and add the rows.",
        )
    first_row = min(row.date for row in case.tried)
    if plan.on is None:
        return cannot_tell(
            "The day on which the trial was planned is not recorded.",
            (*PLAN, "on"),
            mend=fill_in({"trial.plan.on": "<date>"}),
        )
    if not is_planned_before(case):
        return not_met(
            f"The plan is of {day(plan.on)}, after the first attempt on {day(first_row)}: it planned nothing of it.",
            (*PLAN, "on"),
            ("trial", "rows"),
            mend="Mend the day that is wrong, or take the plan as one for attempts still to come.",
        )
    return _as_kept(case, pairs)


def _as_kept(case: Case, pairs: tuple[Kept, ...]) -> Answer:
    """What the rows show of a plan that was made before them."""
    names = {method.id: method.name for method in case.trial.methods}
    broken = [
        f"beside the {names[pair.other]}, {listed(sign.text for sign in pair.broken)}" for pair in pairs if pair.broken
    ]
    codes = kept_out(pairs)
    whole = [says for code, says in KEPT_OUT.items() if code in codes]
    compared = listed(f"the {names[method]}" for method in planned_methods(pairs))
    out = (
        f"The comparison of {compared} was planned so that {listed(whole)}"
        if whole
        else f"Of the plan to compare {compared}, nothing was kept"
    )
    besides = [sign.text for pair in pairs for sign in pair.besides]
    beside = f" Not planned against, and seen: {listed(dict.fromkeys(besides))}." if besides else ""
    if broken:
        return not_met(
            f"Planned otherwise, and seen: {'; '.join(broken)}. {out}.{beside}",
            PLAN,
            ("trial", "rows"),
            mend="Nothing mends a trial afterwards: tell what happened, or run the missing row of the plan.",
        )
    return met(f"{out}{'; so it was' if whole else ''}.{beside}", PLAN, ("trial", "rows"))


def _not_planned(case: Case) -> Answer:
    """What is asked where no order is planned: nothing once there are rows, for no plan can be made of them."""
    if case.tried:
        return does_not_apply("The trial has rows, and no plan of controls and visits that hold them.", PLAN)
    if case.trial.none_why:
        return does_not_apply("There was no trial, for the reason recorded.", ("trial", "none_why"))
    return cannot_tell(
        "No trial is planned with controls and visits that hold them, and none has rows.",
        PLAN,
        mend=fill_in({f"trial.plan.{key}": "" for key in ("methods", "visits", "visit_minutes")}),
    )
