"""What `old_sheets_collected` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

CARD = {"what": "card", "who": "aunt", "edition": 1, "on": date(2026, 8, 3)}
PAGE = {"what": "emergency", "hangs": "on the door", "edition": 1}
NEW = {"what": "guide", "who": "aunt", "edition": 2}


def _sheets(*handed_out, edition=2):
    return [("sheets", {"edition": edition, "handed_out": list(handed_out)})]


RECORDS = Records(
    "old_sheets_collected",
    met=[
        ("all of this edition", _sheets(NEW)),
        ("the old one is back", _sheets(CARD | {"back_on": date(2026, 9, 1)}, NEW)),
    ],
    not_met=[("two are out", _sheets(CARD, PAGE, NEW)), ("nobody knows where", _sheets({"what": "log", "edition": 1}))],
    cannot_tell=[
        ("no edition", _sheets(CARD, edition=None)),
    ],
    does_not_apply=[
        ("none handed out, and nothing delivered", []),
        ("none handed out, and no day of a request or delivery", [("request.requested_on", GONE), ("dates", GONE)]),
        ("none handed out with the chair", [("dates.delivered_on", date(2026, 7, 6))]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
