"""Every device that is ruled out is ruled out by something: a trial large enough to tell, the condition, a feature or
the client's own refusal.

Asks: Whether each entry under alternatives says what rules it out and holds what that needs: rows for a trial, enough
    of them to leave "as good" out of the interval, a reason and a measure for a condition; for its features one that is
    at odds with a finding or leaves one unmet, or a measure.
Why a payer asks: "Not appropriate" without a reason is the commonest cause of a denial.
What settles it: ruled_out_by with rows of that method, or with a reason and how it was measured; for a refusal, the
    client's reason. A try that was not a fair one rules nothing out.
Source: US national coverage determination 280.3 B, lead-in (a device need not be tried where the condition plainly
    rules it out; otherwise evidence).
"""

from __future__ import annotations

from docgen.case.lines import KeyPath
from docgen.case.tried import Alternative
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.ruled_out import ELSE, no_fair_try, too_small
from docgen.criteria.sentences import capital, counted, k_of_n, listed
from docgen.fit.alternatives import WORSE, Weighed

HEADING = "alternatives"
CLAIM = "Each alternative is ruled out with a reason"
SETTINGS: dict[str, object] = {}
_NO_ROWS = (
    '; where a try has no rows, ruled_out_by = "condition" with what it showed in reason and measure, or '
    '"not_a_fair_try"'
)


def answer(grounds: Grounds) -> Answer:
    alternatives = grounds.case.alternatives
    if not alternatives:
        return cannot_tell(
            "No alternative is recorded.", ("alternatives",), mend=add_entry("alternatives", tail=", simplest first")
        )
    weighed = grounds.weighed
    for index, (device, weighing) in enumerate(zip(alternatives, weighed, strict=True)):
        if lacking := _groundless(grounds, device, weighing, ("alternatives", index)):
            return lacking
    refused = [device.name for device in alternatives if device.ruled_out_by == "refusal"]
    bare = [device for device in alternatives if device.ruled_out_by == "condition" and not device.measure]
    successes = {device.id: grounds.evidence.of("success", device.method) for device in bare}
    unmeasured = [device.name for device in bare if successes[device.id] is None]
    driven = [f"{device.name} ({k_of_n(success)})" for device in bare if (success := successes[device.id])]
    return met(
        f"{counted(len(alternatives), 'device is', 'devices are')} recorded, each with its reason"
        + (f"; refused by the client: {listed(refused)}" if refused else "")
        + (
            f"; driven in the trial, and ruled out by its reason, not by that result: {listed(driven)}"
            if driven
            else ""
        )
        + (f"; without an objective measure: {listed(unmeasured)}." if unmeasured else "."),
        ("alternatives",),
        limit="in_part" if bare else "",
    )


def _groundless(grounds: Grounds, device: Alternative, weighing: Weighed, at: KeyPath) -> Answer | None:
    """What the ground of a device lacks; None where it holds."""
    if device.ruled_out_by is None:
        return cannot_tell(
            f"The record does not say what rules out {device.name}.",
            at,
            mend=fill_in(
                {"ruled_out_by": ""}, ': "trial", "condition", "feature", "refusal", "not_a_fair_try", or "nothing"'
            ),
        )
    if unfair := no_fair_try([(int(at[1]), device)]):
        return unfair
    if device.ruled_out_by == "trial" and (lacking := _not_by_trial(grounds, device, at)):
        return lacking
    if device.ruled_out_by == "feature" and "feature" not in weighing.grounds:
        return cannot_tell(
            (
                f"{capital(device.name)} is said to be ruled out by its features, and none of them is at odds "
                "with a finding or leaves one unmet."
            ),
            at,
            mend=Mend(
                "Fill in features <ids of what it has>, or reason and measure.",
                fill=("features", "reason", "measure"),
            ),
        )
    if device.ruled_out_by in ("condition", "feature", "refusal") and not device.reason:
        return cannot_tell(
            f"The reason against {device.name} is not recorded.",
            at,
            mend=fill_in({"reason": "<one sentence about this client>"}),
        )
    return None


def _not_by_trial(grounds: Grounds, device: Alternative, at: KeyPath) -> Answer | None:
    """What a trial that is to rule out a device lacks; None where it tells."""
    if not grounds.evidence.of("success", device.method):
        return cannot_tell(
            f"A trial is said to rule out {device.name}, but no row of the trial names it.",
            (*at, "method"),
            mend=_rows_of(grounds, device),
        )
    difference = grounds.evidence.of("difference", device.method)
    if difference and difference.verdict not in WORSE:
        return not_met(
            f"{capital(device.name)} is said to be ruled out by the trial, which does not support it: "
            f"{k_of_n(grounds.evidence[f'success.{device.method}'])} attempts successful.",
            at,
            facts=(difference.id,),
            mend=f"{capital(ELSE)}; else it is not ruled out by what was tried.",
        )
    if difference and (open_ := too_small(grounds, device.method)):
        return cannot_tell(
            f"{capital(device.name)}: {open_}",
            at,
            facts=(difference.id,),
            mend=f"Plan how many more attempts with both, and count them all; or, {ELSE}.",
        )
    return None


def _rows_of(grounds: Grounds, device: Alternative) -> Mend:
    """Take in the rows of a control that the trial names already, or name it first."""
    case = grounds.case
    if device.method and any(method.id == device.method for method in case.trial.methods):
        return Mend(f"Take in the rows with {device.method}: docgen rows {case.id} FILE{_NO_ROWS}.")
    return fill_in({"method": "<id of a trial method>"}, f" and add its rows{_NO_ROWS}")
