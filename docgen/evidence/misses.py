"""Stops on command that were not made, with what happened at each."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import Tried
from docgen.evidence.stops import stops_on_request
from docgen.units import two_digits

_CELL = re.compile(
    r"[^:;]{1,40}: (?:yes|no|y|n|x|ja|nein|oui|non|s[ií]|true|false|[-+]?[\d.,]+)"
    r"|[^:;]{0,30}\b(?:help|prompt|cue|assist)\w*[^:;]{0,20}: [^;]{1,20}",
    re.I,
)


class Miss(Struct, frozen=True):
    """A row or total with stops on command that were not made.

    what     what happened, as noted or as a contact is counted; empty where nothing is
    release  the release time of the missed stop, as it goes on after what happened; empty where none is known
    """

    row: Tried
    n_made: int
    n_asked: int
    what: str
    release: str

    @property
    def n_missed(self) -> int:
        return self.n_asked - self.n_made


def misses(case: Case, rows: Sequence[Tried]) -> list[Miss]:
    """The stops missed in these rows and totals, by day."""
    missed = sorted(
        stops_on_request(case, rows).missed, key=lambda miss: (miss[0].date, _number(miss[0]), miss[0].note or "")
    )
    return [
        Miss(row, n_made, n_asked, _account(row.note or "") or _hit(row), _its_release(row))
        for row, n_made, n_asked in missed
    ]


def _account(note: str) -> str:
    """What a note tells of what happened: a cell of the clinic's sheet that stands there behind its heading, and is no
    more than a yes, a no, a number or the kind of help, tells nothing of it."""
    return "; ".join(part for part in note.split("; ") if not _CELL.fullmatch(part.strip()))


def _hit(row: Tried) -> str:
    """What the columns of a row tell of what happened, where its note tells nothing."""
    return "a collision" if isinstance(row, Row) and row.contacts else ""


def _its_release(row: Tried) -> str:
    """The release time of a missed stop, as it goes on after what happened; of a total, whose slowest need not be that
    of the missed stop, none."""
    if not isinstance(row, Row) or row.release_s is None:
        return ""
    return f" (release {two_digits(row.release_s, 'up')} s)"


def _number(row: Tried) -> int:
    """The number of an attempt within its day; 0 where it has none, as a total has."""
    return (row.attempt or 0) if isinstance(row, Row) else 0
