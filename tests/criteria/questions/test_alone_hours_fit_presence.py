"""What `alone_hours_fit_presence` says of each record."""

from __future__ import annotations

from datetime import time

from hours_there import there
from records import Records

SIX = {"place": "at home, in the six hours alone", "level": "on_call", "by": "an aunt", "chair_state": "off"}
ALONE, AUNT = "supervision.+", "people.2.there"
NINE_TO_THREE = {"days": ["monday"], "starts_at": time(9), "ends_at": time(15)}
TIMED = SIX | {"hours": [NINE_TO_THREE]}
BOTH_ENDS = there("06:30-09:00 15:00-21:00")
LATE = there("06:30-08:30 18:00-21:00")

RECORDS = Records(
    "alone_hours_fit_presence",
    met=[
        ("six hours by name, by the clock and by who is there", [(ALONE, TIMED), (AUNT, BOTH_ENDS)]),
        ("six hours by name and by who is there", [(ALONE, SIX), (AUNT, BOTH_ENDS)]),
        ("six hours by the clock, and nobody's hours", [(ALONE, TIMED)]),
        ("six hours, and whoever is there in words alone", [(ALONE, TIMED), ("people.2.available", "mornings")]),
        ("no number in the name", [(ALONE, TIMED | {"place": "at home, alone"}), (AUNT, BOTH_ENDS)]),
        ("there at one end of the day alone", [(ALONE, SIX), (AUNT, there("15:00-21:00"))]),
        (
            "a night alone",
            [
                (
                    ALONE,
                    TIMED
                    | {
                        "place": "at home, alone",
                        "hours": [NINE_TO_THREE | {"starts_at": time(21), "ends_at": time(6)}],
                    },
                ),
                (AUNT, LATE),
            ],
        ),
    ],
    not_met=[
        ("six hours by name, nine and a half by who is there", [(ALONE, SIX), (AUNT, LATE)]),
        ("six hours by the clock, and nobody there before and after", [(ALONE, TIMED), (AUNT, LATE)]),
        ("three hours by name, six by the clock", [(ALONE, TIMED | {"place": "at home, in the 3 hours alone"})]),
        ("somebody there in the hours alone", [(ALONE, TIMED), (AUNT, there("06:30-10:00 15:00-21:00"))]),
    ],
    cannot_tell=[("who may be near is not recorded", [("supervision", [])])],
    does_not_apply=[("the whole case", [])],
    ready={"does_not_apply": []},
    rests_on=("supervision.*",),
)

test_each_record_gets_its_answer = RECORDS.test()
