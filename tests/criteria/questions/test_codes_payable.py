"""What `codes_payable` says of each record."""

from __future__ import annotations

from datetime import date

from changes import LINE
from ready_case import ITEMS, line
from records import Records
from whole_case import GONE, WHOLE

STANDING = [("configuration.items.+", LINE | {"code": "E2301"})]
GROUP_4 = [("configuration.chair.base_code", "K0871")]

RECORDS = Records(
    "codes_payable",
    met=[
        (
            "one line of a control alone",
            [("configuration.items", WHOLE["configuration"]["items"][:1]), ("request.kind", "control_only")],
        ),
        ("the whole case", []),
        ("power standing, where no row of the payer leaves it out", STANDING),
        ("a base of group 4, where no row of the payer leaves it out", GROUP_4),
        ("one code outside the list", [("configuration.items.+", LINE)]),
        (
            "two codes outside the list",
            [("configuration.items.+", LINE), ("configuration.items.+", LINE | {"id": "again"})],
        ),
        (
            "a code on its last day",
            [("configuration.items.4.code", "E2300"), ("request.requested_on", date(2024, 3, 31))],
        ),
        (
            "power standing alone with its connection, where no row of the payer leaves it out",
            [("configuration.items.4.code", "E2301")],
        ),
    ],
    not_met=[
        ("a code that ended", [("configuration.items.4.code", "E2300")]),
        ("a code that was in no list", [("configuration.items.+", LINE | {"code": "E2399"})]),
        ("a part for repair on a new chair", [("configuration.items.+", LINE | {"code": "E2376"})]),
        (
            "a code that had not begun",
            [("configuration.items.4.code", "E2298"), ("request.requested_on", date(2024, 3, 31))],
        ),
    ],
    cannot_tell=[
        ("no code of the list", [("configuration.items", [LINE])]),
        ("no day", [("request.requested_on", GONE), ("dates.ordered_on", GONE)]),
        (
            "a part for repair and no kind of request",
            [("request.kind", GONE), ("configuration.items.+", LINE | {"code": "E2376"})],
        ),
    ],
    settings=[
        ({"reasons": ["excluded"]}, STANDING, "not_met"),
        ({"reasons": ["beyond_home"]}, GROUP_4, "not_met"),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("request", "requested_on"), None), (("dates", "ordered_on"), None)],
        "not_met": [(ITEMS, line("E2300"))],
    },
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
