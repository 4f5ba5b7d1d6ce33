"""All that is used of reportlab beyond what it promises, each with its reason; nothing else touches a private name of
it.

Held to reportlab 5 (`<6` in pyproject.toml). tests/rendering/test_inside.py says which of these a new release has
changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, cast

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFDocument, PDFName, PDFObject, PDFObjectReference, PDFtrue
from reportlab.pdfbase.pdfmetrics import getFont
from reportlab.pdfgen.canvas import Canvas


def document_of(canvas: Canvas) -> PDFDocument:
    """The document behind a canvas: fonts keep the codes of their letters by document, and it holds the structure
    tree."""
    return cast(PDFDocument, cast(Any, canvas)._doc)


def char_widths(face: str) -> Mapping[int, float]:
    """Width of each character of an embedded face in thousandths of its size.

    The public stringWidth looks the font up and encodes the text each time; a packet measures 200,000 words.
    """
    return cast("Mapping[int, float]", cast(Any, getFont(face)).face.charWidths)


def codes_given(face: str, document: PDFDocument) -> Mapping[int, int]:
    """Code point -> code of each letter the document already has of a face; empty when it shows none yet.

    With it, a text whose letters all have their codes is written in one step.
    """
    state = cast(Any, getFont(face)).state.get(document)
    return cast("Mapping[int, int]", state.assignments) if state else {}


def first_subset(face: str, document: PDFDocument) -> str:
    """Name, in the content of a page, of the first 256 letters of a face."""
    return cast(str, cast(Any, getFont(face)).getSubsetInternalName(0, document))


def encoded(text: str, face: str, document: PDFDocument) -> Iterator[tuple[str, bytes]]:
    """The text in parts: name of the subset that holds the letters of each, and their codes.

    Words are written as operators of our own, in runs; the public drawString writes one text object a run.
    """
    font = cast(Any, getFont(face))
    for subset, codes in font.splitString(text, document):
        yield font.getSubsetInternalName(subset, document), codes


def spaces_for_unused_codes(faces: Iterable[str], document: PDFDocument) -> None:
    """Codes no page shows stand for a space: reportlab has them stand for U+0000, which no font may map to.

    Source: ISO 14289-1:2014, 7.21.7.
    """
    for face in faces:
        state = cast(Any, getFont(face)).state.get(document)
        for subset in state.subsets if state else ():
            subset[:] = [code or ord(" ") for code in subset]


def reference(document: PDFDocument, target: PDFObject) -> PDFObjectReference:
    """A number for an object of the document, to be named by others before it is written."""
    return cast(PDFObjectReference, cast(Any, document).Reference(target))


def pages_of(document: PDFDocument) -> Sequence[PDFObject]:
    """The pages painted so far; each must name its place in the structure tree."""
    return cast("Sequence[PDFObject]", cast(Any, document).Pages.pages)


def enter_in_structure(page: PDFObject, place: int, annotations: Sequence[PDFObjectReference]) -> None:
    """Give a page its place in the structure tree, the order of its links and the links themselves.

    A page writes only the entries of its list; the list is made the page's own, so that other documents of the
    process stay as they are. Source: ISO 32000-1:2008, 14.7.4.4.
    """
    inner = cast(Any, page)
    inner.__NoDefault__ = [*inner.__NoDefault__, "StructParents", "Tabs"]
    inner.StructParents, inner.Tabs = place, PDFName("S")
    inner.Annots = annotations


def mark_tagged(document: PDFDocument, tree: PDFObjectReference) -> None:
    """Name the structure tree in the catalog, which has no public place for it. Source: ISO 32000-1:2008, 14.7.2."""
    catalog = cast(Any, document).Catalog
    catalog.StructTreeRoot, catalog.MarkInfo = tree, PDFDictionary({"Marked": PDFtrue})


@contextmanager
def without_ascii_armour() -> Iterator[None]:
    """Streams stay binary: smaller and faster. The setting is the whole library's and is put back."""
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before
