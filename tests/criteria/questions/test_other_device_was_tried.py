"""What `other_device_was_tried` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, WHOLE

LINK = "external_device_control"
ASKED = ("configuration.features", [*WHOLE["configuration"]["features"], {"id": LINK}])
METHOD = next(n for n, m in enumerate(WHOLE["trial"]["methods"]) if m["id"] == WHOLE["configuration"]["method"])
HAD = (f"trial.methods.{METHOD}.features", [*WHOLE["trial"]["methods"][METHOD]["features"], LINK])

RECORDS = Records(
    "other_device_was_tried",
    met=[
        ("the trial worked another device", [ASKED, HAD]),
    ],
    not_met=[
        ("the trial did without", [ASKED, (f"trial.methods.{METHOD}.without", [LINK])]),
    ],
    cannot_tell=[
        ("nothing is said of it", [ASKED]),
        ("no method is chosen", [ASKED, HAD, ("configuration.method", GONE)]),
    ],
    does_not_apply=[
        ("no other device", []),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
