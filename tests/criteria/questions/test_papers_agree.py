"""What `papers_agree` says of each record."""

from __future__ import annotations

from datetime import date

from changes import LINE
from records import Records
from whole_case import AUTHORIZED, GONE

RECORDS = Records(
    "papers_agree",
    met=[
        ("an order of the same codes, where no authorization is needed", []),
        ("a request of the same codes", AUTHORIZED),
        ("a line without a code", [("configuration.items.5.code", GONE), ("order.codes.6", GONE)]),
        ("the base among the lines too", [("configuration.items.+", LINE | {"code": "K0856"})]),
    ],
    not_met=[
        ("another base on the request", [*AUTHORIZED, ("authorization.codes.0", "K0861")]),
        ("an item that is not ordered", [("order.codes.3", GONE)]),
        ("an item that the case lacks", [("order.codes.+", "E2601")]),
    ],
    cannot_tell=[
        ("nothing of an authorization", [("authorization", GONE)]),
        ("one that is wanted, and its codes not", [("authorization", {"needed": True})]),
        ("no codes of the order", [("order.codes", GONE)]),
        (
            "a request of no codes, though none is needed",
            [("authorization.requested_on", date(2026, 4, 14))],
        ),
        ("no codes of the request", [*AUTHORIZED, ("authorization.codes", GONE)]),
        ("no base", [("configuration.chair.base_code", GONE)]),
    ],
    settings=[
        ({"papers": ["order"], "parts": ["items"]}, [*AUTHORIZED, ("authorization.codes.0", "K0861")], "met"),
        ({"papers": ["authorization"]}, [("authorization", GONE)], "cannot_tell"),
        ({"papers": ["authorization"]}, [], "does_not_apply"),
        ({"papers": ["order"], "parts": ["base"]}, [("order.codes.3", GONE)], "met"),
    ],
    rests_on=("authorization.needed", "configuration.chair.base_code", "configuration.items", "order.codes"),
)

test_each_record_gets_its_answer = RECORDS.test()
