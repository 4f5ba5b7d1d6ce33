"""Where published rules disagree on this request, the payer was asked.

Asks: Whether one of three points on which sources differ touches this request, and what the payer answered.
Why a payer asks: Reviewers read such points in different ways, and nothing here decides for them.
What settles it: payer_says under [request]: what the payer answered, and when.
Source: Program Integrity Manual 5.4.1 and article A55426 against a contractor notice of 2024 (replacement); L33789 and
    A52504 against an older contractor article (missing order); authorization list of 2026-07-29 against 42 CFR 410.38
    (unlisted base).
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import FILL_IN_KIND, control_alone
from docgen.criteria.steps import not_delivered

HEADING = "order"
CLAIM = "Points on which sources differ are confirmed with the payer"
SETTINGS = {"points": ["replacement", "missing_order", "unlisted_base"]}
CHOICES = {"points": tuple(SETTINGS["points"])}


_UNLISTED = ("K0013", "K0890", "K0891")


def answer(grounds: Grounds, points: list[str]) -> Answer:
    case = grounds.case
    differences, at = [], []
    for point in points:
        difference = _POINTS[point](case)
        if isinstance(difference, Answer):
            return difference
        if difference:
            differences.append(difference)
            at.append(_AT[point])
    if not differences:
        return does_not_apply(
            "No point on which sources differ touches this request.", *(_AT[point] for point in points)
        )
    if case.request.payer_says is None:
        return cannot_tell(
            " ".join(differences),
            ("request", "payer_says"),
            *at,
            mend=fill_in(
                {"request.payer_says": "<what the payer answered, and when>"}, lead="Ask the payer, and fill in"
            ),
        )
    return met("What the payer answered is recorded.", ("request", "payer_says"), *at)


def _replacement(case: Case) -> str | Answer:
    if case.request.kind is None:
        return cannot_tell(
            "The kind of request is not recorded.",
            ("request", "kind"),
            mend=FILL_IN_KIND,
        )
    return (
        "For a replacement, one text asks for no new encounter and another for a new one."
        if case.request.kind == "replacement"
        else ""
    )


def _missing_order(case: Case) -> str | Answer:
    if early := not_delivered(case, "whether the order came in time is not yet a question"):
        return early if early.status == "cannot_tell" else ""
    received, delivered = case.order.received_on, recorded(case.dates.delivered_on)
    in_time = case.dates.ordered_on and received and case.dates.ordered_on <= delivered and received <= delivered
    return (
        ""
        if in_time
        else (
            "Without an order before delivery, one text calls the chair not reasonable and necessary and "
            "another not covered by law: "
            "who has to pay differs."
        )
    )


def _unlisted_base(case: Case) -> str | Answer:
    code = case.configuration.chair.base_code
    if code is None and control_alone(case):
        return ""
    if code is None:
        return cannot_tell(
            "The code of the base is not recorded.",
            _AT["unlisted_base"],
            mend=fill_in({"configuration.chair.base_code": "<procedure code of the base>"}),
        )
    return (
        f"{code} is on no list for prior authorization, and still needs the encounter and the order before delivery."
        if code in _UNLISTED
        else ""
    )


_POINTS = {"replacement": _replacement, "missing_order": _missing_order, "unlisted_base": _unlisted_base}
_AT = {
    "replacement": ("request", "kind"),
    "missing_order": ("order", "received_on"),
    "unlisted_base": ("configuration", "chair", "base_code"),
}
