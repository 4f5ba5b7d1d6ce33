"""Findings -> features called for -> the configuration chosen: what is tied, what is not, what is at odds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from docgen.case.model import Case
from docgen.errors import Problem, UserError, did_you_mean
from docgen.fit.feature import Feature, features


@dataclass(frozen=True, slots=True)
class Chosen:
    """A feature asked for: the findings given as its reason, and the findings that speak against it."""

    feature: Feature
    because: tuple[str, ...]
    at_odds: tuple[tuple[str, str, bool], ...]  # finding, risk, whether it is a safety risk
    answer: str | None
    note: str | None


@dataclass(frozen=True, slots=True)
class Fit:
    """How the configuration meets the findings.

    chosen      features asked for, in the order of the case
    unanswered  findings that neither a feature nor an item names as its reason
    unexplained ids of items with no feature and no finding behind them
    """

    chosen: tuple[Chosen, ...]
    unanswered: tuple[str, ...]
    unexplained: tuple[str, ...]

    def has(self, feature_id: str) -> bool:
        """Whether the feature is asked for."""
        return any(chosen.feature.id == feature_id for chosen in self.chosen)


def fit(case: Case, where: Callable[..., str]) -> Fit:
    """The fit of a case; `where` gives file and line of a key path.

    Raises UserError for a feature that does not exist.
    """
    problems = [
        Problem(where("configuration", "features", index, "id"), f"unknown feature '{wanted.id}'",
                did_you_mean(wanted.id, features()))
        for index, wanted in enumerate(case.configuration.features)
        if wanted.id not in features()
    ]
    if problems:
        raise UserError(problems)
    known = features()
    present = {finding.id for finding in case.findings}
    chosen = tuple(
        Chosen(
            feature=known[wanted.id],
            because=wanted.because,
            at_odds=tuple(
                (against.finding, against.risk, against.safety)
                for against in known[wanted.id].spoken_against_by
                if against.finding in present
            ),
            answer=wanted.answer,
            note=wanted.note,
        )
        for wanted in case.configuration.features
    )
    answered = {f for c in chosen for f in c.because} | {f for item in case.configuration.items for f in item.because}
    reasons = {c.feature.id for c in chosen if c.because}
    return Fit(
        chosen=chosen,
        unanswered=tuple(f.id for f in case.findings if f.id not in answered),
        unexplained=tuple(
            item.id for item in case.configuration.items
            if not item.because and not any(feature in reasons for feature in item.features)
        ),
    )
