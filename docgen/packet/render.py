"""An assessed case -> the bytes of every document in every format."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from docgen.case.key import mark_of, new_key
from docgen.documents.document import called_for, dated_on
from docgen.documents.events import calendar_file
from docgen.documents.lines_file import lines_file
from docgen.errors import Problem, UserError
from docgen.figures.draw import drawings
from docgen.packet.approval import Review
from docgen.packet.assess import Assessed
from docgen.packet.teaching import marked
from docgen.packet.trees import placed, tables, trees_of
from docgen.packet.wording import ENGLISH_TAG, Wording, in_locale, wording
from docgen.rendering.formats import format_names, format_of, is_fixed_size, sent_as
from docgen.rendering.letterhead import Letterhead
from docgen.rendering.page import NO_DATE, Page
from docgen.rendering.seal import sealed
from docgen.rendering.style import COMPACT, LARGE, REGULAR
from docgen.rendering.tree import Node
from docgen.scene import Scene

if TYPE_CHECKING:
    from docgen.rendering.formats.to_pdf import Laid

FORMATS = format_names()
PACKET = "packet.pdf"
CALENDAR = "training.ics"  # lessons and follow-ups, beside the plan
LINES = "lines.csv"  # the lines to order, beside the order


def render(
    assessed: Assessed,
    formats: Iterable[str] = FORMATS,
    only: Iterable[str] = (),
    worded: Wording | None = None,
    review: Review | None = None,
    letterhead: Letterhead | None = None,
    enclose: Iterable[str] = (),
) -> dict[str, bytes]:
    """File name -> bytes of every document in every format. The same case gives the same bytes.

    review      who reviewed this content, and whether that still stands; None when nobody has
    letterhead  what stands above the first page of each document; None for none
    enclose     documents that packet.pdf holds besides those that are always sent
    """
    worded = in_locale(worded or wording(), assessed.payer.locale)
    formats, only, sent = tuple(formats), tuple(only), {*enclose}
    sent |= set(worded.sent)
    if missing := sent - called_for(worded.documents, assessed.file.case).keys():
        raise UserError(
            [Problem("--enclose", f"this case makes no {name}", "Leave it out.") for name in sorted(missing)]
        )
    # a document that lists the others with their digests can only be finished after them, and cannot list itself
    listing = [name for name, document in worded.documents.items() if "enclosed" in document.shows]
    enclosed = _enclosed(
        [name for name in worded.documents if name in sent.difference(listing) and name in (only or sent)],
        worded,
        formats,
    )
    laid_out = tables(assessed, worded, sent)
    trees = trees_of(assessed, only, worded, laid_out | {"enclosed": enclosed})
    scenes = _drawings(assessed, trees, worded)
    status = status_words(assessed, worded, review)
    pages = {name: replace(_page(assessed, worded, name, status), letterhead=letterhead) for name in trees}
    files: dict[str, bytes] = {}
    laid: dict[str, Laid] = {}
    for name in sorted(trees, key=listing.__contains__):
        if name in listing:
            _name_digests(trees[name], enclosed, files)
        files |= _files(assessed, worded, name, trees[name], pages[name], scenes, formats, laid)
    mark = mark_of(assessed.file.key)
    calendar = "plan" in trees and calendar_file(assessed.file.case, worded.words, assessed.file.key or new_key())
    if calendar:
        files[CALENDAR] = sealed(CALENDAR, calendar, mark)
    may_show = worded.documents["order"].shows.get("order_lines", ()) if "order" in trees else ()
    if may_show:
        files[LINES] = lines_file(laid_out["order_lines"], may_show, worded.words, status)
    if "pdf" in formats and trees.keys() >= sent:
        packet = _packet({name: trees[name] for name in trees if name in sent}, pages, worded, scenes, laid)
        files[PACKET] = sealed(PACKET, packet, mark)
    return files


def render_alone(
    assessed: Assessed,
    documents: Mapping[str, Node],
    worded: Wording,
    formats: Iterable[str] = FORMATS,
    letterhead: Letterhead | None = None,
) -> dict[str, bytes]:
    """File name -> bytes of documents that make no packet and that nobody has reviewed."""
    worded = in_locale(worded, assessed.payer.locale)
    scenes, status, formats = _drawings(assessed, documents, worded), status_words(assessed, worded), tuple(formats)
    files: dict[str, bytes] = {}
    for name, tree in documents.items():
        page = replace(_page(assessed, worded, name, status), letterhead=letterhead)
        files |= _files(assessed, worded, name, tree, page, scenes, formats, {})
    return files


def page_words(assessed: Assessed, documents: Mapping[str, Node], worded: Wording) -> str:
    """All that the pages of these documents say, drawings included."""
    worded = in_locale(worded, assessed.payer.locale)
    scenes = _drawings(assessed, documents, worded)
    return " ".join([*(tree.plain() for tree in documents.values()), *(scene.alt for scene in scenes.values())])


def _drawings(assessed: Assessed, documents: Iterable[str], worded: Wording) -> dict[str, Scene]:
    return drawings(
        assessed.file.case,
        assessed.evidence,
        worded.words["figures"],
        [figure for name in documents for figure in (*worded.documents[name].figures, *placed(worded, name))],
    )


def _files(
    assessed: Assessed,
    worded: Wording,
    name: str,
    tree: Node,
    page: Page,
    scenes: Mapping[str, Scene],
    formats: Iterable[str],
    laid: dict[str, Laid],
) -> dict[str, bytes]:
    """One document in each format, and in large letters where it is printed so; a language but English stands in the
    name.

    laid  takes the pages of the PDF, which stand in packet.pdf once more
    """
    tree = marked(_without_missing(tree, scenes), assessed, worded, name)
    tag = "" if worded.lang == ENGLISH_TAG else f".{worded.lang}"
    style = COMPACT if worded.documents[name].compact else REGULAR
    files: dict[str, bytes] = {}
    for suffix in formats:
        module = format_of(suffix)
        if suffix == "pdf":
            from docgen.rendering.formats.to_pdf import laid_out, written

            laid[name] = laid_out(tree, page, scenes, style, labels=worded.labels)
            files[f"{name}{tag}.pdf"] = written(laid[name])
        else:
            files[f"{name}{tag}.{suffix}"] = module.render(tree, page, scenes, style, labels=worded.labels)
        if worded.documents[name].large_print and is_fixed_size(suffix):
            files[f"{name}_large{tag}.{suffix}"] = module.render(tree, page, scenes, LARGE, labels=worded.labels)
    return {file: sealed(file, data, page.mark) for file, data in files.items()}


def _enclosed(names: Iterable[str], worded: Wording, formats: Collection[str]) -> tuple[dict[str, str], ...]:
    """Each of these documents, once, as the file most likely to go out; in place of its digest a mark as long, which
    nobody would write."""
    suffix = sent_as(formats)
    return tuple(
        {
            "title": worded.documents[name].title,
            "file": file,
            "sha256": hashlib.sha256(f"digest of {file}".encode()).hexdigest(),
        }
        for name in names
        if suffix and (file := f"{name}.{suffix}")
    )


def _name_digests(tree: Node, enclosed: Iterable[Mapping[str, str]], files: Mapping[str, bytes]) -> None:
    """Put the SHA-256 of each file into the place of its mark."""
    digests = {entry["sha256"]: hashlib.sha256(files[entry["file"]]).hexdigest() for entry in enclosed}
    if not digests:
        return
    mark = re.compile("|".join(digests))

    def named(text: str) -> str:
        return mark.sub(lambda placeholder: digests[placeholder[0]], text)

    for node in tree.walk():
        node.text = named(node.text)
        if isinstance(caption := node.attrs.get("caption"), str):
            node.attrs["caption"] = named(caption)


def _packet(
    documents: Mapping[str, Node],
    pages: Mapping[str, Page],
    worded: Wording,
    scenes: Mapping[str, Scene],
    laid: Mapping[str, Laid],
) -> bytes:
    """The documents that are sent in one PDF."""
    from docgen.rendering.formats.to_pdf import Chapter, render_packet

    chapters = [
        Chapter(name, worded.documents[name].title, tree, pages[name], scenes, laid[name])
        for name, tree in documents.items()
    ]
    first = chapters[0].page
    title = f"{worded.words['packet']}: {first.title.partition(': ')[2]}"
    return render_packet(chapters, replace(first, title=title))


def status_words(assessed: Assessed, worded: Wording, review: Review | None = None) -> str:
    """What every page says about the state of the packet: a draft until a clinician has reviewed exactly this."""
    words, count = worded.words, len(assessed.open)
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


def _page(assessed: Assessed, worded: Wording, name: str, status: str) -> Page:
    case, document = assessed.file.case, worded.documents[name]
    client = case.client.name or case.id
    page = Page(
        title=f"{document.title}: {client}",
        running_head=f"{client}, {document.head}",
        dated_on=dated_on(document, case) or NO_DATE,
        status=status,
        author=next((p.name for p in case.with_role("evaluator") if p.name), ""),
        mark=mark_of(assessed.file.key),
    )
    return page if worded.lang == ENGLISH_TAG else replace(page, lang=worded.lang)


def _without_missing(node: Node, scenes: Mapping[str, Any]) -> Node:
    """The tree without figures that this case has no facts for."""
    node.children = [child for child in node.children if child.kind != "figure" or child.name in scenes]
    return node
