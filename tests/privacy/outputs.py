"""Everything a packet says, read from its bytes by other libraries than those that wrote it."""

from __future__ import annotations

import html
import io
import re
import unicodedata
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pypdfium2


def said(name: str, data: bytes) -> str:
    """All that a file holds as text: words, metadata and raw streams, with marks of the format in place."""
    if name.endswith(".docx"):
        return _docx(data)
    if name.endswith(".pdf"):
        return _pdf(data)
    text = data.decode("utf-8")
    return f"{text}\n{html.unescape(re.sub(r'<[^>]+>', '', text))}" + text.replace("\r\n ", "")


def _docx(data: bytes) -> str:
    found = []
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for info in archive.infolist():
            part = archive.read(info)
            found += [info.filename, info.comment.decode(), str(info.extra)]
            if part.startswith(b"\x89PNG"):
                found.append("\n".join(chunk.decode("latin-1") for chunk in _chunks(part)))
                continue
            text = part.decode("utf-8", errors="replace")
            # a paragraph is one text, whatever runs it is cut into
            found += [text, html.unescape(re.sub(r"<[^>]+>", "", re.sub(r"</w:p>", "\n", text)))]
    return "\n".join(found)


def _chunks(png: bytes) -> Iterator[bytes]:
    """What a PNG says beside its pixels: the content of every chunk but IDAT."""
    at = 8
    while at < len(png):
        size, kind = int.from_bytes(png[at : at + 4], "big"), png[at + 4 : at + 8]
        if kind != b"IDAT":
            yield kind + png[at + 8 : at + 8 + size]
        at += size + 12


def _pdf(data: bytes) -> str:
    found = [re.sub(rb"(?s)stream\r?\n.*?endstream", b"", data).decode("latin-1")]
    with pypdfium2.PdfDocument(data) as document:
        for page in document:
            found.append(page.get_textpage().get_text_bounded().replace("\r\n", "\n"))
        found += [f"{key} {value}" for key, value in document.get_metadata_dict().items()]
        found += [item.get_title() for item in document.get_toc()]
    with pikepdf.open(io.BytesIO(data)) as document:
        for one in document.objects:
            if isinstance(one, pikepdf.Stream):
                pixels_or_font = one.get("/Subtype") == "/Image" or "/Length1" in one
                found.append("" if pixels_or_font else one.read_bytes().decode("latin-1"))
            elif isinstance(one, pikepdf.Dictionary):
                found += [str(value) for value in one.values() if isinstance(value, pikepdf.String)]
    return "\n".join(found)


def everything_said(folder: Path) -> dict[str, str]:
    """File name -> all it says, with the name itself, of every file below a folder."""
    return {
        str(path.relative_to(folder)): f"{path.relative_to(folder)}\n{said(path.name, path.read_bytes())}"
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def plain(text: str) -> str:
    """Without accents, case, and the ends of lines, as someone searching would."""
    shown = unicodedata.normalize("NFKD", text)
    for mark in filter(unicodedata.combining, set(shown)):  # letter by letter takes a hundred times as long
        shown = shown.replace(mark, "")
    return re.sub(r"\s+", " ", shown).casefold()
