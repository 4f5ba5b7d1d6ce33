"""What `docgen fit` prints, as text for people and as JSON for programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from docgen.case.model import Case
from docgen.console.features import PART_TITLES, plain, wrapped
from docgen.criteria.sentences import capital, counted, k_of_n, listed, points
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.alternatives import Weighed
from docgen.fit.feature import PARTS, Against, Feature, features
from docgen.fit.finding import finding_name, is_ability
from docgen.fit.match import Chosen, Fit, against, answering, driving_sites, features_of, spared_by
from docgen.fit.settings import VERIFY
from docgen.fit.signs import Sign, signs
from docgen.library import CaseFit
from docgen.terms import terms
from docgen.units import decimals, speed, stretch


def _names(some: Iterable[Feature]) -> str:
    return listed(feature.name for feature in some)


# ---- fit ---------------------------------------------------------------------------------------------


def fit_text(result: CaseFit) -> str:
    """What could hurt first, then findings, features and devices not chosen, then what the settings bear."""
    case, fit, evidence = result.case, result.fit, result.evidence
    if not case.findings:
        return (
            f"{case.id}: no finding is recorded, so nothing can be called for.\n\nAdd [[findings]] to "
            f"{result.file.folder / 'case.toml'}; "
            "the words to use: docgen features"
        )
    weighed = result.alternatives
    sections = (
        ("", list(_first(case, fit, weighed))),
        ("CAN DO HARM, OR IS A CONTRAINDICATION TO WHAT IS ASKED FOR", list(_at_odds(case, evidence, fit))),
        ("WOULD BE A CONTRAINDICATION; NOT AMONG THE FINDINGS", list(_not_looked_for(case, fit))),
        ("FINDINGS", [line for finding in case.findings for line in _finding(case, fit, finding.id)]),
        ("WHAT THE FINDINGS CALL FOR", list(_candidates(case)) if not fit.chosen else []),
        ("EACH CONTROL AGAINST THE SAME FINDINGS", list(_table(case, evidence, fit, weighed))),
        ("DEVICES NOT CHOSEN", list(_devices(case, evidence, weighed))),
        ("DRIVE SETTINGS: THE MOST THE TRIAL SUPPORTS, AND WHICH WAY TO ADJUST", list(_settings(result))),
        ("MOUNTING RECORD", list(_mounting(result))),
    )
    lines = [f"{case.id}: findings, features and what was tried"]
    for title, body in sections:
        if body:
            lines += ["", *([title] if title else []), *body]
    return "\n".join(lines)


def _first(case: Case, fit: Fit, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    """What is asked for, and each open point in a sentence. The clinician decides."""
    if case.configuration.summary:
        yield from wrapped(f"Asked for: {case.configuration.summary}.", 0)
    points_open = [*_open_beside(fit, weighed), *_open_of_request(fit)]
    for text in points_open:
        yield from wrapped(f"- {text}", 0)
    if fit.chosen and not points_open:
        yield from wrapped(
            "Each finding is met or used by a part of what is asked for, or calls for none. Whether that is "
            "enough is the clinician's to say.",
            0,
        )


def _open_beside(fit: Fit, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    """Simpler controls that are to be preferred, and those that nothing rules out."""
    for device in weighed:
        if device.preferred:
            needs = (
                "meets every need that the control asked for meets"
                if fit.answers
                else "leaves no more needs open than the control asked for"
            )
            yield (
                f"As recorded, the request is not supported: {device.alternative.name} is simpler, {needs}, and the "
                f"trial does not show it to be worse ({_points(device.difference)})."
            )
        elif device.features and not device.grounds:
            yield f"Nothing in the record rules out {device.alternative.name}."


def _open_of_request(fit: Fit) -> Iterator[str]:
    """What could injure without an answer, findings without a part for them, and parts without a finding."""
    if bad := [c for c in fit.chosen if any(no.safety for no in c.at_odds) and not c.answer]:
        yield f"{capital(listed(c.feature.name for c in bad))} can do harm to this client, and no answer is recorded."
    if fit.chosen and fit.unmet:
        yield f"Nothing asked for meets: {listed(map(finding_name, fit.unmet))}."
    if fit.chosen and fit.unused:
        yield f"A movement that nothing asked for uses: {listed(map(finding_name, fit.unused))}."
    if fit.uncalled:
        yield f"No finding recorded calls for {listed(chosen.feature.name for chosen in fit.uncalled)}."


def _points(difference: Fact | None) -> str:
    """The difference as the control asked for less the other."""
    return "not tried" if difference is None else f"difference, control asked for less this one: {points(difference)}"


def _at_odds(case: Case, evidence: Evidence, fit: Fit) -> Iterator[str]:
    seen = signs(case, evidence, case.configuration.method)
    risks = [(chosen, no) for chosen in fit.chosen for no in chosen.at_odds]
    for chosen, no in sorted(
        risks, key=lambda pair: (not any(seen[s].seen for s in pair[1].signs), not pair[1].safety)
    ):
        yield from wrapped(
            f"{capital(chosen.feature.name)}, against {finding_name(no.finding)}: "
            f"{no.risk}{' A risk of injury.' if no.safety else ''}"
        )
        if in_words := _in_the_trial(no, seen):
            yield from wrapped(in_words, 4)
        yield from wrapped(f"answer: {chosen.answer}" if chosen.answer else "answer: not recorded", 4)
    for chosen in fit.chosen:
        for need in chosen.lacking:
            names = listed((features()[f].name for f in need.any_of), "or")
            yield from wrapped(
                f"{capital(chosen.feature.name)} without {names}: "
                f"{need.risk}{' A risk of injury.' if need.safety else ''}"
            )


def _in_the_trial(no: Against, seen: Mapping[str, Sign]) -> str:
    """Whether the trial with the control asked for bears a risk out."""
    if shown := [seen[name].in_words for name in no.signs if seen[name].seen]:
        return f"in the trial: {listed(shown)}"
    if unseen := [seen[name].label for name in no.signs if seen[name].seen is None]:
        return f"the trial does not record whether {listed(unseen, 'or')}"
    return f"not seen in the trial: {listed(seen[name].in_words for name in no.signs)}" if no.signs else ""


def _not_looked_for(case: Case, fit: Fit) -> Iterator[str]:
    """Findings that would make a feature a risk of injury; the record is silent on them, and silence does not clear
    them."""
    present = {finding.id for finding in case.findings}
    for chosen in fit.chosen:
        absent = [no.finding for no in chosen.feature.spoken_against_by if no.safety and no.finding not in present]
        if absent and chosen.feature.part == "control":
            yield from wrapped(f"{chosen.feature.name}: {listed(map(finding_name, absent), 'or')}")


def _finding(case: Case, fit: Fit, finding_id: str) -> Iterator[str]:
    finding = next(f for f in case.findings if f.id == finding_id)
    own = "; the therapist's own" if finding.own else ""
    yield from wrapped(f"{finding_id}: {finding.says.rstrip('.')} ({finding.measure or 'measure not recorded'}{own}).")
    present = [feature.name for feature in fit.answers.get(finding_id, ())]
    items = [item.name for item in case.configuration.items if finding_id in item.because]
    if present or items:
        yield from wrapped(f"{'used by' if is_ability(finding_id) else 'met by'}: {listed([*present, *items])}", 4)
    for chosen in fit.chosen:
        if finding_id in chosen.because and finding_id not in chosen.feature.called_for_by:
            yield from wrapped(f"given as the reason for {chosen.feature.name}, which it does not call for", 4)
    if more := _to_consider(case, fit, finding_id):
        yield from wrapped(f"to consider: {'; '.join(more)}", 4)
    elif finding_id in fit.unused:
        yield from wrapped(
            f"used by nothing asked for; {_names(answering(finding_id, features_of(case).values()))} would use it", 4
        )
    elif finding_id in fit.unmet:
        yield from wrapped(
            f"met by nothing; it calls for {_names(answering(finding_id, features_of(case).values()))}", 4
        )
    elif not present and not items:
        yield from wrapped(_called_for_by_none(case, finding_id), 4)


def _to_consider(case: Case, fit: Fit, finding_id: str) -> list[str]:
    """Features, part by part, that a finding calls for and that are not asked for."""
    if finding_id in fit.by_item:
        return []
    called_for = (missing.features for missing in fit.missing if missing.finding == finding_id)
    return [in_words for some in called_for if (in_words := _worth_a_look(case, fit, some))]


def _called_for_by_none(case: Case, finding_id: str) -> str:
    """What a finding that calls for no feature says of the features there are."""
    against_this = [
        feature.name
        for feature in features_of(case).values()
        if any(no.finding == finding_id for no in feature.spoken_against_by)
    ]
    return (
        f"calls for no feature; it is a contraindication to {listed(against_this)}"
        if against_this
        else "no feature bears on it"
    )


def _worth_a_look(case: Case, fit: Fit, some: Iterable[Feature]) -> str:
    """Names of features with what speaks against each in this client; without those that could injure."""
    in_words: list[str] = []
    for feature in some:
        sites = driving_sites([*(chosen.feature for chosen in fit.chosen), feature])
        doubts = against(
            feature,
            [finding.id for finding in case.findings],
            sites,
            spared_by((c.feature, c.because) for c in fit.chosen),
        )
        if not any(no.safety for no in doubts):
            in_words.append(
                feature.name + (f" (but {listed(finding_name(no.finding) for no in doubts)})" if doubts else "")
            )
    return listed(in_words, "or")


def _candidates(case: Case) -> Iterator[str]:
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
            no = against(feature, findings, driving_sites([feature]))
            yield from wrapped(
                f"{feature.name}: for {listed(map(finding_name, called))}"
                + (
                    f"; against: {listed(finding_name(contraindication.finding) for contraindication in no)}"
                    if no
                    else ""
                ),
                4,
            )


def _table(case: Case, evidence: Evidence, fit: Fit, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    """A row a finding, a column a control, each judged by itself."""
    shown = [device for device in weighed if device.features]
    if not shown or not fit.chosen:
        return
    yield from wrapped(f"0  the control asked for{_done(evidence, case.configuration.method)}", hang=3)
    for number, device in enumerate(shown, 1):
        yield from wrapped(f"{number}  {device.alternative.name}{_done(evidence, device.alternative.method)}", hang=3)
    yield ""
    width = max(len(finding.id) for finding in case.findings)
    yield f"  {'':<{width}}  " + "  ".join(str(n) for n in range(len(shown) + 1))
    for finding in (f.id for f in case.findings):
        marks = [_mark_of_request(fit, finding), *(_mark(device, finding) for device in shown)]
        yield f"  {finding:<{width}}  {' '.join(marks)}".rstrip()
    grounds = ["".join(ground[0].upper() for ground in device.grounds)[:2] or "-" for device in shown]
    yield f"  {'ruled out by':<{width}}  {' '.join(f'{mark:<2}' for mark in ['', *grounds])}".rstrip()
    yield from wrapped(
        "+ met, or a movement used   ! contraindication   ? met by the control asked for, not by this one   "
        "T trial, F features, C condition (as the reason below says)"
    )


def _mark_of_request(fit: Fit, finding: str) -> str:
    """Two characters of the table: whether the control asked for meets a finding, and whether the finding speaks
    against it."""
    against_it = any(no.finding == finding for chosen in fit.chosen for no in chosen.at_odds)
    return ("+" if finding in fit.answers or finding in fit.by_item else " ") + ("!" if against_it else " ")


def _mark(device: Weighed, finding: str) -> str:
    """The same of a control that was not chosen."""
    against_it = any(no.finding == finding for _, no in device.against)
    return ("+" if finding in device.answers else "?" if finding in device.unmet else " ") + (
        "!" if against_it else " "
    )


def _done(evidence: Evidence, method: str | None) -> str:
    """Attempts done, stops and slowest release of one control, where it was tried."""
    in_words = [
        f"{k_of_n(fact)} {what}"
        for what, fact in (("done", evidence.of("success", method)), ("stops", evidence.of("stop_request", method)))
        if fact
    ]
    slowest = evidence.of("release_slowest", method)
    in_words += [f"slowest release {slowest.value:.2g} s"] if slowest and slowest.value is not None else []
    return f": {', '.join(in_words)}" if in_words else ": not tried"


def _devices(case: Case, evidence: Evidence, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    simple = [device for device in weighed if not device.features and device.difference is None]
    for device in (device for device in weighed if device not in simple):
        yield from _device(case, evidence, device)
    if simple:
        yield from wrapped(
            "; ".join(
                f"{device.alternative.name}, by {device.alternative.ruled_out_by or 'nothing recorded'}"
                for device in simple
            ).join(("Not controls: ", "."))
        )


_VERDICTS = {
    "clearly_worse": "clearly fewer",
    "worse_so_far": "fewer in this trial",
    "not_told_apart": "too close to tell apart",
    "better_so_far": "more in this trial",
    "clearly_better": "clearly more",
}


def _kind(kind: str | None, name: str) -> str:
    """The trade's term for the kind of control, in brackets; nothing where the name says it, or it is no control."""
    term = terms("kinds").get(kind or "")
    return f" ({term.term})" if term and term.term not in name.lower() else ""


def _device(case: Case, evidence: Evidence, weighed: Weighed) -> Iterator[str]:
    device = weighed.alternative
    yield from wrapped(
        f"{capital(device.name)}{_kind(device.kind, device.name)}. Said to be ruled out by: "
        f"{(device.ruled_out_by or 'not recorded').replace('feature', 'its features')}."
    )
    asked, own = evidence.of("success", case.configuration.method), evidence.of("success", device.method)
    if own and weighed.difference and asked:
        yield from wrapped(
            f"trial: {k_of_n(own)} done, control asked for {k_of_n(asked)}; difference "
            f"{points(weighed.difference)}, with this one {_VERDICTS[weighed.difference.verdict]}",
            4,
        )
    elif device.ruled_out_by == "trial":
        yield from wrapped("trial: no rows", 4)
    for feature, no in weighed.against:
        yield from wrapped(
            f"features: {feature.name if feature else 'its site'}, against {finding_name(no.finding)}: {no.risk}", 4
        )
    if weighed.unmet:
        yield from wrapped(f"leaves unmet: {listed(map(finding_name, weighed.unmet))}", 4)
    if device.reason:
        yield from wrapped(f"reason: {device.reason.rstrip('.')}{f' ({device.measure})' if device.measure else ''}", 4)
    if not weighed.grounds:
        yield from wrapped("nothing in the record rules it out", 4)
    elif device.ruled_out_by not in (*weighed.grounds, "nothing", None):
        yield from wrapped(f"what is said does not bear it out; what does: {listed(weighed.grounds)}", 4)


def _release_used(evidence: Evidence) -> str:
    """Which release the distances rest on, where it is not the slowest seen."""
    release = evidence.stopping.release
    if release.why != "bound" or release.seconds is None:
        return ""
    return (
        f" Distances are worked out with a release of {release.seconds:.2g} s, the tolerance bound, not the "
        "slowest seen."
    )


def _settings(result: CaseFit) -> Iterator[str]:
    case, evidence, known = result.case, result.evidence, result.settings
    method = next((m for m in case.trial.methods if m.id == case.configuration.method), None)
    if known and method:
        yield from wrapped(f"With {method.name}{_done(evidence, method.id)}.{_release_used(evidence)}")
    for limit in known:
        own = (
            f"; recorded {limit.recorded:g}" + (", which is above it" if limit.over else "")
            if limit.recorded is not None
            else "; none recorded"
        )
        most = f"at most {decimals(limit.value, 2, 'down')} {limit.unit}"
        yield from wrapped(f"{capital(limit.profile.name)}, {limit.name}: {most}, {limit.reason}{own}.")
    if known:
        missed = evidence.of("stops_missed", case.configuration.method)
        yield from wrapped(
            (
                "A missed stop has no stopping distance, and one was missed: these figures do not cover it. "
                if missed
                else ""
            )
            + "They hold no margin; that is for the clinician to add."
        )
    for other in result.alternatives:
        yield from _instead(case, evidence, other)
    for change in result.moves:
        reasons = "; ".join(f"{move.move}, because {listed(whys)}: {move.because}" for move, whys in change.first)
        then = "".join(
            f" Only when that is settled on the chair: {move.move}, because {listed(whys)}."
            for move, whys in change.then
        )
        yield from wrapped(f"{capital(change.setting.name)}: {reasons}.{then} Watch: {change.setting.watch}.")
    if case.configuration.profiles:
        yield from wrapped(VERIFY + " Change one thing, try it, write it down.")


def _instead(case: Case, evidence: Evidence, weighed: Weighed) -> Iterator[str]:
    """Stopping with the simpler control that is to be preferred, at the speeds asked for."""
    for profile in case.configuration.profiles if weighed.preferred else ():
        own, asked = (
            evidence.of("stopping_with", weighed.alternative.method, profile.id),
            evidence.of("stopping", profile.id),
        )
        if own and own.value is not None and asked and asked.value is not None:
            yield from wrapped(
                f"{capital(profile.name)}, at {speed(profile.speed_m_s or 0)}: with {weighed.alternative.name} the "
                f"chair would stop in {stretch(own.value, 'up')}, "
                f"with the control asked for in {stretch(asked.value, 'up')}."
            )


def _mounting(result: CaseFit) -> Iterator[str]:
    for site in result.sites_lacking:
        yield from wrapped(f"No part is recorded at: {plain(site)}.")
    for doubt in result.doubts:
        yield from wrapped(f"Measure again: {doubt.says}")
    if (mounting := result.case.configuration.mounting) and not result.sites_lacking and not result.doubts:
        yield from wrapped(
            f"{counted(len(mounting), 'part is', 'parts are')} recorded. The figures agree with each other; "
            "they are not checked on the chair."
        )


# ---- JSON --------------------------------------------------------------------------------------------


def fit_json(result: CaseFit) -> dict[str, Any]:
    """The same for programs: format "docgen fit 1"."""
    case, fit = result.case, result.fit
    return {
        "format": "docgen fit 1",
        "case": case.id,
        "asked_for": case.configuration.method,
        "features": [_chosen_json(chosen) for chosen in fit.chosen],
        "findings": [
            {
                "id": finding.id,
                "says": finding.says,
                "measure": finding.measure,
                "met_by": [feature.id for feature in fit.answers.get(finding.id, ())],
                "met_by_items": [item.id for item in case.configuration.items if finding.id in item.because],
                "missing": [
                    {"part": missing.part, "any_of": [f.id for f in missing.features]}
                    for missing in fit.missing
                    if missing.finding == finding.id
                ],
                "called_for": [feature.id for feature in answering(finding.id, features_of(case).values())],
                "unmet": finding.id in fit.unmet,
                "unused": finding.id in fit.unused,
            }
            for finding in case.findings
        ],
        "unexplained_items": list(fit.unexplained),
        "alternatives": [_weighed_json(device) for device in result.alternatives],
        "settings": [
            {
                "profile": limit.profile.id,
                "setting": limit.setting,
                "at_most": limit.value,
                "unit": limit.unit,
                "recorded": limit.recorded,
                "fact": limit.fact.id,
                "formula": limit.fact.formula,
                "reason": limit.reason,
            }
            for limit in result.settings
        ],
        "moves": [
            {
                "setting": change.setting.name,
                "move": change.move,
                "watch": change.setting.watch,
                "first": [
                    {"seen": list(whys), "move": move.move, "because": move.because} for move, whys in change.first
                ],
                "then": [
                    {"seen": list(whys), "move": move.move, "because": move.because} for move, whys in change.then
                ],
                "facts": [fact.id for fact in change.facts],
            }
            for change in result.moves
        ],
        "mounting": {
            "sites_lacking": list(result.sites_lacking),
            "measure_again": [doubt.says for doubt in result.doubts],
        },
        "caution": VERIFY,
    }


def _chosen_json(chosen: Chosen) -> dict[str, Any]:
    return {
        "id": chosen.feature.id,
        "because": list(chosen.because),
        "called_for_by": list(chosen.calling),
        "answer": chosen.answer,
        "against": [no.model_dump() for no in chosen.at_odds],
        "lacking": [need.model_dump() for need in chosen.lacking],
        "source": chosen.feature.source,
    }


def _weighed_json(weighed: Weighed) -> dict[str, Any]:
    return {
        "id": weighed.alternative.id,
        "features": [feature.id for feature in weighed.features],
        "said": weighed.alternative.ruled_out_by,
        "borne_out_by": list(weighed.grounds),
        "unmet": list(weighed.unmet),
        "simpler": weighed.simpler,
        "preferred": weighed.preferred,
        "against": [{"feature": feature.id if feature else None, **no.model_dump()} for feature, no in weighed.against],
        "verdict": weighed.difference.verdict if weighed.difference else None,
    }
