"""Cells -> the rows of a case, a sentence on each thing made of them, and a question on each that cannot be told."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta

from msgspec import Struct

from docgen.case import days_written as dates
from docgen.case.namesakes import letters_and_digits
from docgen.case.record import TRIAL, Column, Sheet
from docgen.case.totals import TOTALS
from docgen.spreadsheet.asking import Asking, Question
from docgen.spreadsheet.cells import Cell, Grid
from docgen.spreadsheet.headings import COLUMNS, factor, units_for
from docgen.spreadsheet.layout import Layout, layout
from docgen.spreadsheet.numbers import Mark, mark_of, number, yes_or_no
from docgen.spreadsheet.summing import is_mean, is_total, totals_told

Ids = Mapping[str, str]  # id -> name, of the methods or tasks of a case
_NOTHING = frozenset(("-", "--", "\u2013", "\u2014", "n/a", "na", "n.a.", "k.a.", "k. a.", "nc", "s/d", "none", "?"))
_OUT, _ABOVE, _ALL = "leave out", "above", "all:"
_SAME_IN_ALL = ("date", "method", "task")
_ISO_DAY = re.compile(r"\d{4}-\d{2}-\d{2}$")


class Understood(Struct, frozen=True):
    """What was made of a spreadsheet.

    sheet      the file of the case it becomes; None while that is not known
    rows       its rows as cells of that file, by column
    lines      the row of the spreadsheet that each comes from
    kept       the cells that are no column of the case: row of the spreadsheet -> heading -> text
    says       what was made of each column, name and date, in sentences
    questions  what cannot be told
    mapping    heading -> column, with its unit
    unused     keys of answers to no question
    nameless   method or task -> the names of the sheet, where the case has no entries of that kind
    """

    sheet: Sheet | None
    rows: tuple[dict[str, str], ...]
    lines: tuple[int, ...]
    kept: dict[int, dict[str, str]]
    says: tuple[str, ...]
    questions: tuple[Question, ...]
    mapping: dict[str, str]
    unused: tuple[str, ...]
    nameless: dict[str, tuple[str, ...]]


def understood(grids: Sequence[Grid], methods: Ids, tasks: Ids, answers: Mapping[str, str]) -> Understood:
    """The rows of a spreadsheet, as far as they can be told and as the answers say.

    methods, tasks  ids of the case with their names
    answers         key of a question -> its answer
    """
    asking = Asking(answers)
    read = layout(grids, asking)
    rows: list[tuple[int, dict[str, str]]] = []
    kept: dict[int, dict[str, str]] = {}
    nameless: dict[str, tuple[str, ...]] = {}
    if read is not None:
        reading = _Reading(read, {"method": methods, "task": tasks}, asking)
        rows, kept = reading.rows(), reading.kept
        nameless = {name: tuple(texts) for name, texts in reading.nameless.items()}
    return Understood(
        read.sheet if read else None,
        tuple(row for _, row in rows),
        tuple(line for line, _ in rows),
        kept,
        tuple(asking.says),
        tuple(asking.questions.values()),
        {c.heading: f"{c.column}:{c.unit}" if c.unit else c.column for c in read.placed if c.column} if read else {},
        tuple(key for key in answers if key not in asking.used),
        nameless,
    )


class _Reading:
    """One sheet in the reading."""

    def __init__(self, read: Layout, ids: Mapping[str, Ids], asking: Asking) -> None:
        self.read, self.ids, self.asking = read, ids, asking
        self.kept: dict[int, dict[str, str]] = {}
        self.nameless: dict[str, dict[str, None]] = {}
        self.data = [*self._data()]
        self.mark_open = False
        self.mark = self._mark()
        self.days = self._days()

    # ---- which rows are rows -----------------------------------------------------------------------

    def cell(self, cells: Sequence[Cell], name: str) -> Cell:
        """What a row holds in a column of the case."""
        column = self.read.column(name)
        value = cells[column.at] if column is not None and column.at < len(cells) else None
        return None if isinstance(value, str) and value.casefold() in _NOTHING else value

    def _data(self) -> Iterator[tuple[int, tuple[Cell, ...]]]:
        """Rows that are attempts or totals of a day; sums, means, headings again and remarks are said and left out."""
        counted = "done" if self.read.sheet is TOTALS else "success"
        names = [name for name in ("date", "method", "task", counted) if self.read.column(name)]
        sums: list[tuple[int, Cell]] = []
        seen: list[tuple[int, tuple[Cell, ...]]] = []
        of_sums: list[tuple[int, tuple[Cell, ...]]] = []
        for line, cells in self.read.rows:
            filled = [name for name in names if self.cell(cells, name) is not None]
            texts = self._naming(cells)
            if (
                tuple("" if cell is None else str(cell) for cell in cells)[: len(self.read.heading)]
                == self.read.heading
            ):
                self.asking.say(f"row {line} is the heading again")
            elif any(is_mean(text) for text in texts) and filled != names:
                self.asking.say(f"row {line} is a mean and is left out")
                self._keep(line, cells)
            elif self._is_sum(cells, texts, filled, names):
                sums.append((line, self.cell(cells, counted)))
                of_sums.append((line, cells))
            elif not filled or self._is_remark(cells):
                if any(cell is not None for cell in cells):
                    self.asking.say(f"row {line} holds a remark alone and is kept as it is: {self._shown(cells)}")
                    self._keep(line, cells)
            else:
                seen.append((line, cells))
        for line, cells in of_sums:
            self._keep(line, cells)
        totals_told(
            sums, [(line, self._count(self.cell(cells, counted))) for line, cells in seen], counted, self.asking
        )
        yield from seen

    def _is_remark(self, cells: Sequence[Cell]) -> bool:
        """Whether a row holds one text alone, which is no day and no method or task of the case."""
        filled = [cell for cell in cells if cell is not None]
        if len(filled) != 1 or not isinstance(filled[0], str) or dates.orders_of(filled[0]):
            return False
        return not any(self._same(name, filled[0]) for name in ("method", "task") if self.cell(cells, name) is not None)

    def _naming(self, cells: Sequence[Cell]) -> list[str]:
        """Texts that can say what a row is: the first of it, and those where day, method and task stand."""
        first = next((cell for cell in cells if cell is not None), None)
        named = [self.cell(cells, name) for name in ("date", "method", "task")]
        return [text for text in (first, *named) if isinstance(text, str)]

    def _is_sum(self, cells: Sequence[Cell], texts: Sequence[str], filled: Sequence[str], names: Sequence[str]) -> bool:
        if any(is_total(text) for text in texts) and not isinstance(self.cell(cells, "date"), date):
            day = self.cell(cells, "date")
            return not (isinstance(day, str) and dates.orders_of(day))
        where = [name for name in names if name in ("date", "method", "task")]
        value = self._number(cells)
        blank = bool(where) and not any(name in filled for name in where)
        # an attempt below merged cells has nothing but a 1 or a 0; more than that only a sum has
        return blank and value is not None and value > 1 and self.read.sheet is TRIAL and not self._says_more(cells)

    def _says_more(self, cells: Sequence[Cell]) -> bool:
        """Whether a row holds a text that is no number."""
        return any(isinstance(cell, str) and number(cell, None) is None for cell in cells)

    def _number(self, cells: Sequence[Cell]) -> float | None:
        counted = self.cell(cells, "done" if self.read.sheet is TOTALS else "success")
        if isinstance(counted, bool):
            return None
        if isinstance(counted, float):
            return counted
        shown = number(counted, None) if isinstance(counted, str) else None
        return shown[0] if shown else None

    def _count(self, cell: Cell) -> float:
        """How much a cell adds to a sum of successes."""
        if isinstance(cell, (bool, float)):
            return float(cell)
        if isinstance(cell, str):
            shown = number(cell, None)
            return shown[0] if shown else float(self._yes(cell) or False)
        return 0.0

    def _keep(self, line: int, cells: Sequence[Cell]) -> None:
        headings = {column.at: column.heading for column in self.read.placed}
        self.kept[line] = {headings.get(at, f"column {at + 1}"): str(c) for at, c in enumerate(cells) if c is not None}

    def _shown(self, cells: Sequence[Cell]) -> str:
        text = " ".join(str(cell) for cell in cells if cell is not None)
        return f"'{text[:60]}{'...' if len(text) > 60 else ''}'"

    # ---- what holds for the whole sheet ------------------------------------------------------------

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
        if open_orders:
            example = next(text for text in texts if text not in days and dates.orders_of(text))
            ways = dates.orders_of(example)
            readings = " or ".join(_in_words(ways[order]) for order in open_orders if order in ways)
            answer = self.asking.ask("date", f"Is '{example}' {readings}?", *open_orders)
            order = next((order for order in dates.ORDERS if order == answer), None)
            days |= {text: on for text in texts if order and (on := dates.in_order(text, order))}
            asked = [text for text in texts if dates.orders_of(text)] if order is None else []
        else:
            asked = []
        for text in texts:
            if text not in days and text not in asked:
                if re.fullmatch(r"\d{8}", text) and (ways := dates.orders_of(f"{text[:4]}-{text[4:6]}-{text[6:]}")):
                    days[text] = ways["year first"]
                    continue
                answer = self.asking.ask(f"date.{text}", f"Which day is '{text}'? As 2026-03-31:", fits=_is_iso)
                if answer is not None:
                    days[text] = date.fromisoformat(answer)
        if texts and texts[0] in days:
            why = f", for '{decided}' can be read in no other order" if decided else ""
            self.asking.say(f"'{texts[0]}' is {_in_words(days[texts[0]])}{why}")
        return days

    # ---- the rows ----------------------------------------------------------------------------------

    def rows(self) -> list[tuple[int, dict[str, str]]]:
        """The rows as cells of a file of the case, in the order of the spreadsheet."""
        self._lacking()
        rows: list[tuple[int, dict[str, str]]] = []
        before: dict[str, Cell] = {}
        for line, cells in self.data:
            row: dict[str, str] = {}
            out = False
            for name in self.read.sheet.by_name:
                value = self.cell(cells, name)
                if name in ("date", "method", "task"):
                    value, out_here = self._of_above(name, value, before, line)
                    out = out or out_here
                text = self._text(name, value, line)
                if text == _OUT:
                    out = True
                elif text:
                    row[name] = text
            if others := {
                c.heading: str(v) for c in self.read.kept if c.at < len(cells) and (v := cells[c.at]) is not None
            }:
                self.kept[line] = others
            if out:
                self._keep(line, cells)
            else:
                rows.append((line, row))
        return rows

    def _lacking(self) -> None:
        """A column that every row needs and the sheet has not: one value for all, or the heading it goes by."""
        for name in self.read.sheet.required:
            if self.read.column(name) is None:
                headings = [c.heading for c in self.read.kept]
                asks = f"No heading is known as the {name}. Which one is it?"
                if name in _SAME_IN_ALL:
                    asks = f"{asks[:-1]}, or is it the same in all rows ({_ALL}VALUE)?"
                self.asking.ask(
                    f"which.{name}", asks, *headings, fits=self._is_of_all if name in _SAME_IN_ALL else None
                )

    def _is_of_all(self, answer: str) -> bool:
        return answer.startswith(_ALL) and len(answer) > len(_ALL)

    def _of_above(self, name: str, value: Cell, before: dict[str, Cell], line: int) -> tuple[Cell, bool]:
        """The value, or that of the row above where an answer says that a blank means the same."""
        answer = self.asking.answers.get(f"which.{name}", "")
        if self._is_of_all(answer) and self.read.column(name) is None:
            return answer.removeprefix(_ALL), False
        if value is not None:
            before[name] = value
            return value, False
        if self.read.column(name) is None:
            return None, False
        asks = (
            f"The {name} is blank in row {line} and perhaps in others. Is it that of the row above, or are such rows "
            "left out?"
        )
        meant = self.asking.ask(f"blank.{name}", asks, *((_ABOVE,) if name in before else ()), _OUT)
        return (before.get(name), False) if meant == _ABOVE else (None, meant == _OUT)

    def _text(self, name: str, value: Cell, line: int) -> str:
        """A cell as the file of the case has it; "" for nothing, or while it is asked about."""
        column = COLUMNS[name]
        if name == "success":
            return self._success(value, line)
        if value is None:
            return ""
        match column.kind:
            case "date":
                return self._date(value)
            case "id":
                return self._id(name, value)
            case "count" | "number" | "scale":
                return self._amount(name, value)
            case "numbers":
                return self._amounts(name, value)
        return str(value)

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
            if re.fullmatch(r"(19|20)\d{6}", written) and (
                ways := dates.orders_of(f"{written[:4]}-{written[4:6]}-{written[6:]}")
            ):
                return ways["year first"].isoformat()
            on = dates.excel_day(value)
            if (
                on
                and self.asking.ask(
                    "date",
                    f"The date is the number {value:g}. Is that {_in_words(on)}, as a spreadsheet counts days?",
                    "number of a day",
                    _OUT,
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
        text = f"{value:g}" if isinstance(value, float) else str(value)
        known, same = self.ids[name], self._same(name, text)
        if f"{name}.{text}" not in self.asking.answers and len(same) == 1:
            if same[0] != text:
                self.asking.say(f"'{text}' is the {name} {same[0]}")
            return same[0]
        if not known:
            self.nameless.setdefault(name, {})[text] = None
            return ""
        answer = self.asking.ask(f"{name}.{text}", f"Which {name} of the case is '{text}'?", *known)
        return answer or ""

    def _same(self, name: str, text: str) -> list[str]:
        """Ids that are this text, or whose name it is, however written."""
        words = letters_and_digits(text.replace("_", " "))
        return [
            key
            for key, called in self.ids[name].items()
            if words in (letters_and_digits(key.replace("_", " ")), letters_and_digits(called))
        ]

    def _yes(self, text: str) -> bool | None:
        answer = self.asking.answers.get(f"success.{text}")
        if answer in ("yes", "no"):
            self.asking.used.add(f"success.{text}")
            return answer == "yes"
        return yes_or_no(text)

    def _success(self, value: Cell, line: int) -> str:
        if self.read.column("success") is None:
            return ""
        if value is None:
            answer = self.asking.ask(
                "blank.success",
                f"Whether it was done is blank in row {line} and perhaps in others. Was it not, or are such rows left "
                "out?",
                "no",
                _OUT,
            )
            return _OUT if answer == _OUT else "0" if answer == "no" else ""
        if isinstance(value, float):
            if value in (0.0, 1.0):
                return f"{value:.0f}"
            value = f"{value:g}"
        done = value if isinstance(value, bool) else self._yes(str(value))
        if done is None:
            answer = self.asking.ask(f"success.{value}", f"Does '{value}' mean that it was done?", "yes", "no", _OUT)
            return {"yes": "1", "no": "0", _OUT: _OUT}.get(answer or "", "")
        if isinstance(value, str) and value not in ("0", "1"):
            self.asking.say(f"'{value}' is {'done' if done else 'not done'}")
        return "1" if done else "0"

    def _amounts(self, name: str, value: Cell) -> str:
        parts = re.split(r"[\s;/]+", value) if isinstance(value, str) else [value]
        return " ".join(filter(None, (self._amount(name, part) for part in parts)))

    def _amount(self, name: str, value: Cell) -> str:
        """A number in the unit of its column."""
        column, placed = COLUMNS[name], self.read.column(name)
        heading = placed.heading if placed else name
        unit = placed.unit if placed else ""
        if isinstance(value, (time, timedelta, datetime)) or (
            isinstance(value, str) and re.fullmatch(r"\d+:\d\d(:\d\d)?", value)
        ):
            return self._clock(column, heading, value)
        if isinstance(value, (bool, date)):
            shown = None
        elif isinstance(value, float):
            shown = (value, "")
        elif self.mark_open and re.search(r"\d[.,]\d", value or ""):
            return ""  # which sign is the decimal one is asked first
        else:
            shown = number(value or "", self.mark)
        if shown is None or (column.kind == "count" and (shown[0] != int(shown[0]) or shown[0] < 0)):
            kind = "whole number" if column.kind == "count" else "number"
            answer = self.asking.ask(
                f"cell.{heading}.{value}",
                f"'{value}' under '{heading}' is no {kind}. What is it? A number, or blank:",
                fits=_is_plain,
            )
            return "" if answer in (None, "blank") else answer
        amount, behind = shown
        unit = behind or unit
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


def _in_words(on: date) -> str:
    """A day in words: 22 September 2026."""
    return f"{on.day} {on:%B} {on.year}"


def _is_iso(text: str) -> bool:
    try:
        return bool(_ISO_DAY.match(text)) and bool(date.fromisoformat(text))
    except ValueError:
        return False


def _is_plain(text: str) -> bool:
    return text == "blank" or re.fullmatch(r"\d+(\.\d+)?", text) is not None
