"""The structure of every PDF, read back and held against the tree the document was made from."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache

import pikepdf
import pytest
from gathered import of_each
from heard import heard
from rendering.tagged import Part as TaggedPart
from rendering.tagged import Tagged
from written import GROUPS, Written, pdfs

from docgen.rendering.labels import ENGLISH
from docgen.rendering.tree import Node
from docgen.scene import Scene

_NUMBER = re.compile(r"(Figure|Table) \d+\. ")
_PAGE = re.compile(r" \((?:[a-z]+ )?pages? \d+(?:-\d+)?\)")
Told = tuple[str, str]
"""A structure type, and the words or the description it gives."""


def _told(document: Written) -> Iterator[Told]:
    """What a document must tell whoever does not see it, in reading order."""
    for part in document.parts:
        if part.title:
            yield "Part", part.title
        if part.letterhead:
            if part.letterhead.logo:
                yield "Figure", part.letterhead.logo.alt
            yield from (("P", part.letterhead.name), ("P", part.letterhead.contact))
        yield from _blocks(part.tree.children, {name: alts_of(scene) for name, scene in part.scenes.items()})


def alts_of(scene: Scene) -> list[str]:
    """The words of a drawing: those of each panel, which is an element of its own."""
    return [panel.alt for panel in scene.panels] or [scene.alt]


def _blocks(nodes: list[Node], alts: dict[str, list[str]]) -> Iterator[Told]:
    for node in nodes:
        match node.kind:
            case "heading":
                yield f"H{node.level}", node.plain()
            case "paragraph":
                yield "P", node.plain()
            case "list":
                for at, item in enumerate(node.children, start=node.start):
                    bullet = f"{at}." if node.ordered else "\u2022"
                    box = "\u2611" if item.checked else "\u2610"
                    yield "Lbl", bullet if item.checked is None else box
                    yield from _blocks(item.children, alts)
            case "table":
                yield from [("Caption", node.caption)] if node.caption else []
                for row in node.children:
                    yield from (("TH" if row.header else "TD", cell.plain()) for cell in row.children)
            case "callout":
                yield "Sect", getattr(ENGLISH, node.tone)
                yield from _blocks(node.children, alts)
            case "figure" if node.name in alts:
                yield from (("Figure", alt) for alt in alts[node.name])
                yield from [("Caption", node.plain())] if node.children else []
            case "signature":
                yield from (("P", node.plain()), ("P", ENGLISH.date))


def _plain(told: Iterator[Told]) -> list[Told]:
    """White space is one space; running numbers of captions, and pages that links name, are left out."""
    spaced = ((tag, _PAGE.sub("", " ".join(words.split()))) for tag, words in told)
    return [(tag, _NUMBER.sub("", words, count=1) if tag == "Caption" else words) for tag, words in spaced]


def _marks(told: list[Told]) -> list[Told]:
    """What a reader steers by: headings, table headers, descriptions of drawings."""
    return [(tag, words) for tag, words in told if re.fullmatch("H[1-6]|TH|Figure", tag)]


@cache
def _read(file: bytes) -> Tagged:
    return Tagged(file)


@pytest.mark.parametrize("group", GROUPS)
def test_a_browsers_reader_hears_each_heading_table_header_and_description_in_order(group):
    for name, document in pdfs(group).items():
        expected = _marks(_plain(_told(document)))
        elements = heard(document.file)
        found = _plain((one.tag, one.alt if one.tag == "Figure" else one.words) for one in elements)
        assert _marks(found) == expected, name
        assert {one.scope for one in elements if one.tag == "TH"} <= {"Column"}, name
        assert expected, name


@pytest.mark.parametrize("group", GROUPS)
def test_the_whole_document_stands_in_its_structure_in_order(group):
    for name, document in pdfs(group).items():
        tagged = _read(document.file)
        found = [told for part in tagged.root.walk() for told in _as_told(part)]
        back = [told for told in found if _leads_back(told)]
        # where each leads is held by tests/packet/test_send.py and test_beside.py
        assert bool(back) is (name in ("packet.pdf", "letter.pdf", "order.pdf")), name
        assert _plain(told for told in found if not _leads_back(told)) == _plain(_told(document)), name


def _leads_back(told: Told) -> bool:
    """Whether it is the foot of a page that answers a question of the cover."""
    back = r"What begins here answers the cover: page \d+(, page \d+)*"
    return told[0] == "P" and re.fullmatch(back, told[1]) is not None


def _as_told(part: TaggedPart) -> list[Told]:
    entry = {"Figure": "/Alt", "Sect": "/T", "Part": "/T"}.get(part.tag)
    if part.tag == "Lbl" and "/ActualText" in part.entries:
        entry = "/ActualText"
    if entry:
        return [(part.tag, str(part.entries[entry]))]
    return [(part.tag, part.text())] if re.fullmatch("H[1-6]|P|Lbl|TH|TD|Caption", part.tag) else []


@of_each("group", GROUPS)
def test_only_lines_and_what_pages_repeat_stand_outside_the_structure(group):
    for document in pdfs(group).values():
        tagged = _read(document.file)
        heads = {" ".join(part.text().split()) for part in tagged.root.all("TH")}
        for mark in (mark for marks in tagged.marks for mark in marks if mark.tag == "Artifact" and mark.text):
            assert mark.properties["/Type"] == "/Pagination"
            assert "/Subtype" in mark.properties or " ".join(mark.text.split()) in heads


@of_each("group", GROUPS)
def test_each_file_says_its_language_its_title_and_that_tabs_follow_the_structure(group):
    for document in pdfs(group).values():
        with pikepdf.open(io.BytesIO(document.file)) as pdf:
            assert str(pdf.Root.Lang) == "en-US"
            assert str(pdf.docinfo.Title) and bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
            assert str(pdf.docinfo.Title) == pdf.open_metadata()["dc:title"]
            assert {str(page.Tabs) for page in pdf.pages} == {"/S"}


@of_each("name", ["split.pdf", "split large.pdf"])
@of_each("tag", ["P", "L", "Sect", "Table", "TD"])
def test_what_is_split_over_pages_stays_one_element(tag, name):
    document = pdfs("made to be hard")[name]
    parts = _read(document.file).root.all(tag)
    assert any(len(part.pages()) > 1 for part in parts)
    kind = {"P": "paragraph", "L": "list", "Sect": "callout", "Table": "table"}.get(tag)
    if kind:
        n_signing = 2 if tag == "P" else 0  # a signature is two texts
        assert len(parts) == len(document.nodes(kind)) + n_signing
