"""Tree of nodes -> tagged PDF; several trees -> one PDF with their pages counted through."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from docgen.rendering.fonts import register
from docgen.rendering.labels import ENGLISH, Labels
from docgen.rendering.page import Page
from docgen.rendering.pdf.blocks import Stack
from docgen.rendering.pdf.boxes import Scan
from docgen.rendering.pdf.canvas import TaggedCanvas
from docgen.rendering.pdf.pages import Furniture, headings_on, opens_with_heading, paginated
from docgen.rendering.pdf.story import Story
from docgen.rendering.pdf.structure import Element, There
from docgen.rendering.style import REGULAR, Style
from docgen.rendering.tree import Node
from docgen.scene import Scene

FIXED_SIZE = True
SENDS = 1
_MOST_ROUNDS = 6  # of laying out until page numbers in the text no longer move a page


class Laid(Struct, frozen=True):
    """A document laid out, to be painted in as many files as it stands in: its structure, pages and their furniture."""

    structure: Element
    pages: Sequence[Stack]
    furniture: Furniture
    page: Page

    def paint(
        self,
        canvas: TaggedCanvas,
        first: int,
        n_pages: int,
        back: str = "",
        holder: Element | None = None,
        beside: Mapping[int, Sequence[There]] | None = None,
    ) -> None:
        """Paint the pages, numbered from `first` in a file of `n_pages`.

        back    words before links, in the foot, to what leads to a page; no such links when empty
        holder  element to which these belong
        beside  page -> pages of a file beside this one that lead to it; None where the links are of this file
        """
        for number, content in enumerate(self.pages, start=first):
            self.furniture.paint(canvas, number, n_pages)
            content.paint(canvas, self.furniture.style.margin_side, self.furniture.top)
            if back and holder:
                self.furniture.lead_back(canvas, back, holder, (beside or {}).get(number, ()))
            canvas.showPage()


class Insert(Struct, frozen=True):
    """Pages of a PDF from outside; `described` says of each what it is, for those who do not see it."""

    data: bytes
    described: Sequence[str]


class Chapter(Struct, frozen=True):
    """A document of a packet.

    name    begins the anchor of everything in it: "#letter/" is its first page, "#letter/the-trial" a heading
    title   its entry in the outline
    page    head of its pages; title, author and language of the file are the packet's
    alone   the same document as laid out for a file of its own, in the style and the labels of the packet, if it was
    insert  what stands in the place of its pages, one for each of them where it has any words; None for nothing
    """

    name: str
    title: str
    document: Node
    page: Page
    scenes: Mapping[str, Scene]
    alone: Laid | None = None
    insert: Insert | None = None


def render(
    document: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    style: Style = REGULAR,
    *,
    labels: Labels = ENGLISH,
) -> bytes:
    """The document as a tagged PDF; the same input gives the same bytes.

    A character the typeface lacks stands there as its code point: [U+738B].
    Raises ValueError for a kind of node it does not know and a figure no scene is named for.
    """
    return written(laid_out(document, page, scenes, style, labels=labels)).data


def laid_out(
    document: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    style: Style = REGULAR,
    *,
    labels: Labels = ENGLISH,
    elsewhere: Mapping[str, There] | None = None,
) -> Laid:
    """The document on its pages. Raises as render does.

    elsewhere  anchor of another document, in the same file or in one beside it -> its page
    """
    register()
    furniture = Furniture(page, style, labels)
    structure = Element("Document")
    story = Story(document, scenes, style, labels, furniture.room, elsewhere or {})
    blocks = story.document(document, page.letterhead, structure, furniture.line)
    return Laid(structure, paginated(blocks, furniture.room), furniture, page)


class Written(Struct, frozen=True):
    """A PDF of its own. leads_to: anchor of a document in a file beside it -> its own pages with a link to that."""

    data: bytes
    leads_to: Mapping[str, Sequence[int]]


def written(laid: Laid, back: str = "", beside: Mapping[int, Sequence[There]] | None = None) -> Written:
    """The document as a tagged PDF of its own.

    back, beside  words before the links in the foot of a page, and its number -> where they lead: pages of a file
                  beside this one, which lead to it
    """
    canvas = TaggedCanvas(laid.page)
    canvas.root.kids += laid.structure.kids
    laid.paint(canvas, 1, len(laid.pages), back if beside else "", canvas.root, beside)
    data = canvas.finished()
    return Written(data, {anchor: sorted(pages) for anchor, pages in canvas.leads_to.items()})


def places(name: str, laid: Laid, file: str = "", first: int = 1) -> dict[str, There]:
    """Anchor of a document and of each of its headings -> its page, in a file where it begins on page `first`, and the
    page on which its section ends, up to the next heading of its level or of a higher one."""
    by_anchor = {f"{name}/": There(first, file)}
    begun = [
        (number, heading, at == 0 and opens_with_heading(content))
        for number, content in enumerate(laid.pages, start=first)
        for at, heading in enumerate(headings_on(content))
    ]
    for at, (number, heading, _) in enumerate(begun):
        following = ((page, opens) for page, other, opens in begun[at + 1 :] if other.level <= heading.level)
        page, opens = next(following, (first + len(laid.pages) - 1, False))
        by_anchor[f"{name}/{heading.anchor}"] = There(number, file, page - 1 if opens else page)
    return by_anchor


def render_packet(
    chapters: Sequence[Chapter], page: Page, style: Style = REGULAR, *, labels: Labels = ENGLISH, back: str = ""
) -> bytes:
    """The documents as one tagged PDF: an outline of documents and headings, pages counted through.

    back  words before links, in the foot of a page, to what leads to it in a document before; none when empty

    A link from one document to another is followed by the page it leads to. Raises as render does.
    """
    laid = _laid_out_together(chapters, style, labels)
    canvas = TaggedCanvas(page, all_ours=not any(chapter.insert for chapter in chapters))
    n_pages, number = sum(len(chapter_laid.pages) for chapter_laid in laid), 1
    canvas.addPageLabel(0, "ARABIC", 1)
    for chapter, chapter_laid in zip(chapters, laid, strict=True):
        part = canvas.root.child("Part", title=chapter.title)
        part.kids += chapter_laid.structure.kids
        canvas.chapter(chapter.title, chapter.name, chapter_laid.furniture.top)
        chapter_laid.paint(canvas, number, n_pages, back, part)
        number += len(chapter_laid.pages)
    return canvas.finished()


def _laid_out_together(chapters: Sequence[Chapter], style: Style, labels: Labels) -> list[Laid]:
    """Every document, laid out anew until the page numbers that stand in it are those it leads to."""

    def lay_out(chapter: Chapter, elsewhere: Mapping[str, There]) -> Laid:
        return laid_out(chapter.document, chapter.page, chapter.scenes, style, labels=labels, elsewhere=elsewhere)

    laid = [_inserted(chapter, chapter.alone or lay_out(chapter, {})) for chapter in chapters]
    known: dict[str, There] = {}
    for _ in range(_MOST_ROUNDS):
        pages = _pages_of(chapters, laid)
        if pages == known or not any(leads_away(chapter.document) for chapter in chapters):
            return laid
        laid = [
            _inserted(chapter, lay_out(chapter, pages)) if leads_away(chapter.document) else before
            for chapter, before in zip(chapters, laid, strict=True)
        ]
        known = pages
    raise ValueError("the page numbers in the text never settle")


def _inserted(chapter: Chapter, laid: Laid) -> Laid:
    """The pages of the chapter, or those that stand in their place, with its headings where they were.

    Raises ValueError when there are more or fewer than the document has.
    """
    if (insert := chapter.insert) is None:
        return laid
    if chapter.document.children and len(laid.pages) != len(insert.described):
        raise ValueError(f"{len(insert.described)} pages cannot stand in the place of {len(laid.pages)}")
    structure, furniture = Element("Document"), laid.furniture
    pages = []
    for at, described in enumerate(insert.described):
        headings = tuple(headings_on(laid.pages[at])) if at < len(laid.pages) else ()
        figure = structure.child("Figure", alt=described)
        pages.append(Stack([Scan(insert.data, at, figure, furniture.line, furniture.room, headings)]))
    return Laid(structure, pages, furniture, laid.page)


def _pages_of(chapters: Sequence[Chapter], laid: Sequence[Laid]) -> dict[str, There]:
    """Anchor of each document and heading -> its page in the packet, counted from 1."""
    pages: dict[str, There] = {}
    number = 1
    for chapter, chapter_laid in zip(chapters, laid, strict=True):
        pages |= places(chapter.name, chapter_laid, first=number)
        number += len(chapter_laid.pages)
    return pages


def leads_away(document: Node) -> bool:
    """Whether the document has a link that may lead into another."""
    return any(node.kind == "link" and node.target.startswith("#") for node in document.walk())
