"""What `row_agrees_with_itself` says of each record: 16 rows of the stick, then 24 of the pads, each second a stop."""

from __future__ import annotations

from records import Records
from whole_case import ROWS, ask, changed, grounds


def rows(*changes: tuple[int, dict[str, object]]) -> list[dict[str, object]]:
    """The rows of the whole case, with these columns on those at these places."""
    others = dict(changes)
    return [row | others.get(at, {}) for at, row in enumerate(ROWS)]


STOP = next(at for at, row in enumerate(ROWS) if row["task"] == "stop")
DRIVE = next(at for at, row in enumerate(ROWS) if row["task"] != "stop")
LAST = len(ROWS) - 1
ENDED = {"note": "stiff, asked to stop"}

RECORDS = Records(
    "row_agrees_with_itself",
    met=[
        ("the whole case", []),
        ("a missed stop that is marked", [], rows((STOP, {"success": False, "missed": 1}))),
        ("a stop not made, and nothing of what was missed", [], rows((STOP, {"success": False}))),
        ("an attempt not done with something missed", [], rows((DRIVE, {"success": False, "missed": 1}))),
        ("an activation missed of those counted", [], rows((DRIVE, {"success": True, "missed": 1, "activations": 9}))),
        ("the end noted on the last attempt", [], rows((LAST, ENDED))),
    ],
    not_met=[
        ("a stop not made and not missed", [], rows((STOP, {"success": False, "missed": 0}))),
        ("attempts after the end", [], rows((DRIVE, ENDED))),
        ("the end by its number, on a later line", [], rows((0, {"attempt": 2}), (1, ENDED | {"attempt": 1}))),
        ("both", [], rows((STOP, {"success": False, "missed": 0}), (DRIVE, {"note": "stopped early"}))),
    ],
    cannot_tell=[
        ("a drive done with something missed", [], rows((DRIVE, {"success": True, "missed": 1}))),
    ],
    does_not_apply=[("no row", [], [])],
    needs_rows=True,
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_row_is_named():
    answer = ask("row_agrees_with_itself", grounds(changed(), rows((STOP, {"success": False, "missed": 0}))))
    assert answer.rows == (STOP + 2,) and "1 stop is not made and marked as not missed" in answer.reason
