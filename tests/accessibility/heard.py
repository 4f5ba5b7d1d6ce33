"""Reads the structure of a tagged PDF with PDFium, as a browser does to hand it to a screen reader."""

from __future__ import annotations

import ctypes
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

_NO_MARK = -1  # PDFium's answer for a kid that is a link, or stands on another page


@dataclass(frozen=True, slots=True)
class Heard:
    """A structure element as one page has it: its type, its words with those of all it holds, what stands
    for a picture, the direction in which a header cell reaches, its page from 0."""

    tag: str
    words: str
    alt: str
    scope: str
    page: int


def heard(file: bytes) -> list[Heard]:
    """Every element of every page in reading order; one that lies on two pages comes once for each."""
    with pypdfium2.PdfDocument(file) as document:
        return [element for at in range(len(document)) for element in _on_page(document[at], at)]


def _on_page(page: pypdfium2.PdfPage, number: int) -> list[Heard]:
    words = _words_by_mark(page)
    tree = pdfium.FPDF_StructTree_GetForPage(page.raw)
    try:
        tops = [
            pdfium.FPDF_StructTree_GetChildAtIndex(tree, at) for at in range(pdfium.FPDF_StructTree_CountChildren(tree))
        ]
        return [element for top in tops for element in _elements(top, words, number)]
    finally:
        pdfium.FPDF_StructTree_Close(tree)


def _words_by_mark(page: pypdfium2.PdfPage) -> dict[int, str]:
    """Number of a marked-content sequence -> the words it shows."""
    words: dict[int, str] = defaultdict(str)
    text = page.get_textpage()
    for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT]):
        mark = pdfium.FPDFPageObj_GetMarkedContentID(shape.raw)
        words[mark] += _text(lambda buffer, n, shape=shape: pdfium.FPDFTextObj_GetText(shape.raw, text.raw, buffer, n))
    return words


def _elements(element: Any, words: dict[int, str], page: int) -> Iterator[Heard]:
    """An element, then all it holds."""
    inside: list[Heard] = []
    spoken: list[str] = []
    for at in range(pdfium.FPDF_StructElement_CountChildren(element)):
        if child := pdfium.FPDF_StructElement_GetChildAtIndex(element, at):
            held = list(_elements(child, words, page))
            inside += held
            spoken.append(held[0].words)
        elif (mark := pdfium.FPDF_StructElement_GetChildMarkedContentID(element, at)) != _NO_MARK:
            spoken.append(words.get(mark, ""))
    yield Heard(
        _text(lambda buffer, n: pdfium.FPDF_StructElement_GetType(element, buffer, n)),
        "".join(spoken),
        _text(lambda buffer, n: pdfium.FPDF_StructElement_GetAltText(element, buffer, n)),
        _scope(element),
        page,
    )
    yield from inside


def _scope(element: Any) -> str:
    for at in range(pdfium.FPDF_StructElement_GetAttributeCount(element)):
        attributes = pdfium.FPDF_StructElement_GetAttributeAtIndex(element, at)
        if value := pdfium.FPDF_StructElement_Attr_GetValue(attributes, b"Scope"):
            return _text(lambda buffer, n, value=value: _attribute_bytes(value, buffer, n))
    return ""


def _attribute_bytes(value: Any, buffer: Any, n_bytes: int) -> int:
    needed = ctypes.c_ulong()
    pdfium.FPDF_StructElement_Attr_GetStringValue(value, buffer, n_bytes, needed)
    return needed.value


def _text(fill: Callable[[Any, int], int]) -> str:
    """What a function of PDFium writes into a buffer: UTF-16 with a zero at its end."""
    n_bytes = fill(None, 0)
    if n_bytes <= 2:
        return ""
    buffer = ctypes.create_string_buffer(n_bytes)
    fill(ctypes.cast(buffer, ctypes.POINTER(ctypes.c_ushort)), n_bytes)
    return buffer.raw[: n_bytes - 2].decode("utf-16-le")
