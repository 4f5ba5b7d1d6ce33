"""The parts as fitted on the delivered chair: what guide and drawings show of them, and what differs from the trial."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Literal, TypedDict

from docgen.case.change import VALUE_OF
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words
from docgen.documents.parameters import in_words
from docgen.fit.in_force import changes
from docgen.fit.settings import drive_settings

MADE_FROM = {
    "as_fitted": made_from(
        "fitted",
        changed=("fitted_settings", "configuration.stop.passed_on", "follow_up"),
        untested_on=("fitted", Privacy.TRAINING),
    ),
    "fitted_otherwise": made_from("fitted", "configuration.mounting"),
    "settings_otherwise": made_from("fitted_settings", "configuration.profiles"),
}


class AsFitted(TypedDict):
    """complete  whether each part with a gap has the gap as fitted
    on        last day of it
    open      parts whose gap is still that of the trial
    stop_passed  the stop test was passed with each of them
    changed      the last change of the chair is later than the day on which every stop was tried again, or of that day,
                 and then nobody knows which came first; empty where it is earlier, or neither is recorded
    untested_on  first day of a change between the fitting and the day on which every stop was tried again, of which no
                 test is recorded; None where there is none
    """

    complete: bool
    on: date | None
    open: tuple[str, ...]
    stop_passed: bool
    changed: Literal["later", "same_day", ""]
    untested_on: date | None


class FittedOtherwise(TypedDict):
    """A part fitted otherwise than in the trial; gaps in mm."""

    part: str
    trial_mm: float
    fitted_mm: float
    why: str | None
    _labels: dict[str, str]


def as_fitted(case: Case) -> AsFitted:
    """What is fitted, and which parts still have the value of the trial."""
    there = {entry.mount for entry in case.fitted if entry.gap_mm is not None}
    open_parts = [
        mount.part for mount in case.configuration.mounting if mount.gap_mm is not None and mount.id not in there
    ]
    days = [entry.on for entry in case.fitted if entry.on]
    return {
        "complete": bool(there) and not open_parts,
        "on": max(days, default=None),
        "open": tuple(open_parts) if there else (),
        "stop_passed": bool(there) and not open_parts and all(entry.stop_passed for entry in case.fitted),
        "changed": _changed(case),
        "untested_on": _untested_on(case, max(days, default=None)),
    }


def _changed(case: Case) -> Literal["later", "same_day", ""]:
    """How the last change of a setting stands to the day on which every stop was tried again."""
    passed_on, last_on = case.configuration.stop.passed_on, max((c.on for c in changes(case)), default=None)
    if passed_on is None or last_on is None or last_on < passed_on:
        return ""
    return "later" if last_on > passed_on else "same_day"


def _untested_on(case: Case, fitted_on: date | None) -> date | None:
    """First day of a change that was driven before the day on which every stop was tried again."""
    passed_on = case.configuration.stop.passed_on
    if passed_on is None or fitted_on is None:
        return None
    return min((change.on for change in changes(case) if fitted_on < change.on < passed_on), default=None)


def fitted_otherwise(case: Case) -> Iterator[FittedOtherwise]:
    """Each part whose gap differs from that of the trial."""
    gaps = {entry.mount: entry for entry in case.fitted}
    for mount in case.configuration.mounting:
        entry = gaps.get(mount.id)
        if entry is None or entry.gap_mm is None or mount.gap_mm in (None, entry.gap_mm):
            continue
        yield {
            "part": mount.part,
            "trial_mm": mount.gap_mm or 0,
            "fitted_mm": entry.gap_mm,
            "why": entry.why,
            "_labels": {"why": f"why the {mount.part} differs from the trial"},
        }


class SettingOtherwise(TypedDict):
    """A setting of a profile that was fitted otherwise than ordered; both values in words."""

    setting: str
    profile: str
    trial: str
    fitted: str
    why: str | None
    _labels: dict[str, str]


def settings_otherwise(case: Case, words: Words) -> Iterator[SettingOtherwise]:
    """Each setting whose value on the delivered chair differs from the one ordered."""
    profiles = {profile.id: profile for profile in case.configuration.profiles}
    for entry in case.fitted_settings:
        ordered = getattr(profiles[entry.profile], VALUE_OF[entry.setting])
        if entry.to is None or ordered in (None, entry.to):
            continue
        name = drive_settings()[entry.setting].name
        yield {
            "setting": name,
            "profile": profiles[entry.profile].name,
            "trial": in_words(entry.setting, ordered, words),
            "fitted": in_words(entry.setting, entry.to, words),
            "why": entry.why,
            "_labels": {"why": f"why the {name} differs from what was ordered"},
        }
