"""The structure tree of a tagged PDF: what each mark on a page is, for those who do not see the page.

Elements are made while the document is laid out, in reading order, and stay as they are: what painting
adds to each, the marks that hold its content, is kept beside them, so that a document can be painted in
several files. A piece of text split between pages stays one element.

Source: ISO 32000-1:2008, 14.7 (logical structure), 14.8 (tagged PDF), 14.9 (alternate descriptions).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from msgspec import Struct, field
from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFName,
    PDFObject,
    PDFObjectReference,
    PDFString,
)

from docgen.rendering.pdf.inside import enter_in_structure, mark_tagged, pages_of, reference


class Element(Struct, eq=False):
    """A structure element.

    tag         standard structure type, such as P or TH
    alt         what a picture shows
    actual      the text a drawn sign stands for
    title       name of a part that shows none
    lang        tag of the language of its words, where that is not the document's
    attributes  O (the owner) and its entries, each a name
    kids        elements in reading order
    """

    tag: str
    alt: str = ""
    actual: str = ""
    title: str = ""
    lang: str = ""
    attributes: dict[str, str] = field(default_factory=dict)
    kids: list[Element] = field(default_factory=list)

    def child(self, tag: str, **entries: str | dict[str, str]) -> Element:
        """A new element at the end of this one."""
        element = Element(tag, **entries)  # type: ignore[arg-type]
        self.kids.append(element)
        return element


class Mark(Struct, frozen=True):
    """A marked-content sequence: its page, counted from 0, and its number on that page."""

    page: int
    number: int


class There(Struct, frozen=True):
    """A page (counted from 1) of another document: of this file, or of another that lies beside it.

    last  the page on which a section ends that begins there; 0 where it ends on the same
    """

    page: int
    file: str = ""
    last: int = 0

    def in_words(self, page: str, pages: str) -> str:
        """The page in words, or the pages of its section, with the name of another file before it; `page` stands before
        the number of a page, `pages` before those of more."""
        name = self.file.rpartition(".")[0]
        where = f"{pages} {self.page}-{self.last}" if self.last > self.page else f"{page} {self.page}"
        return f"{name} {where}".lstrip()


class LinkArea(Struct, frozen=True):
    """A rectangle on a page (left, bottom, right, top) that leads to a target; `says` describes it, and `there` is
    the place in a file beside this one."""

    page: int
    box: Box
    target: str
    says: str
    there: There | None = None


Box = tuple[float, float, float, float]
Places = dict[str, tuple[int, float]]
"""Where each #anchor is: page counted from 0, and the height of its upper edge."""

Painted = Mapping[Element, Sequence[Element | Mark | LinkArea]]
"""What painting has put behind the kids of an element, in reading order."""


class _Ready(PDFObject):
    """An object whose bytes are known: there are thousands, and reportlab sorts and escapes what it writes each
    time."""

    data = b""

    def format(self, document: PDFDocument) -> bytes:
        return self.data


def _entries(entries: Mapping[bytes, bytes]) -> bytes:
    return b"<<" + b" ".join(b"/" + key + b" " + value for key, value in entries.items()) + b">>"


def _array(values: Iterable[bytes]) -> bytes:
    return b"[" + b" ".join(values) + b"]"


@lru_cache(maxsize=256)
def _name(word: str) -> bytes:
    return str(PDFName(word)).encode("ascii")


def write_structure(
    doc: PDFDocument, root: Element, painted: Painted, boxes: Mapping[Element, Box], places: Places
) -> None:
    """Add the tree, its parent tree and its links to a document whose pages are all painted.

    boxes  where each picture was painted

    Raises KeyError for a link to an #anchor that is not among the places.
    """
    _Writer(doc, painted, boxes, places).write(root)


class _Writer:
    """Turns elements into PDF objects and remembers which element each mark and link belongs to."""

    def __init__(self, doc: PDFDocument, painted: Painted, boxes: Mapping[Element, Box], places: Places) -> None:
        self.doc, self.painted, self.boxes, self.places = doc, painted, boxes, places
        self.page_references = [reference(doc, page) for page in pages_of(doc)]
        self.pages = [self._written(number) for number in self.page_references]
        self.owners: list[list[bytes]] = [[] for _ in self.pages]
        self.annotations: list[list[PDFObjectReference]] = [[] for _ in self.pages]
        self.link_owners: list[bytes] = []

    def write(self, root: Element) -> None:
        tree, numbers = _Ready(), _Ready()
        tree_reference = reference(self.doc, tree)
        document = self._element(root, self._written(tree_reference))
        parents: list[bytes] = []
        for at, page in enumerate(pages_of(self.doc)):
            parents += [b"%d" % at, _array(self.owners[at])]
            enter_in_structure(page, at, self.annotations[at])
        for at, owner in enumerate(self.link_owners, start=len(self.pages)):
            parents += [b"%d" % at, owner]
        numbers.data = _entries({b"Nums": _array(parents)})
        tree.data = _entries(
            {
                b"Type": b"/StructTreeRoot",
                b"K": _array([document]),
                b"ParentTree": self._written(reference(self.doc, numbers)),
                b"ParentTreeNextKey": b"%d" % (len(self.pages) + len(self.link_owners)),
            }
        )
        mark_tagged(self.doc, tree_reference)

    def _written(self, number: PDFObjectReference) -> bytes:
        return bytes(number.format(self.doc))

    def _element(self, element: Element, parent: bytes) -> bytes:
        ready = _Ready()
        own = self._written(reference(self.doc, ready))
        entries = {b"Type": b"/StructElem", b"S": _name(element.tag), b"P": parent}
        for key, text in (
            (b"Alt", element.alt),
            (b"ActualText", element.actual),
            (b"T", element.title),
            (b"Lang", element.lang),
        ):
            if text:
                entries[key] = PDFString(text).format(self.doc)
        if element.attributes:
            entries[b"A"] = _entries({key.encode("ascii"): _name(value) for key, value in element.attributes.items()})
        if box := self.boxes.get(element):
            sides = _array(f"{side:g}".encode("ascii") for side in _rounded(box))
            entries[b"A"] = _entries({b"O": b"/Layout", b"Placement": b"/Block", b"BBox": sides})
        kids = [*element.kids, *self.painted.get(element, ())]
        page = next((kid.page for kid in kids if isinstance(kid, Mark)), -1)
        if page >= 0:
            entries[b"Pg"] = self.pages[page]
        entries[b"K"] = _array([self._kid(kid, own, page) for kid in kids])
        ready.data = _entries(entries)
        return own

    def _kid(self, kid: Element | Mark | LinkArea, owner: bytes, page: int) -> bytes:
        """page  that of the element, on which a mark need not name its own"""
        if isinstance(kid, Element):
            return self._element(kid, owner)
        if isinstance(kid, LinkArea):
            return self._link(kid, owner)
        owners = self.owners[kid.page]
        owners.extend([b"null"] * (kid.number + 1 - len(owners)))
        owners[kid.number] = owner
        if kid.page == page:
            return b"%d" % kid.number
        return _entries({b"Type": b"/MCR", b"Pg": self.pages[kid.page], b"MCID": b"%d" % kid.number})

    def _link(self, link: LinkArea, owner: bytes) -> bytes:
        annotation = PDFDictionary(
            {
                "Type": PDFName("Annot"),
                "Subtype": PDFName("Link"),
                "Rect": PDFArray(_rounded(link.box)),
                "F": 4,
                "Border": PDFArray([0, 0, 0]),
                "Contents": PDFString(link.says),
                "StructParent": len(self.pages) + len(self.link_owners),
            }
        )
        if link.there:  # a whole page: the heights of another file may be others once it is made anew
            shown = PDFArray([link.there.page - 1, PDFName("Fit")])
            annotation["A"] = PDFDictionary(
                {"Type": PDFName("Action"), "S": PDFName("GoToR"), "F": PDFString(link.there.file), "D": shown}
            )
        elif link.target.startswith("#"):
            page, top = self.places[link.target[1:]]
            annotation["Dest"] = PDFArray([self.page_references[page], PDFName("XYZ"), 0, round(top, 2), "null"])
        else:
            address = PDFString(link.target)
            annotation["A"] = PDFDictionary({"Type": PDFName("Action"), "S": PDFName("URI"), "URI": address})
        number = reference(self.doc, annotation)
        self.annotations[link.page].append(number)
        self.link_owners.append(owner)
        return _entries({b"Type": b"/OBJR", b"Pg": self.pages[link.page], b"Obj": self._written(number)})


def _rounded(box: Box) -> list[float]:
    return [round(side, 2) for side in box]
