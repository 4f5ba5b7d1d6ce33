"""What `sources_settled` says of each record."""

from __future__ import annotations

from datetime import date

from changes import REPLACED
from records import Records
from whole_case import DELIVERED

SAID = ("request.payer_says", "2026-05-04, by phone: one is needed.")

RECORDS = Records(
    "sources_settled",
    met=[
        ("an answer on a replacement", [REPLACED, SAID]),
    ],
    cannot_tell=[
        ("a replacement", [REPLACED]),
        ("a pediatric base", [("configuration.chair.base_code", "K0890")]),
        ("no order before delivery", [*DELIVERED, ("order.received_on", date(2026, 8, 4))]),
        (
            "a control alone on a pediatric base",
            [("request.kind", "control_only"), ("configuration.chair.base_code", "K0890")],
        ),
    ],
    does_not_apply=[
        ("a new chair", []),
        ("a new chair, delivered", DELIVERED),
        (
            "an order received on the day of delivery",
            [*DELIVERED, ("order.received_on", date(2026, 8, 3)), ("dates.ordered_on", date(2026, 8, 3))],
        ),
    ],
    settings=[
        ({"points": ["unlisted_base"]}, [("request.kind", "replacement")], "does_not_apply"),
    ],
    rests_on=("configuration.chair.base_code", "request.kind"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
