"""What packet.pdf holds, in its order: the documents that are sent, a signed letter in its place, papers of others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from docgen.packet.approval import LETTER
from docgen.packet.assess import Assessed
from docgen.packet.papers import Paper, PaperShown
from docgen.packet.signed import SignedScan
from docgen.packet.wording import Wording
from docgen.rendering.page import NO_DATE, Page
from docgen.rendering.tree import Node
from docgen.scene import Scene

if TYPE_CHECKING:
    from docgen.rendering.formats.to_pdf import Chapter, Insert, Laid


def sent_chapters(
    documents: Mapping[str, Node],
    pages: Mapping[str, Page],
    worded: Wording,
    scenes: Mapping[str, Scene],
    laid: Mapping[str, Laid],
    inserts: Mapping[str, Insert],
) -> list[Chapter]:
    """The documents that are sent, some with pages of others in their place."""
    from docgen.rendering.formats.to_pdf import Chapter

    return [
        Chapter(name, worded.documents[name].title, tree, pages[name], scenes, laid[name], inserts.get(name))
        for name, tree in documents.items()
    ]


def paper_chapters(
    papers: Sequence[Paper], listed: Sequence[PaperShown], page: Page, assessed: Assessed, worded: Wording
) -> list[Chapter]:
    """The papers of others, after the documents; none of their pages says that it was reviewed."""
    from docgen.rendering.formats.to_pdf import Chapter, Insert

    case, words = assessed.file.case, worded.words["outside"]
    chapters = []
    for paper, row in zip(papers, listed, strict=True):
        n, title = paper.pdf.n_pages, row["title"]
        described = [words["described"].format(page=at, n=n, title=title) for at in range(1, n + 1)]
        head = words["head"].format(client=case.client.name or case.id, title=title)
        own = replace(page, running_head=head, status=words["status"], letterhead=None, dated_on=row["on"] or NO_DATE)
        chapters.append(
            Chapter(paper.anchor, title, Node("document"), own, {}, None, Insert(paper.pdf.data, described))
        )
    return chapters


def scan_of_letter(scan: SignedScan, worded: Wording) -> Insert:
    """The scan as what stands in the letter's place."""
    from docgen.rendering.formats.to_pdf import Insert

    words, title, n = worded.words["outside"]["signed"], worded.documents[LETTER].title, scan.pdf.n_pages
    described = [words.format(page=at, n=n, title=title, file=f"{LETTER}.pdf") for at in range(1, n + 1)]
    return Insert(scan.pdf.data, described)


def one_file(chapters: Sequence[Chapter], worded: Wording) -> bytes:
    """The documents that are sent, and what is enclosed, in one PDF."""
    from docgen.rendering.formats.to_pdf import render_packet

    first = chapters[0].page
    title = f"{worded.words['packet']}: {first.title.partition(': ')[2]}"
    return render_packet(chapters, replace(first, title=title), back=worded.words["outside"]["back"])
