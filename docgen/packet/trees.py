"""An assessed case -> the tree of each document, made from nothing but what its front matter lists."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path
from typing import Any

from docgen.case.files import text_of
from docgen.case.lines import line_for, lines_of
from docgen.case.model import Case
from docgen.case.read import CaseFile
from docgen.case.session import SessionRow
from docgen.case.totals import Tried
from docgen.documents.base_asked import after_order
from docgen.documents.classes import classes_of_drawing, hidden, unclassed
from docgen.documents.document import Document, called_for, dated_on, is_of_the_request
from docgen.documents.everything import everything
from docgen.documents.gaps_opening import capitalized
from docgen.documents.still_missing import marked, still_missing
from docgen.documents.view import project
from docgen.documents.written_out import written_out
from docgen.errors import Problem, UserError
from docgen.figures.draw import figures, shown_in
from docgen.grammar import said_once
from docgen.packet.assess import Assessed, asked_on, on_its_day
from docgen.packet.places import needs_places, places, sections_of, texts_of
from docgen.packet.wording import ENGLISH_TAG, Wording, in_locale, wording
from docgen.rendering.template import Place, TemplateProblem, fill
from docgen.rendering.tree import DialectError, Node, parse
from docgen.resources import folder

_A_CHARACTER, _A_ROW = 200, 400  # an appeal of two hundred reasons takes 150 a character
_FILES = ("enclosed", "papers")  # tables of files that are known only while a packet is made
_TAG = re.compile(r"(\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\})")


def trees(
    assessed: Assessed, only: Iterable[str] = (), worded: Wording | None = None, sent: Collection[str] | None = None
) -> dict[str, Node]:
    """Document name -> its tree, in packet order; all documents when `only` names none.

    sent  names of the documents that go to the payer and the supplier; those whose front matter says so when None
    """
    worded = in_locale(worded or wording(), assessed.payer.locale)
    return trees_of(assessed, only, worded, tables(assessed, worded, sent))


def trees_to_read(assessed: Assessed, worded: Wording) -> dict[str, Node]:
    """All of them, to be read and not changed: a packet made of the same case takes those over that are alike."""
    worded = in_locale(worded, assessed.payer.locale)
    shown = tables(assessed, worded)
    documents = trees_of(assessed, (), worded, shown)
    assessed.trees_read[worded, _sent_of(shown)] = dict(documents)
    return documents


def _sent_of(shown: Mapping[str, Any]) -> frozenset[str]:
    """Names of the documents that these tables hold to be sent."""
    return frozenset(row["name"] for row in shown["documents"])


def trees_of(assessed: Assessed, only: Iterable[str], worded: Wording, shown: Mapping[str, Any]) -> dict[str, Node]:
    """The same from tables already laid out; a document of the request is made from what was known on its day."""
    asked, sent = called_for(worded.documents, assessed.file.case), _sent_of(shown)
    read = assessed.trees_read.get((worded, sent), {})
    wanted = set(only) or set(asked)
    last = {name for name, document in asked.items() if needs_places(document.shows)}
    first = [name for name in asked if name not in last and (name in wanted or last.intersection(wanted))]
    # of the case as it is, and as it stood on the days of papers: `Assessed.as_it_stood` keeps each of these
    tables_then = {id(assessed): shown}

    def basis(name: str) -> tuple[Assessed, Mapping[str, Any]]:
        if not is_of_the_request(asked[name]):
            return assessed, shown
        then = on_its_day(assessed, dated_on(asked[name], assessed.file.case))
        if id(then) not in tables_then:
            tables_then[id(then)] = _tables_of_its_day(assessed, then, worded, shown)
        return then, tables_then[id(then)]

    def tree(name: str) -> Node:
        document = asked[name]
        lists_files = any(shown[table] for table in _FILES if table in document.shows)  # of which none was known
        if not lists_files and name in read:
            return read.pop(name)  # whoever takes it may change it
        return _tree(assessed.file, worded, document, basis(name)[1])

    done = {name: tree(name) for name in first}
    if last := last.intersection(wanted):
        sections = {name: sections_of(tree) for name, tree in done.items() if name in sent}
        for name in last:
            judged, tables_of_it = basis(name)
            texts_at = texts_of(judged.file.case)
            with_places = tuple(
                _placed(answer, places(verdict, sections, worded, texts_at, shown["papers"]), worded)
                for answer, verdict in zip(tables_of_it["answers"], judged.verdicts, strict=True)
            )
            done[name] = _tree(assessed.file, worded, asked[name], {**tables_of_it, "answers": with_places})
    return {name: done[name] for name in asked if name in wanted}


def _placed(answer: Mapping[str, Any], shown: tuple[Place | str, ...], worded: Wording) -> dict[str, Any]:
    """The answer with where it is shown; one that is met says nothing where no paper that is sent shows it."""
    in_record = shown == (worded.words["own_record"],)
    return {**answer, "shown": shown, "quiet": answer["quiet"] or (in_record and answer["status"] == "met")}


def _tables_of_its_day(
    assessed: Assessed, then: Assessed, worded: Wording, shown: Mapping[str, Any]
) -> Mapping[str, Any]:
    """The tables of a case as it stood on the day of a paper; what is enclosed on purpose stays enclosed, and
    that the order was overtaken is told, with the days of it, as of a later copy."""
    called = called_for(worded.documents, then.file.case)
    kept = {name: shown[name] for name in ("documents", "enclosed", "papers")}
    others = tuple(row for row in shown["other_documents"] if row["name"] in called)
    since = after_order(assessed.file.case, then.file.case)
    return {**tables(then, worded, ()), **kept, "after_order": since, "other_documents": others}


def tables(assessed: Assessed, worded: Wording, sent: Collection[str] | None = None) -> dict[str, Any]:
    """Everything that any document could be shown, by table: the case, what follows from it, the packet itself; to be
    read, and laid out once for all that is made of the case."""
    going = frozenset(worded.sent if sent is None else sent)
    if (worded, going) not in assessed.laid_out:
        assessed.laid_out[worded, going] = _laid_out(assessed, worded, going)
    return dict(assessed.laid_out[worded, going])


def _laid_out(assessed: Assessed, worded: Wording, sent: Collection[str]) -> dict[str, Any]:
    laid_out = everything(
        assessed.file.case,
        assessed.evidence,
        assessed.grounds.fit,
        assessed.verdicts,
        tuple(called_for(worded.documents, assessed.file.case).values()),
        worded.words,
    )
    documents = [row | {"place": Place(row["title"], f"{row['name']}/")} for row in laid_out["documents"]]
    laid_out["documents"] = tuple(row for row in documents if row["name"] in sent)
    laid_out["other_documents"] = tuple(row for row in documents if row["name"] not in sent)
    laid_out["enclosed"] = ()  # known only once the other files are made
    laid_out["papers"] = ()  # of others, given with a build
    laid_out["packet"] = _packet_table(assessed, worded.words)
    if bare := unclassed(laid_out):
        raise ValueError(f"without a class of privacy, to be declared in MADE_FROM: {', '.join(bare)}")
    return laid_out


def template_tree(name: str, context: Mapping[str, Any], lang: str = "en") -> Node:
    """The tree of a template that is no document of a packet, such as the recording sheet."""
    return parse(fill(wording(lang).environment, name, context))


def placed(worded: Wording, document: str) -> dict[str, tuple[str, str]]:
    """Drawings that place themselves in this document: name -> its section, as worded in English, and the caption."""
    return shown_in(document) if worded.lang == ENGLISH_TAG else {}


def _with_figures(tree: Node, figures: Mapping[str, tuple[str, str]]) -> Node:
    """The tree with each of these drawings at the end of its section, unless the template places it itself."""
    there = {node.name for node in tree.walk() if node.kind == "figure"} if figures else set()
    for name, (section, caption) in figures.items():
        blocks = tree.children
        start = next((at for at, node in enumerate(blocks) if _is_heading(node) and node.plain() == section), None)
        if name in there or start is None:
            continue
        level = blocks[start].level
        rest = range(start + 1, len(blocks))
        end = next((at for at in rest if _is_heading(blocks[at]) and blocks[at].level <= level), len(blocks))
        if blocks[end - 1].kind == "page_break":  # it belongs to what follows
            end -= 1
        blocks.insert(end, Node("figure", attrs={"name": name}, children=[Node("text", text=caption)]))
    return tree


def _is_heading(node: Node) -> bool:
    return node.kind == "heading"


def _packet_table(assessed: Assessed, words: Mapping[str, Any]) -> dict[str, Any]:
    case = assessed.file.case
    return {
        "headings": tuple(words["headings"]),
        "rules": assessed.payer.name,
        "rules_on": asked_on(case, assessed.payer),
        "digest": "SHA-256",
    }


def _tree(file: CaseFile, worded: Wording, document: Document, shown: Mapping[str, Any]) -> Node:
    """The tree of one document. A mistake in a clinic's own template is told at its line, one in ours as ours."""
    try:
        return _tree_of(file, worded, document, shown)
    except UserError as failure:
        raise UserError(_blamed(problem, file, document) for problem in failure.problems) from None


def _blamed(problem: Problem, file: CaseFile, document: Document) -> Problem:
    own = folder("templates")
    path, _, line = problem.where.rpartition(":")
    if not Path(path).is_relative_to(own):
        return problem
    place = f"{own.name}/{Path(path).relative_to(own).as_posix()}:{line}"
    what = f"cannot have its {document.title.lower()}, by a fault of docgen in {place}: {problem.what}"
    return Problem(str(file.folder), what, "Report it.")


def _room(file: CaseFile) -> int:
    """What this case may add to the characters that a template makes: some of its texts stand in many lines of a
    page."""
    rows: tuple[Tried | SessionRow, ...] = (*file.case.tried, *file.case.sessions)
    return _A_CHARACTER * len(file.text) + sum(_A_ROW + 4 * len(row.note or "") for row in rows)


def _tree_of(file: CaseFile, worded: Wording, document: Document, shown: Mapping[str, Any]) -> Node:
    markdown = ""
    try:
        view = project(
            shown, document.shows, worded.words["not_recorded"], worded.words.get("labels"), document.may_see
        )
        markdown = said_once(fill(worded.environment, f"{document.name}.md", view, _room(file)))
        tree = _with_figures(parse(markdown), placed(worded, document.name))
        if document.gathers:
            tree = _gathered(tree, view, worded, document, file.case)
        tree = capitalized(written_out(tree, worded.words.get("short_forms", {})))
    except KeyError as failure:
        raise UserError(
            [
                Problem(
                    _shows_place(document, failure.args[0]), f"[shows] {failure.args[0]}", "Correct the front matter."
                )
            ]
        ) from None
    except TemplateProblem as failure:
        raise UserError(
            [
                Problem(
                    f"{worded.paths.get(failure.name, document.path)}:{failure.line}",
                    failure.what,
                    "A document may use only what its front matter lists under [shows].",
                )
            ]
        ) from None
    except DialectError as failure:
        place = _place_of(worded, document, markdown.split("\n")[failure.line - 1])
        raise UserError([Problem(place, f"made Markdown outside the dialect: {failure}")]) from None
    for name in (node.name for node in tree.walk() if node.kind == "figure"):
        if name in figures() and (beyond := hidden(classes_of_drawing(name), document.may_see)):
            what = f"the {document.name} must never show the drawing {name}: its reader may not see the class {beyond}"
            raise UserError([Problem(_place_of(worded, document, f"fig:{name}"), what, "Take it out.")])
    return tree


def _gathered(tree: Node, view: Mapping[str, Any], worded: Wording, document: Document, case: Case) -> Node:
    """The document with short marks in place of its gaps, and one list at the end of all that is still missing."""
    missing = still_missing(tree, view.get("answers", ()), case, worded.words)
    tree = marked(tree, worded.words)
    if missing:
        sheet = parse(fill(worded.environment, "_missing.md", {"document": document.head, "missing": missing}))
        tree.children += sheet.children
    return tree


def _shows_place(document: Document, message: str) -> str:
    """File and line of the entry of [shows] that a message names."""
    text = text_of(document.path, str(document.path), 10**6)
    lines = lines_of("\n" + text.split("+++\n")[1])
    names = [name for quoted in re.findall(r"'([^']+)'", message) for name in (quoted, quoted.rpartition(".")[0])]
    table = next((name for name in reversed(names) if ("shows", name) in lines), "")
    return f"{document.path}:{line_for(lines, ('shows', table))}"


def _place_of(worded: Wording, document: Document, line_made: str) -> str:
    """File and line of the template, or of a part it uses, that a line of its Markdown most likely comes from."""
    place, most = f"{document.path}:1", 0
    for path, template in (
        (document.path, document.body),
        *((worded.paths[name], text) for name, text in worded.parts.items()),
    ):
        for at, line in enumerate(template.split("\n"), 1):
            own = [piece for piece in _TAG.split(line) if piece and not _TAG.fullmatch(piece)]
            if own and len("".join(own)) > most and _in_order(own, line_made):
                place, most = f"{path}:{at}", len("".join(own))
    return place


def _in_order(pieces: list[str], text: str) -> bool:
    """Whether the pieces stand in the text one after another."""
    at = 0
    for piece in pieces:
        at = text.find(piece, at) + len(piece)
        if at < len(piece):
            return False
    return True
