"""Findings -> features called for -> the configuration chosen: what is tied, what is missing, what is at odds.

A finding is met by any requested feature that it calls for. The therapist's own reasons (`because`) are kept
apart from what the feature files say, so that each can be held against the other.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.need import Finding
from docgen.errors import Problem, UserError
from docgen.fit.condition import unknown_conditions
from docgen.fit.feature import PARTS, Against, Feature, Need, Where, features, unknown_feature
from docgen.fit.finding import is_ability, unknown_findings

# first word of a finding's id -> site of the body
_SITES = {
    "hand": "hand",
    "grip": "hand",
    "finger": "hand",
    "head": "head",
    "neck": "head",
    "rear": "head",
    "chin": "chin",
    "jaw": "chin",
    "breath": "mouth",
    "lip": "mouth",
    "saliva": "mouth",
    "foot": "foot",
    "leg": "foot",
}
ALL_SITES = frozenset(_SITES.values())
_LIMBS = {"hand": "hand", "arm": "hand", "knee": "foot", "foot": "foot"}  # site of a part -> that of findings
_OTHER_SIDE = {"left": "right", "right": "left"}


class Chosen(Struct, frozen=True):
    """A requested feature.

    because   findings the therapist gives as its reason
    calling   findings of this client that call for it, by its file
    at_odds   findings of this client that speak against it
    lacking   what it must not go without, and does
    """

    feature: Feature
    because: tuple[str, ...]
    calling: tuple[str, ...]
    at_odds: tuple[Against, ...]
    lacking: tuple[Need, ...]
    answer: str | None
    note: str | None


class CalledFor(Struct, frozen=True):
    """Features of one part that a finding calls for and of which none is requested."""

    finding: str
    part: str
    features: tuple[Feature, ...]


class Fit(Struct, frozen=True):
    """How the configuration meets the findings.

    chosen       requested features, in the order of the case
    answers      finding -> requested features that it calls for
    by_item      findings that an item of the order answers directly
    unmet        needs that call for features and are met by none, nor by an item
    unused       movements the client has that nothing requested uses
    missing      what more is called for, part by part, where it goes with the requested control
    unanswered   findings that neither a feature nor an item names as its reason
    unexplained  ids of items with no feature and no finding behind them
    needed       ids of features that one asked for must not go without
    reason_elsewhere  ids of features asked for whose reason is who is near, or the control that runs on them
    """

    chosen: tuple[Chosen, ...]
    answers: Mapping[str, tuple[Feature, ...]]
    by_item: tuple[str, ...]
    unmet: tuple[str, ...]
    unused: tuple[str, ...]
    missing: tuple[CalledFor, ...]
    unanswered: tuple[str, ...]
    unexplained: tuple[str, ...]
    needed: frozenset[str]
    reason_elsewhere: frozenset[str]

    def has(self, feature_id: str) -> bool:
        """Whether the feature is requested."""
        return any(chosen.feature.id == feature_id for chosen in self.chosen)

    @property
    def left_open(self) -> tuple[str, ...]:
        """Needs that nothing requested meets, that are no reason of a feature, and that speak against none of them."""
        reasons = {finding for chosen in self.chosen for finding in chosen.because}
        weighed = {against.finding for chosen in self.chosen for against in chosen.at_odds}
        return tuple(finding for finding in self.unmet if finding not in reasons | weighed)

    @property
    def uncalled(self) -> tuple[Chosen, ...]:
        """Features asked for that no finding of this client calls for."""
        return tuple(chosen for chosen in self.chosen if not chosen.calling)


def fit(case: Case, where: Where) -> Fit:
    """The fit of a case; `where` gives file and line of a key path.

    Raises UserError for a feature or a finding that does not exist, naming the nearest.
    """
    _check_names(case, where)
    known, aside = features_of(case), set_aside(case)
    asked = {wanted.id: known[wanted.id] for wanted in case.configuration.features}
    findings = tuple(finding.id for finding in case.findings if finding.id not in aside)
    answers = {finding: present for finding in findings if (present := met_by(finding, asked.values()))}
    of_items = _reasons_of_items(case)
    by_item = tuple(finding for finding in findings if finding in of_items)
    reason_elsewhere = frozenset(name for name, feature in asked.items() if feature.needs_no_finding(asked))
    unmet = _unmet([finding for finding in findings if finding not in answers and finding not in by_item], known)
    return Fit(
        chosen=_chosen(case, findings, asked),
        answers=answers,
        by_item=by_item,
        unmet=tuple(finding for finding in unmet if not is_ability(finding)),
        unused=tuple(finding for finding in unmet if is_ability(finding)),
        missing=tuple(_missing(known, findings, asked, by_item)),
        unanswered=tuple(_unanswered(case, findings)),
        unexplained=tuple(_unexplained(case, reason_elsewhere)),
        needed=frozenset(_needed(asked.values(), findings)),
        reason_elsewhere=reason_elsewhere,
    )


def _check_names(case: Case, where: Where) -> None:
    if problems := [
        *unknown_findings(case, where),
        *_unknown_features(case, where),
        *unknown_conditions(case, where),
    ]:
        raise UserError(problems)


def _reasons_of_items(case: Case) -> frozenset[str]:
    """Findings that a line of the order answers directly."""
    return frozenset(finding for item in case.configuration.items for finding in item.because)


def set_aside(case: Case) -> frozenset[str]:
    """Findings that say nothing of the control asked for: those that hold in bed alone, and those of an arm or a leg
    where each part of the control at such a limb is at the other side."""
    limbs = _limbs_of_control(case)
    return frozenset(
        finding.id
        for finding in case.findings
        if finding.only_in_bed
        or (finding.side in _OTHER_SIDE and limbs.get(site_of(finding.id) or "") == {_OTHER_SIDE[finding.side]})
    )


def _limbs_of_control(case: Case) -> dict[str, set[str]]:
    """Site -> at which sides of the client parts of the control are mounted there."""
    limbs: dict[str, set[str]] = {}
    for part in case.configuration.mounting:
        if part.site in _LIMBS and part.limb:
            limbs.setdefault(_LIMBS[part.site], set()).add(part.limb)
    return limbs


def may_be_of_other_side(case: Case, finding_id: str) -> bool:
    """Whether the record does not say on which side a finding is, and the control is at one limb of its site alone."""
    sides = [finding.side for finding in case.findings if finding.id == finding_id]
    return None in sides and len(_limbs_of_control(case).get(site_of(finding_id) or "", ())) == 1


def is_of_other_side(finding: Finding, limb: str | None) -> bool:
    """Whether a finding is of one arm or leg, and this is the other."""
    return limb is not None and finding.side in _OTHER_SIDE and limb == _OTHER_SIDE[finding.side]


def _unmet(unanswered: Sequence[str], known: Mapping[str, Feature]) -> list[str]:
    """The unanswered findings that some feature is called for by."""
    if not unanswered:
        return []
    called = {finding for feature in known.values() for finding in feature.called_for_by}
    return [finding for finding in unanswered if finding in called]


def features_of(case: Case) -> Mapping[str, Feature]:
    """Every feature, called for and spoken against by the findings of the therapist's own too."""
    known = features()
    own = [finding for finding in case.findings if finding.own]
    touched = {name for finding in own for name in (*finding.calls_for, *finding.speaks_against) if name in known}
    return known if not touched else {**known, **{name: _with_own(known[name], own) for name in touched}}


def _with_own(feature: Feature, own: Sequence[Finding]) -> Feature:
    calling = tuple(finding.id for finding in own if feature.id in finding.calls_for)
    against_it = tuple(
        Against(finding=finding.id, risk=f"{finding.says.rstrip('. ')}.")
        for finding in own
        if feature.id in finding.speaks_against
    )
    return feature.model_copy(
        update={
            "called_for_by": (*feature.called_for_by, *calling),
            "spoken_against_by": (*feature.spoken_against_by, *against_it),
        }
    )


def _unknown_features(case: Case, where: Where) -> Iterator[Problem]:
    known = features()
    for path, wanted in _named(case):
        if wanted not in known:
            yield Problem(where(*path), *unknown_feature(wanted))


def _unanswered(case: Case, findings: Iterable[str]) -> Iterator[str]:
    """The findings that neither a feature nor a line of the order names as its reason."""
    of_features = {finding for wanted in case.configuration.features for finding in wanted.because}
    reasons = of_features | _reasons_of_items(case)
    return (finding for finding in findings if finding not in reasons)


def _unexplained(case: Case, reason_elsewhere: frozenset[str]) -> Iterator[str]:
    reasons = {wanted.id for wanted in case.configuration.features if wanted.because} | reason_elsewhere
    for item in case.configuration.items:
        if not item.because and not any(feature in reasons for feature in item.features):
            yield item.id


def _needed(asked: Iterable[Feature], findings: Collection[str]) -> Iterator[str]:
    return (other for feature in asked for need in _arising(feature, findings) for other in need.any_of)


def _chosen(case: Case, findings: Collection[str], asked: Mapping[str, Feature]) -> tuple[Chosen, ...]:
    """Each requested feature, held against the findings."""
    sites = driving_sites(asked.values())
    spared = spared_by((asked[wanted.id], wanted.because) for wanted in case.configuration.features)
    return tuple(
        Chosen(
            asked[wanted.id],
            wanted.because,
            tuple(f for f in asked[wanted.id].reasons if f in findings),
            against(asked[wanted.id], findings, sites, spared),
            tuple(_lacking(asked[wanted.id], findings, asked, case)),
            wanted.answer,
            wanted.note,
        )
        for wanted in case.configuration.features
    )


def answering(finding: str, among: Iterable[Feature]) -> tuple[Feature, ...]:
    """The features that a finding calls for."""
    return tuple(feature for feature in among if finding in feature.called_for_by)


def met_by(finding: str, among: Iterable[Feature]) -> tuple[Feature, ...]:
    """The features, of those that there are, that meet a finding: it calls for them or is reason enough for them."""
    return tuple(feature for feature in among if finding in feature.reasons)


def against(
    feature: Feature, findings: Collection[str], sites: Collection[str], spared: Collection[str] = ()
) -> tuple[Against, ...]:
    """What speaks against a feature in someone with these findings.

    A way of driving that can stand at any site (a stick, on-off sensing) is held only against findings about the
    sites that drive: a hand that cannot grade says nothing against a stick at the foot. `spared` are findings for
    which a site that drives was chosen, and which therefore leave that site alone.
    """
    anywhere = feature.part == "control" and not feature.sites
    return tuple(
        risk
        for risk in feature.spoken_against_by
        if risk.finding in findings
        and not (anywhere and (risk.finding in spared or site_of(risk.finding) not in (None, *sites)))
    )


def spared_by(chosen: Iterable[tuple[Feature, Collection[str]]]) -> frozenset[str]:
    """Findings given as the reason for a control at a site of its own, which they call for; pairs of feature and
    reasons."""
    return frozenset(
        finding
        for feature, because in chosen
        if feature.part == "control" and feature.sites
        for finding in because
        if finding in feature.called_for_by
    )


def site_of(finding: str) -> str | None:
    """Site of the body a finding is about, by its first word; None for one about the whole person."""
    return _SITES.get(finding.partition("_")[0])


def driving_sites(asked: Iterable[Feature]) -> frozenset[str]:
    """Sites that drive: those of the features' own parts; every site when none of them says where it is."""
    return (
        frozenset(site.partition("_")[0] for feature in asked if feature.part == "control" for site in feature.sites)
        or ALL_SITES
    )


def _named(case: Case) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Every place of a case that names a feature."""
    for index, finding in enumerate(case.findings):
        for key in ("calls_for", "speaks_against"):
            for feature in getattr(finding, key):
                yield ("findings", index, key), feature
    for index, wanted in enumerate(case.configuration.features):
        yield ("configuration", "features", index, "id"), wanted.id
    for index, method in enumerate(case.trial.methods):
        for key in ("features", "without"):
            for feature in getattr(method, key):
                yield ("trial", "methods", index, key), feature
    for index, alternative in enumerate(case.alternatives):
        for feature in alternative.features:
            yield ("alternatives", index, "features"), feature


def _arising(feature: Feature, findings: Collection[str]) -> Iterator[Need]:
    """What the feature must not go without in someone with these findings."""
    return (need for need in feature.needs if not need.when or any(finding in findings for finding in need.when))


def _lacking(feature: Feature, findings: Collection[str], asked: Collection[str], case: Case) -> Iterator[Need]:
    gaps = {mount.site for mount in case.configuration.mounting if mount.gap_mm}
    for need in _arising(feature, findings):
        if not any(other in asked for other in need.any_of) and need.or_gap not in gaps:
            yield need


def _missing(
    known: Mapping[str, Feature], findings: Collection[str], asked: Mapping[str, Feature], by_item: Collection[str]
) -> Iterator[CalledFor]:
    """Part by part, where the finding is about the whole person or a site that drives.

    A feature counts only where its host is requested; what speaks against it is told beside it and takes nothing away.
    """
    if not findings:
        return
    sites = driving_sites(asked.values())
    able = [f for f in known.values() if f.id not in asked and f.fits(asked)]
    for finding in findings:
        if site_of(finding) not in (None, *sites) or is_ability(finding):
            continue
        met = {feature.part for feature in met_by(finding, asked.values())} | (
            {"control"} if finding in by_item else set()
        )
        called_for = answering(finding, able)
        for part in PARTS:
            wanted = tuple(feature for feature in called_for if feature.part == part)
            if wanted and part not in met:
                yield CalledFor(finding, part, wanted)
