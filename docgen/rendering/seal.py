"""A digest of a file inside itself, by which a file that nobody has changed since is known anywhere, without a
manifest.

A DOCX holds it in a custom property, the others in a line of their own that no reader shows: a comment at the end of
an HTML page, a comment before the last lines of a PDF, properties of our own in a calendar. Beside it stands the mark
of the case that the file belongs to.

Source: ISO 32000-1:2008, 7.2.3 (comments) and 7.5.5 (end of file); HTML Living Standard, 13.1 (a comment may follow
the html element); RFC 5545, 3.8.8.2 (x-names) and 3.1 (75 octets in a line).
"""

from __future__ import annotations

import hashlib
import re

from docgen.rendering.docx import seal as docx_seal

_SEALS = {
    "html": re.compile(rb"<!-- docgen ([0-9a-f]{64})(?: ([0-9a-f]{16}))? -->\n"),
    "pdf": re.compile(rb"% docgen ([0-9a-f]{64})(?: ([0-9a-f]{16}))?\n"),
    "ics": re.compile(rb"X-DOCGEN:([0-9a-f]{64})\r\n(?:X-DOCGEN-CASE:([0-9a-f]{16})\r\n)?"),
}
_STANDS_BEFORE = {"pdf": b"startxref", "ics": b"END:VCALENDAR"}  # an HTML page has its seal at the end


def sealed(name: str, data: bytes, mark: str = "") -> bytes:
    """The file with its seal; one of a kind that has none of these lines as it is. A DOCX seals itself.

    mark  16 hexadecimal digits that tell the case, or empty
    """
    suffix = _suffix(name)
    if suffix not in _SEALS:
        return data
    at = data.rindex(_STANDS_BEFORE[suffix]) if suffix in _STANDS_BEFORE else len(data)
    return data[:at] + _line(suffix, _digest(data, mark), mark).encode() + data[at:]


def unedited(name: str, data: bytes) -> bool:
    """Whether the file carries its digest and is still as it was written."""
    if _suffix(name) == "docx":
        return docx_seal.unedited(data)
    if (seal := _last(name, data)) is None:
        return False
    rest = data[: seal.start()] + data[seal.end() :]
    return seal[1].decode() == _digest(rest, (seal[2] or b"").decode())


def mark_in(name: str, data: bytes) -> str:
    """The mark of the case that a file was made for, also when it has been changed since; empty when it has none."""
    if _suffix(name) == "docx":
        return docx_seal.mark_in(data)
    seal = _last(name, data)
    return (seal[2] or b"").decode() if seal else ""


def _line(suffix: str, digest: str, mark: str) -> str:
    if suffix == "ics":
        return f"X-DOCGEN:{digest}\r\n" + (f"X-DOCGEN-CASE:{mark}\r\n" if mark else "")
    both = f"docgen {digest} {mark}".rstrip()
    return f"<!-- {both} -->\n" if suffix == "html" else f"% {both}\n"


def _last(name: str, data: bytes) -> re.Match[bytes] | None:
    pattern = _SEALS.get(_suffix(name))
    seals = list(pattern.finditer(data)) if pattern else []
    return seals[-1] if seals else None


def _suffix(name: str) -> str:
    return name.rpartition(".")[2].lower()


def _digest(data: bytes, mark: str) -> str:
    return hashlib.sha256(mark.encode() + b"\0" + data).hexdigest()
