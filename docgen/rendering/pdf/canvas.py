"""A canvas on which everything painted is either content of a structure element or marked as furniture."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import BytesIO
from itertools import groupby
from typing import Any, Literal, cast

from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfdoc import XMP
from reportlab.pdfgen.canvas import Canvas

from docgen.rendering.fonts import FACES, register
from docgen.rendering.markup import escaped
from docgen.rendering.page import Page
from docgen.rendering.paper import SHEETS
from docgen.rendering.pdf import inside, operators
from docgen.rendering.pdf.lines import Line, Link, line_width
from docgen.rendering.pdf.outside import Sheet, laid_over
from docgen.rendering.pdf.structure import Box, Element, LinkArea, Mark, Places, write_structure
from docgen.rendering.style import Shade

# what a line of Arimo reaches above and below its baseline, in units of its size: hhea table of the faces
ASCENT, DESCENT = 0.905, 0.212
Row = tuple[float, float, Line]
"""A line and the left end of its baseline."""

_UNDERLINE_DROP, _UNDERLINE_WIDTH = 0.11, 0.05  # in units of the size


class TaggedCanvas(Canvas):
    """Pages of one file; `root` is its structure tree.

    all_ours  whether no page comes from outside: only then does the file say that it is built to PDF/UA
    """

    def __init__(self, page: Page, *, all_ours: bool = True) -> None:
        register()
        self.file = BytesIO()
        super().__init__(
            self.file,
            pagesize=SHEETS[page.paper],
            pageCompression=1,
            invariant=1,
            lang=page.lang,
            pdfVersion=(1, 7),
            initialFontName=cast(Any, FACES[False, False]),  # its stubs ask for a number
        )
        self.setTitle(page.title)
        self.setAuthor(page.author)
        self.setSubject("")
        self.setCreator("docgen")
        self.setViewerPreference("DisplayDocTitle", "true")
        self.setDateFormatter(lambda *_: f"D:{page.dated_on:%Y%m%d}000000Z")
        self.setCatalogEntry("Metadata", XMP(creator=lambda _: _xmp(page, all_ours).encode()))
        self.root = Element("Document")
        self._painted: defaultdict[Element, list[Element | Mark | LinkArea]] = defaultdict(list)
        self._boxes: dict[Element, Box] = {}
        self._places: Places = {}
        self._prefix = ""  # of the anchors of the document being painted
        self._sheets: list[Sheet] = []
        # anchor of another document -> where links to it stand
        self._led_from: defaultdict[str, list[tuple[int, float]]] = defaultdict(list)
        # anchor of a document in a file beside this one -> the pages, counted from 1, with a link to it
        self.leads_to: defaultdict[str, set[int]] = defaultdict(set)
        self._n_marks = 0
        self._depth, self._base = -1, 0

    def finished(self) -> bytes:
        """The document's bytes; nothing can be painted afterwards."""
        document = inside.document_of(self)
        write_structure(document, self.root, self._painted, self._boxes, self._places)
        inside.spaces_for_unused_codes(FACES.values(), document)
        with inside.without_ascii_armour():
            self.save()
        return laid_over(self.file.getvalue(), self._sheets)

    def showPage(self) -> None:
        """End the page; marks are counted anew on the next."""
        super().showPage()
        self._n_marks = 0

    @contextmanager
    def marked(self, element: Element) -> Iterator[None]:
        """What is painted inside is content of the element."""
        self._painted[element].append(Mark(self.getPageNumber() - 1, self._n_marks))
        self.addLiteral(f"/{element.tag} <</MCID {self._n_marks}>> BDC")
        self._n_marks += 1
        yield
        self.addLiteral("EMC")

    @contextmanager
    def pictured(self, element: Element, box: Box) -> Iterator[None]:
        """The same for a picture, which fills the box (left, bottom, right, top)."""
        self._boxes[element] = box
        with self.marked(element):
            yield

    def from_outside(self, element: Element, box: Box, data: bytes, page: int) -> None:
        """A page (counted from 0) of another PDF, as the picture that the element describes, laid into the box when
        the file is finished."""
        at = self.getPageNumber() - 1
        self._boxes[element] = box
        self._painted[element].append(Mark(at, self._n_marks))
        self._sheets.append(Sheet(at, box, element.tag, self._n_marks, data, page))
        self._n_marks += 1

    @contextmanager
    def artifact(self, furniture: Literal["", "Header", "Footer", "Repeated"] = "") -> Iterator[None]:
        """What is painted inside is decoration, the head or foot of a page, or words of an earlier page
        shown again; words that are no furniture belong to an element."""
        subtype = "" if furniture == "Repeated" else f" /Subtype /{furniture}"
        kind = f"<</Type /Pagination{subtype}>> BDC" if furniture else "BMC"
        self.addLiteral(f"/Artifact {kind}")
        yield
        self.addLiteral("EMC")

    def heading(self, text: str, level: int, anchor: str, top: float) -> None:
        """Note where a heading stands: for links, and for the outline (levels 1 to 3)."""
        self._places[self._prefix + anchor] = (self.getPageNumber() - 1, top)
        if level <= 3:
            # an outline may not skip a level, a document may
            self._depth = min(level - 1, self._depth + 1)
            key = f"heading{len(self._places)}"
            self.bookmarkPage(key, fit="XYZ", left=0, top=round(top, 2))
            self.addOutlineEntry(text, key, self._depth + self._base)

    def chapter(self, title: str, name: str, top: float) -> None:
        """Note that a document begins on this page; the headings that follow stand below it in the outline, their
        anchors behind its name and a slash."""
        self._prefix = f"{name}/"
        self._places[self._prefix] = (self.getPageNumber() - 1, top)
        self._depth, self._base = -1, 1
        key = f"document{len(self._places)}"
        self.bookmarkPage(key, fit="XYZ", left=0, top=round(top, 2))
        self.addOutlineEntry(title, key, 0)

    def led_from(self) -> dict[int, str]:
        """Pages, counted from 1, with links in another document to what stands on this one -> an anchor at the first
        such link on each."""
        here = self.getPageNumber() - 1
        anchors = [anchor for anchor, (page, _) in self._places.items() if page == here]
        links = [link for anchor in anchors for link in self._led_from.get(anchor, ())]
        named: dict[int, str] = {}
        for page, top in sorted(links, key=lambda link: (link[0], -link[1])):
            if page + 1 not in named:
                named[page + 1] = f"from/{here + 1}/{page + 1}"
                self._places[named[page + 1]] = (page, top)
        return named

    def rule(self, x1: float, y1: float, x2: float, y2: float, width: float, shade: Shade = 0.0) -> None:
        """A straight line; the caller marks it."""
        self.stroke([(x1, y1), (x2, y2)], width, shade)

    def stroke(self, points: Sequence[tuple[float, float]], width: float, shade: Shade = 0.0) -> None:
        """Straight lines from point to point; the caller marks them."""
        self.addLiteral(f"{operators.pen(width, shade)} {operators.path(points)} {operators.painted(False, True)}")

    def frame(self, x: float, y: float, w: float, h: float, width: float, shade: Shade = 0.0) -> None:
        """The edges of a rectangle from its lower left corner; the caller marks it."""
        self.addLiteral(f"{operators.pen(width, shade)} {operators.box(x, y, w, h)} {operators.painted(False, True)}")

    def picture(self, png: bytes, x: float, y: float, w: float, h: float) -> None:
        """A picture from its lower left corner, stored once however often it is shown; the caller marks it."""
        self.drawImage(ImageReader(BytesIO(png)), x, y, w, h, mask="auto")

    def ground(self, x: float, y: float, w: float, h: float, shade: float) -> None:
        """A filled rectangle from its lower left corner; the caller marks it."""
        self.addLiteral(f"{operators.ink(shade)} {operators.box(x, y, w, h)} {operators.painted(True, False)}")

    def text(self, rows: Sequence[Row], size: float, shade: Shade, gap_fill: float, element: Element) -> None:
        """Lines of one element."""
        self._grounds(rows, size, gap_fill)
        for passage, link, parts in _stretches(rows):
            holder = element
            for inner in (passage, link.element if link else None):
                if inner is not None:
                    if inner not in self._painted[holder]:
                        self._painted[holder].append(inner)
                    holder = inner
            with self.marked(holder):
                self.show(parts, size, shade)
            if link is not None:
                target = f"#{self._prefix}{link.target[1:]}" if link.own else link.target
                for x, y, pieces in parts:
                    box = (x, y - DESCENT * size, x + line_width(pieces, size), y + ASCENT * size)
                    area = LinkArea(self.getPageNumber() - 1, box, target, link.says, link.there)
                    self._painted[holder].append(area)
                    if link.there and target:
                        self.leads_to[target[1:]].add(self.getPageNumber())
                    elif not link.there and target.startswith("#") and not target[1:].startswith(self._prefix):
                        self._led_from[target[1:]].append((self.getPageNumber() - 1, box[3]))

    def show(self, rows: Sequence[Row], size: float, shade: Shade) -> None:
        """Paint pieces one behind the other in each row; the caller marks them."""
        code, document = [operators.ink(shade), "BT"], inside.document_of(self)
        current = ""
        for x, y, pieces in rows:
            code.append(f"1 0 0 1 {x:.2f} {y:.2f} Tm")
            for piece in pieces:
                for font, shown in operators.words(piece.text, piece.run.face, document):
                    if font != current:
                        code.append(f"{font} {size:g} Tf")
                        current = font
                    code.append(shown)
        self.addLiteral(" ".join([*code, "ET"]))

    def _grounds(self, rows: Sequence[Row], size: float, gap_fill: float) -> None:
        """The light ground of gaps and the underline of links, below their words."""
        for x, y, line in rows:
            for piece in line:
                if piece.run.gap:
                    with self.artifact():
                        self.ground(x, y - DESCENT * size - 0.5, piece.width, size * (ASCENT + DESCENT) + 1, gap_fill)
                if piece.run.link:
                    end = x + (line_width((piece,), size) if piece is line[-1] else piece.width)
                    drop = y - _UNDERLINE_DROP * size
                    with self.artifact():
                        self.rule(x, drop, end, drop, _UNDERLINE_WIDTH * size)
                x += piece.width


def _stretches(rows: Sequence[Row]) -> Iterator[tuple[Element | None, Link | None, list[Row]]]:
    """The rows cut into stretches of one passage and one link, or of none, in reading order."""
    within: tuple[Element | None, Link | None] = (None, None)
    parts: list[Row] = []
    for x, y, line in rows:
        for at, group in groupby(line, key=lambda piece: (piece.run.passage, piece.run.link)):
            pieces = tuple(group)
            if parts and at != within:
                yield *within, parts
                parts = []
            within = at
            parts.append((x, y, pieces))
            x += sum(piece.width for piece in pieces)
    if parts:
        yield *within, parts


def _xmp(page: Page, all_ours: bool) -> str:
    """The metadata packet: title, author, language, and the standard the file is built to, if all of it is."""
    standard = "<pdfuaid:part>1</pdfuaid:part>" if all_ours else ""
    author = f"<dc:creator><rdf:Seq><rdf:li>{escaped(page.author)}</rdf:li></rdf:Seq></dc:creator>"
    title = f'<rdf:li xml:lang="x-default">{escaped(page.title)}</rdf:li>'
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/">'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" '
        'xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">'
        f"{standard}<dc:title><rdf:Alt>{title}</rdf:Alt></dc:title>"
        f"{author if page.author else ''}<dc:language><rdf:Bag><rdf:li>{escaped(page.lang)}</rdf:li>"
        '</rdf:Bag></dc:language></rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end="w"?>'
    )
