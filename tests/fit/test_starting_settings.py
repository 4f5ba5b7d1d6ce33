"""Where to begin with the settings: never above what the evidence bears, and the way the trade moves them."""

from __future__ import annotations

import pytest
from gathered import of_each
from support import DEMO_FOLDERS

from cases import case_of
from docgen.case.asked import Command
from docgen.case.need import Finding, Space
from docgen.case.profile import Profile, SetTo
from docgen.case.read import read_case
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.gather import evidence
from docgen.evidence.stopping_rule import Stopping, StopThere, release_used
from docgen.fit.settings import Computed, computed, drive_settings, moved, slowest
from docgen.fit.signs import SIGNS, signs, signs_of_lessons

PROFILE = {"id": "indoor", "name": "indoor", "speed_m_s": 0.5, "turn_deg_s": 20.0, "reverse_m_s": 0.3}
DOORS = tuple({"id": f"door_{n}", "name": f"door {n}", "kind": "doorway", "profile": "indoor"} for n in (1, 2))


def facts(**values):
    return Evidence(
        iter(
            Fact(name.replace("__", "."), "stopping", name, kind, value, 1, k)
            for name, (kind, value, k) in values.items()
        ),
        _rule(
            {name.partition("__")[2]: value for name, (_, value, _) in values.items() if name.startswith("safe_speed")}
        ),
    )


def _rule(fastest):
    """The stopping rule, where these are the fastest speeds that stop in each door: 1 m/s takes 1 m."""
    profile, doors = Profile(**PROFILE), {door["id"]: Space(**door) for door in DOORS}
    return Stopping(
        release_used(()),
        places=tuple(
            StopThere(doors[door], profile, profile.speed_m_s, speed, speed) for door, speed in fastest.items()
        ),
    )


def test_the_tightest_space_decides_and_reverse_is_half():
    case = case_of(spaces=DOORS, configuration={"profiles": (PROFILE,)})
    found = computed(
        case,
        facts(
            safe_speed__door_1=("speed", 0.45, None),
            safe_speed__door_2=("speed", 0.3, None),
            turn_rate__door_1=("turn_rate", 14.0, None),
            turn_rate__door_2=("turn_rate", 16.0, None),
        ),
    )
    assert {(one.setting, one.value, one.over) for one in found} == {
        ("forward_speed", 0.3, True),
        ("reverse_speed", 0.15, True),
        ("turn_speed", 14.0, True),
    }
    assert all(one.reason and one.fact for one in found)


def test_without_evidence_nothing_is_computed():
    assert not computed(case_of(spaces=DOORS, configuration={"profiles": (PROFILE,)}), facts())


@pytest.mark.parametrize("path", DEMO_FOLDERS, ids=lambda path: path.name)
def test_a_computed_speed_is_the_least_of_its_spaces(path):
    case = read_case(path).case
    found = evidence(case)
    for one in computed(case, found):
        spaces = [space.id for space in case.spaces if space.profile == one.profile.id]
        if one.setting == "forward_speed":
            assert one.value == min(f.value for s in spaces if (f := found.of("safe_speed", s)) and f.value is not None)


SEEN = {
    "stops_missed": {"stop_request__pads": ("proportion", 0.0, 0)},
    "release_late": {"release_slowest__pads": ("seconds", 1.0, None)},
    "contacts_often": {"contacts__pads": ("rate_100_m", 1.1, None)},
    "unintended_often": {"unintended__pads": ("rate_minute", 0.21, None)},
    "missed_often": {"missed__pads": ("proportion", 0.11, None)},
    "corners_lost": {"success__pads__door": ("proportion", 0.79, None)},
    "tone_up": {"tone_rise__pads": ("score", 2.0, None)},
    "tired": {"fatigue_rise__pads": ("score", 2.0, None)},
    "space_too_short": {"safe_speed__door_1": ("speed", 0.4, None)},
}
NOT_SEEN = {
    "stops_missed": {"stop_request__pads": ("proportion", 1.0, 1)},
    "release_late": {"release_slowest__pads": ("seconds", 0.9, None)},
    "contacts_often": {"contacts__pads": ("rate_100_m", 1.0, None)},
    "unintended_often": {"unintended__pads": ("rate_minute", 0.2, None)},
    "missed_often": {"missed__pads": ("proportion", 0.1, None)},
    "corners_lost": {"success__pads__door": ("proportion", 0.8, None)},
    "tone_up": {"tone_rise__pads": ("score", 1.0, None)},
    "tired": {"fatigue_rise__pads": ("score", 1.0, None)},
    "space_too_short": {"safe_speed__door_1": ("speed", 0.5, None)},
}
TRIED = case_of(
    spaces=DOORS,
    trial={
        "methods": ({"id": "pads", "name": "pads"},),
        "tasks": ({"id": "door", "name": "a door", "shows": "steer"},),
    },
    configuration={"method": "pads", "profiles": (PROFILE,)},
)


@of_each("name", SEEN)
def test_a_sign_is_seen_at_its_threshold_and_not_below(name):
    assert signs(TRIED, facts(**SEEN[name]), "pads")[name].seen is True
    assert signs(TRIED, facts(**NOT_SEEN[name]), "pads")[name].seen is False
    assert signs(TRIED, facts(), "pads")[name].seen is None


def test_every_sign_is_tried():
    late = Evidence(iter([Fact("late.pads", "changing", "late", "difference", -0.3, 20, None, -0.5, -0.1)]))
    assert signs(TRIED, late, "pads")["late_worse"].seen is True
    assert set(SIGNS) == {*SEEN, "late_worse"}


def test_a_setting_is_moved_for_a_finding_and_for_a_sign_with_its_reason():
    found = {one.setting.name: one for one in moved(TRIED, facts(**SEEN["stops_missed"]))}
    assert found["maximum forward speed"].move == "down"
    assert [why for _, why in found["maximum forward speed"].reasons] == [("a stop was missed (1 of 1)",)]
    assert [fact.id for fact in found["maximum forward speed"].facts] == ["stop_request.pads"]
    assert not moved(TRIED, facts())


@pytest.mark.parametrize(
    ("says", "of_it", "is_moved"),
    [
        ("His neck hurts.", {}, True),
        ("His neck hurt after ten minutes.", {"seen_with": "array"}, False),
        ("His neck hurts.", {"only_in_bed": True}, False),
    ],
)
def test_a_finding_that_tells_of_a_device_not_asked_for_moves_no_setting(says, of_it, is_moved):
    device = {"id": "array", "kind": "head_control", "name": "a head array"}
    case = case_of([], ["head_array"], alternatives=(device,))
    pain = Finding(id="neck_pain", says=says, **of_it)
    found = {one.setting.name for one in moved(case.model_copy(update={"findings": (pain,)}), facts())}
    assert ("maximum reverse speed" in found) is is_moved


SEEN_ALL = Evidence(
    iter(
        Fact(name.replace("__", "."), "stopping", name, kind, value, 1, k)
        for facts_ in SEEN.values()
        for name, (kind, value, k) in facts_.items()
    ),
    _rule({"door_1": 0.4}),
)


@pytest.mark.parametrize(
    "name", [name for name, setting in drive_settings().items() if any(move.yields for move in setting.moves)]
)
def test_a_direction_that_yields_waits_while_the_safe_one_stands(name):
    setting = drive_settings()[name]
    every = [sign for move in setting.moves for sign in move.signs if sign not in SIGNS]
    case = TRIED.model_copy(update={"findings": case_of(every).findings})
    [one] = [one for one in moved(case, SEEN_ALL) if one.setting is setting]
    assert one.first and one.then
    assert not any(move.yields for move, _ in one.first) and all(move.yields for move, _ in one.then)
    waiting = [sign for move in setting.moves if move.yields for sign in move.signs if sign not in SIGNS]
    alone = [one for one in moved(case_of(waiting), facts()) if one.setting is setting]
    assert not alone or (alone[0].first and not alone[0].then)


def test_a_setting_that_the_control_does_not_use_is_not_advised():
    case = case_of(["head_three_way", "grip_release_slow"])
    assert {"maximum reverse speed", "hold time"} <= {advice.setting.name for advice in moved(case, facts())}
    unused = SetTo(setting="hold_time", value="presses are counted, not timed", used=False)
    driven = tuple(Command(does=does, input="head") for does in ("forward", "left", "right"))
    asked = case.configuration.model_copy(update={"settings": (unused,), "commands": driven})
    assert asked.backs is False
    left = {advice.setting.name for advice in moved(case.model_copy(update={"configuration": asked}), facts())}
    assert left and not {"maximum reverse speed", "hold time"} & left


def test_a_control_that_springs_back_has_no_latch_to_end_unless_one_is_asked_for():
    """A stop switch brings the time-out of a latch, which a control that springs back has not."""
    timed = {
        control: "latched-drive time-out"
        in {entry.setting.name for entry in moved(case_of(["release_late"], control), facts())}
        for control in (
            ("proportional_control", "stop_switch"),
            ("nonproportional_control", "stop_switch"),
            ("proportional_control", "latched_drive"),
        )
    }
    assert list(timed.values()) == [False, True, True]


def test_a_setting_of_features_not_asked_for_is_left_out():
    latched = {one.setting.name for one in moved(case_of(["breath_graded"], ["latched_drive"]), facts())}
    momentary = {one.setting.name for one in moved(case_of(["breath_graded"], ["momentary_drive"]), facts())}
    assert "latched drive" in latched and "latched drive" not in momentary


@pytest.mark.parametrize(
    ("n_contacts", "n_tries", "seen"), [(2, 19, True), (2, 20, False), (1, 5, False), (2, 5, True)]
)
def test_contacts_without_a_distance_are_often_from_the_second_and_one_in_ten_tries(n_contacts, n_tries, seen):
    counted = Fact("contacts_counted.pads", "safely", "contacts", "in_attempts", n_contacts, n_tries, n_contacts)
    assert signs(TRIED, Evidence(iter([counted])), "pads")["contacts_often"].seen is seen


@pytest.mark.parametrize(("scale", "sign"), [("tone", "tone_up"), ("fatigue", "tired")])
def test_a_rise_in_lessons_is_seen_at_two_points_and_named_as_in_the_trial(scale, sign):
    for rise, seen in ((1.9, False), (2.0, True)):
        in_lessons = signs_of_lessons(
            TRIED, Evidence(iter([Fact(f"since.{scale}_rise_now", "after", "rise", "score", rise, 3)]))
        )[sign]
        assert in_lessons.seen is seen and in_lessons.label == signs(TRIED, facts(), "pads")[sign].label


def profiles(*speeds):
    made = tuple(Profile(id=f"p{at}", name=f"p{at}", speed_m_s=speed) for at, speed in enumerate(speeds))
    return case_of(configuration={"profiles": made})


@of_each(
    ("speeds", "name"),
    [((0.5, 0.3, 0.4), "p1"), ((0.5, 0.3), "p1"), ((0.3,), None), ((0.5, None), None), ((None, 0.2), None), ((), None)],
)
def test_the_slowest_of_several_profiles_is_told_only_where_every_speed_is_recorded(speeds, name):
    found = slowest(profiles(*speeds))
    assert (found.name if found else None) == name


@pytest.mark.parametrize(("recorded", "over"), [(None, False), (0.3, False), (0.4, False), (0.41, True)])
def test_a_recorded_speed_is_over_only_above_what_the_evidence_bears(recorded, over):
    fact = Fact("safe_speed.door_1", "stopping", "speed", "speed", 0.4)
    assert Computed(PROFILE, "forward_speed", "speed", 0.4, "m/s", recorded, fact, "why").over is over


@pytest.mark.parametrize(("backs", "reverse"), [(True, True), (None, True), (False, False)])
def test_a_reverse_speed_is_worked_out_unless_the_control_does_not_back_up(backs, reverse):
    commands = {
        True: ({"does": "back", "input": "head back"},),
        None: (),
        False: tuple({"does": does, "input": "head"} for does in ("forward", "left", "right")),
    }[backs]
    profile = {key: value for key, value in PROFILE.items() if key != "reverse_m_s"}
    case = case_of(spaces=DOORS, configuration={"profiles": (profile,), "commands": commands})
    assert case.configuration.backs is backs
    found = computed(case, facts(safe_speed__door_1=("speed", 0.45, None)))
    assert ("reverse_speed" in {value.setting for value in found}) is reverse


@pytest.mark.parametrize(
    ("changed", "worked_out"), [({}, True), ({"kind": "corridor"}, False), ({"profile": "other"}, False)]
)
def test_a_turn_rate_is_worked_out_from_doors_driven_with_the_profile(changed, worked_out):
    case = case_of(spaces=(DOORS[0] | changed,), configuration={"profiles": (PROFILE,)})
    found = computed(case, facts(turn_rate__door_1=("turn_rate", 14.0, None)))
    assert ("turn_speed" in {value.setting for value in found}) is worked_out


@pytest.mark.parametrize(("speed", "seen"), [(0.4, True), (0.5, False), (None, None)])
def test_a_space_too_short_is_a_sign_in_the_trial_and_in_the_lessons_alike(speed, seen):
    found = facts() if speed is None else facts(safe_speed__door_1=("speed", speed, None))
    assert signs(TRIED, found, "pads")["space_too_short"].seen is seen
    assert signs_of_lessons(TRIED, found)["space_too_short"].seen is seen
    assert signs(TRIED, found, "stick")["space_too_short"].seen is None  # told of the control asked for alone


def test_a_place_without_its_fact_is_no_sign():
    assert signs(TRIED, Evidence(iter(()), _rule({"door_1": 0.4})), "pads")["space_too_short"].seen is None
