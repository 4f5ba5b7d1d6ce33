"""A base on the list was affirmed by prior authorization before delivery.

Asks: Whether the base needs prior authorization, what was decided, and whether that came before delivery.
Why a payer asks: For a base on the list, payment depends on it.
What settles it: base_code of the chair; decided_on, decision and tracking under [authorization]; dates.delivered_on.
Source: 42 CFR 414.234 (passage read); required prior authorization list of 2026-07-29; notices of 2024-05 on
    replacements (passages read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR, FILL_IN_KIND, base
from docgen.criteria.sentences import day, listed
from docgen.criteria.steps import DELIVERY, not_delivered

HEADING = "order"
CLAIM = "Prior authorization came before delivery"
SHOWN_IN = ("paper: the supplier's authorization",)
SETTINGS = {"kinds": ["new_chair", "replacement"]}
CHOICES = {"kinds": ("new_chair", "control_only", "replacement")}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    case = grounds.case
    if case.request.kind is None:
        return cannot_tell(
            "The kind of request is not recorded.",
            ("request", "kind"),
            mend=FILL_IN_KIND,
        )
    if case.request.kind not in kinds:
        return does_not_apply("The rule is for another kind of request.", ("request", "kind"))
    power_base, at = base(case), ((*CHAIR, "base_code"), ("authorization",), DELIVERY)
    if power_base is None:
        return cannot_tell(
            "The base is not recorded, or not in the list of bases.",
            (*CHAIR, "base_code"),
            mend=fill_in({"configuration.chair.base_code": "<procedure code of the base>"}),
        )
    if not power_base.authorization:
        return does_not_apply(
            f"{power_base.id} is not on the list of bases that need prior authorization.", (*CHAIR, "base_code")
        )
    paper, delivered = case.authorization, case.dates.delivered_on
    if paper.decision in ("not_affirmed", "partly"):
        return not_met(
            (
                f"Prior authorization of {power_base.id} was "
                f"{'not affirmed' if paper.decision == 'not_affirmed' else 'affirmed only in part'}."
            ),
            *at,
            mend="Send the request again with what the decision says is missing.",
        )
    if delivered and paper.decided_on and paper.decided_on > delivered:
        return not_met(
            f"{power_base.id} was decided on {day(paper.decided_on)}, after delivery on {day(delivered)}.",
            *at,
            mend="This cannot be put right later; ask the payer what it takes instead.",
        )
    reason = (
        f"Prior authorization of {power_base.id} was affirmed on {day(paper.decided_on)}"
        if paper.decision and paper.decided_on
        else f"{power_base.id} is on the list"
    )
    if early := not_delivered(
        case, reason[:1].lower() + reason[1:] if reason.startswith("Prior") else f"{reason} and must be affirmed first"
    ):
        return early
    missing = [key for key in ("decided_on", "decision", "tracking") if getattr(paper, key) is None]
    if missing:
        forms = {
            "decided_on": "<date>",
            "decision": '<"affirmed" or "not_affirmed">',
            "tracking": "<number of the decision>",
        }
        return cannot_tell(
            f"{power_base.id} needs prior authorization; not recorded of it: {listed(_WORDS[key] for key in missing)}.",
            *at,
            mend=fill_in({f"authorization.{key}": forms[key] for key in missing}),
        )
    delivery = (
        "the day of delivery" if paper.decided_on == delivered else f"before delivery on {day(recorded(delivered))}"
    )
    return met(f"{reason}, {delivery}.", *at)


_WORDS = {"decided_on": "the day of the decision", "decision": "the decision", "tracking": "its tracking number"}
