"""Files -> the packet's folder, in one go, and never over a change made by hand.

Everything is first written into `.building` beside the packet, its manifest last; then each file is renamed
into place, again the manifest last. Before the renaming the old packet is as it was. A build that was
stopped while renaming is finished by the next one, which finds the manifest in `.building`.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

from docgen.errors import Problem, UserError
from docgen.packet.approval import Review, reviewed
from docgen.packet.assess import Assessed
from docgen.packet.files import write_part
from docgen.packet.render import FORMATS, render
from docgen.packet.wording import Wording, wording
from docgen.private import private_folder
from docgen.rendering.docx.seal import unedited
from docgen.rendering.letterhead import Letterhead

MANIFEST = "manifest.json"
_STAGING = ".building"
_Digests = Mapping[str, str]


@dataclass(slots=True)
class Packet:
    """What a build wrote: files, and those left alone because someone had changed them."""

    case_id: str
    folder: Path
    open: int
    review: Review | None = None
    written: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)

    @property
    def verdict(self) -> str:
        """draft while points block, else ready for review, else approved as it stands."""
        return "draft" if self.open else "approved" if self.review and self.review.stands else "ready"

    @property
    def state(self) -> str:
        """The same for a person to read."""
        if self.open:
            return f"draft, {self.open} open"
        if self.review is None:
            return "ready for review"
        return str(self.review) if self.review.stands else f"draft, {self.review}"


def build(assessed: Assessed, out: Path, formats: Iterable[str] = FORMATS, only: Iterable[str] = (),
          worded: Wording | None = None, letterhead: Letterhead | None = None, enclose: Iterable[str] = ()) -> Packet:
    """Write the packet into out/<id>. Nothing is written unless every document could be made."""
    worded = worded or wording()
    review = None if assessed.copy else reviewed(assessed, worded)
    files = render(assessed, formats, only, worded, review, letterhead, enclose)
    target = out / assessed.file.case.id
    packet = Packet(assessed.file.case.id, target, len(assessed.open), review)
    try:
        private_folder(target)
        with _alone(target):
            _finish(target)
            _write(target, files, packet)
    except OSError as failure:
        raise UserError([Problem(str(failure.filename or target), f"cannot be written: {failure.strerror}",
                                 "Choose another folder with --out.")]) from None
    return packet


def _write(target: Path, files: Mapping[str, bytes], packet: Packet) -> None:
    before, staging = _manifest(target), target / _STAGING
    entries = {name: digest for name, digest in before.items() if (target / name).is_file()}
    private_folder(staging)
    try:
        for name, data in files.items():
            put = _place(target, name, before, packet)
            write_part(staging / put, data)
            entries[put] = hashlib.sha256(data).hexdigest()
            packet.written.append(put)
        write_part(staging / MANIFEST, _manifest_text(packet, entries))
    except OSError:
        shutil.rmtree(staging, ignore_errors=True)
        raise
    _move_in(target)


def _finish(target: Path) -> None:
    """Finish a build that was stopped while renaming; clear away one that was stopped before."""
    staging = target / _STAGING
    before, coming = _manifest(target), _manifest(staging)
    for name in coming:
        if (staging / name).exists() and not _ours(target / name, before):
            (staging / name).unlink()  # someone has changed the file in the meantime
    if coming:
        _move_in(target)
    elif staging.exists():
        shutil.rmtree(staging)


def _move_in(target: Path) -> None:
    """Rename what `.building` holds into place, the manifest last."""
    staging = target / _STAGING
    for part in sorted(staging.iterdir(), key=lambda path: (path.name == MANIFEST, path.name)):
        os.replace(part, target / part.name)
    staging.rmdir()


def _place(target: Path, name: str, before: _Digests, packet: Packet) -> str:
    """The file's own name, or one beside it when someone has changed the file since it was written."""
    stem, _, suffix = name.rpartition(".")
    for at in count():
        wanted = f"{stem}{'' if at == 0 else '.new' if at == 1 else f'.new-{at}'}.{suffix}"
        if _ours(target / wanted, before):
            return wanted
        packet.kept.append(wanted)
    raise AssertionError("there is always a free name")


def _ours(path: Path, before: _Digests) -> bool:
    """Whether the file may be replaced: it is not there, or it is as this program last wrote it."""
    if not os.path.lexists(path):
        return True
    data = path.read_bytes()
    return hashlib.sha256(data).hexdigest() == before.get(path.name) or (path.suffix == ".docx" and unedited(data))


def _manifest(folder: Path) -> dict[str, str]:
    try:
        data = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        found = {str(entry["name"]): str(entry["sha256"]) for entry in data["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        return {}
    return {name: digest for name, digest in found.items() if Path(name).name == name}


def _manifest_text(packet: Packet, entries: _Digests) -> bytes:
    manifest = {
        "format": "docgen manifest 1",
        "case": packet.case_id,
        "verdict": packet.verdict,
        "files": [{"name": name, "sha256": entries[name]} for name in sorted(entries)],
    }
    return (json.dumps(manifest, indent=2) + "\n").encode()


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """One build at a time in a folder, where the system can lock one; the lock ends with the process."""
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
