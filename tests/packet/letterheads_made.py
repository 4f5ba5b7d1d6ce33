"""A letterhead of a clinic that was made up: its file, its logo, its DOCX as a model, and how these are spoiled."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from datetime import date

import docx
from docx.shared import Mm
from PIL import Image

from docgen.rendering.page import Page

TOML = """\
name = "Shoal Street Seating Clinic"
address = ["12 Shoal Street", "Harbour 00000"]
phone = "555-0142"
accent = "#1f4e79"
logo = "logo.png"
logo_alt = "A wheel over waves"
"""


BODY = (
    "# A letter\n\nFirst words.\n\n## Part\n\n- one\n- two\n\n1. first\n\n![Name](sign:)\n\n| A | B "
    "|\n|:--|--:|\n| x | 1 |\n"
)


def picture_file(kind="PNG", size=(60, 20), mode="RGB", **options):
    file = io.BytesIO()
    Image.new(mode, size, {"RGBA": (31, 78, 121, 128), "RGB": (31, 78, 121), "CMYK": (9, 9, 9, 9)}.get(mode, 1)).save(
        file, kind, **options
    )
    return file.getvalue()


def png_head(width, height):
    """A PNG that claims a size and holds next to nothing."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(d)) + n + d + struct.pack(">I", zlib.crc32(n + d)) for n, d in chunks
    )


def page_under(letterhead, **more):
    return Page(
        "A letter", "Robin Example, letter", date(2026, 11, 25), "Draft: for review", letterhead=letterhead, **more
    )


def model_docx(change=None):
    """A DOCX of a clinic, as bytes."""
    document = docx.Document()
    section = document.sections[0]
    section.page_width, section.left_margin, section.right_margin = Mm(210), Mm(35), Mm(30)
    document.styles["Normal"].font.name = "Georgia"
    document.styles["Heading 1"].font.name = "Georgia"
    section.header.paragraphs[0].text = "Shoal Street Seating Clinic"
    section.footer.paragraphs[0].text = "Harbour 00000"
    document.add_paragraph("The body of the model is ignored.")
    if change:
        change(document, section)
    file = io.BytesIO()
    document.save(file)
    return file.getvalue()


def rezipped(file, changes):
    """The DOCX with the text of some parts changed, or parts added."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(file)) as archive, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        names = archive.namelist()
        for name in names:
            data = archive.read(name)
            if name in changes:
                changed = changes[name](data.decode()).encode() if callable(changes[name]) else changes[name]
                assert changed != data
                data = changed
            made.writestr(name, data)
        for name in changes:
            if name not in names:
                made.writestr(name, changes[name])
    return out.getvalue()


def in_head(text):
    return {"word/header1.xml": lambda s: s.replace("</w:p>", f"{text}</w:p>", 1)}


def zipped(entries):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return file.getvalue()
