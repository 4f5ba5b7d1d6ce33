"""A folder for the files of a case on a machine that lends its work; what a killed process left is cleared away.

Each folder holds a file that its process keeps locked. The system gives the lock up when the process ends, however it
ends, so a folder whose lock is free is nobody's any more. Where there are no such locks, a file that is open cannot be
removed, which tells the same.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from contextlib import suppress
from pathlib import Path

try:
    import fcntl
except ImportError:
    fcntl = None  # type: ignore[assignment]

_PREFIX, _LOCK = "docgen-lent-", ".docgen-at-work"


class Scratch(tempfile.TemporaryDirectory[str]):
    """A new folder for its owner alone, gone at the end of the block or of the process; those left behind go first."""

    _descriptor: int  # descriptor of the locked file

    def __init__(self) -> None:
        clear_abandoned()
        super().__init__(prefix=_PREFIX)
        lock = Path(self.name, _LOCK)
        if fcntl is None:
            self._descriptor = os.open(lock, os.O_RDWR | os.O_CREAT, 0o600)
            return
        # locked before it has its name, so that no other process takes the folder for one left behind
        self._descriptor = os.open(f"{lock}.new", os.O_RDWR | os.O_CREAT, 0o600)
        fcntl.flock(self._descriptor, fcntl.LOCK_EX)
        os.rename(f"{lock}.new", lock)

    def cleanup(self) -> None:
        """Remove the folder."""
        if fcntl is None:
            os.close(self._descriptor)
            super().cleanup()
        else:
            super().cleanup()
            os.close(self._descriptor)

    def __exit__(self, *_: object) -> None:
        self.cleanup()


def clear_abandoned() -> None:
    """Remove the folders that killed processes of the same user have left."""
    for entry in os.scandir(tempfile.gettempdir()):
        if entry.name.startswith(_PREFIX):
            with suppress(OSError):  # it went in the meantime, or is not ours to remove
                _remove_if_abandoned(Path(entry.path))


def _remove_if_abandoned(folder: Path) -> None:
    lock = folder / _LOCK
    if folder.is_symlink() or hasattr(os, "getuid") and folder.lstat().st_uid != os.getuid():
        return
    if fcntl is None:
        lock.unlink()
        shutil.rmtree(folder)
        return
    descriptor = os.open(lock, os.O_RDWR | os.O_NOFOLLOW)
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        shutil.rmtree(folder)
    finally:
        os.close(descriptor)
