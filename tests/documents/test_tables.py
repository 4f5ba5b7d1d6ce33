"""What tables decide for the templates: each row and flag of the order, the letter and the guide, from a case that
calls for it."""

from __future__ import annotations

import pytest
from gathered import of_each
from support import CASES

from docgen.case.asked import Command
from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.case.need import Space
from docgen.case.profile import Profile
from docgen.case.supervision import Supervision
from docgen.case.training import FollowUp
from docgen.documents.daily_use import daily_use
from docgen.documents.drive_profiles import profile_steps, profiles
from docgen.documents.follow_up import VisitsPlanned, visits_planned
from docgen.documents.mounting import heights, mounting
from docgen.documents.phrase import joined
from docgen.documents.places import rooms
from docgen.documents.simpler_devices import explained
from docgen.documents.stopping_told import stopping_told
from docgen.evidence.fact import Fact
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.wording import language_words

WORDS = language_words()
ILMARI = CASES["ilmari-okonjo-vale"]


def configured(case: Case = ILMARI, **keys: object) -> Case:
    """The case with these keys of its configuration."""
    return case.model_copy(update={"configuration": case.configuration.model_copy(update=keys)})


def mounts(*sites: str, **keys: object) -> Case:
    """The case with one part at each of these sites."""
    parts = [{"id": f"part_{n}", "part": "pad", "site": site, **keys} for n, site in enumerate(sites)]
    return configured(mounting=tuple(map(Mount.model_validate, parts)))


PLACED = {"height_mm": 400, "depth_mm": 0, "midline_mm": -95, "angle_deg": 10}


@pytest.mark.parametrize("lacks", [*PLACED, None])
def test_a_part_without_height_depth_side_or_angle_is_not_measured(lacks):
    [row] = mounting(mounts("chin", **{key: value for key, value in PLACED.items() if key != lacks}))
    assert row["measured"] is (lacks is None)
    [row] = mounting(
        mounts(
            "chin",
            **{key: value for key, value in PLACED.items() if key != lacks},
            not_applicable=({"of": lacks, "because": "it is round"},) if lacks else (),
        )
    )
    assert row["measured"] and (not lacks or row[f"not_{lacks}"] == "it is round")


@of_each(
    "key, value, shown, way",
    [
        ("depth", 120, 120, "front"),
        ("depth", -12, 12, "behind"),
        ("depth", 0, 0, ""),
        ("depth", None, None, ""),
        ("midline", 60, 60, "right"),
        ("midline", -95, 95, "left"),
        ("midline", 0, 0, ""),
    ],
)
def test_a_depth_or_side_is_a_length_and_a_way(key, value, shown, way):
    [row] = mounting(mounts("chin", **{f"{key}_mm": value}))
    assert (row[f"{key}_mm"], row[f"{key}_way"]) == (shown, way)


def test_a_part_without_a_gap_has_no_range_of_it_either():
    [row] = mounting(mounts("other", not_applicable=({"of": "gap_mm", "because": "no body part rests there"},)))
    assert row["not_gap_mm"] == row["not_allowed"] == "no body part rests there"


@pytest.mark.parametrize(
    "sites, above", [(["chin"], "seat"), (["foot", "foot"], "plate"), (["foot", "chin"], "both"), ([], "seat")]
)
def test_heights_are_told_above_what_they_are_measured_from(sites, above):
    assert heights(mounts(*sites))["above"] == above


def set_to(latched: bool | None, control: bool, timeout_s: float | None = None) -> dict[str, object]:
    profile = Profile(id="p", name="p", latched=latched, latch_timeout_s=timeout_s)
    [row] = profiles(configured(profiles=(profile,), latched=control, features=()), WORDS)
    return dict(row)


@pytest.mark.parametrize(
    "latched, control, told", [(True, True, "yes"), (False, True, "no"), (None, True, None), (None, False, "no")]
)
def test_whether_a_setting_keeps_going_is_open_only_where_the_control_has_a_latch(latched, control, told):
    assert set_to(latched, control)["latched"] == told


@pytest.mark.parametrize("latched, ends_after_s", [(True, 8.0), (False, 0)])
def test_a_latch_ends_by_itself_only_where_there_is_one(latched, ends_after_s):
    assert set_to(latched, True, 8.0)["ends_after_s"] == ends_after_s


@pytest.mark.parametrize(
    "does, backs", [(["forward", "left", "right"], False), (["forward", "back"], True), (["forward"], True), ([], True)]
)
def test_a_control_that_drives_and_steers_without_a_way_back_has_no_reverse_speed(does, backs):
    commands = tuple(Command.model_validate({"does": one, "input": "a press"}) for one in does)
    [row] = profiles(
        configured(
            commands=commands,
            without_reverse=None,
            has_reverse=None,
            features=(),
            profiles=(Profile(id="p", name="p"),),
        ),
        WORDS,
    )
    assert row["backs"] is backs


def test_a_room_tells_what_was_measured_and_a_place_without_width_or_turning_is_none():
    keys: list[dict[str, object]] = [
        {"id": "hall", "name": "hall", "kind": "corridor", "clear_width_mm": 900, "threshold_mm": 0},
        {"id": "bath", "name": "bath", "kind": "turning", "turning_mm": 1500, "clear_ahead_mm": 600},
        {"id": "door", "name": "door", "kind": "doorway", "threshold_mm": 20},
    ]
    case = ILMARI.model_copy(update={"spaces": tuple(map(Space.model_validate, keys))})
    assert {row["name"]: row["measures"] for row in rooms(case, evidence(case), WORDS)} == {
        "hall": ("900 mm (35 1/4 in) clear",),  # 900.5 / 25.4 = 35.45, down
        "bath": ("1500 mm (59 in) to turn", "600 mm (23 1/2 in) ahead"),
    }


def planned(*visits: FollowUp) -> VisitsPlanned:
    return visits_planned(ILMARI.model_copy(update={"follow_up": visits}), WORDS)


@pytest.mark.parametrize("weeks, again", [([2], ()), ([2, 6], ("6",)), ([2, 6, 12.5], ("6", "12.5"))])
def test_the_first_visit_is_told_with_what_it_looks_at_and_the_rest_by_their_weeks(weeks, again):
    visits = [FollowUp(after_weeks=week, what=f"look {week}") for week in weeks]
    assert planned(*visits) == {
        "first_weeks": 2,
        "what": "look 2",
        "first_latest": 0,
        "again_weeks": again,
        "repeated": (),
    }


def test_a_span_of_weeks_and_how_often_a_visit_comes_back_are_told():
    assert planned(
        FollowUp(after_weeks=2, latest_weeks=4, what="skin"),
        FollowUp(after_weeks=6, latest_weeks=7.5, what="settings"),
        FollowUp(after_weeks=26, every_months=1, what="repairs"),
        FollowUp(after_weeks=52, every_months=6, for_months=24, what="all"),
    ) == {
        "first_weeks": 2,
        "what": "skin",
        "first_latest": 4,
        "again_weeks": ("6 to 7.5", "26", "52"),
        "repeated": ("every month after that", "every 6 months after that, until 24 months after delivery"),
    }


def test_without_a_visit_nothing_is_looked_at():
    assert planned()["what"] == ""


@of_each("share, word", [(0.0005, "seldom"), (0.0499, "seldom"), (0.05, "often"), (0.31, "often")])
def test_how_often_chance_alone_brings_a_difference_is_a_word_by_the_test(share, word):
    assert explained(Fact("by_chance.x", "comparing", "chance", "proportion", share)) == word
    assert explained(None) == ""


@pytest.mark.parametrize("demo, follows_from", [("anselm-kirawira-boone", "bound"), ("ilmari-okonjo-vale", "slowest")])
def test_distances_are_told_to_follow_from_the_release_they_were_worked_out_with(demo, follows_from):
    case = CASES[demo]
    facts = evidence(case)
    told = stopping_told(case, facts, WORDS)
    assert told["follows_from"] == follows_from == facts.stopping.release.why
    assert told["signal"] == ("stop_signal" if case.configuration.is_latched else "release")


@pytest.mark.parametrize(
    "climbs_mm, threshold_mm, takes", [(50, None, True), (None, 20, True), (None, 0, False), (None, None, False)]
)
def test_a_threshold_is_told_of_a_chair_that_takes_one_or_has_one_to_take(climbs_mm, threshold_mm, takes):
    space = {"id": "s", "name": "s", "kind": "doorway", "threshold_mm": threshold_mm}
    case = configured(chair=ILMARI.configuration.chair.model_copy(update={"climbs_mm": climbs_mm}))
    case = case.model_copy(update={"spaces": (Space.model_validate(space),)})
    assert stopping_told(case, evidence(case), WORDS)["over_thresholds"] is takes


@pytest.mark.parametrize(
    "demo, touched, unreached",
    [
        ("ilmari-okonjo-vale", "pads", "pads"),
        ("bohdan-lacroix-mbeki", "fingers", "control"),
        ("saoirse-villalobos-ng", "stick", "stick"),
    ],
)
def test_what_is_looked_at_first_when_a_chair_misbehaves_is_what_the_chair_has(demo, touched, unreached):
    case = CASES[demo]
    has = daily_use(case, fit(case, {}))
    assert (has["touched"], has["unreached"]) == (touched, unreached)


def test_a_control_with_none_of_the_kinds_is_looked_at_itself():
    bare = configured(features=(), commands=())
    has = daily_use(bare, fit(bare, {}))
    assert (has["touched"], has["unreached"], has["resting"]) == ("control", "control", False)


def test_a_command_to_rest_is_a_rest_too():
    rests = configured(features=(), commands=(Command(does="rest", input="a long press"),))
    assert daily_use(rests, fit(rests, {}))["resting"]


@pytest.mark.parametrize(
    "level, alone", [("on_call", True), ("alone", True), ("in_sight", False), ("hands_on_stop", False)]
)
def test_someone_may_be_away_only_where_supervision_says_so(level, alone):
    place = Supervision.model_validate({"place": "at home", "level": level})
    case = ILMARI.model_copy(update={"supervision": (place,)})
    assert daily_use(case, fit(case, {}))["alone"] is alone


@pytest.mark.parametrize("until_stage, staged", [("corners", True), ("ready", True), (None, False)])
def test_a_setting_goes_with_a_stage_where_the_case_names_one(until_stage, staged):
    case = configured(profiles=(Profile(id="p", name="p", used="at stage 4", until_stage=until_stage),))
    assert daily_use(case, fit(case, {}))["staged"] is staged


@pytest.mark.parametrize(
    "parts, told", [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_a_list_is_joined_as_it_is_spoken(parts, told):
    assert joined(parts, WORDS) == told


def test_each_step_that_a_profile_waits_for_is_told_once_in_the_order_of_training():
    waiting = [
        Profile(id=f"p{n}", name=f"p{n}", until_stage=step)
        for n, step in enumerate(("tight", "corners", None, "tight"))
    ]
    assert list(profile_steps(configured(profiles=tuple(waiting)), WORDS)) == [
        {"name": "Straight and corners", "aim": "a straight run, a corner, and parking."},
        {"name": "Tight places", "aim": "the driver's own doors and rooms, in and out."},
    ]
    assert not list(profile_steps(configured(profiles=()), WORDS))
