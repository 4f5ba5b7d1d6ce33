"""What `client_willing` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "client_willing",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no words", [("client.willing", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("client", "willing"), None)],
        "not_met": [(("client", "wants_it"), False)],
    },
    rests_on=("client.wants_it", "client.willing"),
)

test_each_record_gets_its_answer = RECORDS.test()
