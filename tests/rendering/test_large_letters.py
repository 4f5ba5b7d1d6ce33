"""Large print: every letter as large as the text, those of tables, drawings and page numbers too."""

from __future__ import annotations

import ctypes

import pypdfium2
import pypdfium2.raw as pdfium
from support import ASSESSED

from docgen.packet.render import render
from docgen.rendering.style import LARGE


def sizes(data: bytes) -> dict[float, str]:
    """Size in points of each letter as printed -> one line it stands in."""
    found: dict[float, str] = {}
    with pypdfium2.PdfDocument(data) as pdf:
        for page in pdf:
            text = page.get_textpage()
            for at in range(text.count_chars()):
                matrix = pdfium.FS_MATRIX()
                if pdfium.FPDFText_GetUnicode(text.raw, at) > 32 and pdfium.FPDFText_GetMatrix(
                    text.raw, at, ctypes.byref(matrix)
                ):
                    size = round(pdfium.FPDFText_GetFontSize(text.raw, at) * matrix.d, 1)
                    found.setdefault(size, text.get_text_range(max(0, at - 20), 40))
    return found


def test_no_letter_of_a_paper_in_large_print_is_smaller_than_its_text():
    """18 points, re-set, with labels, tables and page numbers (UKAAF G003 2019, APH)."""
    files = render(ASSESSED["saoirse-villalobos-ng"], ["pdf"], ["card", "guide"])
    for name in ("card_large.pdf", "guide_large.pdf"):
        found = sizes(files[name])
        assert min(found) >= LARGE.body.size - 0.1 == 17.9, (name, found[min(found)])
    assert min(sizes(files["card.pdf"])) == 12.0  # what a helper needs is 12 points at least
