"""What a lesson card says in other columns than sessions.csv: stops beside tries, the step of a stop, what will not
count."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from msgspec import Struct

from docgen.case.stage import STOP_TASKS
from docgen.spreadsheet.asking import Asking
from docgen.spreadsheet.cells import Cell
from docgen.spreadsheet.numbers import yes_or_no

Row = dict[str, str]
_ONCE_OR_EACH = ("distance_m", "minutes")  # written for each try, or once for a lesson
_LETTERS, _NO_TOUCH = ("B", "N", "P"), "none"
_STOP = {"alone": "alone", "helped": "helped", "missed": "missed", "none": "none"}
_MARKED = {"alone": {"success": "1", "help": "I"}, "helped": {"success": "1", "help": "H"}, "missed": {"success": "0"}}


class Lessons(Struct, frozen=True):
    """What of a case its lessons are held against.

    steps  id of a task -> the step of training that it belongs to
    halts  ids of the tasks in which a failure is a missed stop
    """

    steps: Mapping[str, str]
    halts: Collection[str] = STOP_TASKS


def stops_in_rows(
    rows: Sequence[tuple[int, Row]], beside: Mapping[int, Cell], heading: str, asking: Asking
) -> list[tuple[int, Row]]:
    """The rows, each surprise stop that stands beside a try in a row of its own behind it.

    beside  row of the spreadsheet -> what stands there under the heading of stops, of the tries of driving
    """
    others = {text for cell in beside.values() if yes_or_no(text := _plain(cell)) is not False}
    marks = {
        line: _stop_mark(_plain(cell), heading, not others & {"yes", "1"}, asking) for line, cell in beside.items()
    }
    each = _on_each(rows)
    parted: list[tuple[int, Row]] = []
    n_of: Counter[str] = Counter()
    for line, row in rows:
        parted.append((line, row))
        if mark := _MARKED.get(marks.get(line, "")):
            n_of[marks[line]] += 1
            same: Row = {name: row[name] for name in ("date", "stage", "coach") if name in row}
            # the amount of the try holds that of its stop
            none = dict.fromkeys((name for name in _ONCE_OR_EACH if (row.get("date", ""), name) in each), "0")
            parted.append((line, {**same, "task": STOP_TASKS[-1], **mark, "surprise": "1", **none}))
    if n := n_of.total():
        by_mark = ", ".join(f"{n_of[mark]} {mark}" for mark in _MARKED)
        asking.say(f"under '{heading}' {_stops(n)} beside a try, each now a row of its own: {by_mark}")
    return parted


def _stops(n: int) -> str:
    return "1 stop stands" if n == 1 else f"{n} stops stand"


def _on_each(rows: Sequence[tuple[int, Row]]) -> set[tuple[str, str]]:
    """Day and column of the amounts that stand on more than one row of the day."""
    n_with = Counter((row.get("date", ""), name) for _, row in rows for name in _ONCE_OR_EACH if name in row)
    return {day_and_name for day_and_name, n in n_with.items() if n > 1}


def _plain(cell: Cell) -> str:
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    return (f"{cell:g}" if isinstance(cell, float) else str(cell)).strip().lower()


def _stop_mark(text: str, heading: str, no_is_none: bool, asking: Asking) -> str:
    """How a stop beside a try was made; "" while that is asked."""
    if text in _STOP:
        return text
    if no_is_none and text != "not" and yes_or_no(text) is False:
        return "none"
    asks = (
        f"'{text}' under '{heading}' stands beside a try of driving. Was the surprise stop made alone, made with help, "
        "or missed, or was there none?"
    )
    return asking.ask(f"stop.{text}", asks, *_STOP) or ""


def touched(text: str, heading: str, asking: Asking) -> Row:
    """The letters of bumps, near misses and touches of a person as counts of their columns; none while they are asked
    about. A person touched is a contact too."""
    written = text.strip().upper()
    if not re.fullmatch(r"[BNP](?:[\s,;/+]*[BNP])*", written):
        if yes_or_no(written) is not False:
            asks = (
                f"Which letters is '{text}' under '{heading}': B for a bump, N for a near miss, P for a person touched?"
            )
            answer = asking.ask(f"touches.{text}", asks, *_LETTERS, _NO_TOUCH)
            written = answer if answer in _LETTERS else ""
        else:
            written = ""
    n_of = Counter(sign for sign in written if sign in _LETTERS)
    counts = {"contacts": n_of["B"] + n_of["P"], "person_contacts": n_of["P"], "near_misses": n_of["N"]}
    return {name: str(n) for name, n in counts.items() if n}


def before_first_try(rows: Sequence[tuple[int, Row]], name: str) -> None:
    """Put what happened since the last lesson on the first row of its day, once: counts begin anew where it stands."""
    days: dict[str, list[Row]] = {}
    for _, row in rows:
        days.setdefault(row.get("date", ""), []).append(row)
    for of_day in days.values():
        if texts := dict.fromkeys(row.pop(name) for row in of_day if name in row):
            of_day[0][name] = "; ".join(texts)


def stepped(rows: Sequence[tuple[int, Row]], of: Lessons) -> None:
    """Give each row the step of its task; a stop that of the try of driving next to it that day, since each step asks
    for stops of its own."""
    for _, row in rows:
        if "task" in row and row["task"] not in of.halts:
            row["stage"] = of.steps.get(row["task"], "")
    for in_order in (rows, [*reversed(rows)]):
        near: dict[str, str] = {}
        for _, row in in_order:
            day = row.get("date", "")
            if row.get("task") not in of.halts:
                near[day] = row.get("stage", "") or near.get(day, "")
            elif not row.get("stage") and near.get(day):
                row["stage"] = near[day]
    for _, row in rows:  # a day of stops alone
        if row.get("task") in of.halts and not row.get("stage"):
            row["stage"] = of.steps.get(row["task"], "")


def uncounted_told(rows: Sequence[tuple[int, Row]], halts: Collection[str], asking: Asking) -> None:
    """Say how many tries and stops no count will hold, and why."""
    stops = [(line, row) for line, row in rows if row.get("task") in halts]
    no_surprise = [line for line, row in stops if not row.get("surprise")]
    no_help = [
        line for line, row in rows if row.get("success") == "1" and not row.get("help") and line not in no_surprise
    ]
    for lines, why in (
        (no_help, "was done and no help is written: mark alone or helped"),
        (no_surprise, "is a stop, and whether it came as a surprise is not written"),
    ):
        if lines:
            n, at = len(lines), ", ".join(map(str, lines[:5])) + (" ..." if len(lines) > 5 else "")
            asking.warn(f"WILL NOT COUNT: {n} of {len(rows)} rows, each {why} (row {at})")
