"""What `overlap_explained` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

HEADREST = (
    "configuration.items.+",
    {"id": "rest", "name": "headrest", "code": "E0955", "why": "Holds it in transport.", "because": ["head_three_way"]},
)

RECORDS = Records(
    "overlap_explained",
    met=[
        ("a connection with its reason", []),
        ("a headrest beside the array, with its reason", [HEADREST]),
    ],
    cannot_tell=[
        ("a connection without a reason", [("configuration.items.5.why", GONE)]),
        ("a connection without a finding", [("configuration.items.5.features", [])]),
        ("a headrest beside the array without a finding", [HEADREST, ("configuration.items.6.because", [])]),
    ],
    does_not_apply=[
        ("no connection", [("configuration.items.5", GONE)]),
    ],
    settings=[
        ({"points": ["headrest"]}, [], "does_not_apply"),
    ],
    rests_on=("configuration.features.*.because.*", "configuration.items.*.features.*", "configuration.items.*.why"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
