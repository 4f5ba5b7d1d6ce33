"""The files beside the documents that are for other programs: lines and data of the order, the calendar of the plan."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from docgen.case.key import mark_of, new_key
from docgen.documents.base_asked import after_order
from docgen.documents.document import called_for, dated_on
from docgen.documents.events import calendar_file
from docgen.documents.lines_file import lines_of_order
from docgen.documents.order_file import order_file
from docgen.packet.approval import Review, printed_day
from docgen.packet.assess import Assessed, on_its_day
from docgen.packet.trees import tables
from docgen.packet.wording import Wording
from docgen.rendering.seal import sealed

CALENDAR = "training.ics"  # lessons and follow-ups, beside the plan
LINES = "lines.csv"  # the lines to order, beside the order
ORDER_DATA = "order.json"  # the order for another program


def beside_plan(assessed: Assessed, worded: Wording) -> dict[str, bytes]:
    """The calendar of lessons and visits, where there are any days for it."""
    key = assessed.file.key
    calendar = calendar_file(assessed.file.case, worded.words, key or new_key())
    return {CALENDAR: sealed(CALENDAR, calendar, mark_of(key))} if calendar else {}


def files_beside_order(
    assessed: Assessed,
    worded: Wording,
    laid_out: Mapping[str, Any],
    status: str,
    review: Review | None,
    only: Collection[str],
) -> dict[str, bytes]:
    """The lines to order as rows, and the order as data, where this build makes an order that shows any key of a line:
    as known on its own day."""
    is_made = "order" in called_for(worded.documents, assessed.file.case) and (not only or "order" in only)
    if not is_made:
        return {}
    order = worded.documents["order"]
    if "order_lines" not in order.shows:
        return {}
    day = dated_on(order, assessed.file.case)
    then = on_its_day(assessed, day)
    if then is not assessed:
        since = after_order(assessed.file.case, then.file.case)
        laid_out = {**tables(then, worded, ()), "after_order": since}
    day = printed_day(day, review)
    return {
        LINES: lines_of_order(laid_out, (order.shows, order.may_see), worded.words, status, day),
        ORDER_DATA: order_file(laid_out, order.shows, order.may_see, status),
    }
