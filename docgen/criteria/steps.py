"""Steps of a request, each on its recorded day, and what every question about delivery asks first."""

from __future__ import annotations

from datetime import date

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, cannot_tell, does_not_apply
from docgen.criteria.growth import day_of_age
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

DELIVERY: KeyPath = ("dates", "delivered_on")
STEPS: dict[str, KeyPath] = {
    "encounter": ("dates", "encounter_on"),
    "ATP's assessment": ("dates", "supplier_assessed_on"),
    "home visit": ("dates", "home_visit_on"),
    "order": ("dates", "ordered_on"),
    "receipt of the order": ("order", "received_on"),
    "request for authorization": ("authorization", "requested_on"),
    "decision on authorization": ("authorization", "decided_on"),
    "delivery": DELIVERY,
    "start of services": ("delivery", "service_on"),
}


def day_of(case: Case, step: str) -> date | None:
    """The recorded day of a step, or None."""
    table, key = STEPS[step]
    on: date | None = getattr(getattr(case, str(table)), str(key))
    return on


def undated(case: Case, *steps: str) -> Answer | None:
    """Cannot be told, where one of these steps has no day; else None."""
    missing = [step for step in steps if day_of(case, step) is None]
    if not missing:
        return None
    return cannot_tell(
        f"Not recorded: the day of the {listed(missing)}.",
        *(STEPS[step] for step in missing),
        mend=fill_in({".".join(map(str, STEPS[step])): "<date>" for step in missing}),
    )


def age_told_on(case: Case) -> date | None:
    """The day on which a rule of age is looked at: of the request, while there is none of the evaluation or the first
    attempt; None where there is none of these either."""
    return case.request.requested_on or day_of_age(case)


def age_untold(case: Case) -> Answer | None:
    """Cannot be told, where the client's age is not known on the day of the request, or of what came before it; else
    None."""
    days = {
        "client.born_on": ("the date of birth", case.client.born_on),
        "request.requested_on": ("the day of the request", age_told_on(case)),
    }
    lacks = {key: words for key, (words, on) in days.items() if on is None}
    if not lacks:
        return None
    return cannot_tell(
        f"Not recorded: {listed(lacks.values())}, so the client's age on the day of the request is not known.",
        ("client", "born_on"),
        ("request", "requested_on"),
        mend=fill_in(dict.fromkeys(lacks, "<date>")),
    )


def not_delivered(case: Case, until_then: str) -> Answer | None:
    """Does not apply yet, where a request is under way and nothing was delivered; else None, or cannot be told."""
    if case.dates.delivered_on:
        return None
    requested = case.request.requested_on or case.dates.ordered_on or case.dates.written_on
    prepared = (case.visits or case.tried) and not _tells_of_use(case)
    if requested or prepared:
        return does_not_apply(f"No delivery is recorded yet; {until_then}.", DELIVERY)
    return cannot_tell(  # the request comes first, and once it has a day nothing of a delivery is asked yet
        "No day of a request, an order or a delivery is recorded.",
        ("request",),
        DELIVERY,
        mend=fill_in({"request.requested_on": "<date of the request>"}),
    )


def _tells_of_use(case: Case) -> bool:
    """Whether the record holds what is there only once a chair was delivered."""
    paper = case.delivery
    return bool(paper.signed_by or paper.signed_on or paper.service_on or case.sessions or case.sheets.handed_out)
