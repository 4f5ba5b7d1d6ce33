"""Where the heading of a sheet stands, and which column each of its headings is."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.record import TRIAL, Sheet
from docgen.case.session import SESSIONS
from docgen.case.totals import TOTALS
from docgen.spreadsheet.asking import Asking
from docgen.spreadsheet.cells import Cell, Grid
from docgen.spreadsheet.headings import (
    COLUMNS,
    UNIT_OF,
    factor,
    meant_by,
    of_touches,
    perhaps,
    unit_in,
    unit_words,
    units_for,
    words_of,
)

_SEARCHED = 20  # rows in which a heading is looked for
_FEWEST = 2  # headings known that make a row the heading
_KEEP = "keep"
_OF_LATCH = frozenset(("latched", "latch", "latch on", "held", "maintained", "gehalten", "verriegelt", "enclavado"))
_LATCHED = "; where it says whether the drive was latched, the same control latched is another method"
_PROMPTED = "prompted"
_WHETHER = " (whether there was any, where how many is not known)"
NOTE = "note"  # the one column that can hold several of the sheet
CLEARED = "cleared_by"  # the lesson card has a place for the stops, and one for a mark or pain
_OF_TRIES = frozenset(("method", "task", "stage", "success", "attempts", "done"))  # what no other sheet has
_ASKED_UNITS = ("m", "m/s")  # of what is measured in feet and miles too


class Placed(Struct, frozen=True):
    """One column of the sheet: its place, heading, the column it is ("" for one that is kept as it is), its unit, and
    whether an answer says so."""

    at: int
    heading: str
    column: str
    unit: str = ""
    answered: bool = False


class Layout(Struct, frozen=True):
    """The sheet read: which file of the case it becomes, its columns, and the rows below the heading."""

    sheet: Sheet
    placed: tuple[Placed, ...]
    rows: tuple[tuple[int, tuple[Cell, ...]], ...]
    heading: tuple[str, ...]

    def column(self, name: str) -> Placed | None:
        """Where a column of the case stands; None where the sheet lacks it."""
        return next((column for column in self.placed if column.column == name), None)

    @property
    def kept(self) -> tuple[Placed, ...]:
        """Columns that are no column of the case."""
        return tuple(column for column in self.placed if not column.column)


def layout(grids: Sequence[Grid], asking: Asking, lessons: bool = False) -> Layout | None:
    """The one sheet that holds rows; None while that, or a column of it, is still to be asked.

    lessons  whether they are tries of lessons after delivery, and not of a trial
    """
    candidates = [(grid, head) for grid in grids if (head := _heading(grid)) is not None]
    if "head" in asking.answers or not candidates:
        candidates = _in_row_named(grids, asking)
    if not candidates:
        return None
    grid, (at, headings) = candidates[0]
    if len(candidates) > 1:
        names = [candidate.name for candidate, _ in candidates]
        name = asking.ask("sheet", f"{len(candidates)} sheets hold rows: {', '.join(names)}. Which one?", *names)
        if name is None:
            return None
        grid, (at, headings) = next(pair for pair in candidates if pair[0].name == name)
    asking.say(f"read as {grid.dialect}; its heading is row {grid.rows[at][0]}")
    placed = _placed(headings, grid.rows[at + 1 :], asking)
    sheet, placed = _as_sheet(placed, asking, lessons)
    _others_told(placed, sheet, grid.rows[at + 1 :], asking)
    return Layout(sheet, placed, grid.rows[at + 1 :], headings)


def of_latch(heading: str) -> bool:
    """Whether a heading asks if the drive was latched."""
    return words_of(heading) in _OF_LATCH


def _others_told(
    placed: Sequence[Placed], sheet: Sheet, rows: Sequence[tuple[int, tuple[Cell, ...]]], asking: Asking
) -> None:
    """Ask about, or tell, each column that is none of the case; nothing is told while it may be one that is missing."""
    is_whole = {*sheet.required} <= {column.column for column in placed}
    for column in placed:
        if column.column:
            continue
        if sheet is SESSIONS and of_touches(column.heading):
            asking.say(f"'{column.heading}' is contacts, near_misses and person_contacts, by the letters B, N and P")
            continue
        cells = [row[column.at] for _, row in rows if column.at < len(row) and row[column.at] is not None]
        if f"column.{column.heading}" not in asking.answers and (near := _may_be(column, cells, sheet, placed)):
            words = next((cell for cell in cells if _is_words(cell)), None)
            in_note = (NOTE,) if words else ()
            counts = f" (a number, which is then asked for '{words}')" if words else ""
            meanings = [
                f"{name}{counts if _is_count(name) else _WHETHER if name == _PROMPTED else ''}" for name in near
            ]
            asks = f"Is '{column.heading}' {' or '.join(meanings)}?"
            asking.ask(f"column.{column.heading}", asks, *near, *in_note, _KEEP, fits=lambda _: False)
        elif is_whole:
            asking.say(
                f"'{column.heading}' is no column of {_file(sheet)} and is kept as it is, beside the rows; "
                f"--map 'column.{column.heading}={NOTE}' puts it into the note of each row, or NAME instead of {NOTE} "
                f"names the column it is{_LATCHED if of_latch(column.heading) else ''}"
            )


def _may_be(column: Placed, cells: Sequence[Cell], sheet: Sheet, placed: Sequence[Placed]) -> list[str]:
    """The columns that the heading of an unknown one may be and no other is; of prompts those that its cells name,
    where they are words, as "verbal"."""
    taken = {other.column for other in placed}
    near = [name for name in perhaps(column.heading) if name in sheet.by_name and name not in taken]
    named = {meant.column for cell in cells if _is_words(cell) and (meant := meant_by(f"{cell} prompts"))}
    fitting = [name for name in near if name in named]
    return [name for name in near if name in named or name == _PROMPTED] if fitting else near


def _is_count(name: str) -> bool:
    """Whether a column holds a number of something."""
    return COLUMNS[name].kind == "count"


def _is_words(cell: Cell) -> bool:
    """Whether a cell holds words, and neither a number, a day nor a mark."""
    return isinstance(cell, str) and sum(sign.isalpha() for sign in cell) > 1 and not any(map(str.isdigit, cell))


def _in_row_named(grids: Sequence[Grid], asking: Asking) -> list[tuple[Grid, tuple[int, tuple[str, ...]]]]:
    """The heading in the row that an answer names."""
    row = asking.ask("head", _no_trial(grids), fits=str.isdigit)
    if row is None:
        return []
    named = [(grid, at) for grid in grids for at, (number, _) in enumerate(grid.rows) if number == int(row)]
    return [(grid, (at, _texts(grid.rows[at][1]))) for grid, at in named]


def _no_trial(grids: Sequence[Grid]) -> str:
    """What is said of a file in which nothing names columns of a trial or of lessons, and what is asked."""
    first = next((grid.rows[0] for grid in grids if grid.rows), None)
    for grid in grids:
        below = [str(cells[0]) for _, cells in grid.rows if cells and isinstance(cells[0], str)]
        known = [text for text in below if meant_by(text)]
        if len(known) >= _FEWEST and _OF_TRIES & {meant.column for text in known if (meant := meant_by(text))}:
            return (
                f"Its headings stand below each other in the first column ({', '.join(map(repr, known))}). Turn the "
                "sheet on its side, by paste special, transpose, and take that. Or in which row does its heading stand?"
            )
    reads = f", and row {first[0]} reads {', '.join(map(repr, filter(None, _texts(first[1]))))}" if first else ""
    return (
        f"No row names columns of a trial or of lessons, such as date, method, task, success{reads}. If it is neither, "
        "its facts go into case.toml by hand, and 'docgen find WORD' names the key of each: widths of doors into "
        "[spaces], what is known of the chair into [configuration.chair] and chair_now of [request]. If it is, in "
        "which row does its heading stand?"
    )


def _texts(cells: Sequence[Cell]) -> tuple[str, ...]:
    return tuple("" if cell is None else str(cell) for cell in cells)


def _heading(grid: Grid) -> tuple[int, tuple[str, ...]] | None:
    """Place and texts of the row with the most headings known, those of a merged row above it taken in."""
    best: tuple[int, int, tuple[str, ...]] | None = None
    for at, (_, cells) in enumerate(grid.rows[:_SEARCHED]):
        own = _texts(cells)
        for headings in (own, _under(_texts(grid.rows[at - 1][1]), own)) if at else (own,):
            n_known = len({meant.column for text in headings if text and (meant := meant_by(text))})
            if n_known >= _FEWEST and (best is None or n_known > best[0]):
                best = n_known, at, headings
    return best and (best[1], best[2])


def _under(above: Sequence[str], own: Sequence[str]) -> tuple[str, ...]:
    """Headings below merged ones: what is not known by itself is read with the group above it, or as that alone."""
    group, joined = "", []
    for at, text in enumerate(own):
        group = above[at] if at < len(above) and above[at] else group
        whole = (
            [text, f"{group} {text}".strip(), f"{text} {group}".strip()]
            if text
            else [above[at] if at < len(above) else ""]
        )
        joined.append(next((words for words in whole if words and meant_by(words)), text or whole[0]))
    return tuple(joined)


def _placed(
    headings: Sequence[str], rows: Sequence[tuple[int, tuple[Cell, ...]]], asking: Asking
) -> tuple[Placed, ...]:
    """Each column with a heading or a cell, as its heading or an answer says."""
    width = max([len(headings), *(len(cells) for _, cells in rows)])
    placed = []
    for at in range(width):
        heading = headings[at] if at < len(headings) else ""
        if not heading and not any(at < len(cells) and cells[at] is not None for _, cells in rows):
            continue
        heading = " ".join(heading.split()) or f"column {at + 1}"
        answer = asking.answers.get(f"column.{heading}")
        if answer is not None:
            asking.used.add(f"column.{heading}")
            placed.append(_answered(at, heading, answer, asking))
        elif which := next((name for name in COLUMNS if asking.answers.get(f"which.{name}") == heading), ""):
            asking.used.add(f"which.{which}")
            placed.append(Placed(at, heading, which, _unit_of(which, heading), answered=True))
        else:
            meant = meant_by(heading)
            placed.append(Placed(at, heading, meant.column if meant else "", meant.unit if meant else ""))
    return tuple(_once_each([_in_unit_answered(column, asking) for column in placed], asking))


def _unit_of(name: str, heading: str) -> str:
    """The unit of a column that an answer names without one: as its heading says. Lengths and speeds have no other, and
    are asked about; times are in the unit that the column is named by."""
    own = COLUMNS[name].unit
    return unit_in(heading, name) or ("" if own in _ASKED_UNITS else own)


def _in_unit_answered(column: Placed, asking: Asking) -> Placed:
    """The column in the unit that `unit.HEADING=UNIT` gives it."""
    given = asking.answers.get(f"unit.{column.heading}")
    if given is None or not column.column:
        return column
    unit = UNIT_OF.get(given.casefold(), given)
    units = units_for(column.column) if COLUMNS[column.column].unit else []
    asks = f"In which unit is '{column.heading}'?" if units else f"'{column.heading}' has no unit. Leave it out:"
    fits = asking.ask(f"unit.{column.heading}", asks, *units, fits=lambda _: unit in units)
    return replace(column, unit=unit, answered=True) if fits else column


def _answered(at: int, heading: str, answer: str, asking: Asking) -> Placed:
    """The column that an answer names, as NAME or NAME:UNIT."""
    name, _, unit = answer.partition(":")
    if name == _KEEP:
        return Placed(at, heading, "")
    unit = UNIT_OF.get(unit.casefold(), unit)
    if name in COLUMNS and (not unit or unit in units_for(name)):
        return Placed(at, heading, name, unit or _unit_of(name, heading), answered=True)
    asks = f"'{answer}' is no column. Which one is '{heading}'? One of {', '.join(COLUMNS)}, or {_KEEP}:"
    asking.ask(f"column.{heading}", asks, fits=lambda _: False)
    return Placed(at, heading, "")


def _once_each(placed: Sequence[Placed], asking: Asking) -> list[Placed]:
    """The columns, where two would be the same one asked about."""
    for name in {column.column for column in placed if column.column}:
        if name == CLEARED:
            continue
        same = [column for column in placed if column.column == name and not (name == NOTE and column.answered)]
        for column in same[1:]:
            both = f"'{same[0].heading}' and '{column.heading}'"
            asking.ask(
                f"column.{column.heading}",
                f"{both} would both be {name}. What is '{column.heading}'?",
                _KEEP,
                fits=lambda _: False,
            )
    return list(placed)


def _as_sheet(placed: Sequence[Placed], asking: Asking, lessons: bool) -> tuple[Sheet, tuple[Placed, ...]]:
    """Rows or day totals, by whether attempts are counted; what is no column of that one is kept."""
    names = {column.column for column in placed}
    totals = "attempts" in names and names & {"done", "success"}
    sheet = TOTALS if totals else SESSIONS if lessons else TRIAL
    columns = []
    for column in placed:
        if column.column in ("done", "success"):  # one word of two meanings: of an attempt, of how many of a day
            column = replace(column, column="done" if totals else "success")
        if totals and column.column == "release_s":
            asks = f"Is '{column.heading}' the slowest release of the day?"
            answer = asking.ask(f"column.{column.heading}", asks, f"slowest_release_s:{column.unit or 's'}", _KEEP)
            column = replace(column, column="" if answer is None or answer == _KEEP else "slowest_release_s")
        columns.append(column if column.column in sheet.by_name else replace(column, column=""))
    return sheet, tuple(_with_units(column, asking) for column in columns)


def _with_units(column: Placed, asking: Asking) -> Placed:
    """The column with a sentence on what it is; one whose unit fits nothing, or is in doubt, is asked about."""
    if not column.column:
        return column
    own = COLUMNS[column.column].unit
    if column.unit and own and (factor(column.column, column.unit) is None or _other_time(column)):
        options = [f"{name}:{column.unit}" for name in ("seconds", "minutes", "release_s") if factor(name, column.unit)]
        asks = (
            f"'{column.heading}' is in {unit_words(column.unit)}. Is that the time of one attempt (seconds), or the "
            "time in use (minutes)?"
        )
        asking.ask(f"column.{column.heading}", asks, *options, _KEEP, fits=lambda _: False)
        return column
    in_unit = f", in {unit_words(column.unit)}" if column.unit else ""
    asking.say(f"'{column.heading}' is {column.column}{in_unit}")
    return column


def _other_time(column: Placed) -> bool:
    """Whether a time of an attempt is in minutes, or that in use in seconds: perhaps it is the other of the two."""
    return not column.answered and (column.column, column.unit) in (
        ("seconds", "min"),
        ("seconds", "h"),
        ("minutes", "s"),
    )


def _file(sheet: Sheet) -> str:
    return "totals.csv" if sheet is TOTALS else "sessions.csv" if sheet is SESSIONS else "trial.csv"
