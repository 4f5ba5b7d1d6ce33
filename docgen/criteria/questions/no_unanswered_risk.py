"""Nothing asked for is contradicted by a finding without an answer.

Asks: Whether a feature asked for is spoken against by a finding of this client, and what makes up for the risk.
Why a payer asks: A feature that this body turns into a danger is refused, and hurts someone if it is not.
What settles it: Another feature, or answer = <what makes up for it> with trial rows that show it.
Source: common practice, no source; late release after effort: Seo et al. 2009, J Neurophysiol 101:3108 (abstract read; hands after stroke).
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.lines import Path
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.sentences import capital

HEADING = "safety"
CLAIM = "Nothing asked for is at odds with a finding"
SETTINGS: dict[str, object] = {}

# feature -> findings that make it a danger whatever the answer, unless the trial shows no rise and no late release
_DANGERS = {"force_graded_speed": ("tone_rises_effort", "release_slow", "head_push_extends")}


def answer(grounds: Grounds) -> Answer:
    case, fit = grounds.case, grounds.fit
    if not case.configuration.features or not case.findings:
        return cannot_tell("Features or findings are not recorded, so they cannot be held against each other.",
                           ("configuration", "features"), mend="Add [[findings]] and [[configuration.features]].")
    for reason, where, mend in (*_dangers(grounds), *_pairs(grounds)):
        return not_met(reason, where, mend=mend)
    for index, chosen in enumerate(fit.chosen):
        for finding, risk, safety in chosen.at_odds:
            if not chosen.answer:
                say = not_met if safety else cannot_tell
                return say(f"{capital(chosen.feature.name)} is spoken against by {finding.replace('_', ' ')}: {risk}",
                           ("configuration", "features", index), mend="Choose another feature, or fill in answer <what makes up for it>.")
    answered = [c.feature.name for c in fit.chosen if c.at_odds]
    return met("No feature asked for is spoken against by a finding." if not answered
               else f"What speaks against {', '.join(answered)} is answered in the record.", ("configuration", "features"))


def _dangers(grounds: Grounds) -> Iterator[tuple[str, Path, str]]:
    present = {finding.id: finding for finding in grounds.case.findings}
    for index, chosen in enumerate(grounds.fit.chosen):
        for finding in _DANGERS.get(chosen.feature.id, ()):
            if finding in present:
                yield (f"{capital(chosen.feature.name)} is asked for, and the record holds: {present[finding].says.rstrip('.')}. "
                       "The effort that speeds the chair up also delays letting go.",
                       ("configuration", "features", index), "Choose a sensor that answers without force.")


def _pairs(grounds: Grounds) -> Iterator[tuple[str, Path, str]]:
    """Combinations that need a second feature."""
    case, fit = grounds.case, grounds.fit
    present = {finding.id for finding in case.findings}
    latched = case.configuration.latched or any(profile.latched for profile in case.configuration.profiles)
    if (latched or fit.has("latched_drive")) and not fit.has("stop_switch"):
        yield ("Forward is latched and no stop switch is asked for, so the chair would keep going.",
               ("configuration", "features"), "Add the feature stop_switch, or drive momentary.")
    rear = next((m for m in case.configuration.mounting if m.site == "head_back"), None)
    if "head_rests_back" in present and fit.has("rear_side_pads") and not fit.has("standby_rest") and not (rear and rear.gap_mm):
        yield ("The head rests back where the rear pad drives forward, with neither a rest state nor a gap.",
               ("configuration", "features"), "Add the feature standby_rest, or record the rear pad with its gap_mm.")
