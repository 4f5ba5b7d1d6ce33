"""A hand- or chin-operated standard proportional joystick is ruled out.

Asks: Whether a standard joystick in its best place and setup fails for this client, hand- or chin-operated; where a
    trial rules it out, whether the days show it on which both were driven.
Why a payer asks: A special control is covered only because a standard joystick will not do. Where the client's own
    trial cannot tell the two apart, the joystick will do.
What settles it: An entry in [[alternatives]] for each site with its reason, and trial rows in which the joystick,
    re-set and moved, does worse.
Source: US local coverage determinations L33789 (single power option) and L33792 (lead paragraph); article A52504.
"""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.tried import Method
from docgen.codes import hcpcs
from docgen.criteria.attendant import caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, does_not_apply, met, not_met
from docgen.criteria.ordered import lines
from docgen.criteria.ruled_out import (
    TRAIN_INSTEAD,
    Placed,
    kinds_lacking,
    not_ruled_out,
    nothing_recorded,
    of_kinds,
    on_shared_days,
    worked,
)
from docgen.criteria.sentences import capital, k_of_n, listed, points
from docgen.grammar import with_verb

HEADING = "alternatives"
CLAIM = "A hand- or chin-operated standard proportional joystick is ruled out"
SETTINGS = {"kinds": ["stick_by_hand", "stick_by_chin"]}
CHOICES = {"kinds": ("stick_by_hand", "stick_by_chin")}
_OPERATED = {"stick_by_hand": "hand-operated", "stick_by_chin": "chin-operated"}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    case = grounds.case
    if caregiver_drives(case):
        return does_not_apply(
            "A caregiver drives, and no control for the client is requested.", ("attendant", "drives")
        )
    no_fair = {device.method for device in case.alternatives if device.had_no_fair_try} - {case.configuration.method}
    for index, method in enumerate(case.trial.methods):
        if method.id in no_fair:  # what it did in such a try tells nothing, either way
            continue
        if _is_standard(case, method, kinds) and (against := _against(grounds, index, method)):
            return against
    devices = of_kinds(case, kinds)
    if lacking := kinds_lacking(devices, kinds):
        operated = listed((_OPERATED[kind] for kind in lacking), "or")
        return nothing_recorded(f"a {operated} standard joystick", lacking[0])
    if open_ := not_ruled_out(devices):
        return open_
    return _ruled_out(grounds, devices)


def _ruled_out(grounds: Grounds, devices: Sequence[Placed]) -> Answer:
    """What each of these devices did in its tries, and where no day was shared with the requested control."""
    case, evidence = grounds.case, grounds.evidence
    trials = [(device, fact) for _, device in devices if (fact := evidence.of("success", device.method))]
    tried = listed(f"{with_verb(device.name, 'was')} tried, {k_of_n(fact)} done" for device, fact in trials)
    by_trial = {device.method for _, device in devices if device.ruled_out_by == "trial"}
    shared = [on_shared_days(grounds, method) for method in case.trial.methods if method.id in by_trial]
    not_shown = "".join(f" {sentence}" for sentence, shows in shared if not shows)
    if unnamed := [device.name for _, device in devices if device.ruled_out_by == "trial" and not device.method]:
        not_shown += f" Which control of the trial rules out {listed(unnamed)} is not recorded."
    return met(
        f"{capital(with_verb(listed(device.name for _, device in devices), 'is'))} ruled out"
        + (f"; {tried}." if tried else ".")
        + not_shown,
        *(("alternatives", i, "reason") for i, _ in devices),
        facts=tuple(fact.id for _, fact in trials),
        limit="in_part" if not_shown else "",
    )


def _is_standard(case: Case, method: Method, kinds: list[str]) -> bool:
    """Whether a method of the trial is a standard joystick, also where the method itself does not say so."""
    return method.standard_stick or any(a.method == method.id for a in case.alternatives if a.kind in kinds)


def _against(grounds: Grounds, index: int, method: Method) -> Answer | None:
    """What a standard joystick of the trial says against the claim: it is what is requested, or did as well."""
    case, evidence = grounds.case, grounds.evidence
    asked = case.configuration.method
    if method.id == asked:
        by_chin = any(a.method == method.id for a in case.alternatives if a.kind == "stick_by_chin")
        if not by_chin and not lines(case, hcpcs.of_kind("control")):
            return does_not_apply(
                "The chair is driven with its own standard joystick; no other control is requested.",
                ("configuration", "method"),
            )
        return not_met(
            "What is requested is itself a standard joystick.",
            ("configuration", "method"),
            mend="Request it as part of the chair, without a special control."
            if worked(grounds, asked) or not evidence.of("success", asked)
            else TRAIN_INSTEAD,
        )
    difference, stick, chosen = (
        evidence.of("difference", method.id),
        evidence.of("success", method.id),
        evidence.of("success", asked),
    )
    if difference is None or stick is None or chosen is None or difference.verdict not in _NOT_WORSE:
        return None
    return not_met(
        f"{capital(method.name)}: {k_of_n(stick)} attempts successful; the requested control: {k_of_n(chosen)}. "
        f"The difference (requested control minus joystick) is {points(difference)}: {_NOT_WORSE[difference.verdict]}.",
        ("trial", "methods", index),
        ("configuration", "method"),
        facts=(difference.id, stick.id, chosen.id),
        mend=f"Request the {method.name}, or show in further trials that it fails in its best setup."
        if worked(grounds, method.id)
        else TRAIN_INSTEAD,
    )


_NOT_WORSE = {
    "not_told_apart": "the record does not tell them apart",
    "better_so_far": "the joystick did better in this trial",
    "clearly_better": "the joystick did clearly better",
}
