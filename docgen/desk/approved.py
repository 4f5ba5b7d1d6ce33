"""The words that were approved, kept beside the case, and what of them has changed since.

An approval itself holds digests alone. Its words are kept when it is given at the desk, or when the desk first sees one
that stands: they are then the words of the pages as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from pathlib import Path

import msgspec
from msgspec import Struct

from docgen.desk.kept import FOLDER, place
from docgen.packet.approval import FILE as APPROVAL
from docgen.packet.approval import Review, reviewed
from docgen.packet.assess import Assessed
from docgen.packet.place import sha256
from docgen.packet.trees import trees
from docgen.private import write_whole
from docgen.rendering.tree import Node

_FILE = "approved.json"
_LEAVES = ("heading", "paragraph", "row", "figure", "signature")
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+(?=[\"“(]*[A-Z0-9])")


class Words(Struct, frozen=True):
    """The words of every page: document -> its sentences, and the digest of the approval that they are of."""

    of_approval: str
    pages: dict[str, tuple[str, ...]]


class Piece(Struct, frozen=True):
    """A stretch of a sentence; `other` where the other side has it not."""

    text: str
    other: bool


class Change(Struct, frozen=True):
    """One place of a page: its words as they were approved and as they are now, each in pieces; none on one side where
    the place is new, or gone."""

    before: tuple[Piece, ...]
    now: tuple[Piece, ...]


class Since(Struct, frozen=True):
    """A recorded approval, and what has changed since.

    changes  document -> its places that changed; None where the words that were approved are not kept
    """

    review: Review
    changes: Mapping[str, tuple[Change, ...]] | None


def since_approval(assessed: Assessed) -> Since | None:
    """What has changed since the case was approved; None where it was not. Keeps the words of an approval that stands.

    Raises UserError where its record was changed by hand.
    """
    review = reviewed(assessed, any_letterhead=True)
    if review is None:
        return None
    folder = assessed.file.folder
    of_approval, words = sha256((folder / APPROVAL).read_bytes()), _kept(folder)
    pages = _pages(assessed) if not review.stands or words is None or words.of_approval != of_approval else {}
    if words is None or words.of_approval != of_approval:
        if not review.stands:
            return Since(review, None)
        write_whole(place(folder) / _FILE, msgspec.json.encode(Words(of_approval, pages)))
    if review.stands:
        return Since(review, {})
    assert words is not None
    names = [*pages, *(name for name in words.pages if name not in pages)]
    changes = {name: tuple(_changes(words.pages.get(name, ()), pages.get(name, ()))) for name in names}
    return Since(review, {name: places for name, places in changes.items() if places})


def _kept(folder: Path) -> Words | None:
    path = folder / FOLDER / _FILE
    try:
        return None if path.is_symlink() else msgspec.json.decode(path.read_bytes(), type=Words)
    except (OSError, msgspec.DecodeError):
        return None


def _pages(assessed: Assessed) -> dict[str, tuple[str, ...]]:
    return {name: tuple(_sentences(tree)) for name, tree in trees(assessed).items()}


def _sentences(node: Node) -> Iterator[str]:
    """The words of a page in reading order: sentences, headings, captions, and the rows of tables."""
    if node.kind == "row":
        yield " | ".join(" ".join(cell.plain().split()) for cell in node.children)
    elif node.kind in _LEAVES:
        yield from filter(None, _SENTENCE_END.split(" ".join(node.plain().split())))
    else:
        if node.kind == "table" and node.attrs.get("caption"):
            yield str(node.attrs["caption"])
        for child in node.children:
            yield from _sentences(child)


def _changes(before: Sequence[str], now: Sequence[str]) -> Iterator[Change]:
    for kind, start, end, now_start, now_end in SequenceMatcher(None, before, now, autojunk=False).get_opcodes():
        if kind != "equal":
            yield _beside(" ".join(before[start:end]), " ".join(now[now_start:now_end]))


def _beside(before: str, now: str) -> Change:
    """Two texts in pieces of whole words, each with what the other lacks told apart."""
    left, right = before.split(), now.split()
    same = SequenceMatcher(None, left, right, autojunk=False).get_opcodes()
    return Change(
        tuple(Piece(" ".join(left[a:b]), kind != "equal") for kind, a, b, _, _ in same if b > a),
        tuple(Piece(" ".join(right[c:d]), kind != "equal") for kind, _, _, c, d in same if d > c),
    )
