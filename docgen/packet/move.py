"""What was made -> its place, in one go that a kill cannot leave half done for good.

Everything is first written into `.building` inside the packet folder, its manifest last: from then on the build is
settled. Then what its content did not make leaves (pages nobody changed are removed, changed ones get a name that says
they are outdated), each new file is renamed into place, and the manifest again comes last. A build that was stopped in
between is finished by the next one, which finds the manifest in `.building`.
"""

from __future__ import annotations

import os
import shutil
import stat
from collections.abc import Mapping
from pathlib import Path

from docgen.errors import Problem, UserError
from docgen.packet.manifest import MANIFEST, Manifest, read_manifest
from docgen.packet.place import is_ours, may_replace, outdated_name, plain_bytes, sha256
from docgen.private import private_folder, write_private

STAGING = ".building"


def refuse_false_staging(folder: Path) -> None:
    """Raises UserError when `.building` is a link, by which files would go elsewhere, or no folder."""
    staging = folder / STAGING
    if os.path.lexists(staging) and not stat.S_ISDIR(os.lstat(staging).st_mode):
        kind = "a link" if staging.is_symlink() else "no folder"
        raise UserError(
            [Problem(str(staging), f"is {kind}, and a build works in a folder of that name", "Take it away.")]
        )


def finish(folder: Path) -> None:
    """Finish a build that was stopped after it was settled; clear away one that was stopped before."""
    staging = folder / STAGING
    written, coming = _written(read_manifest(folder)), read_manifest(staging)
    if not coming.case:
        if staging.exists():
            shutil.rmtree(staging)
        return
    for name in coming.files:
        if (staging / name).exists() and name not in coming.set_aside and not may_replace(folder / name, written):
            (staging / name).unlink()  # someone has changed the file in the meantime
    _move_in(folder)


def put_in_place(folder: Path, files: Mapping[str, bytes], manifest: Manifest) -> None:
    """Write the files, then bring the folder to what the manifest tells. Raises OSError and leaves the folder as it
    was."""
    staging = folder / STAGING
    private_folder(staging)
    try:
        for name, data in files.items():
            write_private(staging / name, data)
        write_private(staging / MANIFEST, manifest.as_bytes())
    except OSError:
        shutil.rmtree(staging, ignore_errors=True)
        raise
    _move_in(folder)


def _move_in(folder: Path) -> None:
    staging = folder / STAGING
    written, coming = _written(read_manifest(folder)), read_manifest(staging)
    for name in (*coming.removed, *coming.set_aside):
        path = folder / name
        if not os.path.lexists(path) or _is_new(path, coming):
            continue
        if not is_ours(path, written):
            planned = coming.set_aside.get(name, "")
            free = planned and not os.path.lexists(folder / planned)
            os.rename(path, folder / (planned if free else outdated_name(folder, name)))
        elif not (staging / name).exists():
            path.unlink()
    for part in sorted(staging.iterdir(), key=lambda path: (path.name == MANIFEST, path.name)):
        os.replace(part, folder / part.name)
    staging.rmdir()


def _is_new(path: Path, coming: Manifest) -> bool:
    """Whether the file is already the one that the build brings."""
    entry, data = coming.files.get(path.name), plain_bytes(path)
    return entry is not None and data is not None and sha256(data) == entry.sha256


def _written(manifest: Manifest) -> set[str]:
    return {entry.sha256 for entry in manifest.known.values()}
