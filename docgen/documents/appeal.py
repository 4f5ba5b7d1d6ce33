"""What an appeal shows: each reason in the payer's own words, and the answers of the record to that reason alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from docgen.case.model import Case
from docgen.case.who import Person
from docgen.criteria.denial import Reply, replies
from docgen.criteria.run import Verdict
from docgen.documents.made_from import made_from, of_people
from docgen.documents.phrase import Words, number
from docgen.documents.quoting import Quotations
from docgen.documents.telling import measured
from docgen.documents.trial_table import unfair
from docgen.evidence.fact import Evidence

_MOST_NUMBERS = 6
_STICKS = ("stick_by_hand", "stick_by_chin")
_STOPS = "stops_on_request"


MADE_FROM = {
    "payer_person": of_people("payer"),
    "reasons": made_from("denial.reasons"),
    "replies": made_from(
        "denial.reasons",
        grounds="alternatives",
        missed="trial.methods",
        caution="trial.methods",
        numbers="trial.methods",
        limits="configuration.stop",
    ),
}


def appeal_tables(
    case: Case, evidence: Evidence, verdicts: Sequence[Verdict], quotes: Quotations, words: Words
) -> dict[str, Any]:
    """Table name -> what an appeal may show; empty tables where nothing was denied."""
    numbered = [*enumerate(replies(case, verdicts), start=1)]
    return {
        "payer_person": case.person(case.denial.by) or Person(id="payer", role="payer"),
        "reasons": tuple(_reason(n, reply) for n, reply in numbered),
        "replies": tuple(
            row
            for n, reply in numbered
            for row in _told_once(_reply(n, verdict, case, evidence, quotes, words) for verdict in reply.verdicts)
        ),
    }


def _reason(n: int, reply: Reply) -> dict[str, Any]:
    """A stated reason and how much of it the record answers: what is met in part counts as a part."""
    met = [verdict.answer.status == "met" for verdict in reply.verdicts]
    return {
        "n": n,
        "says": reply.reason.says,
        "adds": reply.reason.adds or "",
        "touched": bool(reply.verdicts),
        "stands": bool(met) and all(met) and not any(_in_part(verdict) for verdict in reply.verdicts),
        "some": any(met),
    }


def _told_once(replies: Iterable[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """The replies to one reason, each ground and each number under the first one that it answers."""
    before: set[str] = set()
    for reply in replies:
        numbers = [
            (label, value)
            for label, value in zip(reply["measured"], reply["numbers"], strict=True)
            if value.name not in before
        ]
        yield reply | {
            "grounds": tuple(ground for ground in reply["grounds"] if ground not in before),
            "measured": tuple(label for label, _ in numbers),
            "numbers": tuple(value for _, value in numbers),
        }
        before.update(reply["grounds"], (value.name for value in reply["numbers"]))


def _reply(
    n: int, verdict: Verdict, case: Case, evidence: Evidence, quotes: Quotations, words: Words
) -> dict[str, Any]:
    facts = [*_numbers(verdict, case, evidence)][:_MOST_NUMBERS]
    unsettled = verdict.open or _in_part(verdict)
    compares = verdict.criterion.id == "simpler_controls_compared"
    return {
        "reason": n,
        "claim": verdict.criterion.claim,
        "status": verdict.answer.status,
        "says": words["answered"][verdict.answer.stands],
        "why": quotes.reason(verdict),
        "open": unsettled,
        "source": verdict.requirement.citation,
        "measured": tuple(fact.label for fact in facts),
        "numbers": tuple(number(fact, words) for fact in facts),
        "row": verdict.requirement.id,
        "grounds": tuple(_grounds(verdict, case, words)),
        "missed": _missed(verdict, case, evidence, words),
        "caution": tuple(comparison["sign"] for comparison in unfair(case, evidence, words)) if compares else (),
        "limits": tuple(_limits(verdict, case, words)) if unsettled else (),
    }


def _grounds(verdict: Verdict, case: Case, words: Words) -> Iterator[str]:
    """Why the devices that an answer is about will not do, each with its measure and day."""
    ids = [method.id for method in case.trial.methods]  # the simplest first
    simpler = ids[: ids.index(case.configuration.method)] if case.configuration.method in ids else ids
    for device in case.alternatives:
        of_it = {
            "standard_stick_ruled_out": device.kind in _STICKS,
            "simpler_controls_compared": device.method in simpler,
        }
        if of_it.get(verdict.criterion.id) and device.reason:
            yield (
                f"{device.name[:1].upper()}{device.name[1:]}: "
                f"{measured(case, device, device.reason, device.measure, words)}"
            )


def _missed(verdict: Verdict, case: Case, evidence: Evidence, words: Words) -> Any:
    """Which stops were missed, and what was noted; empty for another question."""
    fact = evidence.of("stops_missed", case.configuration.method) if verdict.criterion.id == _STOPS else None
    return "" if fact is None else number(fact, words)


def _in_part(verdict: Verdict) -> bool:
    """Whether the record shows most of a claim and not all: a payer that denies for what is missing is not told that it
    is settled."""
    return verdict.answer.limit == "in_part"


def _limits(verdict: Verdict, case: Case, words: Words) -> Iterator[str]:
    """What limits the risk of a stop that the record does not settle: how anyone stops the chair."""
    if verdict.criterion.id != _STOPS:
        return
    stop = case.configuration.stop
    if stop.driver and stop.helper:
        yield words["appeal"]["stop"].format(driver=stop.driver.rstrip("."), helper=stop.helper.rstrip("."))


def _numbers(verdict: Verdict, case: Case, evidence: Evidence) -> Iterator[Any]:
    """The numbers of an answer; before a difference the two counts that it is of."""
    fact_ids: list[str] = []
    for fact_id in verdict.answer.facts:
        name, _, method = fact_id.partition(".")
        fact_ids += [f"success.{case.configuration.method}", f"success.{method}"] if name == "difference" else []
        fact_ids.append(fact_id)
    for fact_id in dict.fromkeys(fact_ids):
        fact = evidence.of(fact_id)
        if fact is not None and fact.value is not None:
            yield fact
