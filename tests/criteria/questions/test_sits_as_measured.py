"""What `sits_as_measured` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

KEYS = ("sitting.pelvis", "sitting.trunk", "sitting.head", "sitting.belts", "sitting.marks", "configuration.seat_deg")

RECORDS = Records(
    "sits_as_measured",
    met=[("the whole case", [])],
    cannot_tell=[(f"not said: {key}", [(key, GONE)]) for key in KEYS],
    rests_on=KEYS,
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
