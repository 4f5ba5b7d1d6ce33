"""Settings as a technician enters them: measured, left as delivered, not applicable, or a gap; no step is told."""

from __future__ import annotations

from typing import Any

import pytest
from gathered import of_each
from in_full import text_in_full
from support import ASSESSED, DEMO_FOLDERS

from docgen.case.model import Case
from docgen.documents.parameters import parameters, settings, to_enter, unused_parameters
from docgen.errors import UserError
from docgen.fit.settings import drive_settings
from docgen.library import check_case
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

WORDS = language_words()
SLOW = {"id": "slow", "name": "slow", "speed_m_s": 0.25, "turn_deg_s": 10.0}
INDOOR = {"id": "indoor", "name": "indoor", "speed_m_s": 0.4, "turn_deg_s": 10.0}


def _rows(name: str, *entered: Any, **configuration: Any) -> list[tuple[str, str | None, str | None]]:
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "robin",
            "configuration": {"settings": entered, "profiles": (SLOW, INDOOR)} | configuration,
        }
    )
    shown = drive_settings()[name].name
    return [(row["profile"], row["value"], row["how"]) for row in settings(case, WORDS) if row["name"] == shown]


def _feature(name: str) -> dict[str, Any]:
    return {"id": name}


@of_each(
    ("name", "setting", "rows"),
    [
        ("acceleration", {"value": "1.5 s", "how": "video"}, [("all", "1.5 s", "video")]),
        ("acceleration", {"value": "1.5 s"}, [("all", "1.5 s", None)]),
        (
            "acceleration",
            {"as_delivered": True},
            [("all", "leave as delivered", "not changed for the trial; value of the trial chair not recorded")],
        ),
        (
            "acceleration",
            {"as_delivered": True, "on_trial_chair": "60 of 100"},
            [("all", "leave as delivered", "trial chair: 60 of 100")],
        ),
        ("acceleration", None, [("all", None, None)]),
        ("acceleration", {"value": "1.5 s", "how": "video", "profile": "slow"}, [("slow", "1.5 s", "video")]),
        (
            "forward_speed",
            {"how": "timed"},
            [("slow", "0.25 m/s (0.55 mph)", "timed"), ("indoor", "0.4 m/s (0.89 mph)", "timed")],
        ),
        ("turn_speed", {"how": "timed"}, [("all", "10 degrees/s", "timed")]),  # the same in both
        ("turn_speed", None, [("all", "10 degrees/s", None)]),
    ],
)
def test_a_setting_has_a_value_stays_as_delivered_or_is_a_gap(name, setting, rows):
    assert _rows(name, *([{"setting": name} | setting] if setting else [])) == rows


@of_each(
    ("name", "configuration", "why"),
    [
        ("tilt_limit", {"chair": {"seat_actuators": 0}}, "no power seating"),
        ("tilt_limit", {"chair": {"seat_actuators": 2}}, None),
        ("tilt_limit", {}, None),
        ("seat_range", {"chair": {"seat_actuators": 0}}, "no power seating"),
        ("seat_range", {"chair": {"seat_actuators": 2}}, None),
        ("seat_speed", {"chair": {"seat_actuators": 2}}, None),
        ("latch_timeout", {"features": (_feature("momentary_drive"),)}, "this control is not latched"),
        ("latch", {"features": (_feature("latched_drive"),)}, None),
        ("seat_range", {"chair": {"base_code": "K0848"}}, "no power seating"),
        ("seat_range", {"chair": {"base_code": "K0848", "seat_actuators": 1}}, None),
        ("seat_range", {"chair": {"base_code": "K0848"}, "items": ({"id": "tilt", "code": "E1002"},)}, None),
        ("seat_range", {"chair": {"base_code": "K0861"}}, None),
        (
            "dead_zone",
            {"features": (_feature("proximity_sensing"),)},
            "this control does not use it",
        ),
        ("acceptance_time", {"features": (_feature("compact_joystick"), _feature("mode_switch"))}, None),
        ("dead_zone", {}, None),  # nothing is known of the control
        ("axes", {"features": (_feature("standby"), _feature("separate_profiles"))}, None),  # nor what it is
        ("axes", {"features": (_feature("mini_joystick"),)}, None),
        ("axes", {"features": (_feature("isometric_joystick"),)}, None),
    ],
)
def test_what_a_control_cannot_have_says_why(name, configuration, why):
    assert {row[1:] for row in _rows(name, **configuration)} == {("not applicable" if why else None, why)}


@of_each(
    ("configuration", "value"),
    [
        ({"features": (_feature("momentary_drive"),)}, "off"),
        ({"latched": False, "features": (_feature("compact_joystick"),)}, "off"),
        ({"features": (_feature("compact_joystick"),)}, "off"),  # it springs back
        ({"features": (_feature("head_array"),)}, None),  # nobody has said
        ({"features": (_feature("latched_drive"),)}, None),
    ],
)
def test_a_latch_that_is_not_asked_for_is_set_off(configuration, value):
    """A controller that offers one may arrive with it on."""
    assert {row[1] for row in _rows("latch", **configuration)} == {value}


@of_each(
    ("starts_in", "commands", "how"),
    [
        ("drive, in the slow profile", [{"does": "rest", "input": "one press"}], "the therapist confirms drive"),
        ("drive, in the slow profile", [], "read at power-on"),
        ("standby", [{"does": "rest", "input": "one press"}], "read at power-on"),
        (None, [], "read at power-on"),
    ],
)
def test_the_mode_at_power_on_is_set_like_any_other(starts_in, commands, how):
    asked = {"starts_in": starts_in, "commands": commands}
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": asked}, strict=False)
    [row] = [row for row in to_enter(case, WORDS) if row["name"] == "mode at power-on"]
    assert row["value"] == starts_in and (row["how"] or "").startswith(how)


@of_each(("blends", "value"), [(True, "both count"), (False, "the first alone counts"), (None, None)])
def test_what_two_pads_at_once_do_is_set_where_pads_drive(blends, value):
    asked = {"features": (_feature("head_array"),), "chair": {"blends_commands": blends}}
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": asked})
    [row] = [row for row in to_enter(case, WORDS) if row["name"] == "two pads at once"]
    assert (row["value"] or "").startswith(value or "") and (row["value"] is None) is (value is None)
    sipping = Case.model_validate(
        {"format": "docgen case 1", "id": "robin", "configuration": {"features": (_feature("pneumatic_four_command"),)}}
    )
    assert "two pads at once" not in {row["name"] for row in to_enter(sipping, WORDS)}


def test_braking_is_that_of_the_chair_and_the_delay_is_measured_and_not_set():
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "robin",
            "configuration": {"chair": {"deceleration_m_s2": 0.8, "electronics_delay_s": 0.15}},
        }
    )
    rows = {row["name"]: row for row in settings(case, WORDS)}
    # a value of which more passes and less does not: rounded down in ft/s² it would let a softer brake pass
    assert rows["deceleration (braking)"]["value"] == "0.8 m/s²"
    assert rows["delay from input off to braking"]["value"] == "0.15 s"


@of_each("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_a_speed_is_told_by_how_it_was_timed_and_not_by_another_row(source):
    case = ASSESSED[source.name].file.case
    how = [row["how"] for row in settings(case, WORDS) if "speed" in row["name"] and row["value"]]
    assert not [words for words in how if words and words.startswith("as ")]


@pytest.mark.parametrize(
    ("name", "feature", "applies"),
    [
        ("press_window", "mode_switch", True),
        ("press_driving", "mode_switch", True),
        ("breath_thresholds", "pneumatic_four_command", True),
        ("breath_thresholds", "mode_switch", False),
    ],
)
def test_how_the_presses_of_a_switch_and_the_strength_of_a_breath_count_is_asked_of_a_control_that_has_them(
    name, feature, applies
):
    [(_, value, _)] = _rows(name, features=(_feature("head_array"), _feature(feature)))
    assert value == (None if applies else "not applicable")


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_the_page_leaves_the_step_of_the_programmer_empty_and_no_other_cell(source):
    tree = trees(ASSESSED[source.name], ["order"])["order"]
    tables = [
        [[cell.plain() for cell in row.children] for row in node.children]
        for node in tree.walk()
        if node.kind == "table" and node.children[0].children[0].plain() == "Parameter"
    ]
    [(head, *rows)] = tables
    assert head[-2:] == ["Programmer", "As fitted"]
    assert {cell for row in rows for cell in row[-2:]} == {""} and not [row for row in rows if "" in row[:-2]]
    profiles = {profile.name for profile in ASSESSED[source.name].file.case.configuration.profiles}
    assert {row[1] for row in rows} <= {"all", *profiles} and '"All" is every profile.' in tree.plain()
    case = ASSESSED[source.name].file.case
    unused = [name for row in unused_parameters(case, WORDS) for name in row["names"]]
    entered = [row["name"] for row in parameters(case, WORDS)]
    assert {*unused, *entered} == {row["name"] for row in settings(case, WORDS)} and not {*unused} & {*entered}
    assert [*dict.fromkeys(row[0].lower() for row in rows)] == [name.lower() for name in entered]
    one_by_one = [name for row in unused_parameters(case, WORDS) if not row["together"] for name in row["names"]]
    assert all(name in tree.plain() for name in one_by_one)
    assert ("each setting of power seating (no power seating)" in tree.plain()) is (
        case.configuration.chair.seat_actuators == 0
    )


def test_the_profiles_of_a_setting_stand_in_one_row_and_a_missing_one_is_a_gap_of_its_own():
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "robin",
            "configuration": {"profiles": (SLOW, INDOOR | {"speed_m_s": None})},
        }
    )
    [row] = [row for row in parameters(case, WORDS) if row["name"] == drive_settings()["forward_speed"].name]
    assert row["profiles"] == ("slow", "indoor") and row["set_to"] == ("0.25 m/s (0.55 mph)", None)


def _entered(*entered: Any, **configuration: Any) -> list[tuple[str, str | None, str | None]]:
    tables = {"settings": entered, "profiles": (SLOW, INDOOR)} | configuration
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": tables})
    names = {drive_settings()[entry["setting"]].name for entry in entered}
    return [(row["profile"], row["value"], row["how"]) for row in to_enter(case, WORDS) if row["name"] in names]


@pytest.mark.parametrize(
    ("entry", "rows"),
    [
        ({"setting": "acceleration", "value": "1.5 s", "how": "video"}, [("all", "1.5 s", "video")]),
        (
            {"setting": "standby_timeout", "value": "10 s in drive; none in seat", "how": "timed"},
            [("all", "10 s in drive", "timed"), ("all", "none in seat", "as above")],
        ),
        (
            {"setting": "forward_speed", "how": "timed"},
            [("slow", "0.25 m/s (0.55 mph)", "timed"), ("indoor", "0.4 m/s (0.89 mph)", "as above")],
        ),
        (
            {"setting": "sound", "value": "on (a tone; then a word)"},
            [("all", "on (a tone; then a word)", "loudness: by the therapist with the driver")],
        ),
    ],
)
def test_each_value_of_each_profile_has_a_cell_of_its_own_for_the_programmer(entry, rows):
    assert _entered(entry) == rows


def test_reverse_that_no_command_works_is_told_once_as_off_and_stands_in_no_other_list():
    all_but_back = {"commands": [{"does": does, "input": does} for does in ("forward", "left", "right")]}
    [(profile, value, how)] = _rows("reverse_speed", **all_but_back)
    assert (profile, value) == (
        "all",
        "off: speed 0",
    ) and "stays off unless the therapist orders otherwise in writing" in (how or "")
    order = trees(ASSESSED["ilmari-okonjo-vale"], ["order"])["order"].plain()
    assert order.count("off: speed 0") == 1 and order.lower().count("maximum reverse speed") == 1


def test_reverse_that_somebody_but_the_driver_has_is_not_ordered_off():
    all_but_back = [{"does": does, "input": does} for does in ("forward", "left", "right")]
    [(profile, value, how)] = _rows("reverse_speed", commands=all_but_back, has_reverse=True)
    assert (profile, value) == ("all", None) and "recorded with reverse: ask who has it" in (how or "")
    assert "stays off" not in how


def test_a_caution_of_a_setting_stands_under_the_table_in_words_of_its_own():
    order = trees(ASSESSED["marisol-quenneville-tran"], ["order"])["order"]
    cautions = [node.plain() for node in order.walk() if node.kind == "item" and "Caution" in node.plain()]
    assert cautions == [
        "Caution on the recline stop angle: At 150 with a tilt of 50 her head is below her hips: before both, ask "
        "Theodora Wexcombe-Nair.",
        "Caution on the power tilt speed: Do not set it faster than 15 s: at 9 s she had a spasm in 2 of 3.",
    ]


@pytest.mark.parametrize(
    ("found", "instead", "said"),
    [
        ('setting = "acceleration"', 'setting = "aceleration"', "'aceleration'"),
        (
            'value = "2.0 s to the profile\'s speed"',
            'value = "2.0 s"\nas_delivered = true',
            "has a value and stays as delivered",
        ),
        ('value = "2.0 s to the profile\'s speed"', 'value = "2.0 s"\nprofile = "indor"', "'indor' is not an id in"),
    ],
)
def test_a_setting_that_cannot_be_is_told_with_its_line(found, instead, said, demo):
    target = demo("marisol-quenneville-tran")
    text = text_in_full(target)
    assert found in text
    (target / "case.toml").write_text(text.replace(found, instead, 1), encoding="utf-8")
    with pytest.raises(UserError) as failure:
        check_case(target)
    assert said in str(failure.value) and "case.toml:" in str(failure.value)


def test_a_value_of_all_profiles_and_one_of_a_single_profile_are_two_rows():
    """Told alike, they would share a row, and a profile would stand beside the value of another."""
    of_all, of_one = (
        {"setting": "acceleration", "value": "30 %", "how": "video"},
        {"setting": "acceleration", "value": "10 %"},
    )
    entered = (of_all, of_one | {"how": "video", "profile": "indoor"})
    configuration = {"settings": entered, "profiles": (SLOW, INDOOR)}
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": configuration})
    shown = drive_settings()["acceleration"].name
    rows = [(row["profiles"], row["set_to"]) for row in parameters(case, WORDS) if row["name"] == shown]
    assert rows == [((), ("30 %",)), (("indoor",), ("10 %",))]


@pytest.mark.parametrize(
    ("value", "side"),
    [("0.8 m/s²", "≥ "), ("0.6 m to a stop from 3 km/h", ""), ("1.2 s to standstill", ""), ("60 %", ""), ("55", "")],
)
def test_a_way_to_a_stop_is_never_one_that_may_be_longer(value, side):
    """It was printed as a braking of which more is as well: a longer way."""
    entered = {"setting": "deceleration", "value": value, "how": "tape"}
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": {"settings": (entered,)}})
    assert [row["side"] for row in to_enter(case, WORDS) if row["value"] == value] == [side]


@pytest.mark.parametrize(
    ("setting", "value", "side"),
    [
        ("acceleration", "1.5 s to top speed", "≥ "),
        ("acceleration", "20 on the programmer", ""),
        ("acceleration", "15 %", ""),
        ("acceleration", "0.4 m/s²", ""),
        ("turn_deceleration", "0.4 s to standstill", "≤ "),
        ("turn_deceleration", "40 %", ""),
        ("forward_speed", "0.3 m/s", "≤ "),
        ("forward_speed", "25 %", ""),
    ],
)
def test_a_figure_of_the_programmer_has_no_side(setting, value, side):
    """A higher number of a programmer may start the chair harder: only what is measured has a safe side."""
    entered = {"setting": setting, "value": value, "how": "video"}
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": {"settings": (entered,)}})
    assert [row["side"] for row in to_enter(case, WORDS) if row["value"] == value] == [side]


@of_each(
    ("asked", "apply"),
    [
        ({"items": ({"id": "e2373", "code": "E2373"},)}, False),
        ({"features": (_feature("compact_joystick"),)}, False),
        ({"items": ({"id": "e2373", "code": "E2373"},), "latched": True}, True),
        ({"items": ({"id": "e2321", "code": "E2321"},)}, True),
    ],
)
def test_a_proportional_joystick_has_no_time_out_of_a_latch_and_no_lost_input_to_set(asked, apply):
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": asked})
    others = {drive_settings()[name].name for name in ("latch_timeout", "dropout_tolerance")}
    unused = {name for row in unused_parameters(case, WORDS) for name in row["names"]}
    assert others.isdisjoint(unused) if apply else others <= unused
    entered = {"configuration": asked | {"settings": ({"setting": "dropout_tolerance", "value": "0 ms"},)}}
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", **entered})
    shown = drive_settings()["dropout_tolerance"].name
    assert [row["value"] for row in settings(case, WORDS) if row["name"] == shown] == ["0 ms"]
