"""What `codes_known` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS, line
from records import Records

RECORDS = Records(
    "codes_known",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("a code outside the list", [("configuration.items.+", LINE)]),
    ],
    ready={"met": [], "cannot_tell": [(ITEMS, line("E0117"))]},
    rests_on=("configuration.items",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
