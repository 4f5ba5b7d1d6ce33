"""The guide is about exactly what this chair has, and shows a gap where the case lacks it."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from gathered import of_each
from guide_sheets import FEATURES, MOUNT, STOP, chair, text_of
from hypothesis import example, given, settings
from hypothesis import strategies as st
from made import assessed

from docgen.figures.draw import drawings
from docgen.fit.feature import Kind
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees
from docgen.packet.wording import language_words, wording


def of_kind(kind):
    """Features that bring this into daily use."""
    return {name for name, feature in FEATURES.items() if kind in feature.kinds}


BREATH = of_kind("breath")
# told by hand, so that the words of the guide are not held to the data alone
OF_A_KIND = {
    "pads": (
        "head_array two_site_commands.breath_and_head force_graded_speed force_threshold_pad proximity_sensing "
        "switch_type_by_site"
    ),
    "side_pads": "head_array two_site_commands.breath_and_head",
    "breath": "pneumatic_four_command two_site_commands.breath_and_head",
    "stick": "proportional_control compact_joystick mini_joystick isometric_joystick joystick_position",
    "fingers": "finger_switch_array",
    "swing": "swing_away_mount",
    "rest": "standby",
    "jobs": "mode_switch external_device_control seat_functions_by_drive_input",
    "tilt": "drive_limit_when_tilted",
    "shoe": "foot_site",
}


@of_each("kind", get_args(Kind))
def test_the_features_of_a_kind_are_among_those_that_have_it(kind):
    assert set(OF_A_KIND[kind].split()) <= of_kind(kind)


# words for a part -> features of which one must be requested before the guide itself may say them
WORDS_OF = {
    r"\bpads?\b": of_kind("pads"),
    r"mouthpiece|\bpuff|\bsip\b|\blips\b|the tube": BREATH,
    r"\bstick\b": of_kind("stick"),
    r"\beach hand\b|\ba finger\b|\bthe fingers\b": of_kind("fingers"),
    r"\bhinge\b|\b[Ss]wing": of_kind("swing"),
    r"\brest\b|\bWake\b|\bwake it\b": of_kind("rest"),
    r"another job|Go back to drive|Change what the control does": of_kind("jobs"),
    r"\btilted|seat up": of_kind("tilt"),
    r"keep-going": {"latched_drive"},
    r"\bshoe": of_kind("shoe"),
    r"\bfoot stick|\bchin\b|\bcheek\b|\bknee\b|\bbeams?\b|\bjoint|\blens\b|\bdisplay\b|\bscan|\bmuscle|\bsensor": set(),
}
SITES = ("head_back", "head_left", "head_right", "mouth", "chin", "hand", "foot", "knee")


def generic(one: Assessed, asked) -> str:
    """The guide and its drawings in words, without the features' own words and names."""
    tree = trees(one, ["guide"])["guide"]
    text = (
        tree.plain()
        + " "
        + " ".join(
            s.alt
            for s in drawings(
                one.file.case, one.evidence, language_words()["figures"], wording().documents["guide"].figures
            ).values()
        )
    )
    for name in asked:
        feature = FEATURES[name]
        plain = feature.plain or feature.name
        text = text.replace(feature.care, "").replace(f"{plain[:1].upper()}{plain[1:]}.", "")
    return text


@settings(max_examples=40, deadline=None)
@given(
    st.sets(st.sampled_from(sorted(FEATURES)), max_size=9),
    st.lists(st.sampled_from(SITES), max_size=4, unique=True),
    st.booleans(),
)
@example(set(), [], False)
@example({"compact_joystick", "foot_site"}, ["foot"], True)
@example({"head_array", "proximity_sensing", "standby", "swing_away_mount"}, ["head_back", "head_left"], True)
@example({"pneumatic_four_command", "latched_drive", "stop_switch"}, ["mouth"], False)
def test_the_guide_brings_the_care_of_each_feature_and_speaks_of_no_other(asked, sites, marked):
    mounts = tuple(
        {
            "id": f"part{at}",
            "part": f"part {at}",
            "site": site,
            "at": "there",
            "gap_mm": 9 + at,
            "side": "left",
            "mark": "white line" if marked else None,
        }
        for at, site in enumerate(sites)
    )
    one = chair(
        sorted(asked),
        mounting=tuple({k: v for k, v in mount.items() if v} for mount in mounts),
        swing="Move it out of the way." if "swing_away_mount" in asked else None,
    )
    text = text_of(one)
    for name in asked:
        assert FEATURES[name].care in text, name
    told = generic(one, asked)
    for words, owners in WORDS_OF.items():
        assert owners & asked or not re.search(words, told), (
            words,
            re.search(rf".{{30}}(?:{words}).{{30}}", told, re.S),
        )
    assert bool(sites) == ("space from body to part" in told)
    assert bool(re.search(r"(?:its|the|each) marks?\b|\bmarks (?:line up|and gaps)", told)) == bool(sites and marked)
    assert ("Only Robin uses this mouthpiece" in told) == bool(BREATH & asked)
    assert ("has a keep-going setting" in told) == ("latched_drive" in asked)
    assert ("Use rest at each stop" in told) == ("standby" in asked)
    assert "standby" in asked or not re.search(r"\bin rest\b", text)  # nor may the care of another feature speak of it
    assert ("fingers clear of what moves" in told) == ("swing_away_mount" in asked)


@pytest.mark.parametrize(
    "does, asked, has_reverse, told",
    [
        (("forward", "stop"), (), False, "Walk beside or behind the chair"),
        (("forward", "stop"), (), None, "Walk beside the chair"),  # a command left out is none that the chair lacks
        (("forward", "back"), (), None, "Walk beside the chair"),
        (("forward", "stop"), (), True, "Walk beside the chair"),
        (("forward",), ("reverse_access.direction_change",), None, "Walk beside the chair"),
        ((), (), None, "Walk beside the chair"),
    ],
)
def test_nobody_stands_behind_a_chair_that_can_back_up_or_of_which_that_is_not_known(does, asked, has_reverse, told):
    commands = tuple({"does": command, "input": "a sign"} for command in does)
    text = text_of(chair(asked, commands=commands, has_reverse=has_reverse))
    assert told in text and ("Walk beside or behind" in text) == ("Walk beside or behind" in told) == (
        "Go behind only" not in text
    )
    assert ("This chair has no reverse" in text) == (has_reverse is False)


@pytest.mark.parametrize(
    "speeds, told",
    [
        ((0.4, 0.2, 0.3), 'the slowest setting ("two")'),
        ((0.4, None), "not recorded: which setting is the slowest"),
        ((), "Use the slowest setting."),
    ],
)
def test_the_slowest_setting_is_called_by_its_name_when_every_speed_is_recorded(speeds, told):
    names = ("one", "two", "three")
    profiles = tuple(
        {"id": name, "name": name, "used": "here"} | ({"speed_m_s": speed} if speed else {})
        for name, speed in zip(names, speeds, strict=False)
    )
    text = text_of(chair(profiles=profiles))
    assert told in text and not re.search(r"0\.[234]", text)
    assert ("ot recorded: how to choose a drive setting" in text) == (len(speeds) > 1)


@pytest.mark.parametrize(
    "key, label, asked",
    [
        ("again", "what makes it drive again after the stop switch", ()),
        ("other_way", "another way to cut the power, when neither switch stops it", ()),
        ("latched_now", "whether the keep-going setting is on now, and who turns it on", ("latched_drive",)),
    ],
)
def test_what_safety_hangs_on_is_told_from_the_case_or_shown_as_a_gap(key, label, asked):
    gap = f"not recorded: {label}"
    assert gap in text_of(chair(asked)).replace("Not recorded", "not recorded")
    known = {"stop": STOP | {key: "It is told"}} if key in ("again", "other_way") else {key: "It is told"}
    text = text_of(chair(asked, **known))
    assert "It is told" in text and gap not in text.replace("Not recorded", "not recorded")


@pytest.mark.parametrize(
    "site, reach", [("head_left", True), ("knee_right", True), ("push_handle_right", False), (None, False)]
)
def test_reaching_in_to_stop_is_allowed_where_the_stop_switch_is_at_the_body(site, reach):
    stop = {"stop_switch": "here", "power_off": "there", "helper": "press it"} | (
        {"stop_switch_site": site} if site else {}
    )
    assert ("Only to stop the chair may you reach in" in text_of(chair(stop=stop))) == reach


NO_TRAY = "not recorded: how the tray comes off and goes back, and its mark"


@pytest.mark.parametrize(
    "held_by, swing, told, untold",
    [
        ("tray", None, NO_TRAY, "Lift it off"),
        ("tray", "Lift it off", "Lift it off.", NO_TRAY),
        (None, None, "Keep hands, arms and clothes off the control", "tray"),
    ],
)
def test_a_part_on_a_tray_brings_how_the_tray_comes_off_or_a_gap(held_by, swing, told, untold):
    text = text_of(chair(mounting=({k: v for k, v in (MOUNT | {"held_by": held_by}).items() if v},), swing=swing))
    assert told in text and untold not in text
    assert ("You may only take the tray off" in text) == ("Put the tray back as under" in text) == (held_by == "tray")


def test_only_the_parts_that_the_record_says_to_swing_may_be_swung():
    parts = (MOUNT | {"part": "left pad", "swings": "left", "mark": "line"}, MOUNT | {"id": "two", "part": "rear pad"})
    told = text_of(chair(("swing_away_mount",), mounting=parts))
    assert "You may only swing it out and back to its mark: left pad." in told
    unknown = text_of(chair(("swing_away_mount",), mounting=(MOUNT,)))
    assert "You may only swing it out and back: the control." in unknown


RIDE = {
    "rides_in_chair": True,
    "vehicle": "a van",
    "trained": "An aunt",
    "chair_labeled": "yes",
    "four_tie_downs": "yes",
    "own_belt": "yes",
    "head_support": "yes",
    "back_deg": 5.0,
    "control": "swung_away",
    "loose_parts": "The tray comes off.",
}


def test_a_ride_of_which_all_is_known_is_told_with_who_ties_it_down():
    told = text_of(assessed(transport=RIDE))
    assert "rides facing the front, once the supplier shows it may." in told
    assert "brings the chair in and out. Trained: An aunt." in told
    assert "rained: " not in text_of(assessed(transport=RIDE | {"rides_in_chair": False}))


@pytest.mark.parametrize(
    "change, told",
    [
        ({"trained": None}, "not recorded: who ties it down"),
        ({"chair_labeled": "unknown"}, "not recorded: whether this chair is made to be ridden in"),
        ({"head_support": None}, "not recorded: what is behind the head"),
        ({"chair_labeled": "no"}, "This chair is not made to be ridden in"),
        ({"control": "stays"}, "The control stays in the way"),
    ],
)
def test_no_page_says_that_someone_may_ride_where_a_point_is_open_or_speaks_against_it(change, told):
    ride = {key: value for key, value in (RIDE | change).items() if value is not None}
    text = text_of(assessed(transport=ride))
    assert (
        told in text and ("must not ride in it yet" if "not recorded" not in told else "before the next ride") in text
    )
    assert "rides in the chair" not in text and "Vehicle: a van" not in text


def test_card_and_guide_forbid_driving_while_nobody_has_been_shown():
    people = ({"id": "aunt", "role": "caregiver", "name": "An aunt"},)
    for taught, told in (((), True), (({"who": "aunt", "what": "the stop"},), False)):
        for tree in trees(assessed(people=people, taught=taught), ["card", "guide"]).values():
            boxes = [block.plain() for block in tree.children if block.kind == "callout"]
            assert ("Do not drive yet: no one is on the list of people shown." in boxes) is told


def test_a_seizure_while_it_moves_begins_with_the_stop_and_heat_has_its_caution():
    text = text_of(assessed(cautions=({"about": "heat", "says": "Go in above thirty degrees."},)))
    call = text.split("Who to call")[1]
    assert call.index("stop it and turn it off") < call.index("seizure") and "Go in above thirty degrees." in text
    cared = text.split("Go in above thirty degrees.")[1]
    assert cared.index('only as under "Meals"') < cared.index("Very sleepy or sick: ") < cared.index("Battery")
