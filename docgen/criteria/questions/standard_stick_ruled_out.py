"""A standard joystick, by hand and by chin, is ruled out.

Asks: Whether a standard joystick in its best place and set-up fails for this client, by hand and by chin.
Why a payer asks: A special control is covered only because a standard joystick will not do. Where the client's own trial cannot tell the two apart, the joystick will do.
What settles it: An entry in [[alternatives]] for each site with its reason, and trial rows in which the joystick, re-set and moved, does worse.
Source: US local coverage determinations L33789 (single power option) and L33792 (lead paragraph); article A52504.
"""

from __future__ import annotations

from docgen.codes import hcpcs
from docgen.criteria.attendant import caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.ordered import lines
from docgen.criteria.sentences import capital, k_of_n, listed, points

HEADING = "alternatives"
CLAIM = "A standard joystick, by hand and by chin, is ruled out"
SETTINGS = {"kinds": ["stick_by_hand", "stick_by_chin"]}
CHOICES = {"kinds": ("stick_by_hand", "stick_by_chin")}
_SITES = {"stick_by_hand": "by hand", "stick_by_chin": "by chin"}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    case, evidence = grounds.case, grounds.evidence
    asked = case.configuration.method
    chosen = evidence.of("success", asked)
    if caregiver_drives(case):
        return does_not_apply(
            "A caregiver drives, and no control for the client is asked for.", ("attendant", "drives")
        )
    sticks = {
        a.method for a in case.alternatives if a.kind in kinds
    }  # a joystick even where the method does not say so
    by_chin = {a.method for a in case.alternatives if a.kind == "stick_by_chin"}
    for index, method in enumerate(case.trial.methods):
        standard = method.standard_stick or method.id in sticks
        difference, other = evidence.of("difference", method.id), evidence.of("success", method.id)
        if (
            standard
            and method.id == asked
            and method.id not in by_chin
            and not any(lines(case, hcpcs.of_kind("control")))
        ):
            return does_not_apply(
                "The chair is driven with its own standard joystick; no other control is asked for.",
                ("configuration", "method"),
            )
        if standard and method.id == asked:
            return not_met(
                "What is asked for is itself a standard joystick.",
                ("configuration", "method"),
                mend="Ask for it as part of the chair, without a special control.",
            )
        if standard and difference and difference.verdict in ("not_told_apart", "better_so_far", "clearly_better"):
            return not_met(
                f"{capital(method.name)}: {k_of_n(other)} attempts done; the control asked for: {k_of_n(chosen)}. "
                f"The difference, control asked for less joystick, is {points(difference)}: {_words(difference.verdict)}.",
                ("trial", "methods", index),
                ("configuration", "method"),
                facts=(difference.id, other.id, chosen.id),
                mend=f"Ask for the {method.name}, or show in further trials that it fails in its best set-up.",
            )
    found = {kind: [(i, a) for i, a in enumerate(case.alternatives) if a.kind == kind] for kind in kinds}
    missing = [kind for kind in kinds if not found[kind]]
    if missing:
        return cannot_tell(
            f"Nothing is recorded about a standard joystick {listed((_SITES[k] for k in missing), 'or')}.",
            ("alternatives",),
            mend=add_entry("alternatives", "ruled_out_by", "reason", kind=missing[0]),
        )
    every = [pair for kind in kinds for pair in found[kind]]
    if kept := [(i, a) for i, a in every if a.ruled_out_by == "nothing"]:
        return not_met(
            f"{capital(listed(a.name for _, a in kept))} is recorded as not ruled out.",
            *(("alternatives", i) for i, _ in kept),
            mend="If it will do, ask for it; if not, record why.",
        )
    if bare := [(i, a) for i, a in every if not a.ruled_out_by or not a.reason]:
        return cannot_tell(
            f"The record does not say why {listed(a.name for _, a in bare)} will not do.",
            *(("alternatives", i) for i, _ in bare),
            mend=fill_in({"ruled_out_by": "", "reason": "<one sentence about this client>"}, " in [[alternatives]]"),
        )
    tried = [f"{a.name} was tried, {k_of_n(f)} done" for _, a in every if (f := evidence.of("success", a.method))]
    return met(
        f"{capital(listed(a.name for _, a in every))} are ruled out" + (f"; {listed(tried)}." if tried else "."),
        *(("alternatives", i, "reason") for i, _ in every),
        facts=tuple(f.id for _, a in every if (f := evidence.of("success", a.method))),
    )


def _words(verdict: str) -> str:
    return {
        "not_told_apart": "the record does not tell them apart",
        "better_so_far": "the joystick did better so far",
        "clearly_better": "the joystick did clearly better",
    }[verdict]
