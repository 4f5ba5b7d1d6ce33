"""The files of a folder that are used: to tell whether any of them has changed, and to lay them out where its disk is
not.

Whatever else lies there (other photos, videos, notes, other papers) is neither read nor sent anywhere.
"""

from __future__ import annotations

import hashlib
import os
import secrets
import stat
from collections.abc import Iterable, Mapping
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from docgen.case.accepted import FILE as ACCEPTED
from docgen.case.accepted import accepted_path
from docgen.case.files import leads_out
from docgen.case.key import FILE as KEY
from docgen.case.photo_files import photos_named
from docgen.case.read import SESSIONS_FILE, rows_file
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.packet.approval import FILE as APPROVAL
from docgen.packet.signed import FILE as SIGNED
from docgen.packet.signed import scan_named
from docgen.private import private_folder, write_private

_MOST_BYTES = 20_000_000  # no file that is read may be larger; of a larger one only its size and its day count


class Contents(Struct, frozen=True):
    """The files of a folder that are used.

    path   the folder as the user named it
    files  name -> bytes
    left   name -> what is known of that which is not read: a link that leads out, a file too large, a pipe
    """

    path: Path
    files: Mapping[str, bytes]
    left: Mapping[str, str] = field(default_factory=dict)

    def __repr__(self) -> str:
        return f"Contents({self.path})"  # what a file holds is in no message

    @property
    def name(self) -> str:
        """Name of the folder itself, whatever link it was named by."""
        return self.path.resolve().name

    @property
    def digest(self) -> str:
        """SHA-256 of names and contents. Where the folder is counts for nothing."""
        whole = hashlib.sha256()
        for name, data in sorted({**self.files, **{name: kind.encode() for name, kind in self.left.items()}}.items()):
            whole.update(f"{len(name)} {len(data)} {name}".encode("utf-8", "surrogateescape") + data)
        return whole.hexdigest()

    def lay_out(self, under: Path) -> Path:
        """The same folder below another one, for its owner alone. What was not read is there as what it was."""
        folder = under / self.name
        private_folder(folder)
        for name, data in self.files.items():
            write_private(folder / name, data)
        for name, described in self.left.items():
            kind, _, more = described.partition(" ")
            if kind == "link":
                os.symlink(more, folder / name)
            elif kind == "large":
                write_private(folder / name, b"")
                os.truncate(folder / name, int(more.split()[0]))
            else:
                private_folder(folder / name)
        return folder


def case_contents(folder: Path, langs: Iterable[str] = ()) -> Contents:
    """The files that make a case: case.toml, the rows it names, day totals, lessons after delivery, the approval, the
    scan of the signed letter with its record, its key, phrases of `langs`, its photos, and what the clinic has accepted
    for all its cases, as a file of this one."""
    toml = contents(folder, ["case.toml"]).files.get("case.toml", b"")
    names = [
        "case.toml",
        rows_file(toml),
        TOTALS_FILE,
        SESSIONS_FILE,
        APPROVAL,
        SIGNED,
        KEY,
        *(f"{lang}.toml" for lang in langs),
        *photos_named(toml),
    ]
    own = contents(folder, dict.fromkeys(names))
    if scan := scan_named(own.files.get(SIGNED, b"")):
        scanned = contents(folder, [scan])
        own = replace(own, files={**own.files, **scanned.files}, left={**own.left, **scanned.left})
    accepted = accepted_path(folder)
    if accepted is None:
        return own
    shared = contents(accepted.parent, [ACCEPTED])
    return replace(own, files={**own.files, **shared.files}, left={**own.left, **shared.left})


def contents(path: Path, names: Iterable[str] | None = None) -> Contents:
    """The files of these names, as far as they are there; all files of the folder when no names are given.

    Nothing when the folder cannot be opened, for whoever reads it then tells why.
    """
    files: dict[str, bytes] = {}
    left: dict[str, str] = {}
    wanted = _all_names(path) if names is None else names
    if wanted is None:
        left[""] = f"unlisted {secrets.token_hex()}"  # nobody can tell that nothing has changed
    for name in wanted or ():
        try:
            if leads_out(path / name, path):
                left[name] = f"link {os.readlink(path / name)}"
                continue
            about = os.stat(path / name)
            if stat.S_ISDIR(about.st_mode):
                if names is not None:
                    left[name] = "folder"
            elif not stat.S_ISREG(about.st_mode):
                left[name] = "special"
            elif about.st_size > _MOST_BYTES:
                left[name] = f"large {about.st_size} {about.st_mtime_ns}"
            else:
                files[name] = (path / name).read_bytes()
        except (FileNotFoundError, NotADirectoryError):
            continue
        except OSError:
            left[name] = "unread"
    return Contents(path, files, left)


def _all_names(path: Path) -> list[str] | None:
    """Names in the folder; None when it cannot be listed."""
    try:
        with os.scandir(path) as entries:
            return sorted(entry.name for entry in entries)
    except OSError:
        return None
