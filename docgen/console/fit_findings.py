"""The part of `docgen fit` on findings: what meets each, what they call for, what contraindicates the request."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from docgen.case.model import Case
from docgen.case.need import Finding
from docgen.console.features import PART_TITLES, wrapped
from docgen.criteria.ordered import seat_motors
from docgen.criteria.sentences import capital, listed
from docgen.evidence.fact import Evidence
from docgen.fit.feature import PARTS, Against, Feature, features
from docgen.fit.finding import finding_name, is_ability
from docgen.fit.match import Fit, against, answering, driving_sites, features_of, set_aside, site_of, spared_by
from docgen.fit.signs import Sign, signs
from docgen.fit.stopping_means import has_already

_SEAT_MOVES = ("seat_functions_needed", "pressure_risk", "dizzy_upright")  # findings that ask for a seat that moves


def at_odds(case: Case, evidence: Evidence, fit: Fit) -> Iterator[str]:
    """What speaks against the requested features, those seen in the trial and those that can injure first."""
    seen = signs(case, evidence, case.configuration.method)
    risks = [(chosen, contra) for chosen in fit.chosen for contra in chosen.at_odds]
    for chosen, contra in sorted(
        risks, key=lambda pair: (not any(seen[s].seen for s in pair[1].signs), not pair[1].safety)
    ):
        yield from wrapped(
            f"{capital(chosen.feature.name)}, against {finding_name(contra.finding)}: "
            f"{contra.risk}{' A risk of injury.' if contra.safety else ''}"
        )
        if in_words := _in_the_trial(contra, seen):
            yield from wrapped(in_words, 4)
        yield from wrapped(f"answer: {chosen.answer}" if chosen.answer else "answer: not recorded", 4)
    for chosen in fit.chosen:
        for need in chosen.lacking:
            names = listed((features()[f].name for f in need.any_of), "or")
            yield from wrapped(
                f"{capital(chosen.feature.name)} without {names}: "
                f"{need.risk}{' A risk of injury.' if need.safety else ''}"
            )


def _in_the_trial(contra: Against, seen: Mapping[str, Sign]) -> str:
    """Whether the trial with the requested control bears a risk out."""
    if shown := [seen[name].in_words for name in contra.signs if seen[name].seen]:
        return f"in the trial: {listed(shown)}"
    if unseen := [seen[name].label for name in contra.signs if seen[name].seen is None]:
        return f"the trial does not record whether {listed(unseen, 'or')}"
    return f"not seen in the trial: {listed(seen[name].in_words for name in contra.signs)}" if contra.signs else ""


def not_looked_for(case: Case, fit: Fit) -> Iterator[str]:
    """Findings that would make a feature a risk of injury; the record is silent on them, and silence does not clear
    them."""
    present = {finding.id for finding in case.findings}
    for chosen in fit.chosen:
        absent = [
            contra.finding
            for contra in chosen.feature.spoken_against_by
            if contra.safety and contra.finding not in present
        ]
        if absent and chosen.feature.part == "control":
            yield from wrapped(f"{chosen.feature.name}: {listed(map(finding_name, absent), 'or')}")


def finding_lines(case: Case, fit: Fit, finding_id: str) -> Iterator[str]:
    """One finding: what meets or uses it, and what else it calls for."""
    finding = next(f for f in case.findings if f.id == finding_id)
    own = "; the therapist's own" if finding.own else ""
    yield from wrapped(f"{finding_id}: {finding.says.rstrip('.')} ({finding.measure or 'measure not recorded'}{own}).")
    if why := _says_nothing_of_it(case, finding):
        yield from wrapped(why, 4)
        return
    present = [feature.name for feature in fit.answers.get(finding_id, ())]
    items = [item.name for item in case.configuration.items if finding_id in item.because]
    if present or items:
        yield from wrapped(f"{'used by' if is_ability(finding_id) else 'met by'}: {listed([*present, *items])}", 4)
    for chosen in fit.chosen:
        if finding_id in chosen.because and finding_id not in chosen.feature.reasons:
            yield from wrapped(f"given as the reason for {chosen.feature.name}, which it does not call for", 4)
    if more := _to_consider(case, fit, finding_id):
        yield from wrapped(f"to consider: {'; '.join(more)}", 4)
    elif left_over := _not_used_or_met(case, fit, finding_id):
        yield from wrapped(left_over, 4)
    elif not present and not items:
        yield from wrapped(_called_for_by_none(case, finding_id), 4)


def _not_used_or_met(case: Case, fit: Fit, finding_id: str) -> str:
    """That nothing requested uses a movement or meets a need, and what would; empty where something does."""
    if finding_id not in (*fit.unused, *fit.unmet):
        return ""
    would = listed(feature.name for feature in answering(finding_id, features_of(case).values()))
    if finding_id in fit.unused:
        return f"used by nothing requested; {would} would use it"
    if site_of(finding_id) in (None, *driving_sites(chosen.feature for chosen in fit.chosen)):
        return f"met by nothing; it calls for {would}"
    return f"about a part of the body that does not drive; where it is to be met it calls for {would}"


def _says_nothing_of_it(case: Case, finding: Finding) -> str:
    """Why a finding says nothing of the control asked for; empty where it does."""
    if finding.id not in set_aside(case):
        return ""
    return (
        "holds in bed alone, and says nothing of what is requested"
        if finding.only_in_bed
        else "about the other side than the one that the control is at"
    )


def _to_consider(case: Case, fit: Fit, finding_id: str) -> list[str]:
    """Features, part by part, that a finding calls for and that are not requested."""
    if finding_id in fit.by_item:
        return []
    called_for = (
        tuple(
            feature
            for feature in missing.features
            if (feature.part != "seat" or _has_power_seat(case)) and not has_already(case, feature)
        )
        for missing in fit.missing
        if missing.finding == finding_id
    )
    return [in_words for choices in called_for if (in_words := _worth_a_look(case, fit, choices))]


def _has_power_seat(case: Case) -> bool:
    """Whether a seat that moves by power is recorded, ordered, or called for by a finding."""
    return bool(seat_motors(case) or any(finding.id in _SEAT_MOVES for finding in case.findings))


def _called_for_by_none(case: Case, finding_id: str) -> str:
    """What a finding that calls for no feature says of the features there are."""
    against_this = [
        feature.name
        for feature in features_of(case).values()
        if any(contra.finding == finding_id for contra in feature.spoken_against_by)
    ]
    return (
        f"calls for no feature; it is a contraindication to {listed(against_this)}"
        if against_this
        else "no feature bears on it"
    )


def _worth_a_look(case: Case, fit: Fit, choices: Iterable[Feature]) -> str:
    """Names of features with what speaks against each in this client; without those that could injure."""
    in_words: list[str] = []
    for feature in choices:
        sites = driving_sites([*(chosen.feature for chosen in fit.chosen), feature])
        doubts = against(
            feature,
            [finding.id for finding in case.findings],
            sites,
            spared_by((c.feature, c.because) for c in fit.chosen),
        )
        if not any(contra.safety for contra in doubts):
            in_words.append(
                feature.name + (f" (but {listed(finding_name(contra.finding) for contra in doubts)})" if doubts else "")
            )
    return listed(in_words, "or")


def candidates(case: Case) -> Iterator[str]:
    """Before a choice: what moves, then part by part which features are called for, and what speaks against each."""
    findings = [finding.id for finding in case.findings]
    for finding in case.findings:
        if is_ability(finding.id):
            yield from wrapped(f"Moves: {finding.says.rstrip('.')} ({finding.measure or 'measure not recorded'}).")
    for part in PARTS:
        wanted = [
            (feature, [f for f in findings if f in feature.called_for_by])
            for feature in features_of(case).values()
            if feature.part == part
        ]
        wanted = sorted(
            ((feature, called) for feature, called in wanted if called), key=lambda pair: (-len(pair[1]), pair[0].id)
        )
        if wanted:
            yield from wrapped(PART_TITLES[part])
        for feature, called in wanted:
            contras = against(feature, findings, driving_sites([feature]))
            yield from wrapped(
                f"{feature.name}: for {listed(map(finding_name, called))}"
                + (f"; against: {listed(finding_name(contra.finding) for contra in contras)}" if contras else ""),
                4,
            )
