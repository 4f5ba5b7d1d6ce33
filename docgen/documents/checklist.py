"""The papers that whoever takes a request in looks for first, with their days and what the criteria say of each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.criteria.run import Verdict
from docgen.documents.authorization import authorized
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.documents.record_index import first, practitioners

MADE_FROM = {
    "checklist": made_from(
        "dates.ordered_on",
        "dates.written_on",
        "authorization.decision",
        "order.signed_by",
        "encounter.by",
        by=(Privacy.OFFICE, Privacy.CREDENTIALS),
    )
}

Status = Literal["met", "not_met", "cannot_tell"]

# paper -> the criteria that decide whether it is in order. What is looked for is that of the contractors' page on prior
# authorization of power mobility devices, from memory; the order of the rows is ours
_DECIDED_BY: dict[str, tuple[str, ...]] = {
    "order": ("order_is_complete", "signer_may_order"),
    "encounter": ("encounter_before_order", "encounter_documented", "medicaid_encounter_in_time"),
    "evaluation": ("evaluator_named",),
    "statement": ("evaluator_independent",),
    "concurrence": ("evaluation_before_order",),
    "supplier": ("specialist_in_person",),
    "home": ("fits_the_home",),
}
_LABELS = {"on": "date"}
_WORST: tuple[Status, ...] = ("not_met", "cannot_tell", "met")


class PaperRow(TypedDict):
    """One paper. on is None where its day is not recorded; status is empty where no criterion about it applies.

    kind           by which the paper itself is found, where it is enclosed
    by             who signed or wrote it, and what they are; empty where nobody is recorded
    phone          their number, to ask for a paper that is not enclosed; empty where none is recorded
    is_letter      whether the letter itself is the paper: a report of the day on which the letter is written
    authorization  words on prior authorization in the place of a status; empty for any other paper
    """

    kind: str
    paper: str
    by: str
    phone: str
    on: date | None
    status: Status | Literal[""]
    is_letter: bool
    authorization: str
    _labels: dict[str, str]


def days_of_papers(case: Case) -> dict[str, date | None]:
    """Kind of each paper of the checklist -> the day that the case knows it by."""
    return {
        "order": case.dates.ordered_on,
        "encounter": case.dates.encounter_on,
        "evaluation": case.dates.evaluated_on,
        "statement": next((evaluator.statement_on for evaluator in case.with_role("evaluator")), None),
        "concurrence": case.dates.accepted_on,
        "supplier": case.dates.supplier_assessed_on,
        "home": case.dates.home_visit_on or case.dates.home_report_on,
    }


def checklist(case: Case, verdicts: Sequence[Verdict], words: Words) -> Iterator[PaperRow]:
    """Each paper in the order in which it is looked for, prior authorization last."""
    days = days_of_papers(case)
    names = words["papers"]
    practitioner, signer = practitioners(case)
    by = {
        "order": signer,
        "encounter": practitioner,
        "evaluation": first(case, "evaluator"),
        "statement": first(case, "evaluator"),
        "concurrence": practitioner,
        "supplier": first(case, "supplier"),
        "home": next((space.by for space in case.spaces if space.at_home and space.by), None),
    }
    is_report = case.dates.home_visit_on is None and case.dates.home_report_on is not None
    for paper, criteria in _DECIDED_BY.items():
        given = {v.answer.status for v in verdicts if v.criterion.id in criteria}
        status: Status | Literal[""] = next((rank for rank in _WORST if rank in given), "")
        undated = days[paper] is None and status == "met"
        person = case.person(by.get(paper))
        phone = (person.phone or "") if person else ""
        yield {
            "kind": paper,
            "paper": names["home_report" if paper == "home" and is_report else paper],
            "by": _by(case, by.get(paper)),
            "phone": phone,
            "on": days[paper],
            "status": "cannot_tell" if undated else status,
            "is_letter": paper == "evaluation" and days[paper] is not None and days[paper] == case.dates.written_on,
            "authorization": "",
            "_labels": _LABELS,
        }
    stands = authorized(case, words)
    yield {
        "kind": "authorization",
        "paper": names["authorization"],
        "by": "",
        "phone": "",
        "on": stands["decided_on"] or stands["asked_on"],
        "status": "",
        "is_letter": False,
        "authorization": stands["says"],
        "_labels": _LABELS,
    }


def _by(case: Case, person_id: str | None) -> str:
    """Name and credential of a person, as far as they are recorded."""
    person = case.person(person_id)
    return ", ".join(part for part in (person.name, person.credential) if part) if person else ""
