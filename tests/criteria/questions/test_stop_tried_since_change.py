"""What `stop_tried_since_change` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED

CAME = (*DELIVERED,)
LATER = {
    "after_weeks": 6,
    "what": "settings",
    "done_on": date(2026, 9, 1),
    "changed": [{"profile": "indoor", "setting": "forward_speed", "to": 0.3, "says": "0.4 to 0.3 m/s"}],
}


def passed(*day):
    """The day all stops passed."""
    return ("configuration.stop.passed_on", date(*day))


RECORDS = Records(
    "stop_tried_since_change",
    met=[
        ("on the day it came", [*CAME, passed(2026, 8, 3)]),
        ("after a change", [*CAME, ("follow_up.+", LATER), passed(2026, 9, 1)]),
    ],
    not_met=[
        ("before it came", [*CAME, passed(2026, 8, 2)]),
        ("before a change", [*CAME, ("follow_up.+", LATER), passed(2026, 8, 31)]),
    ],
    cannot_tell=[
        ("it came, and nothing is said of the stops", [*CAME]),
        ("no profile", [("configuration.profiles", [])]),
    ],
    does_not_apply=[("the whole case, before it came", [])],
    ready={"does_not_apply": [], "cannot_tell": [(("dates", "delivered_on"), date(2026, 8, 1))]},
    rests_on=("configuration.profiles.*",),
)

test_each_record_gets_its_answer = RECORDS.test()
