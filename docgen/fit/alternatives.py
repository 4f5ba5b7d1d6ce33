"""Each device that was not chosen, held against the same findings: what rules it out, and what does not.

A device is ruled out by its trial (it did worse), by its features (a finding contraindicates one, needs that the
requested control meets are left unmet, or a measure is given), or by the client's condition (said with its reason).
What the record says rules it out is kept apart from what supports it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Literal

from msgspec import Struct
from pydantic import BaseModel, ConfigDict

from docgen.case.model import Case
from docgen.case.tried import Alternative
from docgen.evidence.difference import FEWEST_FOR_CLEARLY
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.feature import Against, Feature
from docgen.fit.finding import is_ability
from docgen.fit.match import Fit, against, driving_sites, features_of, is_of_other_side, met_by, site_of, spared_by
from docgen.shipped import tables_of

Ground = Literal["trial", "feature", "condition", "refusal"]
WORSE = ("clearly_worse", "worse_so_far")


class Kind(BaseModel):
    """What a kind of control brings with it, and the sites of the body it is driven by."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    sites: tuple[str, ...] = ()
    features: tuple[str, ...] = ()
    spoken_against_by: tuple[Against, ...] = ()


class Weighed(Struct, frozen=True):
    """A device not chosen, weighed.

    features     what it brings: its kind's, and those the case names
    answers      finding -> features that meet it, counting those of the request that it could carry too
    against      what speaks against it in this client, with the feature (None: its kind)
    unmet        needs that the requested control meets and this one would not; those about a site it leaves alone do
                 not count
    difference   its trial against the requested control
    grounds      what bears out that it is ruled out
    simpler      whether it stands before the requested control in the trial's order, simplest first
    """

    alternative: Alternative
    features: tuple[Feature, ...]
    answers: Mapping[str, tuple[Feature, ...]]
    against: tuple[tuple[Feature | None, Against], ...]
    unmet: tuple[str, ...]
    difference: Fact | None
    grounds: tuple[Ground, ...]
    simpler: bool

    @property
    def by_its_reason(self) -> bool:
        """Whether the record rules it out by something else than its trial, with the reason, and for a feature with the
        measure behind it."""
        ground = self.alternative.ruled_out_by
        has_measure = ground != "feature" or bool(self.alternative.measure)
        return ground in ("condition", "feature", "refusal") and bool(self.alternative.reason) and has_measure

    @property
    def preferred(self) -> bool:
        """Simpler, tried, as good in the trial as far as can be told, safe by its features, every need met, not refused
        by the client, and not ruled out by a reason that the record gives."""
        return (
            self.simpler
            and not self.alternative.had_no_fair_try
            and not self.by_its_reason
            and self.difference is not None
            and self.difference.verdict not in WORSE
            and bool(self.features)
            and not self.unmet
            and not any(risk.safety for _, risk in self.against)
        )


def did_worse(case: Case, evidence: Evidence, method: str | None) -> bool:
    """Whether a control did worse in a trial large enough to tell.

    Its interval leaves "as good" out, and neither it nor the requested control was used too few times.
    """
    difference = evidence.of("difference", method)
    used = [evidence.of("success", name) for name in (method, case.configuration.method)]
    return (
        difference is not None
        and difference.verdict in WORSE
        and difference.low is not None
        and difference.low > 0
        and all(fact is not None and fact.n >= FEWEST_FOR_CLEARLY for fact in used)
    )


@cache
def kinds() -> dict[str, Kind]:
    """Every kind of control that has features, by id."""
    text = (Path(__file__).parent / "kinds.toml").read_text(encoding="utf-8")
    return {name: Kind(**table) for name, table in tables_of(text).items()}


def weigh(case: Case, evidence: Evidence, fit: Fit) -> tuple[Weighed, ...]:
    """Every alternative of the case, in its order."""
    return tuple(_weighed(case, alternative, evidence, fit) for alternative in case.alternatives)


def _weighed(case: Case, alternative: Alternative, evidence: Evidence, fit: Fit) -> Weighed:
    findings = [f.id for f in case.findings if not f.only_in_bed and not is_of_other_side(f, alternative.limb)]
    kind = kinds().get(alternative.kind, Kind())
    known = features_of(case)
    own = {name: known[name] for name in (*kind.features, *alternative.features)}
    sites = driving_sites(own.values()) if any(feature.sites for feature in own.values()) else kind.sites
    spared = spared_by((c.feature, c.because) for c in fit.chosen if driving_sites([c.feature]) <= set(sites))
    has = [*own.values(), *(feature for feature in _carried(fit, own) if feature.id not in own)]
    answers = _answers(kind, has, findings, sites)
    speaks = tuple(_speaks(kind, own, findings, sites, spared))
    unmet = tuple(f for f in fit.answers if own and f not in answers and _is_need_of(f, sites))
    difference = evidence.of("difference", alternative.method)
    borne_out = did_worse(case, evidence, alternative.method) and not alternative.had_no_fair_try
    grounds = tuple(_grounds(alternative, borne_out, bool(speaks or unmet)))
    return Weighed(
        alternative, tuple(own.values()), answers, speaks, unmet, difference, grounds, _simpler(case, alternative)
    )


def _answers(
    kind: Kind, has: Collection[Feature], findings: list[str], sites: Collection[str]
) -> dict[str, tuple[Feature, ...]]:
    """Each finding that it answers, with the features that do: an ability at one of its sites alone."""
    barred = {no.finding for no in kind.spoken_against_by}
    return {
        f: met
        for f in findings
        if f not in barred and (met := met_by(f, has)) and (not is_ability(f) or site_of(f) in sites)
    }


def _is_need_of(finding: str, sites: Collection[str]) -> bool:
    """Whether a finding is a need of the whole person or of one of the sites."""
    return not is_ability(finding) and site_of(finding) in (None, *sites)


def _speaks(
    kind: Kind, own: Mapping[str, Feature], findings: list[str], sites: Collection[str], spared: Collection[str]
) -> Iterator[tuple[Feature | None, Against]]:
    """What speaks against it: feature by feature, then its site whatever its features."""
    for feature in own.values():
        for risk in against(feature, findings, sites, spared):
            yield feature, risk
    for risk in kind.spoken_against_by:
        if risk.finding in findings:
            yield None, risk


def _carried(fit: Fit, own: Mapping[str, Feature]) -> list[Feature]:
    """What is not of the control itself can be had with a simpler control too, where it goes with that alternative."""
    return [c.feature for c in fit.chosen if c.feature.part != "control" and c.feature.fits(own)]


def _grounds(alternative: Alternative, borne_out: bool, by_features: bool) -> Iterator[Ground]:
    """What rules it out: its trial, its features, the person's condition, the person's own no."""
    if borne_out:
        yield "trial"
    if by_features or (alternative.ruled_out_by == "feature" and alternative.reason and alternative.measure):
        yield "feature"
    if alternative.ruled_out_by == "condition" and alternative.reason:
        yield "condition"
    if alternative.ruled_out_by == "refusal" and alternative.reason:
        yield "refusal"


def _simpler(case: Case, alternative: Alternative) -> bool:
    ids = [method.id for method in case.trial.methods]
    asked = case.configuration.method
    return alternative.method in ids and asked in ids and ids.index(alternative.method) < ids.index(asked)
