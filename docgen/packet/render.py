"""An assessed case -> the bytes of every document in every format."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.key import mark_of
from docgen.case.model import Case
from docgen.case.who import ORDINALS
from docgen.criteria.run import points
from docgen.documents.document import Document, called_for, dated_on
from docgen.errors import Problem, UserError
from docgen.figures.draw import drawings
from docgen.packet.approval import LETTER, Review, digest, printed_day
from docgen.packet.assess import Assessed, for_later_payers
from docgen.packet.chapters import one_file, paper_chapters, scan_of_letter, sent_chapters
from docgen.packet.data_files import LINES, beside_plan, files_beside_order
from docgen.packet.dial import jumps_of, with_dialling
from docgen.packet.digests import enclosed_files, marked_file, name_digests
from docgen.packet.papers import OPTION, Paper, PaperShown, papers_shown
from docgen.packet.photos import scenes_of
from docgen.packet.recipe import EVERY_FILE, Selection
from docgen.packet.signed import SignedScan
from docgen.packet.teaching import marked
from docgen.packet.telling import tell
from docgen.packet.trees import placed, tables, trees_of
from docgen.packet.wording import ENGLISH_TAG, Wording, in_locale, wording
from docgen.rendering.formats import draw_ahead, format_names, format_of, is_fixed_size
from docgen.rendering.letterhead import Letterhead
from docgen.rendering.page import NO_DATE, Page
from docgen.rendering.seal import sealed
from docgen.rendering.style import LARGE, STYLES, Style
from docgen.rendering.tree import Node, outline
from docgen.scene import Scene, Text

if TYPE_CHECKING:
    from docgen.packet.beside import Beside
    from docgen.rendering.formats.to_pdf import Laid
    from docgen.rendering.pdf.structure import There

FORMATS = format_names()
PACKET = "packet.pdf"
COVER = "cover"  # once more for each payer that is asked later


class Rendered(Struct, frozen=True):
    """The files of a packet by name.

    letter_words  digest of what the letter says, to which a signed scan of it is tied; empty when it is not made
    signed        whether a scan of the signed letter stands in its place in packet.pdf
    refused       why it does not, where one was given
    """

    files: dict[str, bytes]
    letter_words: str = ""
    signed: bool = False
    refused: str = ""


def render(
    assessed: Assessed,
    formats: Iterable[str] = FORMATS,
    only: Iterable[str] = (),
    worded: Wording | None = None,
    review: Review | None = None,
    letterhead: Letterhead | None = None,
    enclose: Iterable[str] = (),
    papers: Sequence[Paper] = (),
) -> dict[str, bytes]:
    """File name -> bytes of the files of a `Selection`, without a signed letter; the rest as of `rendered`."""
    selection = Selection(tuple(formats), tuple(only), tuple(enclose), tuple(papers))
    return rendered(assessed, selection, worded, review, letterhead).files


def rendered(
    assessed: Assessed,
    selection: Selection = EVERY_FILE,
    worded: Wording | None = None,
    review: Review | None = None,
    letterhead: Letterhead | None = None,
    signed: SignedScan | None = None,
) -> Rendered:
    """The files of a packet but those of other languages. The same case, papers and scan give the same bytes.

    review      who reviewed this content, and whether that still stands; None when nobody has
    letterhead  what stands above the first page of each document; None for none
    signed      a scan that stands in the place of the letter in packet.pdf, if it is of this letter
    """
    worded = in_locale(worded or wording(), assessed.payer.locale)
    formats, only, papers = selection.formats, selection.only, selection.papers
    sent = {*selection.enclose, *worded.sent}
    _refuse_missing(sent - called_for(worded.documents, assessed.file.case).keys())
    _refuse_without_packet(papers, formats, only, sent)
    # a document that lists the others with their digests can only be finished after them, and cannot list itself
    listing = [name for name, document in worded.documents.items() if "enclosed" in document.shows]
    to_list = sent.difference(listing).intersection(only or sent)
    enclosed = enclosed_files([name for name in worded.documents if name in to_list], worded, formats)
    laid_out = tables(assessed, worded, sent)
    status = status_words(assessed, worded, review)
    beside_order = files_beside_order(assessed, worded, laid_out, status, review, only)
    if enclosed and LINES in beside_order:
        enclosed = (*enclosed, marked_file(worded.words["lines_file"]["title"], LINES))
    listed = papers_shown(papers, assessed.file.case, worded.words)
    trees = trees_of(assessed, only, worded, laid_out | {"enclosed": enclosed, "papers": listed})
    scenes = _drawings(assessed, trees, worded)
    pages = _pages(assessed, worded, trees, status, letterhead, review)
    shown = scenes_of(trees, scenes, assessed, worded)
    trees = {name: _finished(tree, shown[name], assessed, worded, name) for name, tree in trees.items()}
    beside = _beside(trees, sent, pages, shown, worded) if "pdf" in formats else None
    files = _in_order(worded, trees, pages, shown, selection, enclosed, listing, beside, beside_order)
    if COVER in trees:
        files |= _later_covers(assessed, worded, selection, sent, listed, review, letterhead)
    if "plan" in trees:
        files |= beside_plan(assessed, worded)
    letter_words = digest(outline(trees[LETTER])) if LETTER in trees else ""
    if beside is None or not trees.keys() >= sent:
        return Rendered(files, letter_words)
    refused = signed.refused_for(letter_words, len(beside.laid[LETTER].pages)) if signed else ""
    scan = signed if not refused else None
    chapters = sent_chapters(
        _only(trees, sent),
        pages,
        worded,
        scenes,
        beside.laid,
        {LETTER: scan_of_letter(scan, worded)} if scan else {},
    )
    chapters += paper_chapters(papers, listed, chapters[0].page, assessed, worded)
    files[PACKET] = sealed(PACKET, one_file(chapters, worded), mark_of(assessed.file.key))
    return Rendered(files, letter_words, scan is not None, refused)


def _in_order(
    worded: Wording,
    trees: dict[str, Node],
    pages: Mapping[str, Page],
    shown: Mapping[str, Mapping[str, Scene]],
    selection: Selection,
    enclosed: Sequence[Mapping[str, str]],
    listing: Collection[str],
    beside: Beside | None,
    beside_order: Mapping[str, bytes],
) -> dict[str, bytes]:
    """Every document in every format, with the files beside the order: those that list others with their digests after
    these."""
    files = dict(beside_order)
    of_packet = {id(scene): scene for scenes in shown.values() for scene in scenes.values()}
    for suffix in selection.formats:
        draw_ahead(suffix, of_packet.values())
    for name in sorted(trees, key=lambda name: (name in listing, beside is None or name not in beside.leading)):
        if name in listing:
            name_digests(trees[name], enclosed, files)
            if beside:
                beside.again(name)
        files |= _files(
            worded, name, trees[name], pages[name], shown[name], selection.formats, selection.large_print, beside
        )
        tell(name)
    return files


def _later_covers(
    assessed: Assessed,
    worded: Wording,
    selection: Selection,
    sent: Collection[str],
    papers: Sequence[PaperShown],
    review: Review | None,
    letterhead: Letterhead | None,
) -> dict[str, bytes]:
    """A cover for each payer that is asked after the first, with the questions of its own rules: cover_second.pdf."""
    files: dict[str, bytes] = {}
    for order, later in zip(ORDINALS, for_later_payers(assessed), strict=False):
        shown = tables(later, worded, sent) | {"papers": papers}
        tree = trees_of(later, (COVER,), worded, shown)[COVER]
        scenes, status = _drawings(later, {COVER: tree}, worded), status_words(later, worded, review)
        page = replace(_page(later, worded, COVER, status, review), letterhead=letterhead)
        tree = _finished(tree, scenes, later, worded, COVER)
        of_it = _files(worded, COVER, tree, page, scenes, selection.formats, selection.large_print)
        files |= {name.replace(COVER, f"{COVER}_{order}", 1): data for name, data in of_it.items()}
    return files


def _refuse_missing(enclosed: Collection[str]) -> None:
    """Raise UserError where a document is to be enclosed that the case does not make."""
    if enclosed:
        raise UserError([Problem(OPTION, f"this case makes no {name}", "Leave it out.") for name in sorted(enclosed)])


def _refuse_without_packet(
    papers: Sequence[Paper], formats: Collection[str], only: Collection[str], sent: Collection[str]
) -> None:
    """Raise UserError where papers are to go into packet.pdf, which is not made without PDF or all that is sent."""
    is_made = "pdf" in formats and (not only or set(sent) <= set(only))
    if papers and not is_made:
        what = "is put into packet.pdf, which this build does not make"
        do = f"Build with pdf among the formats, and with {', '.join(sorted(sent))} among the documents."
        raise UserError([Problem(f"{OPTION} {paper.file}", what, do) for paper in papers])


def render_alone(
    assessed: Assessed,
    documents: Mapping[str, Node],
    worded: Wording,
    formats: Iterable[str] = FORMATS,
    letterhead: Letterhead | None = None,
    large_print: bool = True,
    review: Review | None = None,
) -> dict[str, bytes]:
    """File name -> bytes of documents that make no packet, such as a translation of some of it.

    review  of the packet that they are a translation of
    """
    worded = in_locale(worded, assessed.payer.locale)
    scenes, formats = _drawings(assessed, documents, worded), tuple(formats)
    status = status_words(assessed, worded, review)
    shown = scenes_of(documents, scenes, assessed, worded)
    files: dict[str, bytes] = {}
    pages = _pages(assessed, worded, documents, status, letterhead, review)
    for name, tree in documents.items():
        finished = _finished(tree, shown[name], assessed, worded, name)
        files |= _files(worded, name, finished, pages[name], shown[name], formats, large_print)
        tell(name)
    return files


def page_words(assessed: Assessed, documents: Mapping[str, Node], worded: Wording) -> str:
    """All that the pages of these documents say, drawings included: the words in them and those for who hears them."""
    worded = in_locale(worded, assessed.payer.locale)
    scenes = _drawings(assessed, documents, worded).values()
    drawn = (shape.text for scene in scenes for shape in scene.shapes if isinstance(shape, Text))
    return " ".join([*(tree.plain() for tree in documents.values()), *(scene.alt for scene in scenes), *drawn])


def _drawings(assessed: Assessed, documents: Iterable[str], worded: Wording) -> dict[str, Scene]:
    return drawings(
        assessed.file.case,
        assessed.evidence,
        worded.words["figures"],
        [figure for name in documents for figure in (*worded.documents[name].figures, *placed(worded, name))],
    )


def _finished(tree: Node, scenes: Mapping[str, Scene], assessed: Assessed, worded: Wording, name: str) -> Node:
    """The document as it is printed: without figures that there are no facts for, and marked if it is of a copy; its
    numbers dial where it is for daily use."""
    finished = marked(_without_missing(tree, scenes), assessed, worded, name)
    return with_dialling(finished, assessed.file.case) if worded.documents[name].plain else finished


def _beside(
    trees: Mapping[str, Node],
    sent: Collection[str],
    pages: Mapping[str, Page],
    shown: Mapping[str, Mapping[str, Scene]],
    worded: Wording,
) -> Beside:
    """The PDF files of these documents, of which those that are sent lead to each other."""
    from docgen.packet.beside import Beside
    from docgen.rendering.formats.to_pdf import laid_out

    def lay_out(name: str, elsewhere: Mapping[str, There]) -> Laid:
        style = _style(worded, name)
        return laid_out(trees[name], pages[name], shown[name], style, labels=worded.labels, elsewhere=elsewhere)

    return Beside(_only(trees, sent), lay_out, worded.words["outside"]["back"])


def _only(trees: Mapping[str, Node], names: Collection[str]) -> dict[str, Node]:
    """The documents of these names, in their own order."""
    return {name: tree for name, tree in trees.items() if name in names}


def _style(worded: Wording, name: str) -> Style:
    return STYLES[worded.documents[name].style]


def _files(
    worded: Wording,
    name: str,
    tree: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    formats: Iterable[str],
    large_print: bool,
    beside: Beside | None = None,
) -> dict[str, bytes]:
    """One document in each format, and in large letters where it is printed so; a language but English stands in the
    name.

    beside  writes its PDF with links to the files beside it; None for one that has none
    """
    tag = "" if worded.lang == ENGLISH_TAG else f".{worded.lang}"
    style = _style(worded, name)
    files: dict[str, bytes] = {}
    for suffix in formats:
        module = format_of(suffix)
        if suffix == "pdf" and beside:
            files[f"{name}{tag}.pdf"] = beside.written(name)
        else:
            files[f"{name}{tag}.{suffix}"] = module.render(tree, page, scenes, style, labels=worded.labels)
        if large_print and worded.documents[name].large_print and is_fixed_size(suffix):
            files[f"{name}_large{tag}.{suffix}"] = module.render(tree, page, scenes, LARGE, labels=worded.labels)
    return {file: sealed(file, data, page.mark) for file, data in files.items()}


def status_words(assessed: Assessed, worded: Wording, review: Review | None = None) -> str:
    """What every page says about the state of the packet: a draft until a clinician has reviewed exactly this."""
    words, count = worded.words, points(assessed.open)
    status: str
    if assessed.copy is not None:
        status = words["deidentified"]["status"]
    elif count:
        status = words["draft_one"] if count == 1 else words["draft_many"].format(n=count)
    elif review is None:
        status = words["unsigned"]
    else:
        day = worded.environment.filters["day"](review.on)
        status = words["reviewed" if review.stands else "changed"].format(by=review.by, day=day)
    return status


def _pages(
    assessed: Assessed,
    worded: Wording,
    trees: Mapping[str, Node],
    status: str,
    letterhead: Letterhead | None,
    review: Review | None,
) -> dict[str, Page]:
    """What stands round the text of each document."""
    return {
        name: replace(
            _page(assessed, worded, name, status, review), letterhead=letterhead, jumps=jumps_of(name, trees, worded)
        )
        for name in trees
    }


def _page(assessed: Assessed, worded: Wording, name: str, status: str, review: Review | None) -> Page:
    case, document = assessed.file.case, worded.documents[name]
    client = case.client.name or case.id
    of_record = dated_on(document, case)
    on, undated = printed_day(of_record, review), ""
    if on is None:
        not_recorded = worded.words["not_recorded"].format(label=worded.words["date_of_page"])
        undated = f", {worded.words['changed_undated'] if of_record else not_recorded}"
    if document.plain and status == worded.words["unsigned"]:  # whoever finds it in an emergency must not put it away
        status = worded.words["unsigned_sheet"]
    page = Page(
        title=f"{document.title}: {client}",
        running_head=f"{client}, {document.head}{_edition(case, document, worded.words)}{undated}",
        dated_on=on or NO_DATE,
        status=status,
        author=next((p.name for p in case.with_role("evaluator") if p.name), ""),
        mark=mark_of(assessed.file.key),
    )
    return page if worded.lang == ENGLISH_TAG else replace(page, lang=worded.lang)


def _edition(case: Case, document: Document, words: Mapping[str, Any]) -> str:
    """What the head of a sheet for daily use says of its edition; nothing for any other document."""
    if "edition" not in document.shows.get("sheets", ()):
        return ""
    edition = case.sheets.edition
    if edition is None:
        return f", {words['not_recorded'].format(label=words['edition_of_page'])}"
    return f", {words['edition'].format(n=edition)}"


def _without_missing(node: Node, scenes: Mapping[str, Any]) -> Node:
    """The tree without figures that this case has no facts for."""
    node.children = [child for child in node.children if child.kind != "figure" or child.name in scenes]
    return node
