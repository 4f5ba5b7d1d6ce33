"""The pictures of the README: pages of a demo case as its evaluator has approved them.

Each picture holds the text of its page, so that a test can tell when the page has moved on without comparing pixels.
Run this file to draw them anew.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pypdfium2
from PIL.Image import Image
from PIL.PngImagePlugin import PngInfo

import docgen
from docgen.resources import folder

HERE = Path(__file__).parent
CASE = "ilmari-okonjo-vale"
REVIEWED_BY, REVIEWED_ON = "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 4, 21)
TEXT = "text of the page"
_SCALE = 800 / 612  # a page of 612 points, 800 pixels wide
_GREYS = 16  # black on white with soft edges


@dataclass(frozen=True, slots=True)
class Page:
    """A page of a document, counted from 1, and the heading it is shown for."""

    document: str
    number: int
    heading: str

    @property
    def path(self) -> Path:
        """The picture."""
        return HERE / f"{self.document}.png"


PAGES = (Page("letter", 2, "Equipment Trial and Results"), Page("card", 1, "Who to call"))


def drawn(under: Path) -> Iterator[tuple[Page, str, Image]]:
    """Each page with its text and its picture; the case is copied, approved and built in a folder."""
    case = Path(shutil.copytree(folder("cases") / CASE, under / CASE))
    docgen.approve_case(case, REVIEWED_BY, REVIEWED_ON)
    packet = docgen.build_packet(case, under / "out", formats=["pdf"], only=[page.document for page in PAGES])
    for page in PAGES:
        with pypdfium2.PdfDocument(packet.folder / f"{page.document}.pdf") as pdf:
            sheet = pdf[page.number - 1]
            text = "\n".join(sheet.get_textpage().get_text_range().split("\r\n"))
            yield page, text, sheet.render(scale=_SCALE).to_pil()


def draw() -> None:
    """Write the pictures."""
    with tempfile.TemporaryDirectory() as under:
        for page, text, picture in drawn(Path(under)):
            told = PngInfo()
            told.add_itxt(TEXT, text)
            picture.convert("L").quantize(_GREYS).save(page.path, optimize=True, pnginfo=told)


if __name__ == "__main__":
    draw()
