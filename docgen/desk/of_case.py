"""What every screen of a case shows, and the one screen of a case that cannot be read."""

from __future__ import annotations

from typing import Any

from starlette.responses import Response

from docgen.desk import history
from docgen.desk.cases import Looked
from docgen.desk.shown import page
from docgen.desk.topics import topics


def of_case(address: str, looked: Looked) -> dict[str, Any]:
    """What every screen of a case shows."""
    return {
        "address": address,
        "looked": looked,
        "topics": topics(),
        "changes": history.count(looked.folder),
        "last_change": history.says_last(looked.folder),
    }


def unreadable(address: str, looked: Looked, status: int = 200, **more: Any) -> Response:
    """The mistakes of a file that cannot be read as a case, and the way back before the last change."""
    return page("unreadable.html", status=status, **of_case(address, looked) | {"trouble": None} | more)
