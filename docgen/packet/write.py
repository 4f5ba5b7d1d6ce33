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
from docgen.packet.languages import Foreign, in_language
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
    """What a build wrote: files, those left alone because someone had changed them, documents in other languages.

    unchanged  the state that an earlier build found, when nothing was written because that one had written just this
    """

    case_id: str
    folder: Path
    open: int
    review: Review | None = None
    written: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    foreign: tuple[Foreign, ...] = ()
    unchanged: str = ""

    @property
    def verdict(self) -> str:
        """draft while points block or after a change of what was reviewed, else ready for review, else approved."""
        return "draft" if self.is_draft else "approved" if self.review else "ready"

    @property
    def is_draft(self) -> bool:
        """Whether points block, or something has changed since someone reviewed it."""
        return self.state.startswith("draft")

    @property
    def state(self) -> str:
        """The same for a person to read."""
        if self.unchanged:
            return self.unchanged
        if self.open:
            return f"draft, {self.open} open"
        if self.review is None:
            return "ready for review"
        return str(self.review) if self.review.stands else f"draft, {self.review}"


def build(
    assessed: Assessed,
    out: Path,
    formats: Iterable[str] = FORMATS,
    only: Iterable[str] = (),
    worded: Wording | None = None,
    letterhead: Letterhead | None = None,
    enclose: Iterable[str] = (),
    langs: Iterable[str] = (),
) -> Packet:
    """Write the packet into out/<id>. Nothing is written unless every document could be made.

    Arguments as of `made`.
    """
    return put(*made(assessed, out, formats, only, worded, letterhead, enclose, langs))


def made(
    assessed: Assessed,
    out: Path,
    formats: Iterable[str] = FORMATS,
    only: Iterable[str] = (),
    worded: Wording | None = None,
    letterhead: Letterhead | None = None,
    enclose: Iterable[str] = (),
    langs: Iterable[str] = (),
) -> tuple[dict[str, bytes], Packet]:
    """The files of a packet by name, and the packet in out/<id> that they will be; nothing is written.

    langs  languages whose documents are written beside the English ones
    """
    worded = worded or wording()
    review = None if assessed.copy else reviewed(assessed, worded)
    formats, only = tuple(formats), tuple(only)
    files = render(assessed, formats, only, worded, review, letterhead, enclose)
    foreign = tuple(in_language(assessed, lang, only) for lang in langs)
    for one in foreign:
        files |= one.render(formats, letterhead)
    case_id = assessed.file.case.id
    return files, Packet(case_id, out / case_id, len(assessed.open), review, foreign=foreign)


def put(files: Mapping[str, bytes], packet: Packet, made_from: str = "") -> Packet:
    """Write the files of a packet; it then tells under which names they stand.

    made_from  digest of all that decides the files, by which a later build knows them; empty to be known by nothing
    """
    target = packet.folder
    try:
        private_folder(target)
        with _alone(target):
            _finish(target)
            _write(target, files, packet, made_from)
    except OSError as failure:
        raise UserError(
            [
                Problem(
                    str(failure.filename or target),
                    f"cannot be written: {failure.strerror}",
                    "Choose another folder with --out.",
                )
            ]
        ) from None
    return packet


def _write(target: Path, files: Mapping[str, bytes], packet: Packet, made_from: str) -> None:
    before, staging = _manifest(target), target / _STAGING
    entries = {name: digest for name, digest in before.items() if (target / name).is_file()}
    private_folder(staging)
    try:
        for name, data in files.items():
            name_there = _place(target, name, before, packet)
            write_part(staging / name_there, data)
            entries[name_there] = _sha256(data)
            packet.written.append(name_there)
        write_part(staging / MANIFEST, _manifest_text(packet, entries, made_from))
    except OSError:
        shutil.rmtree(staging, ignore_errors=True)
        raise
    _move_in(target)


def unchanged(target: Path, made_from: str) -> Packet | None:
    """The packet as it stands, if the last build there made it from just this and all that it wrote is still there.

    Every file is read for it. One changed by hand counts as there when the new one that was written beside it is.
    """
    entries = _manifest(target)
    try:
        told = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
        last = told["last_build"]
        packet = Packet(
            told["case"],
            target,
            last["open"],
            written=[*last["written"]],
            kept=[*last["kept"]],
            unchanged=last["state"],
        )
        same = bool(made_from) and last["made_from"] == made_from and not os.path.lexists(target / _STAGING)
        whole = same and all(_sha256((target / name).read_bytes()) == entries[name] for name in packet.written)
        edited = whole and all((target / name).is_file() and not _ours(target / name, entries) for name in packet.kept)
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return packet if edited else None


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
    return _sha256(data) == before.get(path.name) or (path.suffix == ".docx" and unedited(data))


def _sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _manifest(folder: Path) -> dict[str, str]:
    try:
        data = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        found = {str(entry["name"]): str(entry["sha256"]) for entry in data["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        return {}
    return {name: digest for name, digest in found.items() if Path(name).name == name}


def _manifest_text(packet: Packet, entries: _Digests, made_from: str) -> bytes:
    manifest = {
        "format": "docgen manifest 1",
        "case": packet.case_id,
        "verdict": packet.verdict,
        "files": [{"name": name, "sha256": entries[name]} for name in sorted(entries)],
    }
    if made_from:
        manifest["last_build"] = {
            "made_from": made_from,
            "open": packet.open,
            "state": packet.state,
            "written": packet.written,
            "kept": packet.kept,
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
