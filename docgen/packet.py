"""A case -> its packet, stage by stage; the only module that knows every layer.

    read -> evidence -> fit -> criteria -> documents -> rendering -> files

Files are written whole: each under another name first, then renamed. A file that is not as this
program last wrote it is never replaced.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from docgen.case.model import Case
from docgen.case.read import CaseFile, read_case
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import Payer, load
from docgen.criteria.run import Verdict, blocking, verdicts
from docgen.documents.document import Document, documents
from docgen.documents.everything import everything
from docgen.documents.phrase import filters, missing
from docgen.documents.view import project
from docgen.errors import Problem, UserError
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.gather import evidence
from docgen.figures.draw import drawings
from docgen.fit.match import fit
from docgen.rendering.fonts import missing_glyphs
from docgen.rendering.page import Page
from docgen.rendering.template import TemplateProblem, environment, fill
from docgen.rendering.tree import DialectError, Node, parse
from docgen.rendering.words import LONG_SENTENCE, READING_SOURCES, reading
from docgen.resources import folder

MANIFEST = "manifest.json"
FORMATS = ("docx", "pdf", "html")


@dataclass(frozen=True, slots=True)
class Assessed:
    """A case with all that follows from it before any page is made."""

    file: CaseFile
    evidence: Evidence
    grounds: Grounds
    payer: Payer
    verdicts: tuple[Verdict, ...]

    @property
    def open(self) -> tuple[Verdict, ...]:
        """What must be settled before the packet can be sent."""
        return blocking(self.verdicts)


@dataclass(slots=True)
class Packet:
    """What a build wrote: files, and those left alone because someone had changed them."""

    case_id: str
    folder: Path
    open: int
    written: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)


def assess(path: Path, payer: Payer | None = None) -> Assessed:
    """Read a case and answer every requirement of a payer, the one the case names unless another is given.

    Raises UserError with every problem found.
    """
    file = read_case(path)
    facts = evidence(file.case)
    grounds = Grounds(file.case, facts, fit(file.case, file.where))
    payer = payer or load(file.case.request.payer, file.where("request", "payer"))
    return Assessed(file, facts, grounds, payer, verdicts(grounds, payer, asked_on(file.case, payer)))


def asked_on(case: Case, payer: Payer) -> date:
    """The day whose rules count: the request's, else the letter's, else the day the rules were reviewed."""
    return case.request.requested_on or case.dates.written_on or payer.reviewed_on


@cache
def _language(lang: str) -> tuple[dict[str, Document], Any, dict[str, Any]]:
    """Documents, Jinja2 environment and words of a language; read once per process."""
    import tomllib

    from jinja2 import FunctionLoader

    root = folder("templates") / lang
    words = tomllib.loads((root / "words.toml").read_text(encoding="utf-8"))
    docs = documents(root)

    def source(name: str) -> tuple[str, str, None] | None:
        if document := docs.get(name.removesuffix(".md")):
            return document.body, str(document.path), None
        shared = root / name
        if name.startswith("_") and shared.parent == root and shared.is_file():
            return shared.read_text(encoding="utf-8"), str(shared), None
        return None

    return docs, environment(FunctionLoader(source), filters(words), {"gap": missing(words)}), words


def language_words(lang: str = "en") -> dict[str, Any]:
    """Fixed words of a language."""
    return _language(lang)[2]


def document_names(lang: str = "en") -> tuple[str, ...]:
    """Names of the documents, in packet order."""
    return tuple(_language(lang)[0])


def trees(assessed: Assessed, only: Iterable[str] = (), lang: str = "en") -> dict[str, Node]:
    """Document name -> its tree, each made from nothing but what its front matter lists."""
    docs, env, words = _language(lang)
    tables = everything(assessed.file.case, assessed.evidence, assessed.grounds.fit, assessed.verdicts,
                        tuple(docs.values()), words)
    tables["packet"] = _packet_table(assessed, words)
    wanted = tuple(only) or tuple(docs)
    return {name: _tree(docs[name], env, tables, words) for name in docs if name in wanted}


def template_tree(name: str, context: Mapping[str, Any], lang: str = "en") -> Node:
    """The tree of a template that is no document of a packet, such as the recording sheet."""
    return parse(fill(_language(lang)[1], name, context))


def _packet_table(assessed: Assessed, words: Mapping[str, Any]) -> dict[str, Any]:
    case = assessed.file.case
    return {
        "headings": tuple(words["headings"]), "shown_in": words["shown_in"], "rules": assessed.payer.name,
        "rules_on": asked_on(case, assessed.payer),
    }


def _tree(document: Document, env: Any, tables: Mapping[str, Any], words: Mapping[str, Any]) -> Node:
    try:
        view = project(tables, document.shows, words["not_recorded"])
        markdown = fill(env, f"{document.name}.md", view)
        return parse(markdown)
    except KeyError as failure:
        raise UserError([Problem(f"{document.path}:1", f"[shows] {failure.args[0]}", "Mend the front matter.")]) from None
    except TemplateProblem as failure:
        raise UserError([Problem(f"{document.path.with_name(failure.name)}:{failure.line}", failure.what,
                                 "A document may use only what its front matter lists under [shows].")]) from None
    except DialectError as failure:
        raise UserError([Problem(f"{document.path}", f"made Markdown outside the dialect: {failure}")]) from None


def reading_facts(assessed: Assessed, lang: str = "en") -> tuple[Fact, ...]:
    """How hard each document of this case is to read, as facts: grade, SMOG, ease, sentences, trade terms."""
    docs, _, words = _language(lang)
    found: list[Fact] = []
    for name, tree in trees(assessed, lang=lang).items():
        measured = reading(tree, words["plain"] if docs[name].plain else {})
        if measured is None:
            continue
        title, n = docs[name].title.lower(), measured.n_sentences
        for key, label, kind, value, formula in (
            ("grade", "school grade (Flesch-Kincaid)", "ratio", measured.grade, "0.39 words/sentence + 11.8 syllables/word - 15.59"),
            ("smog", "school grade (SMOG)", "ratio", measured.smog, "1.0430 sqrt(30 long words / sentences) + 3.1291"),
            ("ease", "reading ease (Flesch)", "ratio", measured.ease, "206.835 - 1.015 words/sentence - 84.6 syllables/word"),
            ("sentence_words", "words in a sentence", "ratio", measured.words_per_sentence, "words / sentences"),
            ("passive", "sentences in the passive", "proportion", measured.passive_share, "a form of be before a past participle"),
            ("you", "sentences that speak to the reader", "proportion", measured.you_share, "you or your"),
        ):
            k = round(value * n) if kind == "proportion" else None
            found.append(Fact(f"{key}.{name}", "reading", f"{label}, {title}", kind, value, n, k, keys=(f"templates/{name}.md",),
                              formula=formula, source=READING_SOURCES.get(key, "counted on the words a reader sees")))
        long, terms = measured.long_sentences, measured.terms
        for key, text in (("long", "; ".join(s if len(s) < 90 else s[:87] + "..." for s in long[:3]) if docs[name].plain else ""),
                          ("terms", ", ".join(f"{term} ({count})" for term, count in terms))):
            if text:
                label = "longest sentences" if key == "long" else "trade terms not explained"
                found.append(Fact(f"{key}.{name}", "reading", f"{label}, {title}", "words", None, len(long) if key == "long" else len(terms),
                                  keys=(f"templates/{name}.md",), text=text, formula=f"over {LONG_SENTENCE} words" if key == "long" else
                                  "terms of the trade that the page does not put in plain words"))
    return tuple(found)


def status_words(assessed: Assessed, words: Mapping[str, Any]) -> str:
    """What every page says about the state of the packet."""
    count = len(assessed.open)
    if count:
        return words["draft_one"] if count == 1 else words["draft_many"].format(n=count)
    return words["unsigned"]


def render(assessed: Assessed, formats: Iterable[str] = FORMATS, only: Iterable[str] = (), lang: str = "en") -> dict[str, bytes]:
    """File name -> bytes of every document in every format. The same case gives the same bytes."""
    docs, _, words = _language(lang)
    case = assessed.file.case
    made = trees(assessed, only, lang)
    scenes = drawings(case, assessed.evidence, words["figures"], [f for name in made for f in docs[name].figures])
    client = case.client.name or case.id
    author = next((p.name for p in case.with_role("evaluator") if p.name), "")
    files: dict[str, bytes] = {}
    for name, tree in made.items():
        tree = _without_missing(tree, scenes)
        _refuse_missing_glyphs(assessed.file, tree)
        page = Page(
            title=f"{docs[name].title}: {client}", running_head=f"{client}, {docs[name].head}",
            dated_on=case.dates.written_on or case.request.requested_on or date(1980, 1, 1),
            status=status_words(assessed, words), author=author,
        )
        for suffix in formats:
            module = import_module(f"docgen.rendering.formats.to_{suffix}")
            files[f"{name}.{suffix}"] = module.render(tree, page, scenes)
    return files


def _without_missing(node: Node, scenes: Mapping[str, Any]) -> Node:
    """The tree without figures that this case has no facts for."""
    node.children = [child for child in node.children if child.kind != "figure" or child.name in scenes]
    return node


def _refuse_missing_glyphs(file: CaseFile, tree: Node) -> None:
    """Refuse a character that the embedded fonts cannot show, at the line of the case that holds it."""
    import unicodedata

    for char in missing_glyphs(tree.plain()):
        name = unicodedata.name(char, f"U+{ord(char):04X}")
        at = next((i for i, line in enumerate(file.text.split("\n"), 1) if char in unicodedata.normalize("NFC", line)), 1)
        raise UserError([Problem(f"{file.folder / 'case.toml'}:{at}", f"holds the character {name}, which the page fonts cannot show",
                                 "Write it in Latin, Greek or Cyrillic letters.")])


def build(assessed: Assessed, out: Path, formats: Iterable[str] = FORMATS, only: Iterable[str] = ()) -> Packet:
    """Write the packet into out/<id>. Nothing is written unless every document could be made."""
    files = render(assessed, formats, only)
    target = out / assessed.file.case.id
    packet = Packet(assessed.file.case.id, target, len(assessed.open))
    try:
        target.mkdir(parents=True, exist_ok=True, mode=0o700)
        before = _manifest(target)
        entries: dict[str, str] = {name: digest for name, digest in before.items() if (target / name).is_file()}
        for name, data in files.items():
            put = _place(target, name, before, packet)
            _write(put, data)
            entries[put.name] = hashlib.sha256(data).hexdigest()
            packet.written.append(put.name)
        manifest = {
            "format": "docgen manifest 1",
            "case": assessed.file.case.id,
            "verdict": "draft" if assessed.open else "ready",
            "files": [{"name": name, "sha256": entries[name]} for name in sorted(entries)],
        }
        _write(target / MANIFEST, (json.dumps(manifest, indent=2) + "\n").encode())
    except OSError as failure:
        raise UserError([Problem(str(failure.filename or target), f"cannot be written: {failure.strerror}",
                                 "Choose another folder with --out.")]) from None
    return packet


def _manifest(target: Path) -> dict[str, str]:
    try:
        data = json.loads((target / MANIFEST).read_text(encoding="utf-8"))
        return {entry["name"]: entry["sha256"] for entry in data["files"]}
    except (OSError, ValueError, KeyError, TypeError):
        return {}


def _place(target: Path, name: str, before: Mapping[str, str], packet: Packet) -> Path:
    """The file itself, or a name beside it when someone has changed the file since it was written."""
    path = target / name
    if not path.exists() or hashlib.sha256(path.read_bytes()).hexdigest() == before.get(name):
        return path
    packet.kept.append(name)
    return path.with_name(f"{path.stem}.new{path.suffix}")


def _write(path: Path, data: bytes) -> None:
    part = path.with_name(f".{path.name}.part")
    descriptor = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "wb") as stream:
        stream.write(data)
    os.replace(part, path)


def case_folders(paths: Iterable[Path]) -> list[Path]:
    """Case folders named: a case folder, its case.toml, or a folder of case folders. Raises UserError."""
    found: list[Path] = []
    for path in paths:
        if path.name == "case.toml" or (path / "case.toml").is_file():
            found.append(path.parent if path.name == "case.toml" else path)
            continue
        inside = sorted(p.parent for p in path.glob("*/case.toml")) if path.is_dir() else []
        if not inside:
            raise UserError([Problem(str(path), "is neither a case folder nor a folder of case folders",
                                     "Name a case folder, or start one with 'docgen new ID'.")])
        found += inside
    return found


