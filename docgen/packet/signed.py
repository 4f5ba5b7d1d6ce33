"""The scan of the signed letter, tied to what the letter said that was signed.

`signed.toml` beside the case names the scan and holds its digest and that of the letter's words. The scan stands in
the place of the letter in packet.pdf only while the approval stands and the letter says just that. Each scan that was
ever recorded is kept with its letter, so that none is passed off as the signature of another.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from docgen.case.files import leads_out, text_of
from docgen.case.key import known_key
from docgen.case.toml import read_toml
from docgen.criteria.sentences import counted
from docgen.errors import Problem, UserError
from docgen.packet.approval import LETTER, Review, digest, quoted
from docgen.packet.manifest import read_manifest
from docgen.packet.papers import read_pdf
from docgen.packet.place import plain_bytes, sha256
from docgen.private import write_whole, writing
from docgen.rendering.pdf.outside import NoUsablePdf, Outside

FILE = "signed.toml"
OPTION = "--signed-letter"
_FORMAT = "docgen signed letter 1"
_MOST_BYTES = 100_000
_SIGN_ANEW = f"Print letter.pdf as it is now, have it signed, scan it and record it with 'docgen approve {OPTION}'."


class SignedScan(Struct, frozen=True):
    """A scan of the signed letter that lies beside the case.

    letter  digest of what the letter said that was signed
    """

    file: str
    letter: str
    pdf: Outside

    def __repr__(self) -> str:
        return f"SignedScan({self.file})"  # what it holds is in no message

    @property
    def sha256(self) -> str:
        """Digest of the scan."""
        return sha256(self.pdf.data)

    def refused_for(self, letter_words: str, n_pages: int) -> str:
        """Why it cannot stand in the place of a letter that says this on so many pages; "" where it can."""
        if self.letter != letter_words:
            return f"{self.file} is left out of packet.pdf, for another letter was signed than this one. {_SIGN_ANEW}"
        return _pages_differ(self.file, self.pdf.n_pages, n_pages)


def signed_scan(folder: Path) -> SignedScan | None:
    """The scan recorded beside a case, as it was recorded; None when none is. Raises UserError."""
    path = folder / FILE
    if not os.path.lexists(path):
        return None
    name, scans = _read(path)
    scan = folder / name
    try:
        if leads_out(scan, folder):
            raise NoUsablePdf("is a link that leads out of the case folder", "Put the file itself there.")
        pdf = read_pdf(scan)
        if (letter := scans.get(sha256(pdf.data))) is None:
            raise NoUsablePdf("is not the scan that was recorded as the signed letter", _SIGN_ANEW)
    except NoUsablePdf as failure:
        raise UserError([Problem(str(scan), failure.what, failure.do)]) from None
    return SignedScan(name, letter, pdf)


def record_signed(folder: Path, scan: Path, out: Path, review: Review | None, by: str) -> tuple[Path, Review]:
    """Record beside the case that this is a scan of the letter in out/<id>, signed: the file written, and the approval.

    Raises UserError when no approval of `by` stands, when the letter there is not the approved one as it was built, and
    for a scan that cannot be it.
    """
    if review is None or not review.stands:
        what = "has no approval" if review is None else f"has an approval that no longer stands ({review})"
        do = "Approve it, build it, and have the letter signed that is then made."
        raise UserError([Problem(str(folder), f"{what}, so no letter of it can be taken as signed", do)])
    if " ".join(by.split()).casefold() != review.by.casefold():
        raise UserError([Problem("--by", f"'{by}' did not approve it: it was {review}", "Name who did.")])
    case_id = folder.resolve().name
    built = out / case_id / f"{LETTER}.pdf"
    manifest = read_manifest(built.parent)
    entry, printed = manifest.files.get(built.name), plain_bytes(built)
    ours = entry and printed is not None and sha256(printed) == entry.sha256
    if not (entry and ours and entry.words and entry.verdict == "approved" and manifest.key == known_key(folder)):
        do = "Build the packet of the approved case, print this file, and have it signed."
        raise UserError([Problem(str(built), "is not the approved letter of this case as it was built", do)])
    try:
        if scan.resolve().parent != folder.resolve():
            raise NoUsablePdf("does not lie in the case folder", "Put it beside case.toml.")
        pdf, n_pages = read_pdf(scan), read_pdf(built).n_pages
        if differ := _pages_differ(scan.name, pdf.n_pages, n_pages):
            raise NoUsablePdf(differ.removeprefix(f"{scan.name} "), "Scan each page of it once, in their order.")
        path, scanned = folder / FILE, sha256(pdf.data)
        scans = _read(path)[1] if os.path.lexists(path) else {}
        if scans.get(scanned, entry.words) != entry.words:
            raise NoUsablePdf("was recorded before as another letter, signed", _SIGN_ANEW)
    except NoUsablePdf as failure:
        raise UserError([Problem(str(scan), failure.what, failure.do)]) from None
    with writing(path):
        write_whole(path, _written(scan.name, {**scans, scanned: entry.words}).encode())
    return path, review


def _pages_differ(name: str, n_scanned: int, n_pages: int) -> str:
    if n_scanned == n_pages:
        return ""
    return f"{name} has {counted(n_scanned, 'page', 'pages')}, and the letter has {n_pages}"


def _written(name: str, scans: Mapping[str, str]) -> str:
    lines = [
        f"# Written by 'docgen approve {OPTION}': which scan is of which letter, signed.",
        f'format = "{_FORMAT}"',
        f"file = {quoted(name)}",
        f'digest = "{digest([name, dict(scans)])}"',
        "",
        "# SHA-256 of a scan, and of the words of its letter",
        "[scans]",
        *(f'{scan} = "{letter}"' for scan, letter in scans.items()),
    ]
    return "\n".join(lines) + "\n"


def scan_named(text: bytes) -> str:
    """Name of the scan that a record names; "" when it names none that lies beside it."""
    try:
        name = read_toml(text.decode(), FILE).tables["file"]
    except (UserError, UnicodeDecodeError, KeyError, TypeError):
        return ""
    return name if isinstance(name, str) and name == Path(name).name and name.lower().endswith(".pdf") else ""


def _read(path: Path) -> tuple[str, dict[str, str]]:
    """Name of the scan, and of each scan ever recorded its digest and that of the letter."""
    try:
        if leads_out(path, path.parent):
            raise ValueError
        text = text_of(path, str(path), _MOST_BYTES)
        raw = read_toml(text, str(path)).tables
        name, scans = scan_named(text.encode()), raw["scans"]
        whole = raw["format"] == _FORMAT and bool(name) and raw["digest"] == digest([name, scans])
    except (UserError, KeyError, TypeError, AttributeError, ValueError, RecursionError):
        whole = False
    if not whole:
        do = "Take it away, and record the signed letter again."
        raise UserError([Problem(f"{path}:1", f"is not as 'docgen approve {OPTION}' wrote it", do)])
    return name, scans
