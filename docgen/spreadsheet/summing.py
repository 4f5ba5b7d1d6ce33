"""Rows that are no attempts but sums or means of them: known by their words, and held against the rows."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.kept import TOTAL_WORDS
from docgen.case.namesakes import letters_and_digits
from docgen.spreadsheet.asking import Asking
from docgen.spreadsheet.cells import Cell
from docgen.spreadsheet.numbers import number

_MEAN = ("average", "avg", "mean", "median", "mittel", "mittelwert", "durchschnitt", "moyenne", "promedio", "media")


def is_total(text: str) -> bool:
    """Whether a cell says that its row is a sum."""
    return _begins(text, TOTAL_WORDS)


def is_mean(text: str) -> bool:
    """Whether a cell says that its row is a mean."""
    return _begins(text, _MEAN)


def _begins(text: str, words: Sequence[str]) -> bool:
    spoken = " ".join(letters_and_digits(text))
    return len(spoken) < 40 and any(spoken == word or spoken.startswith(f"{word} ") for word in words)


def totals_told(
    sums: Sequence[tuple[int, Cell]], rows: Sequence[tuple[int, float]], counted: str, asking: Asking
) -> None:
    """Say of each sum what the rows above it come to; one that does not agree is asked about."""
    since = 0
    for line, value in sums:
        shown = (
            value
            if isinstance(value, float)
            else (number(value, None) or (None,))[0]
            if isinstance(value, str)
            else None
        )
        block = sum(n for at, n in rows if since < at < line)
        whole = sum(n for at, n in rows if at < line)
        if shown is None or isinstance(value, bool):
            asking.say(f"row {line} is a total and is left out")
        elif shown in (block, whole):
            asking.say(f"row {line} is a total: {shown:g} {_named(counted)}, and the rows sum to {shown:g}")
        else:
            sums_to = f"{block:g}" if block == whole else f"{block:g} since the last total, {whole:g} in all"
            asks = (
                f"Row {line} is a total: {shown:g} {_named(counted)}, but the rows sum to {sums_to}. Look them up; to "
                "go on without it:"
            )
            if asking.ask(f"row.{line}", asks, "leave out"):
                asking.say(f"row {line} is a total of {shown:g}, which the rows do not sum to, and is left out")
        since = line


def _named(counted: str) -> str:
    return "successes" if counted == "success" else counted
