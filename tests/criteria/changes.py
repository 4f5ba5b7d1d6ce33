"""Changes of the whole case, and rows of its trial, that the records of several criteria share."""

from __future__ import annotations

from datetime import date

from whole_case import DELIVERED, GONE, ROWS, attempts

GOOD = attempts("pads", "1" * 24)
STICK = ROWS[:16]
AS_GOOD = attempts("stick", "1" * 16) + GOOD
LINE = {"id": "more", "name": "one more", "code": "E0117", "why": "Needed.", "modifier": "KX"}
NO_PROFILE = [("configuration.profiles", []), ("spaces.0.profile", GONE), ("spaces.1.profile", GONE)]
YOUNG = ("client.born_on", date(2010, 5, 5))  # 15 on the day of the request
REPLACED = ("request.kind", "replacement")
NO_PAPER = (*DELIVERED, ("authorization", {}))
MISSED_STOPS = ROWS[:16] + [row | {"success": row["task"] != "stop"} for row in attempts("pads", "1" * 24)]
LESSONS = [
    {"date": date(2026, 8, 10), "stage": 3, "task": "left", "success": True},
    {"date": date(2026, 8, 12), "stage": 3, "task": "left", "success": True},
]
