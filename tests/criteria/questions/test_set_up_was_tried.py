"""What `set_up_was_tried` says of each record."""

from __future__ import annotations

import pytest
from records import Records
from whole_case import GONE, ROWS, ask, attempts, changed, grounds

from docgen.criteria.payer import load
from docgen.criteria.run import blocking, verdicts

PADS, FEATURES = "trial.methods.1", "configuration.features.+"
TRIED = ["head_array", "proximity_sensing"]
LATCHED_TRIED = (f"{PADS}.features", [*TRIED, "latched_drive"])
LATCH_UNTOLD = (f"{PADS}.features", TRIED)
SUPPORT = (FEATURES, {"id": "suboccipital_support", "because": ["head_three_way"]})
WITHOUT = (f"{PADS}.without", ["suboccipital_support"])
LATCH_ASKED = [
    ("configuration.latched", True),
    (FEATURES, {"id": "latched_drive", "because": ["head_three_way"]}),
    LATCHED_TRIED,
    ("configuration.profiles.0.latch_timeout_s", 10),
]
HELD = (
    "trial.methods.+",
    {
        "id": "held",
        "name": "head pads, latch off",
        "features": [*TRIED, "momentary_drive"],
        "speed_m_s": 0.4,
        "seat_deg": 5,
    },
)
HELD_ROWS = [*ROWS, *attempts("held", "1" * 12)]
TIMED = [row | {"speed_m_s": 0.4} for row in ROWS]
OTHER_TIMED = [row | ({"speed_m_s": 0.4} if row["method"] == "stick" else {}) for row in ROWS]
LATCHED_PROFILE = (
    "configuration.profiles.+",
    {"id": "far", "name": "far", "latched": True, "latch_timeout_s": 10, "speed_m_s": 0.4},
)

RECORDS = Records(
    "set_up_was_tried",
    met=[
        ("the whole case", []),
        ("latched as it was tried", [*LATCH_ASKED, ("configuration.profiles.0.latched", True)]),
        (
            "the latch off, tried as a method of its own",
            [LATCHED_TRIED, HELD, ("configuration.method", "held"), ("configuration.profiles.0.latched", False)],
            HELD_ROWS,
        ),
        (
            "one profile held and one latched, and both were tried",
            [*LATCH_ASKED, HELD, ("configuration.profiles.0.latched", False), LATCHED_PROFILE],
            HELD_ROWS,
        ),
        (
            "switches, which are nonproportional without a word",
            [
                (FEATURES, {"id": "nonproportional_control", "because": ["head_three_way"]}),
                (FEATURES, {"id": "contact_switch_sensing", "because": ["head_three_way"]}),
                (f"{PADS}.features", [*TRIED, "momentary_drive", "contact_switch_sensing"]),
            ],
        ),
        (
            "a compact joystick, which is proportional without a word",
            [
                (FEATURES, {"id": "compact_joystick", "because": ["head_three_way"]}),
                (f"{PADS}.features", [*TRIED, "momentary_drive", "compact_joystick", "proportional_control"]),
            ],
        ),
        (
            "a code that is proportional by its words",
            [
                ("configuration.items.+", {"name": "stick", "code": "E2373", "features": ["chin_site"]}),
                (f"{PADS}.features", [*TRIED, "momentary_drive", "proportional_control"]),
            ],
        ),
        ("the speed timed in the rows, above the one recorded", [(f"{PADS}.speed_m_s", 0.2)], TIMED),
        (
            "a way to reverse that is left out, with what takes its place",
            [
                (f"{PADS}.features", [*TRIED, "momentary_drive", "reverse_access.direction_change"]),
                ("configuration.without_reverse", "Reverse stays with the adult."),
            ],
        ),
        (
            "a further profile, slower than the trial",
            [("configuration.profiles.+", {"id": "slow", "name": "slow", "latched": False, "speed_m_s": 0.2})],
        ),
        ("the seat as it was", [("configuration.seat_deg", 10), (f"{PADS}.seat_deg", 5)]),
        ("glasses as they were", [("configuration.headwear", ["glasses"]), (f"{PADS}.headwear", ["glasses"])]),
        ("the speed timed in the rows", [(f"{PADS}.speed_m_s", GONE)], [row | {"speed_m_s": 0.4} for row in ROWS]),
    ],
    not_met=[
        ("a trial all latched and a request that is not", [LATCHED_TRIED]),
        ("the same, with a profile that says so", [*LATCH_ASKED, ("configuration.profiles.0.latched", False)]),
        (
            "the latch off and tried off, with the latched rows named as those asked for",
            [LATCHED_TRIED, ("configuration.profiles.0.latched", False), HELD],
            HELD_ROWS,
        ),
        (
            "latched drive among the features, and no profile latched",
            [*LATCH_ASKED, HELD, ("configuration.method", "held"), ("configuration.profiles.0.latched", False)],
            HELD_ROWS,
        ),
        (
            "one profile held and one latched, and every attempt latched",
            [*LATCH_ASKED, ("configuration.profiles.0.latched", False), LATCHED_PROFILE],
        ),
        ("rows of another control alone as fast", [(f"{PADS}.speed_m_s", 0.3)], OTHER_TIMED),
        ("a latch, and a trial that was momentary", [("configuration.profiles.0.latched", True)]),
        (
            "a latch, and a trial that is said to have been without",
            [
                ("configuration.profiles.0.latched", True),
                (f"{PADS}.features", TRIED),
                (f"{PADS}.without", ["latched_drive"]),
            ],
        ),
        ("other sensing", [(f"{PADS}.features", ["head_array", "contact_switch_sensing"])]),
        ("another site", [(f"{PADS}.features", ["foot_site", "proximity_sensing"])]),
        ("support of the head that the trial is said to have been without", [SUPPORT, WITHOUT]),
        ("support of the head in the trial alone", [(f"{PADS}.features", [*TRIED, "suboccipital_support"])]),
        ("faster than was driven", [(f"{PADS}.speed_m_s", 0.3)]),
        ("another tilt", [("configuration.seat_deg", 20), (f"{PADS}.seat_deg", 5)]),
        ("a hood", [("configuration.headwear", ["hood"]), (f"{PADS}.headwear", [])]),
    ],
    cannot_tell=[
        ("support of the head, of which the trial says nothing", [SUPPORT]),
        (
            "a mode switch, of which the trial says nothing",
            [(FEATURES, {"id": "mode_switch", "because": ["head_three_way"]})],
        ),
        ("sensing of which the trial says nothing", [(f"{PADS}.features", ["head_array", "momentary_drive"])]),
        ("a latch, of which the trial says nothing", [LATCH_UNTOLD, ("configuration.profiles.0.latched", True)]),
        (
            "a latch and a support of the head, of which the trial says nothing",
            [LATCH_UNTOLD, ("configuration.profiles.0.latched", True), SUPPORT],
        ),
        ("no latch, and a trial that says nothing of it", [LATCH_UNTOLD]),
        ("no features of the trial", [(f"{PADS}.features", GONE)]),
        (
            "no speed of the trial, and of one profile",
            [(f"{PADS}.speed_m_s", GONE), ("configuration.profiles.+", {"id": "slow", "name": "slow"})],
        ),
        ("no row with the requested control", [], ROWS[:16]),
        ("no speed of the trial", [(f"{PADS}.speed_m_s", GONE)]),
        ("no tilt of the trial", [(f"{PADS}.seat_deg", GONE)]),
        ("no headwear of the trial", [("configuration.headwear", ["helmet"])]),
        ("no method", [("configuration.method", GONE)]),
        ("no profile", [("configuration.profiles", GONE)]),
        ("no speed of one profile", [("configuration.profiles.+", {"id": "slow", "name": "slow", "latched": False})]),
        (
            "the tilt asked for, of which only the trial says",
            [("configuration.seat_deg", GONE), (f"{PADS}.seat_deg", 20)],
        ),
        ("headwear of the trial alone", [(f"{PADS}.headwear", ["hood"])]),
    ],
    settings=[({"most_tilt_deg": 20.0}, [("configuration.seat_deg", 20), (f"{PADS}.seat_deg", 5)], "met")],
    ready={
        "met": [],
        "cannot_tell": [(("trial", "methods", 1, "features"), None)],
        "not_met": [(("trial", "methods", 1, "features"), ["head_array", "contact_switch_sensing"])],
    },
    rests_on=(
        "configuration.latched",
        "configuration.method",
        "configuration.profiles.*.speed_m_s",
        "configuration.seat_deg",
        "trial.methods.*.features.*",
        "trial.methods.*.seat_deg",
        "trial.methods.*.speed_m_s",
        "trial.tasks",
    ),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


@pytest.mark.parametrize(
    ("change", "blocks"),
    [
        (LATCHED_TRIED, True),
        (LATCH_UNTOLD, False),
        ((f"{PADS}.features", ["head_array", "momentary_drive"]), True),
        ((f"{PADS}.features", ["head_array", "contact_switch_sensing"]), True),
        ((f"{PADS}.features", [*TRIED, "suboccipital_support"]), False),
    ],
)
def test_only_another_latch_sensing_or_site_holds_the_packet_whoever_pays(change, blocks):
    here, payer = grounds(changed(change), ROWS), load("charity_or_school", "")
    held = {v.criterion.id for v in blocking(verdicts(here, payer, payer.reviewed_on))}
    assert ("set_up_was_tried" in held) is blocks


def test_both_sides_of_a_latch_are_told():
    answer = ask("set_up_was_tried", grounds(changed(LATCHED_TRIED)))
    assert "requested momentary (unlatched), and every attempt of the trial was latched" in answer.reason
    assert {("trial", "methods", 1, "features"), ("configuration", "profiles", 0, "latched")} <= set(answer.where)


@pytest.mark.parametrize(
    ("changes", "asks"),
    [
        ([SUPPORT], "suboccipital_support"),
        ([(f"{PADS}.features", ["head_array", "momentary_drive"])], "proximity_sensing"),
        ([LATCH_UNTOLD], "latched_drive or momentary_drive"),
        ([LATCH_UNTOLD, ("configuration.profiles.0.latched", True)], "latched_drive or momentary_drive"),
    ],
)
def test_silence_of_the_trial_is_asked_about_and_never_said_to_differ(changes, asks):
    answer = ask("set_up_was_tried", grounds(changed(*changes), ROWS))
    assert answer.status == "cannot_tell" and "is not recorded" in answer.reason
    assert f"Name {asks} in features" in answer.to_settle and "no trial" not in answer.reason


@pytest.mark.parametrize(
    ("says", "silent", "asks"),
    [
        ([(f"{PADS}.speed_m_s", 0.3)], ("configuration.profiles.0.speed_m_s", GONE), "speed_m_s"),
        ([LATCHED_TRIED], ("configuration.profiles", GONE), "configuration.profiles"),
        ([("configuration.seat_deg", 20)], ("configuration.seat_deg", GONE), "configuration.seat_deg"),
        (
            [("configuration.headwear", ["hood"]), (f"{PADS}.headwear", ["glasses"])],
            ("configuration.headwear", GONE),
            "configuration.headwear",
        ),
    ],
)
def test_a_request_that_falls_silent_stands_no_better_than_one_that_differs(says, silent, asks):
    assert ask("set_up_was_tried", grounds(changed(*says), ROWS)).status == "not_met"
    answer = ask("set_up_was_tried", grounds(changed(*says, silent), ROWS))
    assert answer.status != "met" and (answer.status == "not_met" or asks in answer.to_settle)
