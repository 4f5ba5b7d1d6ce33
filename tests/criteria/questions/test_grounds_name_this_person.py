"""What `grounds_name_this_person` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

RECORDS = Records(
    "grounds_name_this_person",
    met=[
        ("the whole case", []),
        (
            "one cause for two controls at one site",
            [
                (f"alternatives.{place}.{key}", value)
                for place, kind in ((3, "head_control"), (4, "stick_by_chin"))
                for key, value in (("kind", kind), ("reason", "Her neck was fused in 2015."))
            ],
        ),
        ("a short ground that names a fact", [("alternatives.2.reason", "No trunk balance.")]),
    ],
    not_met=[
        ("a line that is needed", [("configuration.items.0.why", "Needed.")]),
        ("a device that is not suitable", [("alternatives.2.reason", "Not suitable for this client.")]),
        ("a base that is medically necessary", [("configuration.chair.why", "Medically necessary.")]),
        (
            "one reason for two lines",
            [(f"configuration.items.{place}.why", "Her hands do not hold.") for place in (0, 4)],
        ),
        (
            "one reason for two lines, with other marks and capitals",
            [
                ("configuration.items.0.why", "Her hands do not hold."),
                ("configuration.items.4.why", "her hands do not hold"),
            ],
        ),
        ("one reason for two devices", [(f"alternatives.{place}.reason", "No step in five.") for place in (0, 1)]),
    ],
    cannot_tell=[
        ("no ground", [("alternatives", []), ("configuration.items", []), ("configuration.chair.why", GONE)]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
