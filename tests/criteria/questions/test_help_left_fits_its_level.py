"""What `help_left_fits_its_level` says of each record: the first activity of the whole case is at home, and watched."""

from __future__ import annotations

from records import Records
from whole_case import ROWS

SET_UP = ("activities.0.with_device", "set_up")
LOST = "a spasm: the mouthpiece was lost and set again"


def noted(method: str) -> list[dict[str, object]]:
    """The rows of the whole case, the last with this method noting that the control was set again."""
    last = max(at for at, row in enumerate(ROWS) if row["method"] == method)
    return [row | {"note": LOST} if at == last else row for at, row in enumerate(ROWS)]


RECORDS = Records(
    "help_left_fits_its_level",
    met=[
        ("set up once", [SET_UP, ("activities.0.left", "His aunt sets the pads in the morning.")]),
        ("another control was set again", [SET_UP], noted("stick")),
    ],
    not_met=[
        ("a hand after each spasm", [SET_UP, ("activities.0.left", "His aunt sets the pads, again after a spasm.")]),
        ("set again in the trial", [SET_UP], noted("pads")),
        (
            "set again with the same device",
            [SET_UP, ("trial.methods.0.device", "head_array"), ("trial.methods.1.device", "head_array")],
            noted("stick"),
        ),
    ],
    cannot_tell=[
        ("no row", [SET_UP], []),
        ("rows of another control alone", [SET_UP], [row for row in ROWS if row["method"] == "stick"]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("away from home", [("activities.1.with_device", "set_up"), ("activities.1.left", "Someone helps again.")]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
