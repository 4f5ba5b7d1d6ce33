"""Where in the packet a reader finds each answer: document and section, and in one file of them all the page."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache, lru_cache
from typing import Any

from msgspec import Struct

from docgen.case.keys import texts_in, value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.run import Verdict
from docgen.packet.papers import places_of
from docgen.packet.wording import Wording
from docgen.rendering.numbering import anchors
from docgen.rendering.template import Place
from docgen.rendering.tree import Node

_PAPER = "paper"
_NOT_WORD = re.compile(r"[^a-z0-9]+")
_TEXTS_KEPT = 2_000  # of a case: several answers rest on one text


class Section(Struct, frozen=True):
    """A section of a document as it was made: where a link leads, its words in lower case without signs, and the ids of
    the numbers in it."""

    anchor: str
    words: str
    facts: frozenset[str]


def needs_places(shows: Mapping[str, tuple[str, ...]]) -> bool:
    """Whether a document tells where answers are shown, so that all others must be made first."""
    return "shown" in shows.get("answers", ())


def places(
    verdict: Verdict,
    sections: Mapping[str, Mapping[str, Section]],
    worded: Wording,
    texts_at: Callable[[KeyPath], frozenset[str]],
    papers: Iterable[Mapping[str, Any]] = (),
) -> tuple[Place | str, ...]:
    """The places of one answer that these documents hold, in the order they are named; `sections` of each document by
    its name, `texts_at` the texts of the case, see `texts_of`.

    A section counts where it holds something that the answer rests on: a text of one of its keys, or one of its
    numbers; any section does for an answer that rests on neither. Where no section is left, the answer stands in the
    clinic's own record.

    An entry is "document: Section" or "paper: what it is" for one of someone else, told where it stands if it is one of
    the enclosed `papers`. A clinic's own
    entries for a criterion, in [shown_in], go before those of the criterion, and these before those of its heading.
    """
    criterion, worded_places = verdict.criterion, worded.words["shown_in"]
    entries = worded_places.get(criterion.id) or criterion.shown_in or worded_places.get(criterion.heading, ())
    texts = frozenset[str]().union(*map(texts_at, verdict.answer.where))
    shown: list[Place | str] = []
    for entry in entries:
        kind, _, paper = entry.partition(": ")
        if kind == _PAPER:
            shown += places_of(paper, papers) or (paper,)
        elif place := _place(entry, sections, worded, texts, frozenset(verdict.answer.facts)):
            shown.append(place)
    return tuple(dict.fromkeys(shown)) or (str(worded.words["own_record"]),)


def texts_of(case: Case) -> Callable[[KeyPath], frozenset[str]]:
    """The texts of two words or more at a key path of the case and under it, as `Section.words` has them; looked up
    once a path, since many answers rest on the same."""

    @cache
    def texts_at(path: KeyPath) -> frozenset[str]:
        return frozenset(_plain(text) for _, text in texts_in(value_at(case, path)) if " " in text.strip())

    return texts_at


@lru_cache(_TEXTS_KEPT)
def _plain(text: str) -> str:
    return _NOT_WORD.sub(" ", text.casefold()).strip()


def _holds(section: Section, texts: frozenset[str], facts: frozenset[str]) -> bool:
    if texts:
        return any(text in section.words for text in texts)
    return not facts or not facts.isdisjoint(section.facts)


def _place(
    entry: str,
    sections: Mapping[str, Mapping[str, Section]],
    worded: Wording,
    texts: frozenset[str],
    facts: frozenset[str],
) -> Place | None:
    name, _, section = entry.partition(": ")
    if name not in sections:
        return None
    title = worded.words["short_titles"].get(name, worded.documents[name].title)
    words = worded.words["place"].format(document=title, section=section)
    there = sections[name].get(section.casefold())
    return Place(words, f"{name}/{there.anchor}") if there and _holds(there, texts, facts) else None


def sections_of(tree: Node) -> dict[str, Section]:
    """Each section of a document by the words of its heading, case folded; of equal headings the first. What stands
    under a lower heading belongs to the section above it too."""
    named = anchors(tree)
    headings = [(at, node) for at, node in enumerate(tree.children) if node.kind == "heading"]
    section_of: dict[str, Section] = {}
    for n, (at, heading) in enumerate(headings):
        end = next((later for later, other in headings[n + 1 :] if other.level <= heading.level), len(tree.children))
        blocks = tree.children[at:end]
        words = _plain(" ".join(block.plain() for block in blocks))
        facts = frozenset(node.name for block in blocks for node in block.walk() if node.kind == "fact")
        section_of.setdefault(heading.plain().casefold(), Section(named[id(heading)], words, facts))
    return section_of
