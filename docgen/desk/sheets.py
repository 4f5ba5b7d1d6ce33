"""A sheet of rows or of answers that was sent last, kept while it is settled: no form can send it twice."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

from docgen.desk.forms import Upload
from docgen.desk.kept import FOLDER, place

SHEET, ANSWERS = "sheet", "answers"


async def receive(case: Path, sent: Sequence[Upload], kept: str, kind: str = SHEET) -> Path | None:
    """The sheet that a form is about: the one it brings, or the one of this name that is kept; None for neither."""
    if sent:
        forget(case, kind)
        return await sent[0].put_in(place(case, kind))
    there = case / FOLDER / kind
    return next((path for path in there.glob("*") if path.name == kept and not path.is_symlink()), None)


def forget(case: Path, kind: str = SHEET) -> None:
    """Take it away."""
    shutil.rmtree(case / FOLDER / kind, ignore_errors=True)
