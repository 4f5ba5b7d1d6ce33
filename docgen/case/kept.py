"""What a clinic's sheet held besides the columns of the case: kept beside the rows, and counted nowhere."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

from docgen.case.namesakes import letters_and_digits

TOTAL_WORDS = (  # what the rows of a sheet that are sums begin with
    "total",
    "totals",
    "totale",
    "totales",
    "totaux",
    "subtotal",
    "sub total",
    "sum",
    "summe",
    "zwischensumme",
    "gesamt",
    "insgesamt",
    "somme",
    "suma",
    "sous total",
    "grand total",
)


class Kept(Struct, frozen=True):
    """A heading of a clinic's sheet whose cells were kept: the file, and how many values stand there."""

    file: str
    heading: str
    values: int

    def __str__(self) -> str:
        return f"'{self.heading}': {self.values} values in {self.file}"


def kept_beside(folder: Path) -> tuple[Kept, ...]:
    """Every heading that was kept beside the rows of a case folder, by file; none of a file that is no such table."""
    return tuple(kept for path in sorted(folder.glob("*.kept*.csv")) for kept in _kept_in(path))


def _kept_in(path: Path) -> Iterator[Kept]:
    try:
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
    except (OSError, UnicodeDecodeError, csv.Error):
        return  # it was written by hand, or is locked: nothing of the case rests on it
    counts = Counter(
        h
        for row in rows
        if not _is_of_totals(row)
        for h, value in row.items()
        if h and h != "row" and isinstance(value, str) and value
    )
    yield from (Kept(path.name, heading, n) for heading, n in counts.items())


def _is_of_totals(row: dict[str, str | None]) -> bool:
    """Whether a kept row is one of the sheet's totals: held against the rows as it was read, and no record of its
    own. A remark that only begins with such a word is one."""
    return any(isinstance(value, str) and " ".join(letters_and_digits(value)) in TOTAL_WORDS for value in row.values())
