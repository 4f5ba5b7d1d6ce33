"""What `docgen fit` prints for people; `fit_json.py` has it for programs."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.console.features import plain, wrapped
from docgen.console.fit_codes import code_lines
from docgen.console.fit_controls import control_table, devices_not_chosen, done_with, stopping_instead
from docgen.console.fit_findings import at_odds, candidates, finding_lines, not_looked_for
from docgen.criteria.criterion import Grounds, criteria
from docgen.criteria.questions.findings_answered import unaddressed
from docgen.criteria.sentences import capital, counted, listed, points
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.alternatives import Weighed
from docgen.fit.finding import finding_name
from docgen.fit.match import Fit
from docgen.fit.settings import VERIFY
from docgen.results import CaseFit
from docgen.units import decimals


def fit_text(result: CaseFit) -> str:
    """What is told of the fit, as one text with a line for each title."""
    case = result.case
    if not case.findings:
        return (
            f"{case.id}: no finding is recorded, so nothing can be called for.\n\nAdd [[findings]] to "
            f"{result.file.folder / 'case.toml'}; "
            "the words to use: docgen features"
        )
    lines = [f"{case.id}: findings, features and what was tried"]
    for title, body in fit_sections(result):
        lines += ["", *([title.upper()] if title else []), *body]
    return "\n".join(lines)


def fit_sections(result: CaseFit) -> Iterator[tuple[str, list[str]]]:
    """What could hurt first, then findings, features and devices not chosen, then what the settings bear.

    Each title with its lines, those of what is requested without a title; none that would stand empty.
    """
    case, fit, evidence, weighed = result.case, result.fit, result.evidence, result.alternatives
    sections = (
        ("", list(_first(Grounds(case, evidence, fit), weighed))),
        ("Can do harm, or is a contraindication to what is asked for", list(at_odds(case, evidence, fit))),
        ("Would be a contraindication; not among the findings", list(not_looked_for(case, fit))),
        ("Findings", [line for finding in case.findings for line in finding_lines(case, fit, finding.id)]),
        ("What the findings call for", list(candidates(case)) if not fit.chosen else []),
        ("Each control against the same findings", list(control_table(case, evidence, fit, weighed))),
        ("Codes of what is requested", list(code_lines(case))),
        ("Devices not chosen", list(devices_not_chosen(case, evidence, weighed))),
        ("Drive settings: the most the trial supports, and which way to adjust", list(_settings(result))),
        ("Mounting record", list(_mounting(result))),
    )
    return ((title, body) for title, body in sections if body)


def _first(grounds: Grounds, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    """What is requested, and each open point in a sentence. The clinician decides."""
    case, fit = grounds.case, grounds.fit
    if case.configuration.summary:
        yield from wrapped(f"Requested: {case.configuration.summary}.", 0)
    points_open = [*_open_beside(fit, weighed), *_open_of_request(grounds)]
    for text in points_open:
        yield from wrapped(f"- {text}", 0)
    if fit.chosen and not points_open:
        yield from wrapped(
            "Each finding is met or used by a part of what is requested, or asks for nothing of it. Whether that is "
            "enough is the clinician's to say.",
            0,
        )


def _open_beside(fit: Fit, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    """Simpler controls that are to be preferred, and those that nothing rules out."""
    for device in weighed:
        if device.preferred:
            needs = (
                "meets every need that the requested control meets"
                if fit.answers
                else "leaves no more needs open than the requested control"
            )
            yield (
                f"As recorded, the request is not supported: {device.alternative.name} is simpler, {needs}, and the "
                f"trial does not show it to be worse ({_points(device.difference)})."
            )
        elif device.features and not device.grounds:
            yield f"Nothing in the record rules out {device.alternative.name}."


def _open_of_request(grounds: Grounds) -> Iterator[str]:
    """What could injure without an answer, findings without a part for them, and parts without a finding."""
    fit = grounds.fit
    to_meet = {f.id for _, f in unaddressed(grounds, criteria()["findings_answered"].settings["need_no_answer"])}
    unmet = [finding for finding in fit.unmet if finding in to_meet]
    if bad := [c for c in fit.chosen if any(no.safety for no in c.at_odds) and not c.answer]:
        yield f"{capital(listed(c.feature.name for c in bad))} can do harm to this client, and no answer is recorded."
    if fit.chosen and unmet:
        yield f"Nothing requested meets: {listed(map(finding_name, unmet))}."
    if fit.chosen and fit.unused:
        yield f"A movement that nothing requested uses: {listed(map(finding_name, fit.unused))}."
    if fit.uncalled:
        yield f"No finding recorded calls for {listed(chosen.feature.name for chosen in fit.uncalled)}."


def _points(difference: Fact | None) -> str:
    """The difference as the requested control less the other."""
    return (
        "no attempt recorded"
        if difference is None
        else f"difference, requested control minus this one: {points(difference)}"
    )


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
    method = case.requested_method
    if known and method:
        yield from wrapped(f"With {method.name}{done_with(evidence, method.id)}.{_release_used(evidence)}")
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
        yield from stopping_instead(case, evidence, other)
    for change in result.moves:
        reasons = "; ".join(
            f"{move.move}, because {move.because} (seen: {'; '.join(whys)})" for move, whys in change.first
        )
        then = "".join(
            f" Only when that is settled on the chair: {move.move} (seen: {'; '.join(whys)})."
            for move, whys in change.then
        )
        yield from wrapped(f"{capital(change.setting.name)}: {reasons}.{then} Watch: {change.setting.watch}.")
    if case.configuration.profiles:
        yield from wrapped(VERIFY + " Change one thing, try it, write it down.")


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
