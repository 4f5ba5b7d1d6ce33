"""The drive settings as data: signs that exist, ranges in order, and nothing that lengthens a stop for one who is slow
to let go."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from gathered import of_each

import docgen.fit.settings
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.fit.settings import DriveSetting, drive_settings
from docgen.fit.signs import SIGNS

SETTINGS = drive_settings()
# The drive parameters of the trade, by purpose: stopping, speed and turning, unintended input, reach and force, modes
# and feedback, seat; common practice, no source.
TRADE = """
deceleration dropout_tolerance latch latch_timeout
forward_speed reverse_speed turn_speed acceleration turn_acceleration turn_deceleration torque veer_gain
tremor_dampening dead_zone acceptance_time sensing_distance hold_time press_window press_driving breath_thresholds
throw axes mode_order standby_timeout sound tilt_limit recline_limit seat_stop recline_stop recline_speed seat_range
seat_speed
""".split()
PROFILES = ("training", "indoor", "outdoor")
# Signs that the chair does not stop in time.
LATE = ("stops_missed", "space_too_short", "release_late")

each_setting = of_each("name", SETTINGS)


def moves(name: str, sign: str) -> list[str]:
    """The ways a setting is moved for a sign or a finding."""
    return [move.move for move in SETTINGS[name].moves if sign in move.signs]


def test_every_setting_of_the_trade_is_there_in_its_order():
    assert list(SETTINGS) == TRADE


def test_the_file_says_where_its_ranges_and_directions_are_from():
    head = (Path(docgen.fit.settings.__file__).parent / "settings.toml").read_text(encoding="utf-8").split("\n\n")[0]
    assert "Common practice, no source" in head and "from memory" in head and "verified on the chair" in head


@each_setting
def test_a_setting_says_what_it_does_and_what_to_watch_and_has_a_move(name):
    setting = SETTINGS[name]
    assert setting.moves
    for text in (
        setting.name,
        setting.does,
        setting.watch,
        *(m.because for m in setting.moves),
        *(m.move for m in setting.moves),
    ):
        assert text and not text.endswith(".") and text[0] == text[0].lower(), text


@each_setting
def test_a_move_names_signs_that_exist_and_none_twice(name):
    for move in SETTINGS[name].moves:
        assert set(move.signs) <= set(vocabulary()) | set(SIGNS)
        assert len(set(move.signs)) == len(move.signs)


@each_setting
def test_one_sign_never_moves_a_setting_two_ways(name):
    signs = {sign for move in SETTINGS[name].moves for sign in move.signs}
    assert not {sign: moves(name, sign) for sign in signs if len(set(moves(name, sign))) > 1}


@of_each("sign", SIGNS)
def test_every_sign_of_a_trial_moves_some_setting(sign):
    assert any(moves(name, sign) for name in SETTINGS)


@each_setting
def test_a_range_runs_from_less_to_more_and_from_the_slowest_profile_to_the_fastest(name):
    usual = SETTINGS[name].usual
    assert set(usual) <= {*PROFILES, "any"}
    assert "any" not in usual or len(usual) == 1
    assert all(0 <= low <= high for low, high in usual.values())
    assert bool(usual) <= bool(SETTINGS[name].unit), "a range needs a unit"
    inside = [usual[profile] for profile in PROFILES if profile in usual]
    assert inside == sorted(inside)


def test_reverse_is_half_of_forward_or_less_in_every_profile():
    forward, reverse = SETTINGS["forward_speed"].usual, SETTINGS["reverse_speed"].usual
    assert set(reverse) == set(forward) == set(PROFILES)
    for profile in PROFILES:
        assert reverse[profile][1] <= forward[profile][1] / 2 and reverse[profile][0] <= forward[profile][0] / 2


def test_smoothing_and_a_delay_of_release_begin_at_nothing():
    assert SETTINGS["tremor_dampening"].usual["any"] == SETTINGS["dropout_tolerance"].usual["any"] == (0, 0)


@pytest.mark.parametrize("sign", LATE)
def test_a_stop_that_comes_late_lowers_the_speed_and_takes_every_delay_out(sign):
    assert moves("forward_speed", sign) == ["down"]
    assert moves("deceleration", sign) == ["up"]
    assert moves("tremor_dampening", sign) == moves("dropout_tolerance", sign) == ["off"]


@pytest.mark.parametrize("finding", ["release_slow", "grip_release_slow"])
def test_a_slow_release_is_never_given_a_setting_that_delays_the_stop(finding):
    assert moves("forward_speed", finding) == ["down"]
    assert moves("tremor_dampening", finding) == moves("dropout_tolerance", finding) == ["off"]


def test_a_delay_of_release_is_never_raised_beside_collisions():
    """Over rough ground it is offered only when nothing speaks against it."""
    assert moves("dropout_tolerance", "contacts_often") == ["off"]


def test_speed_comes_down_before_smoothing_goes_up():
    assert list(SETTINGS).index("forward_speed") < list(SETTINGS).index("tremor_dampening")
    ups = [move.move for move in SETTINGS["tremor_dampening"].moves if move.move.startswith("up")]
    assert ups and all("after the speed is down" in move for move in ups)


def test_a_latch_is_on_only_with_a_stop_switch_and_off_wherever_the_feature_is_spoken_against():
    on = [move.move for move in SETTINGS["latch"].moves if move.move.startswith("on")]
    assert on and all("stop switch" in move for move in on)
    for against in features()["latched_drive"].spoken_against_by:
        assert [move.split()[0] for move in moves("latch", against.finding)] == ["off"], against.finding


def test_the_latch_stays_off_with_spasms_until_a_stop_is_shown_in_one():
    assert moves("latch", "spasm_sudden") == ["off until a stop is shown during a real spasm"]


# The direction that waits while a reason for the other, safer one stands.
YIELDS = {
    ("acceleration", "up"),
    ("deceleration", "down"),
    ("tremor_dampening", "up"),
    ("dead_zone", "narrow"),
    ("dropout_tolerance", "up"),
    ("latch", "on"),
    ("standby_timeout", "longer"),
    ("sensing_distance", "longer"),
    ("veer_gain", "up"),
}


def test_the_direction_that_is_less_safe_waits_and_the_other_never_does():
    waits = {
        (name, re.split(r"[ ,]", move.move)[0])
        for name, setting in SETTINGS.items()
        for move in setting.moves
        if move.yields
    }
    stands = {
        (name, re.split(r"[ ,]", move.move)[0])
        for name, setting in SETTINGS.items()
        for move in setting.moves
        if not move.yields
    }
    assert waits == YIELDS and not waits & stands
    assert all(name in {other for other, _ in stands} for name, _ in waits), "what waits has something to wait for"


def test_a_touch_has_to_last_longer_only_where_unintended_touches_are_counted():
    up = [move for move in SETTINGS["acceptance_time"].moves if move.move.startswith("up")]
    assert [move.signs for move in up] == [("unintended_often",)] and "never on a stop switch" in up[0].move


def test_smoothing_for_rough_ground_has_the_stop_measured_again():
    [move] = moves("tremor_dampening", "slopes_rough")
    assert "stop measured again" in move


def test_a_reason_fits_any_control():
    texts = [move.because for setting in SETTINGS.values() for move in setting.moves]
    assert not [text for text in texts if re.search(r"\b(pads?|straw|stick|fingers?|hand|foot)\b", text)]


@pytest.mark.parametrize("sign", ["stops_missed", "space_too_short", "young_driver"])
def test_a_speed_that_comes_down_brings_the_torque_to_mind(sign):
    assert moves("forward_speed", sign) == ["down"] and moves("torque", sign) == [
        "up, only where the slower chair stalls"
    ]


@pytest.mark.parametrize("sign", ["unintended_often", "missed_often"])
def test_what_is_touched_without_intent_and_what_is_missed_move_the_delay_apart(sign):
    assert moves("acceptance_time", sign)[0].startswith("up" if sign == "unintended_often" else "down")


def test_every_setting_that_a_feature_can_touch_is_touched_by_one():
    touched = {name for feature in features().values() for name in feature.settings}
    of_the_seat = {"seat_range", "seat_speed", "seat_stop", "recline_limit", "recline_stop", "recline_speed"}
    assert set(SETTINGS) - touched == {"torque", *of_the_seat}  # of floor and ramp, and of the seat alone


def test_the_file_holds_only_keys_that_are_read_and_ids_in_small_letters():
    raw = tomllib.loads((Path(docgen.fit.settings.__file__).parent / "settings.toml").read_text(encoding="utf-8"))
    assert {key for table in raw.values() for key in table} <= set(DriveSetting.model_fields)
    assert not [name for name in raw if not re.fullmatch(r"[a-z][a-z_]*", name)]
