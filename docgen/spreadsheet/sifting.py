"""Which rows of a sheet are attempts or totals of a day; what is none is said, kept, and left out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from docgen.case import days_written as dates
from docgen.case.namesakes import letters_and_digits
from docgen.case.stage import ALSO_CALLED
from docgen.case.totals import TOTALS
from docgen.spreadsheet.asking import Asking
from docgen.spreadsheet.cells import Cell
from docgen.spreadsheet.layout import CLEARED, NOTE, Layout
from docgen.spreadsheet.numbers import no_event, number, yes_or_no
from docgen.spreadsheet.summing import is_mean, is_total, totals_told

WHOLE_DAY = frozenset((("whole", "day"), ("all", "day"), ("day",), ("entire", "day"), ("ganzer", "tag"), ("dia",)))
Ids = Mapping[str, str]  # id -> name, of the methods or tasks of a case
_NOTHING = frozenset(("-", "--", "\u2013", "\u2014", "n/a", "na", "n.a.", "k.a.", "k. a.", "nc", "s/d", "none", "?"))


class Sifting:
    """The rows of a sheet, sifted: `data` holds those that are to be read, `kept` what is no column of the case."""

    def __init__(self, read: Layout, ids: Mapping[str, Ids], asking: Asking) -> None:
        self.read, self.ids, self.asking = read, ids, asking
        self.kept: dict[int, dict[str, str]] = {}
        self.data = [*self._data()]

    def cell(self, cells: Sequence[Cell], name: str) -> Cell:
        """What a row holds in a column of the case."""
        column = self.read.column(name)
        value = cells[column.at] if column is not None and column.at < len(cells) else None
        return _cell_that_says(value)

    def notes(self, cells: Sequence[Cell]) -> Cell:
        """The note of a row, with the cells that an answer puts there, each behind its heading."""
        texts = []
        for column in self.read.placed:
            if (
                column.column == NOTE
                and column.at < len(cells)
                and (value := _cell_that_says(cells[column.at])) is not None
            ):
                texts.append(f"{column.heading}: {value}" if column.answered else str(value))
        return "; ".join(texts) or None

    def cleared(self, cells: Sequence[Cell]) -> Cell:
        """Who cleared what, each behind its heading where the sheet has several places for it."""
        columns = [column for column in self.read.placed if column.column == CLEARED]
        if len(columns) < 2:
            return self.cell(cells, CLEARED)
        texts = {column.heading: _cell_that_says(cells[column.at]) for column in columns if column.at < len(cells)}
        return (
            "; ".join(
                f"{heading}: {text}"
                for heading, text in texts.items()
                if not (text in (None, False) or no_event(str(text)))
            )
            or None
        )

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
                self.keep(line, cells)
            elif self._is_sum(cells, texts, filled, names):
                sums.append((line, self.cell(cells, counted)))
                of_sums.append((line, cells))
            elif not filled or self._is_remark(cells):
                if any(cell is not None for cell in cells):
                    self.asking.say(f"row {line} holds a remark alone and is kept as it is: {self._shown(cells)}")
                    self.keep(line, cells)
            else:
                seen.append((line, cells))
        for line, cells in of_sums:
            self.keep(line, cells)
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
        return (
            blank and value is not None and value > 1 and self.read.sheet is not TOTALS and not self._says_more(cells)
        )

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

    def keep(self, line: int, cells: Sequence[Cell]) -> None:
        headings = {column.at: column.heading for column in self.read.placed}
        self.kept[line] = {headings.get(at, f"column {at + 1}"): str(c) for at, c in enumerate(cells) if c is not None}

    def _shown(self, cells: Sequence[Cell]) -> str:
        text = " ".join(str(cell) for cell in cells if cell is not None)
        return f"'{text[:60]}{'...' if len(text) > 60 else ''}'"

    def _same(self, name: str, text: str) -> list[str]:
        """Ids that are this text, or whose name it is, however written."""
        words = letters_and_digits(text.replace("_", " "))
        same = [
            key
            for key, called in self.ids[name].items()
            if words in (letters_and_digits(key.replace("_", " ")), letters_and_digits(called))
        ]
        same = same or self._plural_of(name, words)
        also = ALSO_CALLED.get(" ".join(words), "") if name == "task" else ""
        return same or ([also] if also in self.ids[name] else [])

    def _plural_of(self, name: str, words: Sequence[str]) -> list[str]:
        """Ids that these words are the plural of, or the singular."""
        bare = [*map(_singular, words)]
        return [
            key
            for key, called in self.ids[name].items()
            if any(bare == [*map(_singular, letters_and_digits(text.replace("_", " ")))] for text in (key, called))
        ]

    def is_of_whole_day(self, cells: Sequence[Cell]) -> bool:
        """Whether a row of day totals is of no task: it names none, or the day, and has no attempts."""
        if self.read.sheet is not TOTALS or self.read.column("task") is None:
            return False
        task, counts = self.cell(cells, "task"), [self.cell(cells, name) for name in ("attempts", "done")]
        names_none = task is None or (letters_and_digits(str(task)) in WHOLE_DAY and not self._same("task", str(task)))
        return names_none and all(self._count(count) == 0 for count in counts)

    def _yes(self, text: str) -> bool | None:
        answer = self.asking.answers.get(f"success.{text}")
        if answer in ("yes", "no"):
            self.asking.used.add(f"success.{text}")
            return answer == "yes"
        return yes_or_no(text)


def _cell_that_says(value: Cell) -> Cell:
    """A cell; None for one with a dash or the like, which says nothing."""
    return None if isinstance(value, str) and value.casefold() in _NOTHING else value


def _singular(word: str) -> str:
    """A word without the s of its plural; words of three letters or fewer, and those in ss, stay."""
    return word.removesuffix("s") if len(word) > 3 and not word.endswith("ss") else word
