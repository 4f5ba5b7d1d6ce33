"""What `parts_have_their_control` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS, line, only
from records import Records
from whole_case import GONE

RECORDS = Records(
    "parts_have_their_control",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a tube kit without its control", [("configuration.items.+", LINE | {"code": "E2326"})]),
        ("a chin cup without a stick", [("configuration.items.+", LINE | {"code": "E2324"})]),
        ("headrest hardware without a headrest", [("configuration.items.3.code", "E1033")]),
    ],
    cannot_tell=[
        ("no kind of request", [("request.kind", GONE), ("configuration.items.+", LINE | {"code": "E2326"})]),
        ("a controller without its code", [("configuration.items.1.code", GONE)]),
    ],
    does_not_apply=[
        ("a control for a chair already there", [("request.kind", "control_only")]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(ITEMS, line("E2326")), (("request", "kind"), None)],
        "not_met": [(ITEMS, line("E2326"))],
        "does_not_apply": [(ITEMS, only("E2330"))],
    },
    rests_on=("configuration.items.*.code",),
)

test_each_record_gets_its_answer = RECORDS.test()
