"""What `papers_agree` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import AUTHORIZED, GONE

RECORDS = Records(
    "papers_agree",
    met=[
        ("an order of the same codes", []),
        ("a request of the same codes", AUTHORIZED),
    ],
    not_met=[
        ("another base on the request", [*AUTHORIZED, ("authorization.codes.0", "K0861")]),
        ("an item that is not ordered", [("order.codes.3", GONE)]),
        ("an item that the case lacks", [("order.codes.+", "E2601")]),
    ],
    cannot_tell=[
        ("no codes of the order", [("order.codes", GONE)]),
        ("no codes of the request", [*AUTHORIZED, ("authorization.codes", GONE)]),
        ("no base", [("configuration.chair.base_code", GONE)]),
    ],
    settings=[
        ({"papers": ["order"], "parts": ["items"]}, [*AUTHORIZED, ("authorization.codes.0", "K0861")], "met"),
        ({"papers": ["authorization"]}, [], "does_not_apply"),
        ({"parts": ["base"]}, [("order.codes.3", GONE)], "met"),
    ],
    rests_on=("configuration.chair.base_code", "configuration.items", "order.codes"),
)

test_each_record_gets_its_answer = RECORDS.test()
