"""What `seat_parts_fit_base` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import BASE, ITEMS, line
from records import Records
from whole_case import GONE

RECORDS = Records(
    "seat_parts_fit_base",
    met=[
        (
            "two headrests without tilt, a finding for one of them",
            [
                ("configuration.items.4.code", "E2313"),
                ("configuration.items.+", LINE | {"code": "E0955"}),
                ("configuration.items.+", LINE | {"id": "rest", "code": "E0955", "because": ["head_three_way"]}),
            ],
        ),
        (
            "a cushion without tilt",
            [("configuration.items.4.code", "E2313"), ("configuration.items.+", LINE | {"code": "E2603"})],
        ),
        ("a headrest with tilt", [("configuration.items.+", LINE | {"code": "E0955"})]),
        ("the whole case", []),
    ],
    not_met=[
        (
            "a cushion on a captain's chair",
            [("configuration.chair.base_code", "K0857"), ("configuration.items.+", LINE | {"code": "E2603"})],
        ),
        (
            "a headrest on a seat recorded as a captain's chair",
            [
                ("configuration.chair.base_code", GONE),
                ("configuration.chair.seat_type", "captains"),
                ("configuration.items.+", LINE | {"code": "E0955"}),
            ],
        ),
        ("a seat that the base does not have", [("configuration.chair.seat_type", "captains")]),
    ],
    cannot_tell=[
        (
            "a cushion on an unknown seat",
            [("configuration.chair.base_code", GONE), ("configuration.items.+", LINE | {"code": "E2603"})],
        ),
        (
            "a headrest without tilt, recline or a finding",
            [("configuration.items.4.code", "E2313"), ("configuration.items.+", LINE | {"code": "E0955"})],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(ITEMS, line("E0955"))],
        "not_met": [(ITEMS, line("E2603")), (BASE, "K0857"), (("configuration", "chair", "seat_type"), None)],
    },
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
