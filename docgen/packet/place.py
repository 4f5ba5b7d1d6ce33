"""Which files of a packet folder are the program's own, unchanged since, and under which names the next ones go."""

from __future__ import annotations

import errno
import hashlib
import os
import stat
from collections.abc import Iterable, Iterator
from itertools import count
from pathlib import Path

from docgen.rendering.seal import unedited

_MOST_BYTES = 200_000_000  # a file of ours is far below
_NO_FILE = (errno.ENOENT, errno.ENOTDIR, errno.ELOOP, errno.ENXIO)  # nothing, a link to nothing, a socket


def plain_bytes(path: Path, most_bytes: int = _MOST_BYTES) -> bytes | None:
    """What a plain file holds; None for anything else and for a file too large. A pipe is never waited for."""
    try:
        with open(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb") as stream:
            about = os.fstat(stream.fileno())
            return stream.read() if stat.S_ISREG(about.st_mode) and about.st_size <= most_bytes else None
    except IsADirectoryError:
        return None
    except OSError as failure:
        if failure.errno in _NO_FILE:
            return None
        raise


def is_held(path: Path) -> bool:
    """Whether another program holds a file so that it cannot be replaced, as Windows has it for an open document.

    A file that is given the name it has stays as it is.
    """
    try:
        os.rename(path, path)
    except PermissionError:
        return True
    except OSError:
        return False
    return False


def sha256(data: bytes) -> str:
    """SHA-256 in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def is_ours(path: Path, written: Iterable[str]) -> bool:
    """Whether a file is as this program wrote it: its digest is one of those written, or it is by its own seal."""
    data = plain_bytes(path)
    return data is not None and (sha256(data) in written or unedited(path.name, data))


def may_replace(path: Path, written: Iterable[str]) -> bool:
    """Whether nothing of anyone's is lost when the file is replaced: it is not there, or it is ours."""
    return not os.path.lexists(path) or is_ours(path, written)


def names_for(name: str) -> Iterator[str]:
    """The name of a file, then those beside it."""
    stem, _, suffix = name.rpartition(".")
    for at in count():
        yield f"{stem}{'' if at == 0 else '.new' if at == 1 else f'.new-{at}'}.{suffix}"


def outdated_name(folder: Path, name: str, taken: Iterable[str] = ()) -> str:
    """A free name that says a file is outdated."""
    stem, _, suffix = name.rpartition(".")
    names = (f"{stem}.outdated{'' if at == 1 else f'-{at}'}.{suffix}" for at in count(1))
    return next(new for new in names if new not in taken and not os.path.lexists(folder / new))
