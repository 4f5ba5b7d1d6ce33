"""PDF, read by pypdfium2: what stands between the head and the foot of every page."""

from __future__ import annotations

import pypdfium2

from docgen.rendering.style import REGULAR

NUMERALS = True


def words(file: bytes) -> list[str]:
    read: list[str] = []
    document = pypdfium2.PdfDocument(file)
    try:
        for page in document:
            width, height = page.get_size()
            text = page.get_textpage().get_text_bounded(
                0, REGULAR.margin_bottom - 4, width, height - REGULAR.margin_top + 4
            )
            read.extend(word for word in text.split() if word != "\u2022")
    finally:
        document.close()
    return read
