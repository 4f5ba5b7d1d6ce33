"""What `authorization_decided_in_time` says of each record."""

from __future__ import annotations

from datetime import date

from changes import NO_PAPER
from records import Records
from whole_case import AUTHORIZED, GONE

RECORDS = Records(
    "authorization_decided_in_time",
    met=[
        ("8 business days", AUTHORIZED),
        ("10 business days", [*AUTHORIZED, ("authorization.decided_on", date(2026, 4, 28))]),
        ("on the same day", [*AUTHORIZED, ("authorization.decided_on", date(2026, 4, 14))]),
    ],
    not_met=[
        ("11 business days", [*AUTHORIZED, ("authorization.decided_on", date(2026, 4, 29))]),
        ("a decision before the request", [*AUTHORIZED, ("authorization.decided_on", date(2026, 4, 13))]),
    ],
    cannot_tell=[
        ("no day of the decision", [*AUTHORIZED, ("authorization.decided_on", GONE)]),
        ("a delivery without either", NO_PAPER),
    ],
    does_not_apply=[
        ("no request for it yet", []),
        ("asked for, and nothing decided", [("authorization", {"requested_on": date(2026, 4, 14)})]),
    ],
    settings=[
        ({"working_days": 7}, AUTHORIZED, "not_met"),
    ],
    rests_on=("request.requested_on",),
)

test_each_record_gets_its_answer = RECORDS.test()
