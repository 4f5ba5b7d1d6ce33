"""The structure tree of a tagged PDF: what each mark on a page is, for those who do not see the page.

Elements are made while the document is laid out, in reading order; painting then adds to each the
marks that hold its content. A piece of text split between pages stays one element.

Source: ISO 32000-1:2008, 14.7 (logical structure), 14.8 (tagged PDF), 14.9 (alternate descriptions).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFDocument,
    PDFName,
    PDFObject,
    PDFObjectReference,
    PDFString,
    PDFtrue,
)
from reportlab.pdfbase.pdfdoc import format as in_file


@dataclass(slots=True, eq=False)
class Element:
    """A structure element.

    tag         standard structure type, such as P or TH
    alt         what a picture shows
    actual      the text a drawn sign stands for
    title       name of a part that shows none
    lang        tag of the language of its words, where that is not the document's
    attributes  O (the owner) and its entries: text becomes a name, a tuple an array of numbers
    kids        elements, marks and links in reading order
    """

    tag: str
    alt: str = ""
    actual: str = ""
    title: str = ""
    lang: str = ""
    attributes: dict[str, str | tuple[float, ...]] = field(default_factory=dict)
    kids: list[Element | Mark | LinkArea] = field(default_factory=list)

    def child(self, tag: str, **entries: str | dict[str, str | tuple[float, ...]]) -> Element:
        """A new element at the end of this one."""
        element = Element(tag, **entries)  # type: ignore[arg-type]
        self.kids.append(element)
        return element


@dataclass(frozen=True, slots=True)
class Mark:
    """A marked-content sequence: its page, counted from 0, and its number on that page."""

    page: int
    number: int


@dataclass(frozen=True, slots=True)
class LinkArea:
    """A rectangle on a page (left, bottom, right, top) that leads to a target; `says` describes it."""

    page: int
    box: tuple[float, float, float, float]
    target: str
    says: str


Places = dict[str, tuple[int, float]]
"""Where each #anchor is: page counted from 0, and the height of its upper edge."""


class _Entries(PDFDictionary):
    """A dictionary as it was filled. There are thousands, and the one of reportlab escapes and sorts its keys each time."""

    def format(self, document: PDFDocument, IND: bytes = b"") -> bytes:
        return b"<<" + b" ".join(_name(key) + b" " + in_file(value, document) for key, value in self.dict.items()) + b">>"


class _Row(PDFObject):
    """An array of objects and whole numbers."""

    def __init__(self, values: list[object]) -> None:
        self.values = values

    def format(self, document: PDFDocument) -> bytes:
        return b"[" + b" ".join(b"%d" % one if isinstance(one, int) else in_file(one, document) for one in self.values) + b"]"


@lru_cache(maxsize=256)
def _name(word: str) -> bytes:
    return str(PDFName(word)).encode("ascii")


def write_structure(doc: PDFDocument, root: Element, places: Places) -> None:
    """Add the tree, its parent tree and its links to a document whose pages are all painted.

    Raises KeyError for a link to an #anchor that is not among the places.
    """
    _Writer(doc, places).write(root)


class _Writer:
    """Turns elements into PDF objects and remembers which element each mark and link belongs to."""

    def __init__(self, doc: PDFDocument, places: Places) -> None:
        self.doc, self.places = doc, places
        self.pages = [doc.Reference(page) for page in doc.Pages.pages]
        self.owners: list[list[PDFObjectReference | None]] = [[] for _ in self.pages]
        self.annotations: list[list[PDFObjectReference]] = [[] for _ in self.pages]
        self.link_owners: list[PDFObjectReference] = []

    def write(self, root: Element) -> None:
        tree = PDFDictionary({"Type": PDFName("StructTreeRoot")})
        tree_reference = self.doc.Reference(tree)
        tree["K"] = PDFArray([self._element(root, tree_reference)])
        parents: list[object] = []
        for at, page in enumerate(self.doc.Pages.pages):
            parents += [at, _Row(self.owners[at])]
            # an instance's own list of entries, so that other documents of the process stay as they are
            page.__NoDefault__ = [*page.__NoDefault__, "StructParents", "Tabs"]
            page.StructParents, page.Tabs = at, PDFName("S")
            page.Annots = self.annotations[at]
        for at, owner in enumerate(self.link_owners, start=len(self.pages)):
            parents += [at, owner]
        tree["ParentTree"] = self.doc.Reference(_Entries({"Nums": _Row(parents)}))
        tree["ParentTreeNextKey"] = len(self.pages) + len(self.link_owners)
        self.doc.Catalog.StructTreeRoot = tree_reference
        self.doc.Catalog.MarkInfo = PDFDictionary({"Marked": PDFtrue})

    def _element(self, element: Element, parent: PDFObjectReference) -> PDFObjectReference:
        entries = _Entries({"Type": _name("StructElem"), "S": _name(element.tag), "P": parent})
        reference = self.doc.Reference(entries)
        for key, text in (("Alt", element.alt), ("ActualText", element.actual), ("T", element.title), ("Lang", element.lang)):
            if text:
                entries[key] = PDFString(text)
        if element.attributes:
            entries["A"] = _Entries({key: _value(value) for key, value in element.attributes.items()})
        marks = [kid for kid in element.kids if isinstance(kid, Mark)]
        if marks:
            entries["Pg"] = self.pages[marks[0].page]
        entries["K"] = _Row([self._kid(kid, reference, marks) for kid in element.kids])
        return reference

    def _kid(
        self, kid: Element | Mark | LinkArea, owner: PDFObjectReference, marks: Sequence[Mark]
    ) -> object:
        match kid:
            case Element():
                return self._element(kid, owner)
            case LinkArea():
                return self._link(kid, owner)
        owners = self.owners[kid.page]
        owners.extend([None] * (kid.number + 1 - len(owners)))
        owners[kid.number] = owner
        if kid.page == marks[0].page:
            return kid.number
        page = self.pages[kid.page]
        return _Entries({"Type": _name("MCR"), "Pg": page, "MCID": b"%d" % kid.number})

    def _link(self, link: LinkArea, owner: PDFObjectReference) -> PDFDictionary:
        annotation = PDFDictionary(
            {
                "Type": PDFName("Annot"),
                "Subtype": PDFName("Link"),
                "Rect": _value(link.box),
                "F": 4,
                "Border": PDFArray([0, 0, 0]),
                "Contents": PDFString(link.says),
                "StructParent": len(self.pages) + len(self.link_owners),
            }
        )
        if link.target.startswith("#"):
            page, top = self.places[link.target[1:]]
            annotation["Dest"] = PDFArray([self.pages[page], PDFName("XYZ"), 0, round(top, 2), "null"])
        else:
            address = PDFString(link.target)
            annotation["A"] = PDFDictionary({"Type": PDFName("Action"), "S": PDFName("URI"), "URI": address})
        reference = self.doc.Reference(annotation)
        self.annotations[link.page].append(reference)
        self.link_owners.append(owner)
        return _Entries({"Type": _name("OBJR"), "Pg": self.pages[link.page], "Obj": reference})


def _value(value: str | tuple[float, ...]) -> object:
    return _name(value) if isinstance(value, str) else PDFArray([round(number, 2) for number in value])
