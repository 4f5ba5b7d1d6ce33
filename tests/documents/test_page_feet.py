"""Pages of what is sent: how many there are, and that none ends with what belongs above what follows."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from unittest.mock import patch

import pytest
from made import BOHDAN, ILMARI
from support import ASSESSED, DEMO_FOLDERS

from docgen.packet.render import render
from docgen.rendering.formats import to_pdf
from docgen.rendering.pdf.blocks import Stack, TextBlock
from docgen.rendering.pdf.table import Table

SENT = ("cover", "letter", "order")
MOST_PAGES = {"order": 5, "letter": 4}

each_demo = pytest.mark.parametrize("name", [folder.name for folder in DEMO_FOLDERS])
each_paper = pytest.mark.parametrize("paper", SENT)


@cache
def laid(name: str) -> Mapping[str, list[Stack]]:
    """Paper -> its pages as they are laid out in its own PDF."""
    pages: dict[str, list[Stack]] = {}
    write = to_pdf.written

    def recorded(laid: to_pdf.Laid, *others) -> to_pdf.Written:
        paper = next(paper for paper in SENT if paper not in pages)  # written in this order
        pages[paper] = list(laid.pages)
        return write(laid, *others)

    with patch.object(to_pdf, "written", recorded):
        render(ASSESSED[name], ["pdf"], SENT)
    return pages


@each_demo
@each_paper
def test_no_page_ends_with_a_heading_a_caption_or_the_head_of_a_table(name, paper):
    pages = laid(name)[paper]
    assert len(pages) > 1
    for page in pages:
        last = page.blocks[-1]
        assert not last.keep, last  # a heading, a caption or words that lead in
        assert not (isinstance(last, TextBlock) and last.heading)
        assert all(block.body for block in page.blocks if isinstance(block, Table))


def _begins_the_sheet(page: Stack) -> bool:
    """Whether a page begins with the sheet of what a draft still lacks, which is no part of the paper before it."""
    first = page.blocks[0]
    return isinstance(first, TextBlock) and "".join(piece.text for piece in first.lines[0]) == "Still missing"


@each_demo
@pytest.mark.parametrize("paper", MOST_PAGES)
def test_a_paper_is_no_longer_than_it_may_be(name, paper):
    pages = laid(name)[paper]
    before_the_sheet = next((at for at, page in enumerate(pages) if _begins_the_sheet(page)), len(pages))
    assert before_the_sheet <= MOST_PAGES[paper]


@pytest.mark.parametrize("paper", ["cover", "letter"])
def test_what_a_draft_still_lacks_stands_on_one_page_of_its_own(paper):
    of_a_draft, of_a_whole = ([_begins_the_sheet(page) for page in laid(name)[paper]] for name in (BOHDAN, ILMARI))
    assert of_a_draft[-1] and sum(of_a_draft) == 1
    assert not any(of_a_whole)
