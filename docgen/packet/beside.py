"""PDF files beside one another in a packet's folder: a link of one leads into another, whose foot leads back."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from docgen.rendering.formats import to_pdf
from docgen.rendering.pdf.structure import There
from docgen.rendering.tree import Node

if TYPE_CHECKING:
    from docgen.rendering.formats.to_pdf import Laid

LayOut = Callable[[str, Mapping[str, There]], "Laid"]


class Beside:
    """Lays out and writes documents that lie beside one another.

    A document that leads into others is laid out after them and written before them: they stand in its text with
    their pages, and have its pages in their foot. Only documents that lead nowhere are led to, since their pages
    are settled first.

    documents  those that may lead to each other, by name
    lay_out    pages of a document, by its name and by the places in other files that it may lead to
    back       words before the links in the foot of a page
    laid       pages of each document so far, by name; of one that leads into others once it is written
    """

    def __init__(self, documents: Mapping[str, Node], lay_out: LayOut, back: str) -> None:
        self.lay_out, self.back = lay_out, back
        self.leading = [name for name, document in documents.items() if to_pdf.leads_away(document)]
        self.laid = {name: lay_out(name, {}) for name in documents if name not in self.leading}
        self._there: dict[str, There] = {}
        for name in self.laid:
            self._there |= to_pdf.places(name, self.laid[name], _file(name))
        self._ways: defaultdict[tuple[str, int], set[There]] = defaultdict(set)

    def again(self, name: str) -> None:
        """Lay out once more a document whose words have changed."""
        self.laid[name] = self.lay_out(name, self._there if name in self.leading else {})

    def written(self, name: str) -> bytes:
        """The document as a file, with links in its foot to those written before that lead to it."""
        if name not in self.laid:
            self.again(name)
        by_page = {page: sorted(ways, key=_order) for (file, page), ways in self._ways.items() if file == _file(name)}
        file = to_pdf.written(self.laid[name], self.back, by_page)
        for anchor, pages in file.leads_to.items():
            at = self._there[anchor]
            self._ways[at.file, at.page].update(There(page, _file(name)) for page in pages)
        return file.data


def _file(name: str) -> str:
    return f"{name}.pdf"


def _order(there: There) -> tuple[str, int]:
    return there.file, there.page
