"""What `other_devices_left_out` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS, line, without
from records import Records

RECORDS = Records(
    "other_devices_left_out",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a door opener", [("configuration.items.+", LINE | {"code": "A9270", "name": "door opener"})]),
    ],
    cannot_tell=[
        ("no speech device", [("configuration.items.+", LINE | {"code": "E2351"})]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(ITEMS, line("E2351")), (("findings",), without(id="aac_user"))],
        "not_met": [(ITEMS, line("K0108", purpose="run lamps and TV"))],
    },
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
