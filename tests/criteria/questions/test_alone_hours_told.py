"""What `alone_hours_told` says of each record."""

from __future__ import annotations

from datetime import time

from records import Records
from whole_case import GONE

HOURS = [{"days": ["monday"], "starts_at": time(11), "ends_at": time(14)}]
TOLD = {"place": "at home, alone", "level": "on_call", "hours": HOURS, "no_answer": "It calls 911."}


def alone(**keys):
    """Hours alone, with other keys."""
    return ("supervision.+", {key: value for key, value in (TOLD | keys).items() if value is not GONE})


def visit(who):
    return [{"who": who, "at": time(12), "helps_with": "a drink"}]


RECORDS = Records(
    "alone_hours_told",
    met=[
        ("hours, and what an unanswered call leads to", [alone()]),
        ("no fixed hours, but how long at most", [alone(hours=GONE, longest_min=120)]),
    ],
    not_met=[("someone comes by who was shown nothing", [alone(looks_in=visit("doctor"))])],
    cannot_tell=[
        ("not said from when", [alone(hours=GONE)]),
        ("not said what comes of a call that nobody answers", [alone(no_answer=GONE)]),
        ("nobody is recorded as near", [("supervision", [])]),
    ],
    does_not_apply=[("the whole case", [])],
    rests_on=("supervision.*",),
)

test_each_record_gets_its_answer = RECORDS.test()
