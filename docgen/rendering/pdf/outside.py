"""Pages of a PDF that came from outside, laid over pages of our own.

A page comes as one drawing that holds its content and, flattened into it, what its form fields and comments show.
Nothing else of the file comes along: no script, attached file, action or link. It has no tags of ours: the mark around
it belongs to an element whose description says so.

Source: ISO 32000-1:2008, 8.10 (form XObjects), 12.5.5 (appearance streams) and 14.4 (file identifiers).
"""

from __future__ import annotations

import ctypes
import hashlib
import re
from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from pypdfium2 import PdfDocument

MOST_BYTES, MOST_PAGES = 20_000_000, 200
_SECOND_ID = re.compile(rb"(/ID\[<[0-9A-F]+><)([0-9A-F]{32})(>\])")


class NoUsablePdf(ValueError):
    """Why a file cannot be laid in, and what to do."""

    def __init__(self, what: str, do: str) -> None:
        super().__init__(what)
        self.what, self.do = what, do


class Outside(Struct, frozen=True):
    """A PDF that can be laid in.

    left_out  what of the file does not come along, in words
    """

    data: bytes
    n_pages: int
    left_out: tuple[str, ...] = ()


class Sheet(Struct, frozen=True):
    """One page of a PDF from outside and the place where it is laid.

    at      page of our file, counted from 0
    box     left, bottom, right, top in points, which it fills as far as its shape allows
    tag     structure type of the element that holds it, and `number` of its mark on the page
    """

    at: int
    box: tuple[float, float, float, float]
    tag: str
    number: int
    data: bytes
    page: int


def read_outside(data: bytes) -> Outside:
    """The PDF, whose every page can be opened. Raises NoUsablePdf."""
    from pypdfium2 import PdfiumError
    from pypdfium2 import raw as pdfium

    if not data:
        raise NoUsablePdf("is empty", "Save or scan it again.")
    if len(data) > MOST_BYTES:
        raise NoUsablePdf(
            f"is larger than {MOST_BYTES // 1_000_000} MB", "Save it smaller, such as with pictures of less detail."
        )
    try:
        with _opened(data) as document:
            if pdfium.FPDF_GetSecurityHandlerRevision(document) != -1:
                raise NoUsablePdf("is encrypted", "Save it without a password and without restrictions.")
            n_pages = len(document)
            if not n_pages:
                raise NoUsablePdf("has no page", "Save or scan it again.")
            if n_pages > MOST_PAGES:
                raise NoUsablePdf(f"has {n_pages} pages, more than {MOST_PAGES}", "Enclose only the pages that count.")
            for at in range(n_pages):
                width, height = document.get_page_size(at)
                if min(width, height) < 1:
                    raise NoUsablePdf(f"has a page without a size, page {at + 1}", "Save or scan it again.")
                document[at].close()
            left_out = []
            if pdfium.FPDFDoc_GetJavaScriptActionCount(document) > 0:
                left_out.append("scripts")
            if pdfium.FPDFDoc_GetAttachmentCount(document) > 0:
                left_out.append("attached files")
    except PdfiumError as failure:
        if "password" in str(failure).lower():
            raise NoUsablePdf("is encrypted", "Save it without a password and without restrictions.") from None
        raise NoUsablePdf("is no PDF that can be read", "Save or scan it again.") from None
    return Outside(data, n_pages, tuple(left_out))


def laid_over(data: bytes, sheets: Sequence[Sheet]) -> bytes:
    """Our file with each sheet in its place; the same input gives the same bytes."""
    if not sheets:
        return data
    target, source, open_data = _opened(data), None, b""
    try:
        for sheet in sheets:
            if sheet.data is not open_data:
                if source is not None:
                    source.close()
                source, open_data = _flattened(sheet.data), sheet.data
            assert source is not None
            _lay(target, source, sheet)
        file = BytesIO()
        target.save(file)
    finally:
        if source is not None:
            source.close()
        target.close()
    # pdfium draws the second identifier of a file by chance
    second = hashlib.sha256(data + b"".join(sheet.data for sheet in sheets)).hexdigest()[:32].upper().encode()
    return _SECOND_ID.sub(lambda ids: ids[1] + second + ids[3], file.getvalue())


def _opened(data: bytes) -> PdfDocument:
    from pypdfium2 import PdfDocument

    return PdfDocument(data)


def _flattened(data: bytes) -> PdfDocument:
    """The document with what its fields and comments show as part of its pages."""
    from pypdfium2 import raw as pdfium

    document = _opened(data)
    document.init_forms()
    for page in document:
        pdfium.FPDFPage_Flatten(page, pdfium.FLAT_NORMALDISPLAY)
        page.close()
    return document


def _lay(target: PdfDocument, source: PdfDocument, sheet: Sheet) -> None:
    from pypdfium2 import PdfMatrix
    from pypdfium2 import raw as pdfium

    page = source[sheet.page]
    width, height = page.get_size()
    page.close()
    drawing = source.page_as_xobject(sheet.page, target).as_pageobject()  # upright, its lower left corner at 0, 0
    x1, y1, x2, y2 = sheet.box
    scale = min((x2 - x1) / width, (y2 - y1) / height)
    matrix = PdfMatrix().scale(scale, scale)
    drawing.set_matrix(matrix.translate(x1 + (x2 - x1 - scale * width) / 2, y2 - scale * height))
    under = target[sheet.at]
    under.insert_obj(drawing)
    mark = pdfium.FPDFPageObj_AddMark(drawing, sheet.tag.encode("ascii"))
    if not mark or not pdfium.FPDFPageObjMark_SetIntParam(target, drawing, mark, b"MCID", ctypes.c_int(sheet.number)):
        raise ValueError("a page from outside cannot be marked")
    under.gen_content()
    under.close()
