"""PDF/UA-1, held by two checkers that share nothing with each other or with the writer of the file.

`page` reads the file with a parser of its own and answers every machine-checkable requirement of PDF/UA-1.
`outloud` reads it with QPDF and MuPDF; beside the requirements it looks for what a conforming file may
still get wrong, such as words on a page that no element holds.
Neither can say whether a heading, an order or a description is a good one: that takes a person.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

import outloud
import page
import pikepdf
import pytest
from outloud.rules.tagging import furniture_keys, line_key
from support import ASSESSED
from written import GROUPS, OF_DEMOS, Written, pdfs

from docgen.figures.draw import figures
from docgen.packet.trees import trees
from docgen.rendering.tree import Node


def _first_checker(file: bytes) -> list[str]:
    report = page.validate_pdf_bytes(file, profile="ua1")
    assert report.rules.total > 100
    assert report.is_compliant == (not report.failures)
    return [f"{failure.rule_id}: {failure.message}" for failure in report.failures]


def _second_checker(file: bytes, folder: Path) -> list[outloud.findings.Finding]:
    path = folder / "document.pdf"
    path.write_bytes(file)
    result = outloud.check(path)
    assert result.error is None
    assert not [run.rule for run in result.runs if run.status == "crashed"]
    assert sum(run.outcome == "pass" for run in result.runs) > 30
    return result.sorted_findings()


def _explained(finding: outloud.findings.Finding, document: Written, file: Path) -> bool:
    """Whether a finding beyond the standard is meant to be so, by what the file was made from.

    A sheet to be filled in by hand is a table of empty cells; the head of a table shown again on a later page and
    the head and status at the edge of a page are no content, since their words are heard once, where table and
    document begin. A paragraph that begins with a link has words of its own behind it, which the checker takes first;
    what counts is that each page is painted in the order of the tree.
    """
    if finding.rule == "ORD-001":
        return all(order == sorted(order) for order in _orders_of_marks(file).values())
    if finding.rule == "TBL-014":  # boxes to mark by hand are one drawing, whose alt text says what they hold
        drawn = [getattr(figures()[node.attrs["name"]], "WORDS", {}) for node in document.nodes("figure")]
        words = " ".join(text for words in drawn for text in words.values() if "table to fill in" in str(words))
        lines = re.findall(r"[A-Za-z]{2,}", str(finding.evidence))
        return bool(lines) and all(word in words for word in lines)
    if finding.rule == "TBL-012":
        return any(_is_to_be_filled_in(table) for table in document.nodes("table"))
    if finding.rule == "TAG-002":
        heads = [
            set(" ".join(cell.plain() for cell in row.children).split()) for row in document.nodes("row") if row.header
        ]
        lines = [line for line in _not_heard(file, finding.page) if len(line.split()) >= 8]  # prose, to the checker
        running = [line for line in lines if any(line.startswith(part.edge) for part in document.parts)]
        again = [line for line in lines if any(set(line.split()) <= head for head in heads)]
        return finding.count <= len({*again, *running}) and {*lines} == {*again, *running}
    return False


def _not_explained(document: Written, file: bytes, folder: Path) -> list[outloud.findings.Finding]:
    """What the second checker finds in a file of this document and is not meant to be so."""
    found = _second_checker(file, folder)
    return [finding for finding in found if not _explained(finding, document, folder / "document.pdf")]


def _not_heard(file: Path, page_number: int) -> list[str]:
    """Lines of a page that no reader hears and that do not stand on other pages too, as the checker has them."""
    document = outloud.model.Document(str(file))
    furniture = furniture_keys(document)
    lines = document.content(page_number - 1).lines
    heard_nowhere = [line.text for line in lines if line.artifact_share > 0.5 and line_key(line.text) not in furniture]
    document.close()
    return heard_nowhere


def _orders_of_marks(file: Path) -> dict[int, list[int]]:
    """Page -> the numbers of its marked content, which count in painting order, as the tree of the file has them."""
    orders: dict[int, list[int]] = {}
    with pikepdf.open(file) as pdf:
        pages = {page.objgen: at for at, page in enumerate(pdf.pages)}

        def visit(kid: pikepdf.Object | int, page: pikepdf.Object | None) -> None:
            if isinstance(kid, int):
                assert page is not None
                orders.setdefault(pages[page.objgen], []).append(int(kid))
            elif isinstance(kid, pikepdf.Array):
                for each in kid:
                    visit(each, page)
            elif "/MCID" in kid:
                visit(int(kid.MCID), kid.get("/Pg", page))
            elif "/K" in kid:
                visit(kid.K, kid.get("/Pg", page))

        visit(pdf.Root.StructTreeRoot, None)
    return orders


def _is_to_be_filled_in(table: Node) -> bool:
    cells = [cell for row in table.children if not row.header for cell in row.children]
    return sum(not cell.plain() for cell in cells) > len(cells) / 2


def test_the_demos_looked_at_have_every_document_and_figure_that_any_demo_has():
    has = {}
    for name, one in ASSESSED.items():
        documents = trees(one)
        drawn = {(doc, node.name) for doc, tree in documents.items() for node in tree.walk() if node.kind == "figure"}
        has[name] = {*documents, *drawn}
    assert set().union(*(has[name] for name in OF_DEMOS)) == set().union(*has.values())


@pytest.mark.parametrize("group", GROUPS)
def test_the_first_checker_finds_no_breach(group):
    found = {name: _first_checker(one.file) for name, one in pdfs(group).items()}
    assert found and found == dict.fromkeys(found, [])


@pytest.mark.parametrize("group", GROUPS)
def test_the_second_checker_finds_no_breach_and_nothing_else_that_is_not_meant(group, tmp_path):
    for name, one in pdfs(group).items():
        found = _not_explained(one, one.file, tmp_path)
        assert [(name, finding.rule, finding.message, finding.evidence) for finding in found] == []


def _spoiled(file: bytes, spoil: Callable[[pikepdf.Pdf], None]) -> bytes:
    changed = io.BytesIO()
    with pikepdf.open(io.BytesIO(file)) as pdf:
        spoil(pdf)
        pdf.save(changed, static_id=True)
    return changed.getvalue()


def _elements(pdf: pikepdf.Pdf, tag: str) -> list[pikepdf.Dictionary]:
    return [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/S") == tag]


def _no_alt(pdf: pikepdf.Pdf) -> None:
    del _elements(pdf, "/Figure")[0]["/Alt"]


def _skipped_level(pdf: pikepdf.Pdf) -> None:
    _elements(pdf, "/H2")[0]["/S"] = pikepdf.Name.H4


def _no_scope(pdf: pikepdf.Pdf) -> None:
    for head in _elements(pdf, "/TH"):
        del head["/A"]


def _no_language(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/Lang"]


def _no_title(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.ViewerPreferences["/DisplayDocTitle"]


def _no_tabs(pdf: pikepdf.Pdf) -> None:
    for each in pdf.pages:
        del each["/Tabs"]


def _untagged(pdf: pikepdf.Pdf) -> None:
    pdf.Root.MarkInfo["/Marked"] = False


def _loose_words(pdf: pikepdf.Pdf) -> None:
    shown = pikepdf.parse_content_stream(pdf.pages[0])
    first = next(at for at, (_, operator) in enumerate(shown) if str(operator) == "BDC")
    end = next(at for at, (_, operator) in enumerate(shown) if str(operator) == "EMC")
    kept = [one for at, one in enumerate(shown) if at not in (first, end)]
    pdf.pages[0].Contents = pdf.make_stream(pikepdf.unparse_content_stream(kept))


def _no_link_words(pdf: pikepdf.Pdf) -> None:
    area = next(area for each in pdf.pages for area in each.get("/Annots", []))
    del area["/Contents"]


FAULTS = [
    _no_alt,
    _skipped_level,
    _no_scope,
    _no_language,
    _no_title,
    _no_tabs,
    _untagged,
    _loose_words,
    _no_link_words,
]


def _prose_as_decoration(pdf: pikepdf.Pdf) -> None:
    """Mark the words of the last table's last rows as decoration: beside its head shown again, prose that is lost."""
    shown = list(pikepdf.parse_content_stream(pdf.pages[-1]))
    for at, (operands, operator) in enumerate(shown):
        if str(operator) == "BDC" and operands[0] != "/Artifact":
            shown[at] = pikepdf.ContentStreamInstruction([pikepdf.Name.Artifact, operands[1]], operator)
    pdf.pages[-1].Contents = pdf.make_stream(pikepdf.unparse_content_stream(shown))


def test_a_head_shown_again_is_explained_and_prose_lost_beside_it_is_not(tmp_path):
    document = pdfs("made to be hard")["split.pdf"]
    spoiled = _spoiled(document.file, _prose_as_decoration)
    assert [finding.count for finding in _second_checker(document.file, tmp_path) if finding.rule == "TAG-002"] == [2]
    assert not _not_explained(document, document.file, tmp_path)
    assert "TAG-002" in {finding.rule for finding in _not_explained(document, spoiled, tmp_path)}


def _running_lines_as_content(pdf: pikepdf.Pdf) -> None:
    """Mark what runs along the edge of each page as words of its first element."""
    for each in pdf.pages:
        shown = list(pikepdf.parse_content_stream(each))
        for at, (operands, operator) in enumerate(shown):
            if str(operator) in ("BDC", "BMC") and operands[0] == "/Artifact":
                first = [pikepdf.Name.P, pikepdf.Dictionary(MCID=0)]
                shown[at] = pikepdf.ContentStreamInstruction(first, pikepdf.Operator("BDC"))
        each.Contents = pdf.make_stream(pikepdf.unparse_content_stream(shown))


def test_a_tree_in_another_order_than_the_page_is_not_explained(tmp_path):
    document = pdfs("made to be hard")["split.pdf"]
    path = tmp_path / "document.pdf"
    for file, in_order in ((document.file, True), (_spoiled(document.file, _tree_turned_round), False)):
        path.write_bytes(file)
        assert all(order == sorted(order) for order in _orders_of_marks(path).values()) is in_order


def _tree_turned_round(pdf):
    """The blocks of the document in the tree from last to first."""
    blocks = pdf.Root.StructTreeRoot.K
    root = blocks[0] if isinstance(blocks, pikepdf.Array) else blocks
    root.K = pikepdf.Array(list(root.K)[::-1])


def test_a_running_line_heard_on_each_page_is_not_explained(tmp_path):
    document = pdfs(OF_DEMOS[0])["plan.pdf"]
    spoiled = _spoiled(document.file, _running_lines_as_content)
    assert "PAG-001" not in {finding.rule for finding in _not_explained(document, document.file, tmp_path)}
    assert "PAG-001" in {finding.rule for finding in _not_explained(document, spoiled, tmp_path)}


@pytest.mark.parametrize("spoil", FAULTS, ids=lambda spoil: spoil.__name__[1:])
def test_both_checkers_find_a_fault_put_in_on_purpose(spoil, tmp_path):
    file = _spoiled(pdfs("made to be hard")["every kind.pdf"].file, spoil)
    assert _first_checker(file)
    assert [one for one in _second_checker(file, tmp_path) if one.severity == "error"]


def test_putting_nothing_in_leaves_nothing_to_find(tmp_path):
    file = _spoiled(pdfs("made to be hard")["every kind.pdf"].file, lambda pdf: None)
    assert _first_checker(file) == []
    assert _second_checker(file, tmp_path) == []
