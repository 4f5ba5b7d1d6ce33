"""What `local_rules_known` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "local_rules_known",
    met=[
        ("rules looked up", []),
    ],
    cannot_tell=[
        ("no rules", [("request.local_rules", GONE)]),
        ("what they say not told", [("request.local_rules_say", GONE)]),
    ],
    settings=[
        ({"keys": ["route"]}, [("request.local_rules", GONE)], "met"),
    ],
    rests_on=("request.local_rules", "request.local_rules_say"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
