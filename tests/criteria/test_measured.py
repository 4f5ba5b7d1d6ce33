"""Which range a measured key is held to: the age's, that of the setting it changes, or its own."""

from __future__ import annotations

from datetime import date

import pytest
from whole_case import GONE, changed, grounds

from docgen.case.profile import Profile
from docgen.case.usual import Usual
from docgen.case.who import Client
from docgen.criteria.measured import key_with_unit, measured, outside


def _ranges(*changes: tuple[str, object]) -> dict[str, Usual]:
    return {name: usual for _, _, name, _, usual in measured(grounds(changed(*changes)).case)}


def _changed_to(setting: str, to: float) -> tuple[str, object]:
    change = {"profile": "indoor", "setting": setting, "to": to, "says": "changed"}
    return "follow_up", [{"after_weeks": 2, "what": "fit", "changed": [change]}]


@pytest.mark.parametrize(("key", "value"), [("height_mm", 1700), ("weight_kg", 70)])
def test_height_and_weight_have_the_range_of_the_age_or_their_own_where_none_is_known(key, value):
    born, height = ("client.born_on", date(2016, 1, 31)), (f"client.{key}", value)
    of_age = _ranges(born, height)[f"client.{key}"]
    own = _ranges(("client.born_on", GONE), height)[f"client.{key}"]
    assert own == Client.usual_of(key) and of_age != own and of_age.high < own.high


@pytest.mark.parametrize(("setting", "key"), [("forward_speed", "speed_m_s"), ("turn_speed", "turn_deg_s")])
def test_a_changed_setting_has_the_range_of_the_setting(setting, key):
    change = _changed_to(setting, 1.0)
    assert _ranges(change)["follow_up.changed.to"] == Profile.usual_of(key)
    (part,) = (part for part, _, name, _, _ in measured(grounds(changed(change)).case) if name.endswith("changed.to"))
    assert key_with_unit(part, "follow_up.changed.to") == key


def test_a_changed_setting_that_no_profile_holds_has_no_range():
    assert "follow_up.changed.to" not in _ranges(_changed_to("sound", 1.0))


def test_what_lies_outside_its_range_is_named_with_its_value():
    case = grounds(changed(_changed_to("forward_speed", 40.0))).case
    assert ("follow_up.changed.to", 40.0) in outside(case)
    assert ("follow_up.changed.to", 1.0) not in outside(grounds(changed(_changed_to("forward_speed", 1.0))).case)
