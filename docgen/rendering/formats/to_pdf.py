"""Tree of nodes -> tagged PDF; several trees -> one PDF with their pages counted through."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from docgen.figures.scene import Scene
from docgen.rendering.fonts import register
from docgen.rendering.labels import ENGLISH, Labels
from docgen.rendering.page import Page
from docgen.rendering.pdf.blocks import Stack
from docgen.rendering.pdf.canvas import TaggedCanvas
from docgen.rendering.pdf.pages import Furniture, headings_on, paginated
from docgen.rendering.pdf.story import Story
from docgen.rendering.pdf.structure import Element
from docgen.rendering.style import REGULAR, Style
from docgen.rendering.tree import Node

_MOST_ROUNDS = 6  # of laying out until page numbers in the text no longer move a page


@dataclass(frozen=True, slots=True)
class Chapter:
    """A document of a packet.

    name    begins the anchor of everything in it: "#letter/" is its first page, "#letter/the-trial" a heading
    title   its entry in the outline
    page    head of its pages; title, author and language of the file are the packet's
    """

    name: str
    title: str
    document: Node
    page: Page
    scenes: Mapping[str, Scene]


@dataclass(frozen=True, slots=True)
class _Laid:
    """A document laid out: its structure, its pages, and the furniture they stand in."""

    root: Element
    pages: Sequence[Stack]
    furniture: Furniture

    def paint(self, canvas: TaggedCanvas, style: Style, first: int, n_pages: int) -> None:
        for number, content in enumerate(self.pages, start=first):
            self.furniture.paint(canvas, number, n_pages)
            content.paint(canvas, style.margin_side, self.furniture.top)
            canvas.showPage()


def render(
    document: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    style: Style = REGULAR,
    *,
    labels: Labels = ENGLISH,
) -> bytes:
    """The document as a tagged PDF; the same input gives the same bytes.

    Raises ValueError for a kind of node it does not know, a figure no scene is named for, and (as
    MissingGlyphError) a character the typeface lacks.
    """
    return render_with_pages(document, page, scenes, style, labels=labels)[0]


def render_with_pages(
    document: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    style: Style = REGULAR,
    *,
    labels: Labels = ENGLISH,
) -> tuple[bytes, dict[str, int]]:
    """The PDF, and the page each heading stands on, by the heading's plain text (the first of its name)."""
    register()
    canvas = TaggedCanvas(page)
    laid = _laid_out(document, page, scenes, style, labels, canvas.root)
    laid.paint(canvas, style, 1, len(laid.pages))
    return canvas.finished(), canvas.heading_pages


def render_packet(
    chapters: Sequence[Chapter], page: Page, style: Style = REGULAR, *, labels: Labels = ENGLISH
) -> bytes:
    """The documents as one tagged PDF: an outline of documents and headings, pages counted through.

    A link from one document to another is followed by the page it leads to. Raises as render does.
    """
    register()
    canvas = TaggedCanvas(page)
    laid = _laid_out_together(chapters, style, labels)
    n_pages, number = sum(len(one.pages) for one in laid), 1
    canvas.addPageLabel(0, "ARABIC", 1)
    for chapter, one in zip(chapters, laid, strict=True):
        canvas.root.kids.append(one.root)
        canvas.chapter(chapter.title, f"{chapter.name}/", one.furniture.top)
        one.paint(canvas, style, number, n_pages)
        number += len(one.pages)
    return canvas.finished()


def _laid_out_together(chapters: Sequence[Chapter], style: Style, labels: Labels) -> list[_Laid]:
    """Every document, laid out anew until the page numbers that stand in it are those it leads to."""
    pages: dict[str, int] = {}
    laid: list[_Laid] = []
    for _ in range(_MOST_ROUNDS):
        known = pages
        laid = [
            laid[at] if laid and not _leads_away(chapter) else
            _laid_out(chapter.document, chapter.page, chapter.scenes, style, labels,
                      Element("Part", title=chapter.title), f"{chapter.name}/", known)
            for at, chapter in enumerate(chapters)
        ]
        pages = _pages_of(chapters, laid)
        if pages == known:
            return laid
    raise ValueError("the page numbers in the text never settle")


def _laid_out(
    document: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    style: Style,
    labels: Labels,
    root: Element,
    prefix: str = "",
    elsewhere: Mapping[str, int] | None = None,
) -> _Laid:
    furniture = Furniture(page, style, labels)
    story = Story(document, scenes, style, labels, furniture.room, prefix, elsewhere or {})
    blocks = story.document(document, page.letterhead, root, furniture.line)
    return _Laid(root, paginated(blocks, furniture.room), furniture)


def _pages_of(chapters: Sequence[Chapter], laid: Sequence[_Laid]) -> dict[str, int]:
    """Anchor of each document and heading -> its page in the packet, counted from 1."""
    found: dict[str, int] = {}
    number = 1
    for chapter, one in zip(chapters, laid, strict=True):
        found[f"{chapter.name}/"] = number
        for content in one.pages:
            found |= {heading.anchor: number for heading in headings_on(content)}
            number += 1
    return found


def _leads_away(chapter: Chapter) -> bool:
    """Whether the document has a link that may lead into another."""
    return any(node.kind == "link" and node.target.startswith("#") for node in chapter.document.walk())
