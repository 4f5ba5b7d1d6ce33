"""What `second_control_left_out` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS, line
from records import Records
from whole_case import GONE

RECORDS = Records(
    "second_control_left_out",
    met=[
        ("the whole case", []),
        (
            "a helper's control on the chair already, as a feature and a part",
            [
                ("configuration.features.+", {"id": "attendant_control", "because": ["transfer_sling"]}),
                ("configuration.standard_parts", [{"part": "attendant_control", "comes": "moves_over"}]),
            ],
        ),
    ],
    not_met=[
        (
            "a helper's control as a part that does not come",
            [
                ("configuration.features.+", {"id": "attendant_control", "because": ["transfer_sling"]}),
                ("configuration.standard_parts", [{"part": "attendant_control", "comes": "not_needed"}]),
            ],
        ),
        (
            "a helper's control as a feature, and no line",
            [("configuration.features.+", {"id": "attendant_control", "because": ["transfer_sling"]})],
        ),
        ("an attendant control", [("configuration.items.+", LINE | {"code": "E2331"})]),
        (
            "an attendant control beside a chair that the client drives",
            [("configuration.items", [LINE | {"code": "E2331"}])],
        ),
    ],
    cannot_tell=[
        ("no item", [("configuration.items", [])]),
    ],
    does_not_apply=[
        (
            "an attendant's control in place of the client's",
            [("configuration.items", [LINE | {"code": "E2331"}]), ("configuration.method", GONE)],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(ITEMS, [])],
        "not_met": [(ITEMS, line("E2331"))],
        "does_not_apply": [(ITEMS, lambda items: line("E2331")([])), (("configuration", "method"), None)],
    },
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
