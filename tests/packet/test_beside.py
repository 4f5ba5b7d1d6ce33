"""PDF files beside one another: links of the cover open the file and page that they name, and these lead back."""

from __future__ import annotations

import io
import re

import pikepdf
import pytest
from support import DEMO_FOLDERS, assess, pages_of

from docgen.packet.render import render

ONE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")


@pytest.fixture(scope="module")
def files():
    return render(assess(ONE), ["pdf"], ["cover", "letter", "order"])


def ways(data: bytes) -> list[tuple[int, str, str, int]]:
    """Of each link into another file: its page, its words, the file and the page it opens, counted from 1.

    Source: ISO 32000-1:2008, 12.6.4.3 (remote go-to actions; pages are counted from 0).
    """
    with pikepdf.open(io.BytesIO(data)) as opened:
        assert opened.check_pdf_syntax() == []
        return [
            (at, str(note.Contents), str(note.A.F), int(note.A.D[0]) + 1)
            for at, page in enumerate(opened.pages, 1)
            for note in page.get("/Annots", [])
            if note.get("/A", {}).get("/S") == "/GoToR"
        ]


def joined(page: str) -> str:
    return " ".join(page.split())


def test_links_of_the_cover_open_the_page_of_the_file_that_they_name(files):
    cover = ways(files["cover.pdf"])
    assert {file for *_, file, _ in cover} == {"letter.pdf", "order.pdf"} and len(cover) > 20
    for at, says, file, page in cover:
        told = re.search(rf"\({file.removesuffix('.pdf')} pages? ({page})(?:-(\d+))?\)$", says)
        assert told and (told[2] is None or page < int(told[2]) <= len(pages_of(files[file])))
        assert joined(says) in joined(pages_of(files["cover.pdf"])[at - 1])
        heading = says.rpartition(" (")[0].partition(": ")[2]
        assert heading in joined(pages_of(files[file])[page - 1])


@pytest.mark.parametrize("file", ["letter.pdf", "order.pdf"])
def test_what_the_cover_leads_to_leads_back_to_it_and_no_other_page_does(file, files):
    to_file = {(at, page) for at, _, name, page in ways(files["cover.pdf"]) if name == file}
    back = ways(files[file])
    assert {(page, at) for at, _, _, page in back} == to_file and {name for _, _, name, _ in back} == {"cover.pdf"}
    for at, says, _, page in back:
        assert says == f"What begins here answers the cover: page {page}"
        assert "What begins here answers the cover: page" in joined(pages_of(files[file])[at - 1])


def test_a_section_that_goes_on_over_the_page_is_told_with_the_page_where_it_ends(files):
    """The letter's justification of the items begins low on page 3; its training plan, on page 4, ends it."""
    said = {says for _, says, *_ in ways(files["cover.pdf"])}
    letter = [joined(page) for page in pages_of(files["letter.pdf"])]
    items, training = "Recommended Equipment and Justification of Each Item", "Training and Follow-Up Plan"
    begins, ends = (next(n for n, page in enumerate(letter, 1) if words in page) for words in (items, training))
    assert begins < ends
    assert any(words.endswith(f"{items} (letter pages {begins}-{ends})") for words in said)
    assert any(words.endswith(f"{training} (letter page {ends})") for words in said)


def test_a_document_made_without_the_others_leads_into_no_file():
    alone = render(assess(ONE), ["pdf"], ["cover"])["cover.pdf"]
    assert (
        ways(alone) == [] and "(page" not in joined("".join(pages_of(alone))) and ".pdf" not in "".join(pages_of(alone))
    )


def test_the_packet_leads_into_no_file_beside_it():
    assert ways(render(assess(ONE), ["pdf"])["packet.pdf"]) == []
