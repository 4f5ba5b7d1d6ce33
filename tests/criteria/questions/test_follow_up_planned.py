"""What `follow_up_planned` says of each record."""

from __future__ import annotations

from records import Records

RECORDS = Records(
    "follow_up_planned",
    met=[
        ("the whole case", []),
        ("a first visit after six weeks", [("follow_up", [{"after_weeks": 6, "what": "fit"}])]),
    ],
    not_met=[
        ("a first visit after half a year", [("follow_up", [{"after_weeks": 26, "what": "fit"}])]),
    ],
    cannot_tell=[
        ("no visit", [("follow_up", [])]),
    ],
    settings=[
        ({"first_within_weeks": 1}, [], "not_met"),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("follow_up",), [])],
        "not_met": [(("follow_up",), lambda f: [x for x in f if x["after_weeks"] > 6])],
    },
    rests_on=("follow_up",),
)

test_each_record_gets_its_answer = RECORDS.test()
