"""A case -> the packet in its folder, which belongs to this case alone, and never over a change made by hand."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from docgen.case.key import known_key, settle_key
from docgen.criteria.run import points
from docgen.errors import Problem, UserError
from docgen.packet.approval import LETTER, Review, basis, digest, reviewed
from docgen.packet.assess import Assessed
from docgen.packet.belonging import belongs, packet_names
from docgen.packet.languages import Foreign, in_language
from docgen.packet.manifest import MANIFEST, Entry, Manifest, read_manifest
from docgen.packet.move import STAGING, finish, put_in_place, refuse_false_staging
from docgen.packet.place import is_held, is_ours, may_replace, names_for, outdated_name, plain_bytes, sha256
from docgen.packet.recipe import EVERY_FILE, Selection, program_digest
from docgen.packet.render import PACKET, rendered
from docgen.packet.signed import signed_scan
from docgen.packet.wording import Wording, languages, wording
from docgen.private import alone_in, is_private, private_folder
from docgen.rendering.letterhead import Letterhead


class Packet(Struct):
    """What a build wrote: files, those left alone because someone had changed them, documents in other languages.

    key         of the case; empty for a copy about nobody
    content     digest of all that pages follow from; empty for a copy about nobody
    unreviewed  names of files that no approval is of
    removed     names of pages that other content had made and nobody had changed: gone
    set_aside   name of a changed page of other content -> the name that says it is outdated
    in_use      names of files that another program holds open: left as they are, the new one beside each
    is_private  whether the files are for their owner alone, where the system can see to that
    papers      of others that packet.pdf holds: name, file, pages and sha256 of each
    letter_words  digest of what the letter says; empty when it was not made, and for a copy about nobody
    signed_letter  file and sha256 of the scan of the signed letter that stands in its place; empty for none
    holds       names of the documents in packet.pdf; empty when it was not made
    unsigned    why a scan that is recorded does not; empty where it does, or none is
    remarks     what else a user must know of it
    unchanged   the state that an earlier build found, when nothing was written because that one had written just this
    """

    case_id: str
    folder: Path
    open: int
    review: Review | None = None
    key: str = ""
    content: str = ""
    unreviewed: frozenset[str] = frozenset()
    written: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    in_use: list[str] = field(default_factory=list)
    is_private: bool = True
    removed: list[str] = field(default_factory=list)
    set_aside: dict[str, str] = field(default_factory=dict)
    foreign: tuple[Foreign, ...] = ()
    papers: tuple[Mapping[str, str | int], ...] = ()
    letter_words: str = ""
    signed_letter: Mapping[str, str] = field(default_factory=dict)
    unsigned: str = ""
    holds: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
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


class Outcome(Struct, frozen=True):
    """What became of one case: a packet, or problems."""

    folder: Path
    packet: Packet | None = None
    problems: tuple[Problem, ...] = ()


def build(
    assessed: Assessed,
    out: Path,
    selection: Selection = EVERY_FILE,
    worded: Wording | None = None,
    letterhead: Letterhead | None = None,
) -> Packet:
    """Write the packet into out/<id>. Nothing is written unless every document could be made."""
    if assessed.copy is None:
        key, _ = settle_key(assessed.file.folder)
        assessed = replace(assessed, file=replace(assessed.file, key=key))
    files, packet = packet_files(assessed, out, selection, worded, letterhead)
    return put(files, packet, assessed.file.folder)


def packet_files(
    assessed: Assessed,
    out: Path,
    selection: Selection = EVERY_FILE,
    worded: Wording | None = None,
    letterhead: Letterhead | None = None,
) -> tuple[dict[str, bytes], Packet]:
    """The files of a packet by name, and the packet in out/<id> that they will be; nothing is written."""
    worded = worded or wording()
    review = None if assessed.copy else reviewed(assessed, worded, letterhead)
    signed = signed_scan(assessed.file.folder) if review else None
    scan = signed if review and review.stands else None
    result = rendered(assessed, selection, worded, review, letterhead, scan)
    foreign = tuple(in_language(assessed, lang, selection.only) for lang in selection.langs)
    translated: dict[str, bytes] = {}
    for foreign_documents in foreign:
        translated |= foreign_documents.render(selection.formats, letterhead, selection.large_print, review)
    case_id = assessed.file.case.id
    packet = Packet(
        case_id,
        out / case_id,
        points(assessed.open),
        review,
        assessed.file.key,
        "" if assessed.copy else _content(assessed, worded, letterhead, review),
        frozenset(translated),
        foreign=foreign,
        papers=tuple(
            {"name": paper.name, "file": paper.file, "pages": paper.pdf.n_pages, "sha256": paper.sha256}
            for paper in selection.papers
        ),
        letter_words=result.letter_words,
        holds=tuple(sorted({*selection.enclose, *worded.sent})) if PACKET in result.files else (),
        signed_letter={"file": scan.file, "sha256": scan.sha256} if scan and result.signed else {},
        unsigned=result.refused
        or (
            f"{signed.file} is left out of packet.pdf: the packet has changed since its review"
            if signed and not scan
            else ""
        ),
    )
    return result.files | translated, packet


def _content(assessed: Assessed, worded: Wording, letterhead: Letterhead | None, review: Review | None) -> str:
    """Digest of all that the English pages follow from, whichever of them are made."""
    return digest([program_digest(), basis(assessed, worded, letterhead, of_pages=True), str(review or "")])


def content_now(
    assessed: Assessed, worded: Wording, letterhead: Letterhead | None = None, review: Review | None = None
) -> str:
    """Digest by which the manifest knows files that the case as it is now, and nothing else, has made."""
    return _with_phrases(_content(assessed, worded, letterhead, review), assessed.file.folder)


def _with_phrases(content: str, case: Path) -> str:
    """The same with the phrases of every language, whichever of them are built now."""
    phrases = [plain_bytes(case / f"{lang}.toml") for lang in languages()]
    return content and digest([content, [sha256(phrase_file) if phrase_file else "" for phrase_file in phrases]])


def put(files: Mapping[str, bytes], packet: Packet, case: Path, made_from: str = "") -> Packet:
    """Write the files of a packet; it then tells under which names they stand, and what had to leave.

    case       folder of the case, for what is told
    made_from  digest of all that decides the files, by which a later build knows them; empty to be known by nothing

    Raises UserError when the folder holds the packet of another case.
    """
    target = packet.folder
    with _folder_alone(target):
        packet.content = _with_phrases(packet.content, case)
        _write(target, files, packet, case, made_from)
        packet.is_private = is_private(target / MANIFEST)
    return packet


@contextmanager
def _folder_alone(target: Path) -> Iterator[None]:
    """The folder of a packet, there and in one process's hands, with what a killed build left in it finished.

    Raises UserError in place of an OSError.
    """
    try:
        private_folder(target)
        with alone_in(target):
            refuse_false_staging(target)
            finish(target)
            yield
    except OSError as failure:
        raise UserError(
            [
                Problem(
                    str(failure.filename2 or failure.filename or target),
                    f"cannot be written: {failure.strerror}",
                    "Close it where it is open, or choose another folder with --out."
                    if failure.filename2  # what was to be replaced
                    else "Choose another folder with --out.",
                )
            ]
        ) from None


def _write(target: Path, files: Mapping[str, bytes], packet: Packet, case: Path, made_from: str) -> None:
    before = read_manifest(target)
    present, _ = packet_names(target)
    if not belongs(target, before, packet.key):
        raise UserError(
            [
                Problem(
                    str(case),
                    f"is not the case whose packet stands in {target}, though it has the same id",
                    "Give one of the two another id, or build into another folder with --out; "
                    "if it is the same case and its key.toml was lost, take the old packet away first.",
                )
            ]
        )
    written = {entry.sha256 for entry in before.known.values()}
    standing, edited = _sorted_out(target, before, present, written, packet)
    new: dict[str, bytes] = {}
    for name, data in files.items():
        for wanted in names_for(name):
            if wanted in packet.in_use:
                continue
            if wanted in packet.set_aside or may_replace(target / wanted, written):
                break
            packet.kept.append(wanted)
            edited.setdefault(wanted, Entry("", packet.content))
        standing[wanted] = _entry(name, data, packet)
        new[wanted] = data
        packet.written.append(wanted)
    packet.removed[:] = [name for name in packet.removed if name not in new]
    put_in_place(target, new, _manifest(packet, before, standing, edited, made_from))


def _sorted_out(
    target: Path, before: Manifest, present: Iterable[str], written: set[str], packet: Packet
) -> tuple[dict[str, Entry], dict[str, Entry]]:
    """What stands in the folder and may stay: as this content made it, and changed by hand. The packet tells the
    rest."""
    standing, edited = {}, {}
    for name in sorted({*before.known, *present}):
        entry, path = before.known.get(name), target / name
        if not os.path.lexists(path):
            continue
        if is_held(path):
            packet.in_use.append(name)
            edited[name] = entry or Entry("", "")  # what it is, and whether it goes, is seen when it is let go
        elif is_ours(path, written):
            if entry and entry.content == packet.content and entry.sha256 == sha256(plain_bytes(path) or b""):
                standing[name] = entry
            else:
                packet.removed.append(name)
        elif entry and entry.content and entry.content != packet.content:
            packet.set_aside[name] = outdated_name(target, name, packet.set_aside.values())
        elif entry:  # of the first format it is not known what a changed file was made from: it counts from now on
            edited[name] = replace(entry, content=packet.content)
    return standing, edited


def _entry(name: str, data: bytes, packet: Packet) -> Entry:
    alone = name in packet.unreviewed
    verdict = "draft" if packet.is_draft else "ready" if alone else packet.verdict
    words = packet.letter_words if name == f"{LETTER}.pdf" else ""
    return Entry(sha256(data), packet.content, verdict, str(packet.review or "") if not alone else "", words)


def _manifest(
    packet: Packet, before: Manifest, standing: dict[str, Entry], edited: dict[str, Entry], made_from: str
) -> Manifest:
    last = {
        "made_from": made_from,
        "open": packet.open,
        "state": packet.state,
        "written": packet.written,
        "kept": [*packet.kept, *packet.in_use],
    }
    return Manifest(
        packet.case_id,
        packet.key,
        packet.verdict,
        standing,
        edited,
        tuple(packet.removed),
        packet.set_aside,
        last if made_from else {},
        papers=packet.papers,
        signed_letter=packet.signed_letter,
        packet_holds=packet.holds or before.packet_holds,
    )


def put_beside(target: Path, name: str, data: bytes, entry: Entry, case: Path) -> str:
    """Write one file more into the folder of a packet that is built: the name under which it stands. It leaves with the
    pages once other content has made those.

    case  folder of the case, for what is told
    Raises UserError when the folder holds the packet of another case, or the file cannot be written.
    """
    with _folder_alone(target):
        before = read_manifest(target)
        if not before.case or before.key != known_key(case):
            raise UserError(
                [Problem(str(target), f"holds no packet of {case}", f"Build it first: docgen build {case}.")]
            )
        written = {known.sha256 for known in before.known.values()}
        free = next(wanted for wanted in names_for(name) if may_replace(target / wanted, written))
        files = {**before.files, free: replace(entry, sha256=sha256(data))}
        edited = {old: known for old, known in before.edited.items() if old != free}
        put_in_place(target, {free: data}, replace(before, files=files, edited=edited))
    return free


def unchanged(target: Path, made_from: str, key: str) -> Packet | None:
    """The packet as it stands, if the last build there made it from just this and all that it wrote is still there.

    Every file is read for it. One changed by hand counts as there when the new one that was written beside it is.
    """
    manifest = read_manifest(target)
    files, last = manifest.files, manifest.last_build
    if not made_from or manifest.first_format or manifest.key != key or last.get("made_from") != made_from:
        return None
    written = {entry.sha256 for entry in manifest.known.values()}
    try:
        packet = Packet(
            manifest.case,
            target,
            last["open"],
            written=[*last["written"]],
            kept=[*last["kept"]],
            unchanged=last["state"],
        )
        whole = all(sha256(plain_bytes(target / name) or b"") == files[name].sha256 for name in packet.written)
        edited = not any(may_replace(target / name, written) for name in packet.kept)
        settled = not os.path.lexists(target / STAGING)
    except (OSError, KeyError, TypeError):
        return None
    return packet if whole and edited and settled else None
