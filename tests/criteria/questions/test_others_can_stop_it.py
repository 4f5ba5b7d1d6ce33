"""What `others_can_stop_it` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE, ask, changed, grounds

WRITTEN = date(2026, 4, 1)
NEAR = {
    "place": "at home",
    "level": "same_room",
    "stands": "in_the_room",
    "stops_with": "stop_switch",
    "reach_s": 1.2,
    "reach_on": date(2026, 3, 1),
}
BOX = ("configuration.stop.helper_switch", "box on the push handle")

RECORDS = Records(
    "others_can_stop_it",
    met=[
        ("the whole case", []),
        (
            "not latched, and no stop switch at all",
            [("configuration.stop.stop_switch", GONE), ("configuration.stop.has_switch", False)],
        ),
        (
            "a helper's stop switch of its own, and not whether the driver has one",
            [
                ("configuration.stop.stop_switch", GONE),
                ("configuration.stop.helper_switch", "red box at the back"),
                ("configuration.stop.helper_stops_by", "own_switch"),
            ],
        ),
        ("a stop switch of a helper's own", [BOX, ("configuration.stop.helper_stops_by", "own_switch")]),
    ],
    not_met=[
        ("a power switch that is the driver's", [("configuration.stop.power_off_by", "driver")]),
        (
            "latched, and no stop switch at all",
            [
                ("configuration.latched", True),
                ("configuration.stop.stop_switch", GONE),
                ("configuration.stop.has_switch", False),
            ],
        ),
    ],
    cannot_tell=[
        ("an attendant stop switch, which may be the power switch", [BOX]),
        ("no power switch", [("configuration.stop.power_off", GONE)]),
        ("no word on who reaches the power switch", [("configuration.stop.power_off_by", GONE)]),
        ("nothing for a helper", [("configuration.stop.helper", GONE)]),
        (
            "a stop switch, and not where",
            [("configuration.stop.stop_switch", GONE), ("configuration.stop.has_switch", True)],
        ),
        ("no stop switch, and not said that there is none", [("configuration.stop.stop_switch", GONE)]),
        ("latched with no stop switch", [("configuration.latched", True), ("configuration.stop.stop_switch", GONE)]),
        (
            "one latched profile with no stop switch",
            [("configuration.profiles.0.latched", True), ("configuration.stop.stop_switch", GONE)],
        ),
    ],
    ready={"met": [], "cannot_tell": [(("configuration", "stop", "power_off"), None)]},
    rests_on=(
        "configuration.stop.driver",
        "configuration.stop.helper",
        "configuration.stop.power_off",
        "configuration.stop.power_off_by",
        "configuration.stop.stop_switch",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_stop_that_nobody_timed_or_that_is_out_of_reach_somewhere_is_told_and_shown_in_part():
    answer = ask("others_can_stop_it", grounds(changed(("supervision", [NEAR]))))
    assert (answer.status, answer.stands) == ("met", "met") and answer.reason.endswith("is recorded.")
    for change, said in (
        ({"reach_s": None, "reach_on": None}, "How soon whoever is near reaches it was not timed: at home."),
        ({"reach_on": date(2030, 1, 1)}, "How soon whoever is near reaches it was not timed: at home."),
        (
            {"stands_clear": "in the doorway"},
            "How soon it is stopped from where they stand as it turns was not timed: at home.",
        ),
        (
            {"stands_clear": "in the doorway", "clear_reach_s": 1.7},
            "As it turns, whoever is near stands clear of it, and a stop is in reach only once it faces them: at home.",
        ),
        ({"no_stop_from": "from above"}, "At home, nobody reaches the stop switch from above."),
    ):
        place = {key: value for key, value in (NEAR | change).items() if value is not None}
        answer = ask("others_can_stop_it", grounds(changed(("supervision", [place]), ("dates.written_on", WRITTEN))))
        assert (answer.status, answer.stands) == ("met", "in_part")
        assert answer.reason.endswith(said)


def test_an_arm_that_moves_by_itself_leaves_a_power_switch_at_the_armrest_in_part_until_it_was_watched():
    arm = ("findings.+", {"id": "hand_moves_involuntary", "says": "His arms move by themselves."})
    site = ("configuration.stop.power_off_site", "armrest_right")
    for changes, stands, said in (
        ((arm, site), "in_part", "strikes the power switch at its armrest is not recorded."),
        ((arm, site, ("configuration.stop.arm_reaches_power", True)), "in_part", "was seen to strike the power switch"),
        ((arm, site, ("configuration.stop.arm_reaches_power", False)), "met", "stop the chair is recorded."),
        ((arm, ("configuration.stop.power_off_site", "back_left")), "met", "stop the chair is recorded."),
        ((site,), "met", "stop the chair is recorded."),
    ):
        answer = ask("others_can_stop_it", grounds(changed(*changes)))
        assert (answer.status, answer.stands) == ("met", stands) and said in answer.reason
