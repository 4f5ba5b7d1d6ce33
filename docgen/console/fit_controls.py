"""The part of `docgen fit` on controls: each against the same findings, and the devices not chosen."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.case.tried import Alternative
from docgen.console.features import wrapped
from docgen.criteria.sentences import capital, k_of_n, listed, points
from docgen.evidence.fact import Evidence
from docgen.fit.alternatives import Weighed
from docgen.fit.finding import finding_name
from docgen.fit.match import Fit
from docgen.terms import terms
from docgen.units import speed, stretch


def control_table(case: Case, evidence: Evidence, fit: Fit, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    """A row a finding, a column a control, each judged by itself."""
    shown = [device for device in weighed if device.features]
    if not shown or not fit.chosen:
        return
    yield from wrapped(f"0  the requested control{done_with(evidence, case.configuration.method)}", hang=3)
    for number, device in enumerate(shown, 1):
        yield from wrapped(
            f"{number}  {device.alternative.name}{done_with(evidence, device.alternative.method)}", hang=3
        )
    yield ""
    width = max(len(finding.id) for finding in case.findings)
    yield f"  {'':<{width}}  " + "  ".join(str(n) for n in range(len(shown) + 1))
    for finding in (f.id for f in case.findings):
        marks = [_mark_of_request(fit, finding), *(_mark(device, finding) for device in shown)]
        yield f"  {finding:<{width}}  {' '.join(marks)}".rstrip()
    grounds = ["".join(ground[0].upper() for ground in device.grounds)[:2] or "-" for device in shown]
    yield f"  {'ruled out by':<{width}}  {' '.join(f'{mark:<2}' for mark in ['', *grounds])}".rstrip()
    yield from wrapped(
        "+ met, or a movement used   ! contraindication   ? met by the requested control, not by this one   "
        "T trial, F features, C condition (as the reason below says)"
    )


def _mark_of_request(fit: Fit, finding: str) -> str:
    """Two characters of the table: whether the requested control meets a finding, and whether the finding speaks
    against it."""
    against_it = any(contra.finding == finding for chosen in fit.chosen for contra in chosen.at_odds)
    return ("+" if finding in fit.answers or finding in fit.by_item else " ") + ("!" if against_it else " ")


def _mark(device: Weighed, finding: str) -> str:
    """The same of a control that was not chosen."""
    against_it = any(contra.finding == finding for _, contra in device.against)
    return ("+" if finding in device.answers else "?" if finding in device.unmet else " ") + (
        "!" if against_it else " "
    )


def done_with(evidence: Evidence, method: str | None) -> str:
    """Successful attempts, stops and slowest release of one control, where it was tried."""
    in_words = [
        f"{k_of_n(fact)} {what}"
        for what, fact in (("done", evidence.of("success", method)), ("stops", evidence.of("stop_request", method)))
        if fact
    ]
    slowest = evidence.of("release_slowest", method)
    in_words += [f"slowest release {slowest.value:.2g} s"] if slowest and slowest.value is not None else []
    return f": {', '.join(in_words)}" if in_words else ": no attempt recorded"


def devices_not_chosen(case: Case, evidence: Evidence, weighed: tuple[Weighed, ...]) -> Iterator[str]:
    """Each device not chosen: what the trial, the features and the reason given say against it."""
    simple = [device for device in weighed if not device.features and device.difference is None]
    for device in (device for device in weighed if device not in simple):
        yield from _device(case, evidence, device)
    if simple:
        yield from wrapped(
            "; ".join(f"{device.alternative.name}, by {_ruled_out_by(device.alternative)}" for device in simple).join(
                ("Not controls: ", ".")
            )
        )


VERDICTS = {
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


def _ruled_out_by(device: Alternative) -> str:
    """What is given as ruling a device out, in words."""
    words = {
        None: "nothing recorded",
        "feature": "its features",
        "not_a_fair_try": "nothing; its try was not a fair one",
    }
    return words.get(device.ruled_out_by) or str(device.ruled_out_by)


def _device(case: Case, evidence: Evidence, weighed: Weighed) -> Iterator[str]:
    device = weighed.alternative
    yield from wrapped(
        f"{capital(device.name)}{_kind(device.kind, device.name)}. Said to be ruled out by: {_ruled_out_by(device)}."
    )
    asked, own = evidence.of("success", case.configuration.method), evidence.of("success", device.method)
    if own and weighed.difference and asked:
        yield from wrapped(
            f"trial: {k_of_n(own)} done, requested control {k_of_n(asked)}; difference "
            f"{points(weighed.difference)}, with this one {VERDICTS[weighed.difference.verdict]}",
            4,
        )
    elif device.ruled_out_by == "trial":
        yield from wrapped("trial: no rows", 4)
    for feature, contra in weighed.against:
        name = feature.name if feature else "its site"
        yield from wrapped(f"features: {name}, against {finding_name(contra.finding)}: {contra.risk}", 4)
    if weighed.unmet:
        yield from wrapped(f"leaves unmet: {listed(map(finding_name, weighed.unmet))}", 4)
    if device.reason:
        yield from wrapped(f"reason: {device.reason.rstrip('.')}{f' ({device.measure})' if device.measure else ''}", 4)
    if not weighed.grounds:
        yield from wrapped("nothing in the record rules it out", 4)
    elif device.is_ruled_out and device.ruled_out_by not in weighed.grounds:
        yield from wrapped(f"what is said does not support it; what does: {listed(weighed.grounds)}", 4)


def stopping_instead(case: Case, evidence: Evidence, weighed: Weighed) -> Iterator[str]:
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
                f"with the requested control in {stretch(asked.value, 'up')}."
            )
