"""What a cell says, as the file of a case has it: days, ids, yes or no, numbers in the unit of their column."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta

from docgen.case import days_written as dates
from docgen.case.measures_written import measure_of
from docgen.case.record import Column
from docgen.case.session import HELP, MARKS, SESSIONS
from docgen.months import day_in_words
from docgen.spreadsheet.asking import Asking
from docgen.spreadsheet.cells import Cell
from docgen.spreadsheet.headings import COLUMNS, factor, units_for
from docgen.spreadsheet.layout import NOTE, Layout, of_latch
from docgen.spreadsheet.numbers import Mark, mark_of, no_event, number, yes_or_no
from docgen.spreadsheet.sifting import Ids, Sifting

OUT = "leave out"
_NOT_KNOWN = "blank"
_EVENTS = frozenset(("stopped", "cleared_by", "changed", "new_count"))
_METRIC = {"m": "m", "m/s": "m_s"}  # unit of a column -> that of a key of the case
_ORDINAL = re.compile(r"(\d{1,2})(?:st|nd|rd|th|er|re|e|o|a|\u00ba|\u00aa|\.)", re.I)  # 1st, 2nd, 1er, 2e, 1.
_ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}$")


class Values(Sifting):
    """The cells of a sheet in the reading; `nameless` holds names of a kind that the case has no entry of."""

    def __init__(self, read: Layout, ids: Mapping[str, Ids], asking: Asking) -> None:
        super().__init__(read, ids, asking)
        self.nameless: dict[str, dict[str, None]] = {}
        self.mark_open = False
        self.mark = self._mark()
        self.days = self._days()

    def _mark(self) -> Mark | None:
        """The decimal mark of the numbers that are written as text."""
        numeric = [
            c
            for c in self.read.placed
            if c.column and COLUMNS[c.column].kind in ("number", "numbers", "scale", "count")
        ]
        texts = [cells[c.at] for _, cells in self.data for c in numeric if c.at < len(cells)]
        mark: Mark | None = None
        doubtful = False
        try:
            mark, doubtful = mark_of(text for text in texts if isinstance(text, str))
        except ValueError as failure:
            answer = self.asking.ask("decimal", f"In this sheet {failure}. Which is it?", "comma", "point")
            return self._answered_mark(answer)
        if mark is None and doubtful:
            example = next(t for t in texts if isinstance(t, str) and mark_of([t])[1])
            answer = self.asking.ask(
                "decimal", f"Is '{example}' more than a thousand? Say which sign is the decimal one.", "comma", "point"
            )
            return self._answered_mark(answer)
        if mark is not None:
            self.asking.say(f"numbers have a decimal {mark}")
        return mark

    def _answered_mark(self, answer: str | None) -> Mark | None:
        self.mark_open = answer is None
        return "comma" if answer == "comma" else "point" if answer == "point" else None

    def _days(self) -> dict[str, date]:
        """Each text of the column of dates as a day."""
        values = [self.cell(cells, "date") for _, cells in self.data]
        texts = list(dict.fromkeys(value for value in values if isinstance(value, str)))
        days, open_orders, decided = dates.settled(texts)
        waiting: list[str] = []  # for the order of day and month, which is asked first
        if open_orders:
            order = self._asked_order(texts, days, open_orders)
            days |= {text: on for text in texts if order and (on := dates.in_order(text, order))}
            waiting = [text for text in texts if dates.orders_of(text)] if order is None else []
        for text in texts:
            if text not in days and text not in waiting and (on := self._lone_day(text)):
                days[text] = on
        if texts and texts[0] in days:
            why = f", for '{decided}' can be read in no other order" if decided else ""
            self.asking.say(f"'{texts[0]}' is {day_in_words(days[texts[0]])}{why}")
        return days

    def _asked_order(
        self, texts: Sequence[str], days: Mapping[str, date], open_orders: Sequence[dates.Order]
    ) -> dates.Order | None:
        """The order of day, month and year as answered; None while that is open."""
        example = next(text for text in texts if text not in days and dates.orders_of(text))
        ways = dates.orders_of(example)
        readings = " or ".join(day_in_words(ways[order]) for order in open_orders if order in ways)
        answer = self.asking.ask("date", f"Is '{example}' {readings}?", *open_orders)
        return next((order for order in dates.ORDERS if order == answer), None)

    def _lone_day(self, text: str) -> date | None:
        """The day of a text that the order of the column does not settle: eight digits, else as answered."""
        if re.fullmatch(r"\d{8}", text) and (on := _day_of_digits(text)):
            return on
        answer = self.asking.ask(f"date.{text}", f"Which day is '{text}'? As 2026-03-31:", fits=_is_iso)
        return None if answer is None else date.fromisoformat(answer)

    def text(self, name: str, value: Cell, line: int) -> str:
        """A cell as the file of the case has it; "" for nothing, or while it is asked about."""
        column = COLUMNS[name]
        if name == "success":
            return self._success(value, line)
        if value is None:
            return ""
        match column.kind:
            case "date":
                return self._date(value)
            case "id" | "step":
                return self._id(name, value)
            case "count" | "number" | "scale":
                return self._amount(name, value)
            case "numbers":
                return self._amounts(name, value)
            case "prompt":
                return self._prompt(name, value)
            case "yes_no":
                return self._yes_or_no(name, value)
        return self._words(name, value)

    def _words(self, name: str, value: Cell) -> str:
        """Words as they stand; of an event, whose cell filled means that it was, none for a no and the heading for a
        yes."""
        if name not in _EVENTS:
            return str(value)
        text = _text_of(value)
        known = value if isinstance(value, bool) else yes_or_no(text)
        if known is False or no_event(text):
            return ""
        column = self.read.column(name)
        return column.heading.lower() if known and column else text

    def _date(self, value: Cell) -> str:
        if isinstance(value, datetime):
            return value.date().isoformat()
        if isinstance(value, date):
            return value.isoformat()
        if isinstance(value, str):
            if _ISO_DAY.match(value) and self.read.column("date") is None:
                return value
            return self.days[value].isoformat() if value in self.days else ""
        if isinstance(value, float):
            written = f"{value:.0f}"
            if re.fullmatch(r"(19|20)\d{6}", written) and (day := _day_of_digits(written)):
                return day.isoformat()
            on = dates.excel_day(value)
            if (
                on
                and self.asking.ask(
                    "date",
                    f"The date is the number {value:g}. Is that {day_in_words(on)}, as a spreadsheet counts days?",
                    "number of a day",
                    OUT,
                )
                == "number of a day"
            ):
                return on.isoformat()
            if on is None:
                self.asking.ask(f"date.{value:g}", f"Which day is '{value:g}'? As 2026-03-31:", fits=_is_iso)
                given = self.asking.answers.get(f"date.{value:g}", "")
                return given if _is_iso(given) else ""
        return ""

    def _id(self, name: str, value: Cell) -> str:
        """The id that a name stands for: the id or the name itself, however written; else it is asked."""
        text = _text_of(value)
        known, same = self.ids[name], self._same(name, text)
        if f"{name}.{text}" not in self.asking.answers and len(same) == 1:
            if same[0] != text:
                self.asking.say(f"'{text}' is the {name} {same[0]}")
            return same[0]
        if not known:
            self.nameless.setdefault(name, {})[text] = None
            return ""
        # one of the case's own is offered and never meant: a name that is none of them is written first
        elsewhere = f", or is it still to be written below [trial.{name}s]" if self.read.sheet is not SESSIONS else ""
        answer = self.asking.ask(f"{name}.{text}", f"Which {name} of the case is '{text}'{elsewhere}?", *known)
        if answer:
            self.asking.say(f"'{text}' is the {name} {answer}, as answered")
        return answer or ""

    def latched(self) -> dict[int, str]:
        """Row -> the method that its latched drive is, of each control of which some rows are latched and some are not;
        asked, for one control latched is another than the same one unlatched."""
        column = next((c for c in self.read.placed if of_latch(c.heading)), None)
        if column is None or self.read.column("method") is None:
            return {}
        marked: dict[str, dict[int, bool]] = {}
        for line, cells in self.data:
            mark, name = (cells[column.at] if column.at < len(cells) else None), self.cell(cells, "method")
            if name is not None:
                is_latched = mark is not None and yes_or_no(_text_of(mark)) is not False
                marked.setdefault(_text_of(name), {})[line] = is_latched
        of_row: dict[int, str] = {}
        if not self.ids.get("method"):  # all methods that the sheet tells apart are to be written, the latched too
            part = {text: set(rows.values()) for text, rows in marked.items()}
            names = [*part, *(f"{text}, latched" for text, marks in part.items() if len(marks) == 2)]
            self.nameless.setdefault("method", {}).update(dict.fromkeys(names))
            return {}
        for text, rows in marked.items():
            lines = [line for line, is_latched in rows.items() if is_latched]
            if not 0 < len(lines) < len(rows):
                continue
            answer = self.asking.ask(
                f"latched.{text}",
                f"'{column.heading}' marks {len(lines)} of the {len(rows)} rows of '{text}' as latched. Which method "
                "of the case is the latched drive, or is it still to be written below [trial.methods]?",
                *self.ids["method"],
            )
            if answer:
                self.asking.say(f"the {len(lines)} latched rows of '{text}' are the method {answer}")
                of_row |= dict.fromkeys(lines, answer)
        return of_row

    def _success(self, value: Cell, line: int) -> str:
        if self.read.column("success") is None:
            return ""
        if value is None:
            answer = self.asking.ask(
                "blank.success",
                f"Whether it was done is blank in row {line} and perhaps in others. Was it not, or are such rows left "
                "out?",
                "no",
                OUT,
            )
            return OUT if answer == OUT else "0" if answer == "no" else ""
        if str(value).strip().lower() in MARKS:  # of the lesson card: done, alone or helped
            return "1"
        if isinstance(value, float):
            if value in (0.0, 1.0):
                return f"{value:.0f}"
            value = f"{value:g}"
        done = value if isinstance(value, bool) else self._yes(str(value))
        if done is None:
            answer = self.asking.ask(f"success.{value}", f"Does '{value}' mean that it was done?", "yes", "no", OUT)
            return {"yes": "1", "no": "0", OUT: OUT}.get(answer or "", "")
        if isinstance(value, str) and value not in ("0", "1"):
            self.asking.say(f"'{value}' is {'done' if done else 'not done'}")
        return "1" if done else "0"

    def _prompt(self, name: str, value: Cell) -> str:
        """The letters of a prompt level; other words are asked about."""
        text = MARKS.get(_text_of(value).lower(), _text_of(value))
        if text.upper() in HELP:
            return text.upper()
        answer = self.asking.ask(f"{name}.{text}", f"Which prompt level is '{text}'?", *HELP, _NOT_KNOWN)
        return "" if answer in (None, _NOT_KNOWN) else answer

    def _yes_or_no(self, name: str, value: Cell) -> str:
        text = _text_of(value)
        known = value if isinstance(value, bool) else yes_or_no(text)
        if known is None:
            answer = self.asking.ask(f"{name}.{text}", f"Is '{text}' under '{name}' a yes?", "yes", "no")
            known = {"yes": True, "no": False}.get(answer or "")
        return "" if known is None else "1" if known else "0"

    def _amounts(self, name: str, value: Cell) -> str:
        parts = re.split(r"[\s;/]+", value) if isinstance(value, str) else [value]
        return " ".join(filter(None, (self._amount(name, part) for part in parts)))

    def _amount(self, name: str, value: Cell) -> str:
        """A number in the unit of its column."""
        column, placed = COLUMNS[name], self.read.column(name)
        heading = placed.heading if placed else name
        if _is_clock(value):
            return self._clock(column, heading, value)
        if self.mark_open and isinstance(value, str) and re.search(r"\d[.,]\d", value):
            return ""  # which sign is the decimal one is asked first
        if column.kind == "count" and isinstance(value, str) and (place := _ORDINAL.fullmatch(value.strip())):
            return place[1]
        shown = _number_in(value, self.mark)
        if shown is None and (measure := _measure(value, column.unit)):  # 33 ft 6 in, 20'
            return measure
        if shown is None or (column.kind == "count" and (shown[0] != int(shown[0]) or shown[0] < 0)):
            return self._asked_number(name, heading, value, "whole number" if column.kind == "count" else "number")
        amount, behind = shown
        return self._in_unit_of_column(name, value, amount, behind or (placed.unit if placed else ""))

    def _asked_number(self, name: str, heading: str, value: Cell, kind: str) -> str:
        """What a cell that is no number is meant to be; "" while that is asked, or where it is blank."""
        asks = f"'{value}' under '{heading}' is no {kind}. What is it? A number, or blank:"
        if not re.search(r"\d", str(value)):
            prompted = f"--map 'column.{heading}=prompted' counts in how many rows there was any, and "
            asks = (
                f"'{value}' under '{heading}' is no {kind}. Where the number is not known, "
                f"{prompted if name.startswith('prompts_') else ''}--map 'column.{heading}={NOTE}' keeps the words in "
                "the note of each row, not counted. Else what is it? A number, or blank:"
            )
        answer = self.asking.ask(f"cell.{heading}.{value}", asks, fits=_is_plain)
        return "" if answer in (None, "blank") else answer or ""

    def _in_unit_of_column(self, name: str, value: Cell, amount: float, unit: str) -> str:
        """A number as written in a unit, "" where none is said, in the unit of its column; "" while that is asked."""
        column, placed = COLUMNS[name], self.read.column(name)
        heading = placed.heading if placed else name
        if column.unit and not unit:
            self.asking.ask(
                f"column.{heading}",
                f"In which unit is '{heading}', such as {amount:g}?",
                *(f"{name}:{u}" for u in units_for(name)),
                "keep",
                fits=lambda _: False,
            )
            return ""
        times = factor(name, unit) if column.unit and unit else 1.0
        if times is None:
            self.asking.ask(
                f"cell.{heading}.{value}",
                f"'{value}' under '{heading}' is in another unit. What is it in {column.unit}? A number, or blank:",
                fits=_is_plain,
            )
            given = self.asking.answers.get(f"cell.{heading}.{value}", "")
            return given if _is_plain(given) and given != "blank" else ""
        return f"{round(amount * times, 6):f}".rstrip("0").rstrip(".")

    def _clock(self, column: Column, heading: str, value: Cell) -> str:
        """A time with colons: two parts can be minutes and seconds, or hours and minutes."""
        if isinstance(value, timedelta):
            total = value.total_seconds()
            parts = [int(total // 3600), int(total % 3600 // 60), int(total % 60)]
        elif isinstance(value, (time, datetime)):
            parts = [value.hour, value.minute, value.second]
        else:
            parts = [int(part) for part in str(value).split(":")]
        if len(parts) == 3 and parts[2] and isinstance(value, str):
            seconds = parts[0] * 3600 + parts[1] * 60 + parts[2]
        else:
            shown = value if isinstance(value, str) else f"{parts[0]}:{parts[1]:02}:{parts[2]:02}"
            answer = self.asking.ask(
                f"clock.{heading}",
                f"Is '{shown}' under '{heading}' minutes and seconds, or hours and minutes?",
                "minutes:seconds",
                "hours:minutes",
            )
            if answer is None:
                return ""
            first, second = parts[0], parts[1]
            seconds = first * 60 + second if answer == "minutes:seconds" else first * 3600 + second * 60
        return f"{seconds if column.unit == 's' else round(seconds / 60, 4):g}"


def _text_of(value: Cell) -> str:
    """A cell as a person reads it: 3, and not 3.0."""
    return f"{value:g}" if isinstance(value, float) else str(value)


def _is_clock(value: Cell) -> bool:
    """Whether a cell is a time with colons, or one that the spreadsheet keeps as a time."""
    if isinstance(value, str):
        return re.fullmatch(r"\d+:\d\d(:\d\d)?", value) is not None
    return isinstance(value, (time, timedelta, datetime))


def _measure(value: Cell, unit: str) -> str:
    """A length or a speed written with its units, in the unit of its column; "" where it is none."""
    metric = _METRIC.get(unit, "") if isinstance(value, str) else ""
    measure = measure_of(str(value), metric) if metric else None
    return "" if measure is None else f"{measure:g}"


def _number_in(value: Cell, mark: Mark | None) -> tuple[float, str] | None:
    """The number in a cell and the unit written behind it, "" for none; None where it holds no number."""
    if isinstance(value, float):
        return value, ""
    return number(value or "", mark) if value is None or isinstance(value, str) else None


def _day_of_digits(digits: str) -> date | None:
    """The day that eight digits are, year first; None where there is no such day."""
    ways = dates.orders_of(f"{digits[:4]}-{digits[4:6]}-{digits[6:]}")
    return ways["year first"] if ways else None


def _is_iso(text: str) -> bool:
    try:
        return bool(_ISO_DAY.match(text)) and bool(date.fromisoformat(text))
    except ValueError:
        return False


def _is_plain(text: str) -> bool:
    return text == "blank" or re.fullmatch(r"\d+(\.\d+)?", text) is not None
