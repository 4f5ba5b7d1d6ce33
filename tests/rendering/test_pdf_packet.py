"""Several documents in one PDF: outline, pages counted through, and links from one document to the pages of another."""

from __future__ import annotations

import io

import pikepdf
import pypdfium2
import pytest
from msgspec.structs import replace
from tagged import Tagged

from docgen.rendering.formats.to_pdf import Chapter, render, render_packet
from docgen.rendering.labels import Labels
from docgen.rendering.tree import parse

_LINES = "A line of its own.\n\n"


def _chapter(name, markdown, page, **more):
    return Chapter(name, name.capitalize(), parse(markdown), replace(page, running_head=f"Robin, {name}", **more), {})


@pytest.fixture(scope="module")
def chapters(page):
    cover = (
        (
            "# Cover\n\nSee [Letter: Safety](#letter/safety), [the plan](#plan/), [below](#rows), "
            "[nothing](#letter/none).\n\n## Rows\n\n"
        )
        + "| Where |\n|:--|\n"
        + "| [Safety](#letter/safety) |\n" * 60
    )
    letter = (
        f"# Letter\n\n{_LINES * 50}## Safety\n\nIt stops. See [above](#letter/).\n\n### Deep\n\n## Safety\n\nAgain.\n"
    )
    return [
        _chapter("cover", cover, page),
        _chapter("letter", letter, page),
        _chapter("plan", f"# Plan\n\n{_LINES * 70}", page),
    ]


@pytest.fixture(scope="module")
def file(chapters, page):
    return render_packet(chapters, replace(page, title="Packet"))


def _pages(file):
    with pypdfium2.PdfDocument(file) as pdf:
        return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in pdf]


def _outline(file):
    with pypdfium2.PdfDocument(file) as pdf:
        return [(mark.level, mark.get_title(), mark.get_dest().get_index()) for mark in pdf.get_toc()]


def test_the_outline_has_each_document_with_its_headings_below(file):
    pages = _pages(file)
    marks = _outline(file)
    assert [(level, title) for level, title, _ in marks] == [
        (0, "Cover"),
        (1, "Cover"),
        (2, "Rows"),
        (0, "Letter"),
        (1, "Letter"),
        (2, "Safety"),
        (3, "Deep"),
        (2, "Safety"),
        (0, "Plan"),
        (1, "Plan"),
    ]
    assert all(title in pages[at] for _, title, at in marks)


def test_pages_are_counted_through_and_each_document_starts_a_page_with_its_own_head(file):
    pages = _pages(file)
    assert [f"Page {at} of {len(pages)}" in text for at, text in enumerate(pages, 1)] == [True] * len(pages)
    heads = [next(name for name in ("cover", "letter", "plan") if f"Robin, {name}" in text) for text in pages]
    assert heads == sorted(heads) and set(heads) == {"cover", "letter", "plan"} and len(pages) > 5
    with pypdfium2.PdfDocument(file) as pdf:
        assert [pdf.get_page_label(at) for at in range(len(pdf))] == [str(at) for at in range(1, len(pages) + 1)]


def _links(file):
    """Page, words of the annotation, and page it leads to, of each link."""
    with pikepdf.open(io.BytesIO(file)) as pdf:
        numbers = {page.obj.objgen: at for at, page in enumerate(pdf.pages, 1)}
        return [
            (at, str(note.Contents), numbers[note.Dest[0].objgen])
            for at, page in enumerate(pdf.pages, 1)
            for note in page.get("/Annots", [])
            if "/Dest" in note
        ]


def test_a_link_into_another_document_leads_to_the_page_that_it_names(file):
    pages, links = _pages(file), _links(file)
    away = [(says, to) for _, says, to in links if "(page " in says]
    assert len(away) == 62 + 1  # two in the text and sixty rows of the cover, one of the letter to its first page
    for says, to in away:
        assert says.endswith(f"(page {to})")
        assert {"S": "Safety", "L": "Safety", "t": "Plan", "a": "Letter"}[says[0]] in pages[to - 1]
        assert " ".join(says.split()) in " ".join(" ".join(pages).split())


def test_a_link_within_a_document_names_no_page_and_one_that_leads_nowhere_is_plain_words(file):
    says = [words for _, words, _ in _links(file)]
    assert "below" in says and not any(words.startswith("nothing") for words in says)
    assert "[nothing]" not in " ".join(_pages(file)) and "nothing" in " ".join(_pages(file))


def test_alone_a_document_has_no_pages_of_others_and_no_dead_link(chapters, page):
    alone = render(chapters[0].document, page, {})
    assert "(page" not in " ".join(_pages(alone))
    assert [words for _, words, _ in _links(alone)] == ["below"]


def _pushing(n_lines, page):
    """A cover whose lines are nearly full until a page number stands in them, and how many pages it takes alone."""
    link = (
        "[a place whose words nearly fill a line, and then just a little more of it, and no more yet, so it "
        "ends](#letter/safety)"
    )
    chapter = _chapter("cover", _LINES * n_lines + "\n\n".join([link] * 12), page)
    return chapter, len(_pages(render(chapter.document, page, {})))


@pytest.mark.parametrize("n_lines", range(16, 32, 3))
def test_page_numbers_hold_even_where_they_push_the_document_onto_another_page(n_lines, page):
    """The words of a page number lengthen the cover, which moves the pages that it names."""
    cover, _ = _pushing(n_lines, page)
    file = render_packet([cover, _chapter("letter", "# Letter\n\n## Safety\n\nIt stops.", page)], page)
    (place,) = {to for _, _, to in _links(file)}
    text = " ".join(" ".join(_pages(file)).split())
    assert text.count(f"(page {place})") == 12 and text.count("(page ") == 12


def test_some_of_these_covers_are_pushed_onto_another_page(page):
    longer = 0
    for n_lines in range(16, 32, 3):
        cover, alone = _pushing(n_lines, page)
        file = render_packet([cover, _chapter("letter", "# Letter\n\n## Safety\n\nIt stops.", page)], page)
        longer += len(_pages(file)) - 1 > alone
    assert longer > 0


def test_it_is_tagged_as_the_single_documents_are(file, chapters):
    tagged = Tagged(file)
    assert [(part.tag, str(part.entries.T)) for part in tagged.root.parts()] == [
        ("Part", "Cover"),
        ("Part", "Letter"),
        ("Part", "Plan"),
    ]
    for part, chapter in zip(tagged.root.parts(), chapters, strict=True):
        alone = Tagged(render(chapter.document, chapter.page, {}))
        assert [p.tag for p in part.walk() if p.tag not in ("Part", "Link")] == [
            p.tag for p in alone.root.walk() if p.tag not in ("Document", "Link")
        ]


def test_another_reader_finds_no_fault_in_the_file(file):
    with pikepdf.open(io.BytesIO(file)) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert str(pdf.docinfo.Title) == "Packet" and str(pdf.Root.Lang) == "en-US"


def test_the_same_documents_give_the_same_bytes(file, chapters, page):
    assert render_packet(chapters, replace(page, title="Packet")) == file


def test_the_word_before_a_page_is_the_languages(chapters, page):
    assert "(seite " in " ".join(_pages(render_packet(chapters, page, labels=Labels(page="Seite"))))


def test_a_heading_in_a_box_or_a_list_can_be_led_to(page):
    letter = "# Letter\n\n> [!NOTE]\n> ## Boxed\n> words\n\n- ### Listed\n"
    cover = "[a](#letter/boxed) and [b](#letter/listed)"
    file = render_packet([_chapter("cover", cover, page), _chapter("letter", letter, page)], page)
    assert [(says, to) for _, says, to in _links(file)] == [("a (page 2)", 2), ("b (page 2)", 2)]
