"""Why a device of a shelf is set apart for one client, in words, and what would have to be otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.criteria.sentences import capital, listed
from docgen.fit.feature import features
from docgen.fit.finding import finding_name
from docgen.shelf.device import Device
from docgen.shelf.judge import Judged
from docgen.shelf.set_up import Harm

_MANY_KINDS = ("head_control", "other_control")


def why_apart(judged: Judged) -> Iterator[str]:
    """Each reason why a device is set apart, as a sentence."""
    if judged.stage == "movement":
        if judged.movement == "none":
            yield f"It cannot be used. Recorded: {listed(map(finding_name, judged.moved_by))}."
        else:
            sites = listed(judged.device.sites)
            yield f"No movement is recorded ({sites}) with which it would be driven."
        return
    if judged.stage == "harm_unknown" and judged.device.drives is None:
        yield "What drives it is not stated."
    if judged.stage == "harm":
        yield from harm_sentences(judged)
    else:
        yield from (harm_sentence(judged, harm) for harm in judged.may_harm)


def harm_sentences(judged: Judged) -> Iterator[str]:
    """What can hurt, a finding after another with its risks; what it would need stands by itself."""
    by_finding: dict[str, dict[str, None]] = {}
    for harm in judged.best.harms:
        if harm.finding is None or harm.lacks:
            yield harm_sentence(judged, harm)
        else:
            by_finding.setdefault(harm.finding, {})[harm.risk.rstrip(".")] = None
    for finding, risks in by_finding.items():
        yield f"{capital(finding_name(finding))}: {'; '.join(risks)}."


def harm_sentence(judged: Judged, harm: Harm) -> str:
    """What can hurt, by which feature, and which finding makes it so."""
    what = capital(features()[harm.feature].name) if harm.feature else "Where it is used"
    without = f" without {listed((features()[name].name for name in harm.lacks), 'or')}" if harm.lacks else ""
    known = harm.feature in judged.best.on or harm.feature is None or judged.stage == "harm"
    unknown = "" if known and not (harm.lacks and judged.stage == "harm_unknown") else " (not known of this device)"
    cause = f" ({finding_name(harm.finding)})" if harm.finding else ""
    return f"{what}{without}{unknown}: {harm.risk.rstrip('.')}{cause}."


def would_stand(judged: Judged) -> str:
    """What would have to be otherwise for a device set apart to stand in the layers."""
    if judged.stage == "movement":
        if judged.movement == "none":
            return ""
        return f"It would be held with the others were a movement recorded there: {listed(judged.device.sites)}."
    if judged.stage == "harm":
        causes = dict.fromkeys(finding_name(harm.finding) for harm in judged.best.harms if harm.finding)
        return f"It would be held with the others had it a recorded answer to: {listed(causes)}." if causes else ""
    return ""


def recorded_words(case: Case, device: Device) -> str:
    """Why the case rules out a control of this kind that no method of the trial names, in its own words; empty where it
    says nothing. Controls at the head are of many kinds, so there the entry has to name a feature that drives it."""
    entries = [
        entry
        for entry in case.alternatives
        if entry.kind == device.kind
        and entry.method is None
        and entry.reason
        and entry.is_ruled_out
        and (set(entry.features) <= {*(device.drives or ())} if entry.features else entry.kind not in _MANY_KINDS)
    ]
    says = [_ended(words) for entry in entries for words in (entry.reason, entry.measure) if words]
    return f"Recorded of such a control: {' '.join(map(capital, says))}" if says else ""


def _ended(says: str) -> str:
    return f"{says.rstrip('. ')}."
