"""The drive profiles as they are set now: as fitted at delivery, with each change that lessons and visits record."""

from __future__ import annotations

from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.change import VALUE_OF
from docgen.case.model import Case
from docgen.case.profile import Profile
from docgen.evidence.stop_rules import in_order


class Changed(Struct, frozen=True):
    """Something that was changed on a day: the words written of it, and the keys where they are recorded.

    profile  id of the profile; None for a remark, which may be of anything and moves no value
    setting  id of the setting; None for a remark
    to       its value now, in the unit of its key of a profile; None where it is not recorded
    """

    on: date
    says: str
    profile: str | None = None
    setting: str | None = None
    to: float | None = None


class InForce(Struct, frozen=True):
    """A profile as it is set now, with its changes since delivery.

    unsure   keys of the profile whose setting was changed to a value that is not recorded; they are None in `profile`
    """

    profile: Profile
    changes: tuple[Changed, ...] = ()
    unsure: frozenset[str] = frozenset()

    def after(self, change: Changed) -> InForce:
        """The same profile after one change of it more."""
        changes = (*self.changes, change)
        key = VALUE_OF.get(change.setting or "")
        if key is None:
            return replace(self, changes=changes)
        unsure = self.unsure | {key} if change.to is None else self.unsure - {key}
        return InForce(self.profile.model_copy(update={key: change.to}), changes, unsure)


def changes(case: Case) -> tuple[Changed, ...]:
    """What was changed since delivery, by day; within a day as the lessons have it, then what a visit changed."""
    lessons = [
        Changed(row.date, row.changed, row.changed_profile, row.changed_setting, row.changed_to)
        for row in in_order(case.sessions)
        if row.changed
    ]
    visits = [
        Changed(visit.done_on, change.says, change.profile, change.setting, change.to)
        for visit in case.follow_up
        if visit.done_on
        for change in visit.changed
    ]
    return tuple(sorted((*lessons, *visits), key=lambda change: change.on))


def in_force(case: Case) -> tuple[InForce, ...]:
    """Each profile of the case as it is set now, in the order of the case."""
    set_now = {profile.id: InForce(_as_fitted(case, profile)) for profile in case.configuration.profiles}
    for change in changes(case):
        if change.profile is not None:
            set_now[change.profile] = set_now[change.profile].after(change)
    return tuple(set_now.values())


def _as_fitted(case: Case, profile: Profile) -> Profile:
    """The profile with what was measured of it on the delivered chair."""
    fitted = {VALUE_OF[e.setting]: e.to for e in case.fitted_settings if e.profile == profile.id and e.to is not None}
    return profile.model_copy(update=fitted) if fitted else profile
