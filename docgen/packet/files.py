"""Files written whole: under another name first, then renamed, so that no reader ever meets half of one."""

from __future__ import annotations

import os
from pathlib import Path

from docgen.private import write_private


def write_whole(path: Path, data: bytes) -> None:
    """Put the file in place in one step, readable by its owner alone. Raises OSError and leaves nothing behind."""
    part = path.with_name(f".{path.name}.part")
    try:
        write_part(part, data)
        os.replace(part, path)
    except OSError:
        part.unlink(missing_ok=True)
        raise


def write_part(part: Path, data: bytes) -> None:
    """Write a file that nobody reads yet, down to the disk."""
    write_private(part, data)
