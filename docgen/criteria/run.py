"""Every requirement of a payer -> exactly one answer, worst first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from functools import cache

from msgspec import Struct

from docgen.criteria.criterion import HEADINGS, Answer, Criterion, Grounds, criteria
from docgen.criteria.payer import Payer, Requirement

_STATUSES = ("not_met", "cannot_tell", "met", "does_not_apply")
OPEN = ("not_met", "cannot_tell")
_SEVERITIES = ("blocks", "query", "advise")


class Verdict(Struct, frozen=True):
    """One requirement, the criterion it binds, and the answer this case gives.

    bound  whether a row of the payer asks it; False for what is asked as good practice alone
    """

    requirement: Requirement
    criterion: Criterion
    answer: Answer
    bound: bool = True

    @property
    def open(self) -> bool:
        """Whether the answer is not met or cannot be told."""
        return self.answer.status in OPEN

    @property
    def dangerous(self) -> bool:
        """Whether someone could be hurt by what the record shows, or leaves open: held back whatever the payer asks."""
        danger, status = self.criterion.danger, self.answer.status
        return (
            self.answer.danger or bool(danger) and status == "not_met" or danger == "untold" and status == "cannot_tell"
        )

    @property
    def holds(self) -> bool:
        """Whether nothing can be approved while it is open, though nobody could be hurt."""
        return (self.criterion.holds or self.answer.holds) and self.open and not self.dangerous

    @property
    def severity(self) -> str:
        """The payer's weight for it; a danger, and what no packet is approved without, block by themselves."""
        return "blocks" if self.dangerous or self.holds else self.requirement.severity

    @property
    def blocks(self) -> bool:
        """Whether this must be settled before the packet can be sent."""
        return self.open and self.severity == "blocks"


def points(verdicts: Iterable[Verdict]) -> int:
    """How many points are open: requirements with the same answer, which the same settles, are one."""
    return len({(verdict.answer.reason, verdict.answer.to_settle) for verdict in verdicts if verdict.open})


def verdicts(grounds: Grounds, payer: Payer, on: date) -> tuple[Verdict, ...]:
    """One verdict for each requirement in force on that day, worst first.

    A criterion that no row binds is asked all the same, as good practice.
    """
    answered = [*_bound(grounds, payer.in_force(on))]
    bound = {verdict.criterion.id for verdict in answered}
    others = (_unbound(name, payer.reviewed_on) for name in criteria() if name not in bound)
    answered += [*_bound(grounds, others, bound=False)]
    return tuple(sorted(answered, key=_weight))


def _bound(grounds: Grounds, rows: Iterable[Requirement], bound: bool = True) -> Iterator[Verdict]:
    for row in rows:
        criterion = criteria()[row.criterion]
        yield Verdict(row, criterion, criterion.ask(grounds, **{**criterion.settings, **row.settings}), bound)


@cache
def _unbound(criterion: str, reviewed_on: date) -> Requirement:
    row = {
        "id": criterion,
        "criterion": criterion,
        "severity": "advise",
        "from": reviewed_on,
        "citation": "asked of every case; no row of this payer binds it",
        "known": "inference",
    }
    return Requirement.model_validate(row)


def _weight(verdict: Verdict) -> tuple[bool, int, int, int, str]:
    """Open ones first, then settled ones; within each by what they weigh, the answer and the heading."""
    severity = _SEVERITIES.index(verdict.severity)
    status = _STATUSES.index(verdict.answer.status)
    heading = list(HEADINGS).index(verdict.criterion.heading)
    return not verdict.open, severity, status, heading, verdict.requirement.id


def blocking(answered: Iterable[Verdict]) -> tuple[Verdict, ...]:
    """What must be settled before the packet can be sent."""
    return tuple(verdict for verdict in answered if verdict.blocks)
