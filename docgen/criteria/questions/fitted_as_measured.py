"""On the delivered chair each part was fitted to the record, and the stop test passed with it.

Asks: Once the chair is delivered: the gap of each part as fitted, by whom and when, whether the stop test was passed
    with it, whether it lies in the range in which the part works, and why it differs from the trial where it does.
Why a payer asks: A payer does not. The gaps of the trial are not those of another chair, and a guide that prints them
    sends someone to the wrong place each morning.
What settles it: [[fitted]] with mount, gap_mm, by, on and stop_passed, and why where it differs; [[fitted_settings]]
    no faster than the profiles, the stop test passed.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from docgen.case.change import VALUE_OF
from docgen.case.fitted import Fitted
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import listed
from docgen.grammar import with_verb

HEADING = "record"
CLAIM = "The parts of the delivered chair were fitted to the record"
DANGER = True
SETTINGS: dict[str, object] = {}

_AT: KeyPath = ("fitted",)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if case.configuration.is_empty:
        return cannot_tell(
            "No requested control is recorded, nor the parts of it that are set.",
            ("configuration",),
            mend=add_entry("configuration.mounting", "id", "part", "gap_mm"),
        )
    mounts = {mount.id: mount for mount in case.configuration.mounting if mount.gap_mm is not None}
    if case.dates.delivered_on is None or not mounts:
        return does_not_apply("No chair with parts to set is delivered.", ("dates", "delivered_on"))
    if (failing := _fails(case) or _fails_as_set(case)) is not None:
        return failing
    if left := [mount.part for name, mount in mounts.items() if name not in _fitted_in_full(case.fitted, mounts)]:
        return cannot_tell(
            f"Not recorded as fitted, with who, when, the stop test, and why it differs: {listed(left)}.",
            _AT,
            mend=add_entry("fitted", "mount", "gap_mm", "by", "on", "stop_passed"),
        )
    return met("Each part was set on the delivered chair, and the stop test passed.", _AT)


def _fails(case: Case) -> Answer | None:
    """The first part as fitted with which the stop was not passed, or whose gap or angle is outside its range."""
    mounts = {mount.id: mount for mount in case.configuration.mounting}
    for at, entry in enumerate(case.fitted):
        mount = mounts.get(entry.mount)
        if entry.stop_passed is False:
            return not_met(
                "A part is fitted, and the stop test was not passed with it.",
                (*_AT, at, "stop_passed"),
                mend="Nobody drives the chair. Set the part again and try the stop.",
            )
        if mount is None:
            continue
        for key, value, low, high, unit in (
            ("angle_deg", entry.angle_deg, mount.angle_from_deg, mount.angle_to_deg, "degrees"),
            ("gap_mm", entry.gap_mm, mount.gap_from_mm, mount.gap_to_mm, "mm"),
        ):
            if value is None or ((low is None or value >= low) and (high is None or value <= high)):
                continue
            return not_met(
                f"The {with_verb(mount.part, 'is')} fitted at {value:g} {unit}, outside the range in which it works.",
                (*_AT, at, key),
                mend="Set it again, or have the therapist set another range.",
            )
    return None


def _fails_as_set(case: Case) -> Answer | None:
    """The first setting with which the stop was not passed, or that drives faster than what distances were worked out
    with."""
    profiles = {profile.id: profile for profile in case.configuration.profiles}
    for at, entry in enumerate(case.fitted_settings):
        if entry.stop_passed is False:
            return not_met(
                "A setting is fitted, and the stop test was not passed with it.",
                ("fitted_settings", at, "stop_passed"),
                mend="Nobody drives the chair. Set it again and try the stop.",
            )
        ordered = getattr(profiles[entry.profile], VALUE_OF[entry.setting])
        if entry.setting != "latch_timeout" and entry.to is not None and ordered is not None and entry.to > ordered:
            return not_met(
                f"A speed of the {profiles[entry.profile].name} profile is fitted at {entry.to:g} and was ordered at "
                f"{ordered:g}: what a stop needs was worked out with the slower one.",
                ("fitted_settings", at, "to"),
                mend="Set it no faster than ordered, or record the profile anew and look at each place again.",
            )
    return None


def _fitted_in_full(entries: tuple[Fitted, ...], mounts: Mapping[str, Mount]) -> set[str]:
    """Mounts recorded as fitted with who, when and the stop test, and with why where the gap is another."""
    return {
        entry.mount
        for entry in entries
        if None not in (entry.gap_mm, entry.by, entry.on, entry.stop_passed)
        and (entry.why or entry.mount not in mounts or entry.gap_mm == mounts[entry.mount].gap_mm)
    }
