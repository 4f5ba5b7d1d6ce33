"""What `electronics_take_the_control` says of each record."""

from __future__ import annotations

from changes import LINE
from records import Records
from whole_case import GONE

ALONE = ("request.kind", "control_only")
NOW = ("configuration.chair.electronics_now", "expandable controller of 2024")
TAKES = ("configuration.chair.takes_input", True)
ADDED = ("configuration.chair.electronics_added", "a harness for the pads; nothing is replaced")
NO_INPUT = ("configuration.chair.takes_input", False)
NO_CONTROLLER = ("configuration.items.1", GONE)

RECORDS = Records(
    "electronics_take_the_control",
    met=[
        ("electronics that take another input", [ALONE, NOW, TAKES, ADDED]),
        ("electronics that take none, and a line that replaces them", [ALONE, NOW, NO_INPUT, ADDED]),
        (
            "electronics that take none, and a line that replaces them without their code",
            [
                ALONE,
                NOW,
                NO_INPUT,
                ADDED,
                NO_CONTROLLER,
                ("configuration.items.+", LINE | {"features": ["expandable_electronics"]}),
            ],
        ),
    ],
    not_met=[
        ("electronics that take none, and no line that replaces them", [ALONE, NOW, NO_INPUT, ADDED, NO_CONTROLLER]),
    ],
    cannot_tell=[
        ("nothing of the electronics there", [ALONE]),
        ("not what must be added", [ALONE, NOW, TAKES]),
        ("not whether they take another input", [ALONE, NOW, ADDED]),
        ("no kind of request", [("request.kind", GONE)]),
    ],
    does_not_apply=[
        ("a new chair", []),
        ("a replacement", [("request.kind", "replacement")]),
    ],
    rests_on=("request.kind",),
)

test_each_record_gets_its_answer = RECORDS.test()
