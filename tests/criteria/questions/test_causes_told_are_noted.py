"""What `causes_told_are_noted` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import ROWS

SAYS = "limits.1.says"
OF_THREE = (SAYS, "1 of the 3 unintended commands came with a cough.")
PADS = [at for at, row in enumerate(ROWS) if row["method"] == "pads"]


def unmeant(**notes: str) -> list[dict[str, object]]:
    """The rows of the whole case with three unintended commands of the pads, and these notes on those rows."""
    at_rows = dict(zip(PADS[:3], ("first", "second", "third"), strict=True))
    return [
        {**row, "unintended": 1 if at in at_rows else 0}
        | ({"note": notes[at_rows[at]]} if at_rows.get(at) in notes else {})
        for at, row in enumerate(ROWS)
    ]


RECORDS = Records(
    "causes_told_are_noted",
    met=[("noted in its row", [OF_THREE], unmeant(second="a cough set off a turn"))],
    not_met=[
        ("noted in no row", [OF_THREE], unmeant()),
        (
            "noted in one row of two",
            [(SAYS, "2 of the 3 unintended commands came with a cough.")],
            unmeant(second="a cough"),
        ),
        ("more than any control has", [(SAYS, "1 of 7 unintended activations came with a cough.")], unmeant()),
    ],
    cannot_tell=[("no row", [OF_THREE], [])],
    does_not_apply=[("the whole case", [])],
)

test_each_record_gets_its_answer = RECORDS.test()
