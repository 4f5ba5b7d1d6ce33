"""What the desk keeps beside a case, in a folder of its own in the case folder and for its owner alone.

It belongs to no packet, no copy and no digest of a case, and `docgen forget` takes it away.
"""

from __future__ import annotations

import shutil
from pathlib import Path

from docgen.errors import Problem, UserError
from docgen.private import private_folder

FOLDER = ".desk"


def place(case: Path, name: str = "") -> Path:
    """A folder of what is kept, made where there is none. Raises UserError where a link or a file has its name."""
    folder = case / FOLDER / name if name else case / FOLDER
    for path in (case / FOLDER, folder):
        if path.is_symlink() or (path.exists() and not path.is_dir()):
            do = "Take it away: the desk keeps its own files there."
            raise UserError([Problem(str(path), "is no folder of the desk", do)])
    private_folder(folder)
    return folder


def names(case: Path) -> list[str]:
    """Every file that is kept, as it stands below the case folder."""
    folder = case / FOLDER
    if folder.is_symlink():
        return [FOLDER]
    return sorted(str(path.relative_to(case)) for path in folder.rglob("*") if path.is_symlink() or path.is_file())


def forget(case: Path) -> None:
    """Take all of it away."""
    folder = case / FOLDER
    if folder.is_symlink():
        folder.unlink()
    elif folder.is_dir():
        shutil.rmtree(folder)
