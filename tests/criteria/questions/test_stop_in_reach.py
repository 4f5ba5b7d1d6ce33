"""What `stop_in_reach` says of each record.

Room beside the chair: Fruin's body ellipse, 24 by 18 in (610 by 457 mm), from memory.
"""

from __future__ import annotations

import pytest
from records import Records
from whole_case import GONE, ask, changed, grounds

HALL = {"id": "hall", "name": "hall", "kind": "corridor", "clear_width_mm": 1250}


def near(level="arms_length", **keys):
    """The one place of the whole case, with someone this near."""
    return (
        "supervision",
        [{"place": "at home", "by": "an aunt", "covers": ["bath", "kitchen", "hall"]} | keys | {"level": level}],
    )


def hall(width_mm):
    return ("spaces.+", HALL | {"clear_width_mm": width_mm})


BESIDE = {"stands": "beside", "stops_with": "stop_switch"}
BEHIND = {"stands": "behind", "stops_with": "stop_switch"}
IN_ROOM = {"stands": "in_the_room", "stops_with": "stop_switch", "reach_on": "2026-03-26"}
NO_BRAKES = ("configuration.chair.deceleration_m_s2", GONE)
OWN_SWITCH = [
    near(**BESIDE),
    ("configuration.stop.after_stop", "rests"),
    ("configuration.stop.helper_switch", "a red button"),
]

RECORDS = Records(
    "stop_in_reach",
    met=[
        ("a power switch that both reach", [("configuration.stop.power_off_by", "both")]),
        ("the whole case", []),
        ("beside in a hall with room", [hall(1250), near(**BESIDE)]),
        (
            "behind in a narrow hall, at the push handle",
            [
                hall(900),
                near(**BEHIND),
                ("configuration.stop.stop_switch_site", "push_handle_right"),
            ],
        ),
        ("in the room, and no deceleration", [NO_BRAKES, near("same_room", reach_s=4.0, **IN_ROOM)]),
        (
            "in the room, and just in time",
            [
                near("same_room", reach_s=1.85, **IN_ROOM),
                ("spaces.1.clear_ahead_mm", 900),
            ],
        ),
        ("a switch of the helper's own, and the other only rests it", OWN_SWITCH),
        ("a stop that is carried", [near("same_room", stands="in_the_room", stops_with="remote_stop")]),
        (
            "far from a place that is not covered, and near the one that is",
            [
                near("same_room", reach_s=4.0, **IN_ROOM | {"covers": ["bath"]}),
                ("spaces.0.clear_ahead_mm", 4000),
            ],
        ),
    ],
    not_met=[
        ("a power switch that the driver alone reaches", [("configuration.stop.power_off_by", "driver")]),
        ("beside in a hall without room", [hall(1249), near(**BESIDE)]),
        (
            "behind, and the switch is on the armrest",
            [
                near(**BEHIND),
                ("configuration.stop.stop_switch_site", "armrest_right"),
            ],
        ),
        ("the switch only rests it", [near(**BESIDE), ("configuration.stop.after_stop", "rests")]),
        (
            "the driver alone reaches the switch",
            [near(**BESIDE), ("configuration.stop.stop_switch_by", "driver")],
        ),
        ("in the room, too far to be in time", [near("same_room", reach_s=4.0, **IN_ROOM)]),
        ("in sight, too far to be in time", [near("in_sight", reach_s=4.0, **IN_ROOM)]),
        (
            "behind the chair, and anywhere in the room",
            [near("same_room", reach_s=1.0, reach_on="2026-03-26", **BEHIND)],
        ),
        ("beside the chair, and only in sight", [near("in_sight", **BESIDE)]),
    ],
    cannot_tell=[
        ("no word on who reaches the power switch", [("configuration.stop.power_off_by", GONE)]),
        (
            "behind, and no word on where the stop switch is",
            [near(**BEHIND)],
        ),
        ("no word on who reaches the stop switch", [("configuration.stop.stop_switch_by", GONE)]),
        ("no place", [("supervision", [])]),
        ("where they stand is not said", [("supervision.0.stands", GONE)]),
        ("with what they stop it is not said", [("supervision.0.stops_with", GONE)]),
        ("in the room, and how soon is not said", [("supervision.0.reach_s", GONE)]),
        ("at arm's length, standing in the room, and how soon is not said", [near(**IN_ROOM)]),
        ("in sight, and how soon is not said", [near("in_sight", **IN_ROOM)]),
        ("in the room, and when that was measured is not said", [("supervision.0.reach_on", GONE)]),
        ("a narrow hall, and nothing said of the stop there", [hall(900), near()]),
    ],
    does_not_apply=[("nobody must be near", [near("alone")])],
    ready={"met": [], "cannot_tell": [(("supervision", 0, "stands"), None)]},
    rests_on=(
        "configuration.stop.power_off_by",
        "configuration.stop.stop_switch_by",
        "supervision.*.stands",
        "supervision.*.stops_with",
        "supervision.*.reach_s",
        "supervision.*.reach_on",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()


@pytest.mark.parametrize("reach_s, status", [(1.8, "met"), (1.9, "not_met")])
def test_a_helper_in_the_room_is_in_time_while_the_room_ahead_lasts(reach_s, status):
    """0.4 m/s for reach and 0.15 s of delay, then 0.4 * 0.4 / (2 * 0.8) = 0.1 m; 0.9 m ahead: 1.85 s at most."""
    assert ask("stop_in_reach", grounds(changed(near("same_room", reach_s=reach_s, **IN_ROOM)))).status == status
    aside = near("same_room", reach_s=1.0, stands_clear="in the doorway", clear_reach_s=reach_s, **IN_ROOM)
    assert ask("stop_in_reach", grounds(changed(aside))).status == status
