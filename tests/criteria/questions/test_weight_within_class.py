"""What `weight_within_class` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "weight_within_class",
    met=[
        ("61 kg", []),
        ("300 lb, as 136.1 kg", [("client.weight_kg", 136.1)]),
    ],
    not_met=[
        ("301 lb", [("client.weight_kg", 136.6)]),
        ("less than the class is for", [("configuration.chair.base_code", "K0858"), ("client.weight_kg", 128.0)]),
    ],
    cannot_tell=[
        ("no weight", [("client.weight_kg", GONE)]),
        ("no base", [("configuration.chair.base_code", GONE)]),
    ],
    settings=[
        ({"groups": ["1", "2"]}, [], "does_not_apply"),
    ],
    rests_on=("client.weight_kg", "configuration.chair.base_code"),
)

test_each_record_gets_its_answer = RECORDS.test()
