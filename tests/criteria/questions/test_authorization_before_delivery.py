"""What `authorization_before_delivery` says of each record."""

from __future__ import annotations

from datetime import date

from changes import NO_PAPER, REPLACED
from records import Records
from whole_case import AUTHORIZED, DELIVERED, GONE

RECORDS = Records(
    "authorization_before_delivery",
    met=[
        ("affirmed before delivery", DELIVERED),
        ("affirmed for a replacement", [*DELIVERED, REPLACED]),
        ("affirmed on the day of delivery", [*DELIVERED, ("authorization.decided_on", date(2026, 8, 3))]),
    ],
    not_met=[
        ("not affirmed", [*AUTHORIZED, ("authorization.decision", "not_affirmed")]),
        ("a decision after delivery", [*DELIVERED, ("authorization.decided_on", date(2026, 8, 4))]),
    ],
    cannot_tell=[
        ("no decision", NO_PAPER),
        ("no tracking number", [*DELIVERED, ("authorization.tracking", GONE)]),
        ("no base", [("configuration.chair.base_code", GONE)]),
        ("no kind of request", [("request.kind", GONE)]),
        ("a decision without its day", [*DELIVERED, ("authorization.decided_on", GONE)]),
    ],
    does_not_apply=[
        ("no delivery", []),
        ("a base on no list", [*DELIVERED, ("configuration.chair.base_code", "K0890")]),
        ("a control alone", [*DELIVERED, ("request.kind", "control_only")]),
        ("affirmed, and no delivery yet", AUTHORIZED),
        ("a decision without its day, and no delivery yet", [*AUTHORIZED, ("authorization.decided_on", GONE)]),
    ],
    settings=[
        ({"kinds": ["replacement"]}, [], "does_not_apply"),
    ],
    rests_on=("configuration.chair.base_code", "request.kind"),
)

test_each_record_gets_its_answer = RECORDS.test()
