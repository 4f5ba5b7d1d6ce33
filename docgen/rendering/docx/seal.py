"""A digest of a DOCX inside itself, by which a file that nobody has changed since is known anywhere.

It stands in a custom property, over the bytes of every other part. A word processor that saves the file
keeps the property and writes other bytes.
"""

from __future__ import annotations

import hashlib
import io
import lzma
import re
import struct
import zipfile
import zlib
from collections.abc import Iterable

PART = "docProps/custom.xml"
CONTENT_TYPE = "application/vnd.openxmlformats-officedocument.custom-properties+xml"
RELATION = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/custom-properties"
_MOST_BYTES = 100_000_000  # unpacked; a file of ours is far below
_MOST_PART_BYTES = 100_000
# all that reading a zip can end in when its bytes are not as they were written
_UNREADABLE = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    lzma.LZMAError,
    struct.error,
    KeyError,
    OSError,
    ValueError,
    RuntimeError,
    EOFError,
)
_NAME = "docgen.sha256"
_STORED = re.compile(
    rf'name="{re.escape(_NAME)}"><vt:lpwstr>([0-9a-f]{{64}})(?: ([0-9a-f]{{16}}))?</vt:lpwstr>'.encode()
)


def properties_xml(parts: Iterable[tuple[str, bytes]], mark: str = "") -> str:
    """The part of custom properties that seals all the others.

    mark  16 hexadecimal digits that tell the case, or empty
    """
    seal = f"{_digest(parts, mark)} {mark}".rstrip()
    return (
        '<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/custom-properties" '
        'xmlns:vt="http://schemas.openxmlformats.org/officeDocument/2006/docPropsVTypes">'
        f'<property fmtid="{{D5CDD505-2E9C-101B-9397-08002B2CF9AE}}" pid="2" name="{_NAME}">'
        f"<vt:lpwstr>{seal}</vt:lpwstr></property></Properties>"
    )


def unedited(file: bytes) -> bool:
    """Whether the file carries its digest and is still as it was written."""
    try:
        with zipfile.ZipFile(io.BytesIO(file)) as archive:
            infos = archive.infolist()
            if sum(info.file_size for info in infos) > _MOST_BYTES or len({info.filename for info in infos}) < len(
                infos
            ):
                return False
            stored = _STORED.search(archive.read(PART))
            parts = [(info.filename, archive.read(info)) for info in infos if info.filename != PART]
    except _UNREADABLE:
        return False
    return stored is not None and stored[1].decode() == _digest(parts, (stored[2] or b"").decode())


def mark_in(file: bytes) -> str:
    """The mark of the case that a DOCX was made for, also when it has been changed since; empty when it has none."""
    try:
        with zipfile.ZipFile(io.BytesIO(file)) as archive:
            if archive.getinfo(PART).file_size > _MOST_PART_BYTES:
                return ""
            stored = _STORED.search(archive.read(PART))
    except _UNREADABLE:
        return ""
    return (stored[2] or b"").decode() if stored else ""


def _digest(parts: Iterable[tuple[str, bytes]], mark: str) -> str:
    total = hashlib.sha256(mark.encode())  # none for the files of earlier versions, which had no mark
    for name, data in sorted(parts):
        total.update(f"{name}\0{len(data)}\0".encode())
        total.update(data)
    return total.hexdigest()
