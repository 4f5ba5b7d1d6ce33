"""Papers of others that packet.pdf takes in: an order, an encounter note, a record of the supplier, a report.

They are one person's, so they go into the packet of one case, on this machine alone, and never into a copy about
nobody. What kind of paper one is decides which rows of the cover point to it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any, TypedDict

from msgspec import Struct

from docgen.case.model import Case
from docgen.documents.checklist import days_of_papers
from docgen.documents.phrase import Words
from docgen.errors import Problem, UserError
from docgen.packet.place import sha256
from docgen.rendering.pdf.outside import MOST_BYTES, NoUsablePdf, Outside, read_outside
from docgen.rendering.template import Place

OPTION = "--enclose"
_MOST_PAPERS, _MOST_NAME = 40, 80
_SUFFIX = ".pdf"
# what a criterion calls a paper of someone else -> the kinds of paper that together are it
_IS: Mapping[str, tuple[str, ...]] = {
    "the practitioner's order": ("order",),
    "the practitioner's encounter note": ("encounter",),
    "the practitioner's encounter note and order": ("encounter", "order"),
    "the record of the supplier's ATP": ("supplier",),
    "the supplier's authorization": ("authorization",),
}


class Paper(Struct, frozen=True):
    """A paper of someone else as it came.

    name  its kind, such as "order", or what the user calls it
    file  name of its file, without where it lies
    """

    name: str
    file: str
    pdf: Outside

    def __repr__(self) -> str:
        return f"Paper({self.name})"  # what it holds is in no message

    @property
    def sha256(self) -> str:
        """Digest of the file as it came."""
        return sha256(self.pdf.data)

    @property
    def anchor(self) -> str:
        """By which its first page is found in packet.pdf."""
        return f"paper-{self.sha256[:16]}"


class PaperShown(TypedDict):
    """A row of the list of enclosed papers. kind is empty for one of the user's own name; on is None where the case
    does not know its day."""

    kind: str
    title: str
    place: Place
    on: date | None
    n_pages: int
    sha256: str


def is_paper(word: str) -> bool:
    """Whether a word of --enclose names a file, and no document of our own."""
    return "=" in word or word.lower().endswith(_SUFFIX)


def read_papers(words: Iterable[str], kinds: Iterable[str]) -> tuple[Paper, ...]:
    """The papers of `FILE.pdf` or `NAME=FILE.pdf`, in their order. Raises UserError with each that cannot be taken.

    kinds  names that the program knows; a file without NAME whose own name is one of them is of that kind
    """
    papers: list[Paper] = []
    problems: list[Problem] = []
    known = tuple(kinds)
    for word in dict.fromkeys(words):
        name, _, where = word.rpartition("=")
        path = Path(where.strip()).expanduser()
        name = " ".join((name or re.sub(r"[_-]+", " ", path.stem)).split())
        name = name.casefold() if name.casefold() in known else name
        try:
            if not name or len(name) > _MOST_NAME or not name.isprintable():
                raise NoUsablePdf(f"needs a name of 1 to {_MOST_NAME} letters", f"Give it as {OPTION} NAME=FILE.pdf.")
            paper = Paper(name, path.name, read_pdf(path))
            if same := next((other for other in papers if other.sha256 == paper.sha256 or other.name == name), None):
                raise NoUsablePdf(f"is enclosed once already, as {same.name}", "Leave one of the two out.")
            papers.append(paper)
        except NoUsablePdf as failure:
            problems.append(Problem(f"{OPTION} {path}", failure.what, failure.do))
    if len(papers) > _MOST_PAPERS:
        problems.append(Problem(OPTION, f"names more than {_MOST_PAPERS} papers", "Join some of them before."))
    if problems:
        raise UserError(problems)
    return tuple(papers)


def read_pdf(path: Path) -> Outside:
    """The PDF at a path. Raises NoUsablePdf."""
    try:
        if not path.is_file():
            raise NoUsablePdf("is no file", "Name a PDF that is there.")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except OSError as failure:
        raise NoUsablePdf(f"cannot be read: {failure.strerror}", "Name a PDF that you may read.") from None
    return read_outside(data)


def papers_shown(papers: Iterable[Paper], case: Case, words: Words) -> tuple[PaperShown, ...]:
    """The papers as cover and letter name them, each with the day that the case knows it by."""
    days = days_of_papers(case) | {"authorization": case.authorization.decided_on}
    titles: Mapping[str, str] = words["enclosed_papers"]
    return tuple(
        {
            "kind": paper.name if paper.name in titles else "",
            "title": titles.get(paper.name, paper.name),
            "place": Place(titles.get(paper.name, paper.name), f"{paper.anchor}/"),
            "on": days.get(paper.name),
            "n_pages": paper.pdf.n_pages,
            "sha256": paper.sha256,
        }
        for paper in papers
    )


def places_of(paper: str, shown: Iterable[Mapping[str, Any]]) -> tuple[Place, ...]:
    """Where a paper stands that a criterion names, one place a part; empty unless all of it is enclosed."""
    at = {row["kind"]: row["place"] for row in shown}
    kinds = _IS.get(paper, ())
    return tuple(at[kind] for kind in kinds) if all(kind in at for kind in kinds) else ()
