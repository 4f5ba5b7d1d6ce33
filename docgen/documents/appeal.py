"""What an appeal shows: each reason in the payer's own words, and the answers of the record to that reason alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from docgen.case.model import Case
from docgen.case.who import Person
from docgen.criteria.denial import replies
from docgen.criteria.run import Verdict
from docgen.documents.phrase import Words, number
from docgen.evidence.fact import Evidence

_MOST_NUMBERS = 6


def appeal_tables(case: Case, evidence: Evidence, verdicts: Sequence[Verdict], words: Words) -> dict[str, Any]:
    """Table name -> what an appeal may show; empty tables where nothing was denied."""
    found = replies(case, verdicts)
    return {
        "payer_person": case.person(case.denial.by) or Person(id="payer", role="payer"),
        "reasons": tuple({"n": n, "says": reply.reason.says, "stands": reply.stands, "touched": bool(reply.verdicts),
                          "some": any(not verdict.open for verdict in reply.verdicts)} for n, reply in enumerate(found, start=1)),
        "replies": tuple(_reply(n, verdict, evidence, words) for n, reply in enumerate(found, start=1) for verdict in reply.verdicts),
    }


def _reply(n: int, verdict: Verdict, evidence: Evidence, words: Words) -> dict[str, Any]:
    facts = [*_numbers(verdict, evidence)][:_MOST_NUMBERS]
    return {
        "reason": n, "claim": verdict.criterion.claim, "status": verdict.answer.status, "says": words["answered"][verdict.answer.status],
        "why": verdict.answer.reason, "open": verdict.open, "source": verdict.requirement.citation,
        "measured": tuple(fact.label for fact in facts), "numbers": tuple(number(fact, words) for fact in facts),
        "row": verdict.requirement.id,
    }


def _numbers(verdict: Verdict, evidence: Evidence) -> Iterator[Any]:
    for fact_id in dict.fromkeys(verdict.answer.facts):
        fact = evidence.of(fact_id)
        if fact is not None and fact.value is not None:
            yield fact
