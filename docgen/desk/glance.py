"""What stands beside every screen of a case: the evidence in one drawing, what contradicts itself, how it fits."""

from __future__ import annotations

from msgspec import Struct

from docgen.case.model import Case
from docgen.criteria.contradictions import contradictions
from docgen.figures.draw import drawings
from docgen.fit.finding import finding_name
from docgen.library import match_in, shelf_at
from docgen.packet.wording import wording
from docgen.rendering.svg import svg
from docgen.results import CaseCheck

_CHART = "methods_compared"


class Chart(Struct, frozen=True):
    """The drawing of a trial: as SVG, and in words."""

    svg: bytes
    alt: str


class Glance(Struct, frozen=True):
    """What is told beside a screen.

    chart           None where the trial has not enough for one
    contradictions  in sentences
    unmet, risks    findings that nothing requested meets; what can go wrong with a feature and has no answer
    lacking         what a feature must not go without, and does
    met             how many findings something requested meets
    leads           devices of the shelf that comes with the program, by name: those that stand first by the findings
    """

    chart: Chart | None
    contradictions: tuple[str, ...]
    met: int
    unmet: tuple[str, ...]
    risks: tuple[str, ...]
    lacking: tuple[str, ...]
    leads: tuple[str, ...]


def glance(check: CaseCheck) -> Glance:
    """The state of a case in a few lines."""
    case, fit = check.case, check.assessed.grounds.fit
    risky = [chosen for chosen in fit.chosen if chosen.at_odds and not chosen.answer]
    return Glance(
        chart(check),
        contradictions(check.verdicts),
        sum(bool(features) for features in fit.answers.values()),
        tuple(_finding(case, finding) for finding in fit.unmet),
        tuple(f"{chosen.feature.name}: {against.risk}" for chosen in risky for against in chosen.at_odds),
        tuple(f"{chosen.feature.name}: {need.risk}" for chosen in fit.chosen for need in chosen.lacking),
        _leads(check) if case.findings else (),
    )


def _leads(check: CaseCheck) -> tuple[str, ...]:
    match = match_in(check.assessed, shelf_at(None)).match
    return tuple(match.devices[device].device.name for device in match.leads)


def chart(check: CaseCheck) -> Chart | None:
    """The controls of a trial side by side, as the letter shows them."""
    words = wording().words["figures"]
    scene = drawings(check.case, check.assessed.evidence, words, [_CHART]).get(_CHART)
    return None if scene is None else Chart(svg(scene, "chart").encode(), scene.alt)


def _finding(case: Case, finding: str) -> str:
    return next((entry.says for entry in case.findings if entry.id == finding), finding_name(finding))
