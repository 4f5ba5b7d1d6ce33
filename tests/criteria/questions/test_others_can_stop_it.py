"""What `others_can_stop_it` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

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
        "configuration.stop.stop_switch",
    ),
)

test_each_record_gets_its_answer = RECORDS.test()
