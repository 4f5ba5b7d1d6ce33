"""Which standard parts the stop of the record has to bring, and which of them nothing answers."""

from __future__ import annotations

import pytest

from cases import case_of
from docgen.fit.stopping_means import means, unanswered_means

HELPER = {"stop_switch": "red button", "stop_switch_by": "helper"}


@pytest.mark.parametrize(
    ("stop", "chair", "asked", "named"),
    [
        ({}, {}, [], {}),
        ({"drive_off": "green lever"}, {}, [], {"drive_lock": ("configuration", "stop", "drive_off")}),
        ({"helper_switch": "red box"}, {}, [], {"helper_stop": ("configuration", "stop", "helper_switch")}),
        (
            {"helper_switch": "red box"},
            {},
            ["stop_switch"],
            {"helper_stop": ("configuration", "stop", "helper_switch")},
        ),
        ({"helper_switch": "red box"}, {}, ["attendant_stop"], {}),
        ({"helper_switch": "red box"}, {}, ["attendant_control"], {}),
        (HELPER, {}, [], {"helper_stop": ("configuration", "stop", "stop_switch")}),
        (HELPER | {"stop_switch_by": "driver"}, {}, [], {}),
        ({}, {"seat_actuators": 1}, [], {"seat_switch": ("configuration", "chair", "seat_actuators")}),
        ({}, {"seat_actuators": 0}, [], {}),
    ],
)
def test_what_the_record_names_has_to_be_ordered_unless_a_feature_brings_it(stop, chair, asked, named):
    case = case_of(asked=asked, configuration={"stop": stop, "chair": chair})
    assert means(case) == unanswered_means(case) == named


@pytest.mark.parametrize(("part", "open_"), [({}, True), ({"comes": "with_base"}, False)])
def test_a_standard_part_answers_where_it_says_where_it_comes_from(part, open_):
    parts = ({"part": "drive_lock"} | part,)
    case = case_of(configuration={"stop": {"drive_off": "green lever"}, "standard_parts": parts})
    assert ("drive_lock" in unanswered_means(case)) is open_
