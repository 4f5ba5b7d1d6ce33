"""The alternatives of a letter offered from a match: an entry for each device set apart, to be confirmed in the case.

Nothing offered here is a statement. The reason is the therapist's own finding; who judged it and when is left open, and
a case is refused until both are put in.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from docgen.case.mistakes import toml_of
from docgen.case.model import Case
from docgen.fit.alternatives import kinds
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match, why
from docgen.shelf.seen import Seen


class Offered(Struct, frozen=True):
    """An alternative as it could stand in the case.

    findings  those that rule it out, by id; `method` the trial method that tried it, where one did
    """

    judged: Judged
    findings: tuple[str, ...]
    method: str | None


def offered(case: Case, matched: Match, shown: Seen) -> Iterator[Offered]:
    """Each device that a finding rules out, or that stands below one that leads, and that the case does not name yet.

    Devices of the case are known by their method, or by name. What is set apart for want of an answer is not offered:
    not to know is no ground.
    """
    methods = {way.method.id for ways in shown.devices.values() for way in ways}
    named = {entry.method for entry in case.alternatives if entry.method in methods}
    names = {entry.name.casefold() for entry in case.alternatives}
    asked = methods & {case.configuration.method}
    for name, judged in matched.devices.items():
        ways = [way.method.id for way in shown.devices.get(name, ())]
        if judged.device.name.casefold() in names or named.intersection(ways) or asked.intersection(ways):
            continue
        if ruling_out := _ruled_out_by(matched, judged):
            yield Offered(judged, ruling_out, ways[-1] if ways else None)


def _ruled_out_by(matched: Match, judged: Judged) -> tuple[str, ...]:
    """The findings that rule a device out: of a harm, of a site that does not move, or on which it falls behind."""
    if judged.stage == "harm":
        ruling_out = [harm.finding for harm in judged.best.harms]
    elif judged.stage == "movement":
        ruling_out = [*judged.moved_by] if judged.movement == "none" else []
    elif judged.stage == "layered" and judged.device.id not in matched.may_lead:
        comparisons = [why(matched, first, judged.device.id) for first in matched.leads]
        ruling_out = [
            reason.finding
            for comparison in comparisons
            if comparison.above == "first"
            for reason in comparison.for_first
        ]
    else:
        ruling_out = []
    return tuple(dict.fromkeys(finding for finding in ruling_out if finding is not None))


def entry_of(case: Case, offer: Offered) -> str:
    """The lines of an entry for the case, with `by` and `on` to be filled in by whoever confirms it."""
    device = offer.judged.device
    findings = {finding.id: finding for finding in case.findings}
    reasons = [findings[name].says for name in offer.findings if name in findings]
    measures = [findings[name].measure for name in offer.findings if name in findings and findings[name].measure]
    own = set(kinds()[device.kind].features) if device.kind in kinds() else set()
    lines = [
        f"[alternatives.{device.id}]",
        f"kind = {toml_of(device.kind)}",
        f"name = {toml_of(device.name)}",
        'ruled_out_by = "feature"',
        f"reason = {toml_of(' '.join(reasons))}",
    ]
    lines += [f"measure = {toml_of('; '.join(map(str, measures)))}"] if measures else []
    lines += [f"features = {toml_of([name for name in device.drives or () if name not in own])}"]
    lines += [f"method = {toml_of(offer.method)}"] if offer.method else []
    return "\n".join([*lines, 'by = "?"  # who judged it', 'on = "?"  # and when'])
