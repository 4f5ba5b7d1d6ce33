"""A denial's stated reasons held against the answers of the criteria: each reason is answered by the questions it
touches."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.paper import Reason
from docgen.criteria.criterion import criteria
from docgen.criteria.run import Verdict
from docgen.errors import Problem, UserError, did_you_mean


class Reply(Struct, frozen=True):
    """One stated reason with the answers that speak to it."""

    reason: Reason
    verdicts: tuple[Verdict, ...]


def replies(case: Case, verdicts: Sequence[Verdict]) -> tuple[Reply, ...]:
    """Each reason of the denial, in the payer's order, with the answers of the questions it names.

    A question is named by the id of its criterion. A criterion that several rows of the payer bind is told once, by
    the row that weighs most.
    """
    return tuple(Reply(reason, tuple(_answers(reason, verdicts))) for reason in case.denial.reasons)


def _answers(reason: Reason, verdicts: Sequence[Verdict]) -> list[Verdict]:
    by_criterion = {verdict.criterion.id: verdict for verdict in reversed(verdicts)}
    return [by_criterion[question] for question in dict.fromkeys(reason.questions) if question in by_criterion]


def check_questions(case: Case, where: Callable[..., str]) -> None:
    """Raises UserError for every question that a reason names and that there is not.

    where  key path -> file and line
    """
    known = criteria()
    problems = [
        Problem(
            where("denial", "reasons", place, "questions"),
            f"there is no question '{question}'",
            did_you_mean(question, known),
        )
        for place, reason in enumerate(case.denial.reasons)
        for question in reason.questions
        if question not in known
    ]
    if problems:
        raise UserError(problems)
