"""What `rest_is_no_stop` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RESTS = ("configuration.stop.after_stop", "rests")
NAMED_REST = ("supervision.0.stops_with", "power_off")

RECORDS = Records(
    "rest_is_no_stop",
    met=[
        ("the whole case", []),
        ("it rests, and is called so", [RESTS, NAMED_REST]),
        ("it rests, and the helper has a stop", [RESTS, ("configuration.stop.helper_switch", "red button")]),
    ],
    not_met=[
        ("the mounting record calls it a stop", [RESTS, NAMED_REST, ("configuration.mounting.0.part", "stop switch")]),
        (
            "a line of the order calls it a stop",
            [RESTS, NAMED_REST, ("configuration.items.0.name", "pads, stop button")],
        ),
        ("a helper is to stop the chair with it", [RESTS]),
        (
            "a stop switch is requested, and it rests",
            [RESTS, NAMED_REST, ("configuration.features.+", {"id": "stop_switch", "because": ["head_three_way"]})],
        ),
    ],
    cannot_tell=[
        ("no stop switch, and not said that there is none", [("configuration.stop.stop_switch", GONE)]),
        ("it waits, and how it is set back is not said", [("configuration.stop.set_back", GONE)]),
        ("nothing said of after it", [("configuration.stop.after_stop", GONE)]),
    ],
    does_not_apply=[
        (
            "no stop switch",
            [("configuration.stop.stop_switch", GONE), ("configuration.stop.has_switch", False)],
        )
    ],
    ready={"met": [], "cannot_tell": [(("configuration", "stop", "after_stop"), None)]},
    rests_on=("configuration.stop.after_stop", "configuration.stop.set_back", "configuration.stop.stop_switch"),
)

test_each_record_gets_its_answer = RECORDS.test()
