"""What was asked around a request: questions still open or of the payer, things left out, people still to be taught."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from docgen.case.model import Case
from docgen.documents.made_from import made_from

MADE_FROM = {
    "waits_for": made_from("awaited"),
    "payer_asked": made_from("awaited"),
    "not_requested": made_from("left_out"),
    "still_to_teach": made_from("to_teach", name=("people.name", "people.relation")),
}


def asked_besides(case: Case) -> dict[str, Any]:
    """The tables of this module, by name."""
    return {
        "waits_for": tuple(
            {"what": entry.what, "asked": entry.asked, "mine": entry.of == "therapist" and not entry.whom}
            for entry in case.awaited
            if entry.holds and entry.is_open
        ),
        "payer_asked": tuple(_payer_asked(case)),
        "not_requested": tuple(_not_requested(case)),
        "still_to_teach": tuple(_still_to_teach(case)),
    }


def _payer_asked(case: Case) -> Iterator[dict[str, Any]]:
    """What the payer asked for and was answered, in the order of the case."""
    for entry in case.awaited:
        if entry.asked_by == "payer" and not entry.is_open:
            yield {
                "what": entry.what,
                "on": entry.asked_on,
                "answer": entry.answer,
                "answered_on": entry.answered_on,
                "_labels": {"on": "date of the payer's question"},
            }


def _not_requested(case: Case) -> Iterator[dict[str, Any]]:
    for entry in case.left_out:
        yield {
            "what": entry.what,
            "asked_by": entry.asked_by,
            "why_not": entry.why_not,
            "_labels": {"asked_by": f"who asked for {entry.what}", "why_not": f"why {entry.what} is not requested"},
        }


def _still_to_teach(case: Case) -> Iterator[dict[str, Any]]:
    for entry in case.to_teach:
        person = case.person(entry.who)
        name = (person.name or person.relation) if person else None
        yield {
            "name": name,
            "what": entry.what,
            "on": entry.planned_on,
            "_labels": {
                "name": "name of who is still to be taught",
                "on": f"day on which {entry.what} is to be taught",
            },
        }
