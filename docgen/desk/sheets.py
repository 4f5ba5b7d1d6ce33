"""The sheet that was sent last, kept while what it says is settled: a form cannot send it a second time by itself."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

from docgen.desk.forms import Upload
from docgen.desk.kept import FOLDER, place

_PLACE = "sheet"


async def receive(case: Path, sent: Sequence[Upload], kept: str) -> Path | None:
    """The sheet that a form is about: the one it brings, or the one of this name that is kept; None for neither."""
    if sent:
        forget(case)
        return await sent[0].put_in(place(case, _PLACE))
    there = case / FOLDER / _PLACE
    return next((path for path in there.glob("*") if path.name == kept and not path.is_symlink()), None)


def forget(case: Path) -> None:
    """Take it away."""
    shutil.rmtree(case / FOLDER / _PLACE, ignore_errors=True)
