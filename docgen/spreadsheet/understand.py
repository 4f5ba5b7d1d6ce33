"""Cells -> the rows of a case, a sentence on each thing made of them, and a question on each that cannot be told."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from msgspec import Struct

from docgen.case.consistency_of_rows import OF_EACH
from docgen.case.record import Sheet
from docgen.case.session import MARKS, SESSIONS
from docgen.case.stage import STOP_TASKS
from docgen.spreadsheet.asking import Asking, Question
from docgen.spreadsheet.cells import Cell, Grid
from docgen.spreadsheet.headings import meant_by, of_lessons, of_touches, since_last_time
from docgen.spreadsheet.layout import CLEARED, NOTE, layout
from docgen.spreadsheet.lesson_rows import Lessons, before_first_try, stepped, stops_in_rows, touched, uncounted_told
from docgen.spreadsheet.sifting import Ids
from docgen.spreadsheet.values import OUT, Values

_ABOVE, _ALL = "above", "all:"
_SAME_IN_ALL = ("date", "method", "task", "stage")
_BY_TASK = "by task"
_NONE, _NOT_RECORDED = "0", "not recorded"  # what a blank can mean beside cells that hold an amount
_MOST_BLOCKS = 4  # that one question names
_SPOKEN, _MARKED = ("prompted", "prompts_verbal"), "prompt_marked"  # counted as the least where blanks say nothing
_FOR_EXAMPLE = {
    "date": "March 3, 2026",
    "method": "mini joystick",
    "task": "driving indoors",
    "stage": "straight and corners",
}
NumberedRow = tuple[int, dict[str, str]]  # row of the spreadsheet, and its cells by column of the case


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
    answers    answers that were asked for
    nameless   method or task -> the names of the sheet, where the case has no entries of that kind
    headed     columns of any file of a case that its headings name
    of_lessons whether a heading is one that only a sheet of lessons has
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
    headed: frozenset[str] = frozenset()
    of_lessons: bool = False
    answers: Mapping[str, str] = {}


def understood(
    grids: Sequence[Grid], ids: Mapping[str, Ids], answers: Mapping[str, str], lessons: Lessons | None = None
) -> Understood:
    """The rows of a spreadsheet, as far as they can be told and as the answers say.

    ids      method and task, of lessons task and stage -> the ids of the case with their names
    answers  key of a question -> its answer
    lessons  what lessons are held against besides; None for a trial
    """
    asking = Asking(answers)
    read = layout(grids, asking, lessons=lessons is not None)
    rows: list[NumberedRow] = []
    kept: dict[int, dict[str, str]] = {}
    nameless: dict[str, tuple[str, ...]] = {}
    if read is not None:
        reading = _Reading(read, {"method": {}, **ids}, asking)
        reading.lessons, reading.beside_mark = lessons or Lessons({}), {}
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
        frozenset(meant.column for text in read.heading if (meant := meant_by(text))) if read else frozenset(),
        any(map(of_lessons, read.heading)) if read else False,
        {key: answer for key, answer in answers.items() if key in asking.used},
    )


class _Reading(Values):
    """One sheet in the reading."""

    lessons: Lessons
    beside_mark: dict[int, dict[str, str]]  # help that a mark stands in place of, by row

    def rows(self) -> list[NumberedRow]:
        """The rows as cells of a file of the case, in the order of the spreadsheet."""
        self._lacking()
        rows: list[NumberedRow] = []
        before: dict[str, Cell] = {}
        latched = {} if self.read.sheet is SESSIONS else self.latched()
        beside: dict[int, Cell] = {}
        for line, cells in self.data:
            row = self._row(line, cells, before, beside)
            others = self._others(cells, line)
            if row is None:
                self.keep(line, cells)
            else:
                rows.append((line, others | row | ({"method": latched[line]} if line in latched else {})))
        for column in self.read.placed:
            if column.column and self.read.sheet.by_name[column.column].per_block:
                self._blank_in_block(column.column, column.heading, rows)
        return self._of_lessons(rows, beside) if self.read.sheet is SESSIONS else rows

    def _row(
        self, line: int, cells: tuple[Cell, ...], before: dict[str, Cell], beside: dict[int, Cell]
    ) -> dict[str, str] | None:
        """The cells of one row by column of the case; None where the row is left out.

        before  column -> the last value above, for blanks that mean the same; this row's are put in
        beside  row -> a surprise stop that stands beside a try of driving; this row's is put in
        """
        row: dict[str, str] = {}
        is_out = False
        for name in self._columns_of(line, cells):
            value = self._value(name, cells, line)
            if name in _SAME_IN_ALL:
                value, is_blank_out = self._of_above(name, value, before, line)
                is_out = is_out or is_blank_out
            if name == "surprise" and value is not None and row.get("task", STOP_TASKS[0]) not in self.lessons.halts:
                beside[line], value = value, None
            text = self.text(name, value, line)
            if text == OUT:
                is_out = True
            elif text:
                row[name] = text
        return None if is_out else row

    def _columns_of(self, line: int, cells: tuple[Cell, ...]) -> list[str]:
        """The columns of the case that a row fills: of one of the whole day none of a single attempt."""
        if not self.is_of_whole_day(cells):
            return [*self.read.sheet.by_name]
        of_attempts = tuple(name for name, _ in self.read.sheet.blank_together)
        if of_attempts:
            self.asking.say(f"row {line} names no task and counts no attempt: it is of the whole day")
        return [name for name in self.read.sheet.by_name if name not in of_attempts]

    def _value(self, name: str, cells: tuple[Cell, ...], line: int) -> Cell:
        """What a row holds for a column of the case, of one heading or several."""
        if name == NOTE:
            return self.notes(cells)
        if name == CLEARED:
            return self.cleared(cells)
        return self._help(cells, line) if name == "help" else self.cell(cells, name)

    def _others(self, cells: tuple[Cell, ...], line: int) -> dict[str, str]:
        """Keep the cells that are no column of the case, and give the counts that letters of a lesson card hold."""
        others = {c.heading: str(v) for c in self.read.kept if c.at < len(cells) and (v := cells[c.at]) is not None}
        counts: dict[str, str] = {}
        if self.read.sheet is SESSIONS:
            for heading in filter(of_touches, [*others]):
                counts |= touched(others.pop(heading), heading, self.asking)
        if others := others | self.beside_mark.get(line, {}):
            self.kept[line] = others
        return counts

    def _of_lessons(self, rows: list[NumberedRow], beside: Mapping[int, Cell]) -> list[NumberedRow]:
        """The rows with what a lesson card says in other columns, and what will not count told."""
        column = self.read.column("surprise")
        parted = stops_in_rows(rows, beside, column.heading, self.asking) if column else rows
        for name in ("changed", "new_count"):
            if (placed := self.read.column(name)) and since_last_time(placed.heading):
                before_first_try(parted, name)
        if self.asking.answers.get("which.stage") == _BY_TASK:
            stepped(parted, self.lessons)
        if not self.asking.questions:
            uncounted_told(parted, self.lessons.halts, self.asking)
        return parted

    def _blank_in_block(self, name: str, heading: str, rows: Sequence[NumberedRow]) -> None:
        """Ask what a blank means under an amount that stands on some rows of a block: neither once for all, nor on
        each. None is filled in as 0; of what was not recorded the amounts of such blocks are kept beside and counted
        nowhere."""
        in_part = self._filled_in_part(name, rows)
        if not in_part:
            return
        shares = [
            f"{sum(name in row for _, row in of_block)} of the {len(of_block)} rows of "
            f"{f'{method} on ' if method else ''}{day}"
            for (day, method), of_block in in_part.items()
        ]
        if (more := len(shares) - _MOST_BLOCKS) > 0:
            shares = [*shares[:_MOST_BLOCKS], f"some rows of {more} more of its days and controls"]
        asks = (
            f"Under '{heading}' {' and '.join(shares)} hold something. Does a blank there mean none, or that it was "
            "not recorded?"
        )
        meant = self.asking.ask(f"blank.{heading}", asks, _NONE, _NOT_RECORDED)
        if meant == _NONE:
            self.asking.say(f"a blank under '{heading}' is none")
            for _, row in rows:
                row.setdefault(name, _NONE)
        elif meant == _NOT_RECORDED:
            self._keep_beside(name, heading, [pair for of_block in in_part.values() for pair in of_block])

    def _filled_in_part(self, name: str, rows: Sequence[NumberedRow]) -> dict[tuple[str, str], list[NumberedRow]]:
        """Day and method -> the rows of that block, where an amount stands on some of them: neither once for all, nor
        on each."""
        blocks: dict[tuple[str, str], list[NumberedRow]] = defaultdict(list)
        for line, row in rows:
            method = "" if self.read.sheet is SESSIONS else row.get("method", "")
            blocks[row.get("date", ""), method].append((line, row))
        once_for_all = 0 if name in OF_EACH else 1
        return {
            block: of_block
            for block, of_block in blocks.items()
            if once_for_all < sum(name in row for _, row in of_block) < len(of_block)
        }

    def _keep_beside(self, name: str, heading: str, rows: Sequence[NumberedRow]) -> None:
        """Take an amount out of rows of which others of their block do not hold it, and keep it beside them. Of prompts
        the rows that carry one are marked, and counted as the least there were."""
        is_spoken = name in _SPOKEN and self.read.sheet is not SESSIONS
        as_least = f", and the rows that carry it are counted as the least there were ({_MARKED})"
        self.asking.say(
            f"'{heading}' was not recorded on each row of a block: where it stands on some alone it is kept beside "
            f"and not counted{as_least if is_spoken else ''}"
        )
        as_it_came = dict(self.data)
        for line, row in rows:
            if amount := row.pop(name, ""):
                if is_spoken and amount != _NONE:
                    row[_MARKED] = "1"
                self.kept.setdefault(line, {})[heading] = str(self.cell(as_it_came[line], name))

    def _controls_as_headings(self, headings: Sequence[str]) -> list[str]:
        """Headings that name methods of the case, where there are several."""
        controls = [heading for heading in headings if self._same("method", heading)]
        return controls if len(controls) > 1 else []

    def _help(self, cells: tuple[Cell, ...], line: int) -> Cell:
        """The help of a try: its own cell, or the mark of the lesson card where that is empty. A mark of alone beside
        another help is asked about, for one of the two is not of this try."""
        written, mark = self.cell(cells, "help"), self.cell(cells, "success")
        marked = MARKS.get(str(mark).strip().lower())
        if marked is None or written is None:
            return mark if marked else written
        letters = MARKS.get(str(written).strip().lower(), str(written).strip().upper())
        if (letters == "I") == (marked == "I"):
            return written
        column = self.read.column("help")
        heading = column.heading if column else "help"
        asks = (
            f"'{mark}' in row {line}, and perhaps in others, stands beside '{written}' under '{heading}'. Which "
            "counts: the mark of the try, or the help?"
        )
        answer = self.asking.ask("help.beside a mark", asks, "mark", "help")
        if answer == "mark":
            self.beside_mark.setdefault(line, {})[heading] = str(written)
        return mark if answer == "mark" else written

    def _lacking(self) -> None:
        """A column that every row needs and the sheet has not: one value for all, or the heading it goes by."""
        for name in self.read.sheet.required:
            if self.read.column(name) is None:
                headings = [c.heading for c in self.read.kept]
                asks = f"No heading is known as the {name}. Which one is it?"
                if name in _SAME_IN_ALL:
                    example = f"--map 'which.{name}={_ALL}{_FOR_EXAMPLE[name]}'"
                    asks = f"{asks[:-1]}, or is it the same in all rows, as in {example}?"
                if name == "method" and (controls := self._controls_as_headings(headings)):
                    asks = (
                        f"{' and '.join(map(repr, controls))} are controls, with a column each. Put their rows below "
                        f"each other, with a column that names the control, and take that sheet. {asks}"
                    )
                if name == "stage":
                    asks = f"{asks[:-1]}, or is each try of the step that its task belongs to ({_BY_TASK})?"
                    headings.append(_BY_TASK)
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
        meant = self.asking.ask(f"blank.{name}", asks, *((_ABOVE,) if name in before else ()), OUT)
        return (before.get(name), False) if meant == _ABOVE else (None, meant == OUT)
