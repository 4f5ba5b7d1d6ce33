"""Hours in which somebody is there, written short: "monday friday 09:00-12:00 15:00-21:00"; every day without a day."""

from __future__ import annotations

from datetime import time
from typing import Any


def there(text: str) -> list[dict[str, Any]]:
    """The entries of `there` of a person."""
    days = [word for word in text.split() if "-" not in word]
    spans = [word.split("-") for word in text.split() if "-" in word]
    return [
        {"days": days, "starts_at": time.fromisoformat(start), "ends_at": time.fromisoformat(end)}
        for start, end in spans
    ]


WEEK = "monday tuesday wednesday thursday friday"
