"""What `items_described` says of each record."""

from __future__ import annotations

from ready_case import ITEMS
from records import Records
from whole_case import GONE, WHOLE

ONE = WHOLE["configuration"]["items"][:1]

RECORDS = Records(
    "items_described",
    met=[
        (
            "an item that has no code, and says so",
            [("configuration.items.0.code", GONE), ("configuration.items.0.no_code", True)],
        ),
        ("the whole case", []),
        ("one item beside the base", [("configuration.items", ONE)]),
        ("one item of a control alone", [("configuration.items", ONE), ("request.kind", "control_only")]),
        ("items of a control alone", [("request.kind", "control_only")]),
    ],
    cannot_tell=[
        ("no item", [("configuration.items", [])]),
        ("no code", [("configuration.items.0.code", GONE)]),
        ("no reason", [("configuration.items.3.why", GONE)]),
        ("no reason for two", [("configuration.items.0.why", GONE), ("configuration.items.3.why", GONE)]),
        ("no reason for three", [(f"configuration.items.{at}.why", GONE) for at in (0, 2, 3)]),
        ("no reason for the base", [("configuration.chair.why", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [((*ITEMS, 0, "why"), None)]},
    rests_on=(
        "configuration.chair.why",
        "configuration.items.*.code",
        "configuration.items.*.why",
        "configuration.items.*.without",
    ),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
