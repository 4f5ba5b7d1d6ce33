"""Profiles as they are set now: what the keys of a change say, and nothing read out of words."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from gathered import of_each

from cases import case_of
from docgen.case.change import VALUE_OF, Change
from docgen.case.fitted import FittedSetting
from docgen.case.model import Case
from docgen.case.profile import Profile
from docgen.case.session import SessionRow
from docgen.case.training import FollowUp
from docgen.fit.in_force import changes, in_force

DAY, WEEK_LATER = date(2026, 7, 13), date(2026, 7, 20)
TRAINING = Profile(id="training", name="training", speed_m_s=0.3, reverse_m_s=0.15, turn_deg_s=20, latch_timeout_s=10)
INDOOR = Profile(id="indoor", name="indoor", speed_m_s=0.5, reverse_m_s=0.25, turn_deg_s=30)
SAYS = "written of it"


def case_with(*rows: dict[str, Any], visits: tuple[FollowUp, ...] = ()) -> Case:
    """A case with two profiles, lessons of these columns, and visits."""
    case = case_of([])
    configuration = case.configuration.model_copy(update={"profiles": (TRAINING, INDOOR)})
    tries = [
        SessionRow(**{"line": at, "date": DAY, "stage": 4, "task": "straight", "success": True} | row)
        for at, row in enumerate(rows, start=2)
    ]
    return case.model_copy(update={"configuration": configuration, "follow_up": visits}).with_sessions(tuple(tries))


def lesson(profile: str, setting: str, to: float | None, on: date = DAY) -> dict[str, Any]:
    return {"changed": SAYS, "changed_profile": profile, "changed_setting": setting, "changed_to": to, "date": on}


def visit(profile: str, setting: str, to: float | None, on: date | None = DAY) -> FollowUp:
    change = Change(profile=profile, setting=setting, to=to, says=SAYS)
    return FollowUp(after_weeks=2, what="settings", done_on=on, changed=(change,))


@of_each("of_visit", [False, True], ids=["lesson", "visit"])
@of_each("to", [0.2, None], ids=["value", "value not recorded"])
@of_each("setting", [*VALUE_OF, "turn_acceleration", "latch"])
def test_a_change_moves_the_value_of_its_setting_alone(setting: str, to: float | None, of_visit: bool) -> None:
    to = to if setting in VALUE_OF else None
    change = (setting, to)
    case = case_with(visits=(visit("training", *change),)) if of_visit else case_with(lesson("training", *change))
    training, indoor = in_force(case)
    expected = {VALUE_OF[setting]: to} if setting in VALUE_OF else {}
    assert training.profile == TRAINING.model_copy(update=expected)
    assert training.unsure == {key for key in expected if to is None}
    assert [(made.on, made.says) for made in training.changes] == [(DAY, SAYS)]
    assert (indoor.profile, indoor.changes, indoor.unsure) == (INDOOR, (), frozenset())


@pytest.mark.parametrize(
    "says",
    [
        "turn speed of the training profile 20 to 16 degrees/s, by the supplier",
        "training profile: speed 0.3 to 0.25 m/s",
        "indoor profile made slower",
        "speed down one step",
        "forward pad moved 5 mm",
    ],
)
def test_a_remark_without_keys_moves_nothing_and_is_kept(says: str) -> None:
    case = case_with({"changed": says})
    assert [(now.profile, now.changes, now.unsure) for now in in_force(case)] == [
        (TRAINING, (), frozenset()),
        (INDOOR, (), frozenset()),
    ]
    assert [(change.on, change.says, change.profile) for change in changes(case)] == [(DAY, says, None)]


TO_16, TO_14 = ("training", "turn_speed", 16.0), ("training", "turn_speed", 14.0)
TO_UNKNOWN = ("training", "turn_speed", None)


@of_each(
    "rows, visits, turn_deg_s",
    [
        ([lesson(*TO_16), lesson(*TO_14)], (), 14),  # as the file has them
        ([lesson(*TO_14, WEEK_LATER), lesson(*TO_16)], (), 14),  # by day, not by line
        ([lesson(*TO_16)], (visit(*TO_14, WEEK_LATER),), 14),
        ([lesson(*TO_16, WEEK_LATER)], (visit(*TO_14),), 16),
        ([lesson(*TO_16)], (visit(*TO_14),), 14),  # of one day, the visit comes last
        ([lesson(*TO_16)], (visit(*TO_14, None),), 16),  # not held
        ([lesson(*TO_UNKNOWN), lesson(*TO_14)], (), 14),
        ([lesson(*TO_14), lesson(*TO_UNKNOWN)], (), None),
    ],
)
def test_the_last_change_by_day_holds(rows: list[dict[str, Any]], visits: tuple[FollowUp, ...], turn_deg_s) -> None:
    training = in_force(case_with(*rows, visits=visits))[0]
    assert training.profile.turn_deg_s == turn_deg_s
    assert training.unsure == (set() if turn_deg_s else {"turn_deg_s"})
    days = [change.on for change in training.changes]
    assert days == sorted(days) and len(days) == len(rows) + sum(held.done_on is not None for held in visits)


def test_a_profile_is_as_fitted_where_that_is_recorded_until_a_change():
    fitted = (
        FittedSetting(profile="training", setting="forward_speed", to=0.25),
        FittedSetting(profile="training", setting="turn_speed", to=None),
    )
    case = case_with().model_copy(update={"fitted_settings": fitted})
    training, indoor = in_force(case)
    assert training.profile == TRAINING.model_copy(update={"speed_m_s": 0.25}) and indoor.profile == INDOOR
    changed, _ = in_force(
        case_with(lesson("training", "forward_speed", 0.2)).model_copy(update={"fitted_settings": fitted})
    )
    assert changed.profile.speed_m_s == 0.2
