"""Contradictions within the settings of a case and their changes after delivery, that no payer's rule is needed to
see."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator

from pydantic import ValidationError

from docgen.case.change import VALUE_OF
from docgen.case.model import Case
from docgen.case.profile import Profile
from docgen.errors import Problem, did_you_mean
from docgen.terms import terms, unknown

Where = Callable[..., str]


def of_settings(case: Case, where: Where) -> Iterator[Problem]:
    """Settings that nobody knows, of a profile that is none, or with a value though they stay as delivered."""
    profiles, known = [profile.id for profile in case.configuration.profiles], terms("settings")
    for at, entry in enumerate(case.configuration.settings):
        place = ("configuration", "settings", at)
        if entry.setting not in known:
            yield Problem(where(*place, "setting"), *unknown("settings", "setting", entry.setting, known))
        if entry.profile is not None and entry.profile not in profiles:
            yield Problem(
                where(*place, "profile"),
                f"'{entry.profile}' is not an id in [[configuration.profiles]]",
                did_you_mean(entry.profile, profiles),
            )
        if entry.value and entry.as_delivered:
            yield Problem(
                where(*place, "value"), f"{entry.setting} has a value and stays as delivered", "Leave one of them out."
            )


def of_changes(case: Case, where: Where, session_where: Callable[[int], str]) -> Iterator[Problem]:
    """Settings changed after delivery: a profile of the case, a setting there is, a value it can have."""
    for index, visit in enumerate(case.follow_up):
        if visit.changed and visit.done_on is None:
            yield Problem(
                where("follow_up", index, "changed"),
                "settings were changed at a visit that is not recorded as held",
                "Write its done_on.",
            )
        for at, change in enumerate(visit.changed):
            in_case = functools.partial(where, "follow_up", index, "changed", at)
            yield from _change(case, in_case, "{}", change.profile, change.setting, change.to)
    for row in case.sessions:
        cells = (row.changed_profile, row.changed_setting, row.changed_to)
        if cells == (None, None, None):
            continue
        for name in ("changed", "changed_profile", "changed_setting"):
            if getattr(row, name) is None:
                yield Problem(
                    session_where(row.line),
                    f"{name} is blank beside a changed setting",
                    "Fill in changed, changed_profile and changed_setting; changed alone is a remark.",
                )
        in_row = functools.partial(_of_row, session_where(row.line))
        yield from _change(case, in_row, "changed_{}", *cells)


def _of_row(where: str, _key: str) -> str:
    """Where a key of a row stands: in the row."""
    return where


def _change(
    case: Case, place: Callable[[str], str], named: str, profile: str | None, setting: str | None, to: float | None
) -> Iterator[Problem]:
    """What is wrong with one change; `place` is where its key stands, `named` how the key is called there."""
    profiles = [entry.id for entry in case.configuration.profiles]
    if profile is not None and profile not in profiles:
        yield Problem(
            place("profile"),
            f"{named.format('profile')}: '{profile}' is not an id in [[configuration.profiles]]",
            did_you_mean(profile, profiles),
        )
    if setting is None:
        return
    if setting not in (known := terms("settings")):
        yield Problem(place("setting"), *unknown("settings", "setting", setting, known))
    elif to is not None and setting not in VALUE_OF:
        yield Problem(
            place("to"),
            f"{named.format('to')} is {to:g}, but no profile holds a value of {setting}",
            f"Only {', '.join(VALUE_OF)} have one; leave it out and say it in words.",
        )
    elif to is not None:
        key = VALUE_OF[setting]
        try:
            Profile.model_validate({"id": "changed", "name": "changed", key: to})
        except ValidationError as failure:
            limit = failure.errors(include_url=False)[0]["msg"].removeprefix("Input ")
            yield Problem(
                place("to"),
                f"{named.format('to')} of {setting} is {to:g}: it {limit}",
                f"It holds: {Profile.model_fields[key].description}.",
            )
