"""The sentences of a document, each with the numbers and gaps in it, and a mark after each that can lead on."""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from docgen.rendering.tree import Node

MARK = "sentence."  # name of the mark after a sentence: this and the id of the sentence
_INLINE_HOLDERS = ("paragraph", "row", "signature")
_SHORT_FORMS = ("Dr", "Mr", "Mrs", "Ms", "No", "vs", "e.g", "i.e", "approx")
# a sentence ends where a capital, a digit or an opening sign follows
_END = re.compile(r"(?<=[.!?])[\"”)]*\s+(?=[\"“(\[]*[A-Z0-9])")


class Sentence(Struct, frozen=True):
    """One sentence of a page, or one row of a table.

    id    tells it from every other of its page by its words: 12 hexadecimal digits, and which of those alike
    text  its words; of a row, its cells with bars between
    facts, gaps  ids of the numbers in it, and key paths of what it lacks, in their order
    section      the heading it stands under
    """

    id: str
    text: str
    facts: tuple[str, ...]
    gaps: tuple[str, ...]
    section: str


class _Stretch(Struct):
    """A sentence in its line: from character to character of the line's plain words."""

    start: int
    end: int


def sentences(tree: Node) -> tuple[Sentence, ...]:
    """Every sentence of a document in reading order; headings, captions and the heads of tables are none."""
    alike: Counter[str] = Counter()
    numbered = []
    for line, stretch, section in _lines(tree):
        text = _words_of(line)[stretch.start : stretch.end].strip()
        digest = hashlib.blake2b(text.encode(), digest_size=6).hexdigest()
        alike[digest] += 1
        name = digest if alike[digest] == 1 else f"{digest}-{alike[digest]}"
        named = {kind: tuple(_named(line, kind, stretch)) for kind in ("fact", "gap")}
        numbered.append(Sentence(name, text, named["fact"], named["gap"], section))
    return tuple(numbered)


def marked(tree: Node) -> Node:
    """The document with a mark after each sentence: a fact named `MARK` and the sentence's id, its words the place of
    the sentence on the page, counted from 1."""
    names = iter(enumerate(sentences(tree), 1))

    def with_marks(node: Node) -> Node:
        if node.kind == "row" and node.header:
            return node
        if node.kind not in _INLINE_HOLDERS:
            return replace(node, children=[with_marks(child) for child in node.children])
        marks = []
        for stretch in _stretches(node):
            number, sentence = next(names)
            mark = Node("fact", attrs={"name": f"{MARK}{sentence.id}"}, children=[Node("text", text=str(number))])
            marks.append((stretch.end, mark))
        if node.kind == "row":
            first, *others = node.children
            return replace(node, children=[replace(first, children=[*first.children, *(m for _, m in marks)]), *others])
        return replace(node, children=_put_in(node.children, marks))

    return with_marks(tree)


def _lines(tree: Node) -> Iterator[tuple[Node, _Stretch, str]]:
    section = ""
    below: list[Node] = [tree]
    while below:
        node = below.pop()
        if node.kind == "heading":
            section = node.plain()
        elif node.kind in _INLINE_HOLDERS:
            if node.kind != "row" or not node.header:
                for stretch in _stretches(node):
                    yield node, stretch, section
        elif node.kind != "figure":
            below += reversed(node.children)


def _words_of(line: Node) -> str:
    return " | ".join(cell.plain() for cell in line.children) if line.kind == "row" else line.plain()


def _stretches(line: Node) -> Iterator[_Stretch]:
    words = _words_of(line)
    if line.kind == "row":
        if words.strip(" |"):
            yield _Stretch(0, len(words))
        return
    start = 0
    for gap in _END.finditer(words):
        if words[start : gap.start()].rstrip(".").rpartition(" ")[2].lstrip("(") in _SHORT_FORMS:
            continue
        yield _Stretch(start, gap.start() + len(gap.group().rstrip()))
        start = gap.end()
    if words[start:].strip():
        yield _Stretch(start, len(words.rstrip()))


def _named(line: Node, kind: str, within: _Stretch) -> Iterator[str]:
    """Names of the nodes of a kind that begin in a stretch of a line."""

    def names(nodes: Sequence[Node], at: int, between: int) -> Iterator[tuple[int, str]]:
        for node in nodes:
            if node.kind == kind:
                yield at, node.attrs["name"]
            yield from names(node.children, at, 0)
            at += len(node.plain()) + between

    for at, name in names(line.children, 0, len(" | ") if line.kind == "row" else 0):
        if within.start <= at < within.end:
            yield name


def _put_in(nodes: Sequence[Node], marks: Sequence[tuple[int, Node]]) -> list[Node]:
    """Nodes of a line with marks at characters of its words; one inside another node comes after that."""
    placed: list[Node] = []
    at = 0
    for node in nodes:
        end = at + len(node.plain())
        here = [(stop - at, mark) for stop, mark in marks if at < stop <= end]
        if node.kind == "text":
            start = 0
            for stop, mark in here:
                placed += [Node("text", text=node.text[start:stop]), mark]
                start = stop
            placed.append(Node("text", text=node.text[start:]))
        else:
            placed += [node, *(mark for _, mark in here)]
        at = end
    return [node for node in placed if node.kind != "text" or node.text]
