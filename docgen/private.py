"""Files and folders that their owner alone can open, written whole, and a folder held by one process at a time."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from docgen.errors import Problem, UserError


def private_folder(path: Path) -> None:
    """Make the folder, and those above it that are missing, for their owner alone; one that is there stays as it is."""
    missing = [folder for folder in (path, *path.parents) if not folder.exists()]
    for folder in reversed(missing):
        folder.mkdir(mode=0o700, exist_ok=True)
        folder.chmod(0o700)
    path.mkdir(exist_ok=True)  # raises where a file has the name


def write_private(path: Path, data: bytes) -> None:
    """Write the file for its owner alone, down to the disk; a link in its place is not followed."""
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_NOFOLLOW", 0), 0o600)
    with os.fdopen(descriptor, "wb") as stream:
        if hasattr(os, "fchmod"):
            os.fchmod(descriptor, 0o600)
        stream.write(data)
        stream.flush()
        os.fsync(descriptor)


def write_whole(path: Path, data: bytes) -> None:
    """Put the file in place in one step, so that no reader ever meets half of one. Raises OSError and leaves nothing
    behind."""
    part = path.with_name(f".{path.name}.part")
    try:
        write_private(part, data)
        os.replace(part, path)
    except OSError:
        part.unlink(missing_ok=True)
        raise


@contextmanager
def writing(path: Path, do: str = "") -> Iterator[None]:
    """What is written in here is `path` to the user: raises UserError in place of an OSError, with what to do."""
    try:
        yield
    except OSError as failure:
        raise UserError([Problem(str(path), f"cannot be written: {failure.strerror}", do)]) from None


def is_private(path: Path) -> bool:
    """Whether a file is for its owner alone; false where the system or the disk keeps no such modes."""
    return not stat.S_IMODE(path.stat().st_mode) & 0o077


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """One process at a time in a folder, where the system can lock one; the lock ends with the process."""
    with suppress(ImportError):
        import fcntl

        descriptor = os.open(folder, os.O_RDONLY)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX)
            yield
        finally:
            os.close(descriptor)
        return
    yield
