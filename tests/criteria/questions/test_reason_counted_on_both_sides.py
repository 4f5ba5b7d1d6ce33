"""What `reason_counted_on_both_sides` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ROWS

SPASMS = ("alternatives.3.reason", "A spasm takes his hand off the joystick.")
TIRED = ("alternatives.3.reason", "By the end he is tired.")
UNTRIED = ("alternatives.4.reason", "A spasm takes his chin off the cup.")


def counted(*methods: str) -> list[dict[str, object]]:
    """The rows of the whole case with the spasms of these methods counted, once a day."""
    return [row | {"spasms": 1} if row["method"] in methods and row["task"] == "stop" else row for row in ROWS]


RECORDS = Records(
    "reason_counted_on_both_sides",
    met=[
        ("spasms counted with both", [SPASMS], counted("stick", "pads")),
        ("fatigue, which every row holds", [TIRED]),
    ],
    not_met=[
        ("spasms counted with the control ruled out alone", [SPASMS], counted("stick")),
        ("spasms counted with the requested control alone", [SPASMS], counted("pads")),
    ],
    cannot_tell=[("spasms counted with neither", [SPASMS]), ("no alternative", [("alternatives", [])])],
    does_not_apply=[
        ("the whole case", []),
        ("spasms against a control that was not driven", [UNTRIED]),
        ("spasms of a control that is not ruled out", [SPASMS, ("alternatives.3.ruled_out_by", "nothing")]),
        ("no reason", [("alternatives.3.reason", GONE)]),
    ],
    ready={"met": []},
    rests_on=("alternatives",),
)

test_each_record_gets_its_answer = RECORDS.test()
