"""What `need_at_home` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "need_at_home",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no activity at home", [("activities.0", GONE)]),
        ("only another kind of activity", [("activities.0.needed_for", "other")]),
        ("no barrier", [("activities.0.barrier", GONE)]),
        ("no help before", [("activities.0.before", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [(("activities",), lambda a: [x for x in a if not x["at_home"]])]},
    rests_on=("activities.*.barrier", "activities.*.before"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
