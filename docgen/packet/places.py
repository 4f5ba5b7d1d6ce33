"""Where in the packet a reader finds each answer: document and section, and in one file of them all the page."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.criteria.run import Verdict
from docgen.packet.wording import Wording
from docgen.rendering.numbering import anchors
from docgen.rendering.template import Place
from docgen.rendering.tree import Node

_PAPER = "paper"


def needs_places(shows: Mapping[str, tuple[str, ...]]) -> bool:
    """Whether a document tells where answers are shown, so that all others must be made first."""
    return "shown" in shows.get("answers", ())


def places(verdict: Verdict, sections: Mapping[str, Mapping[str, str]], worded: Wording) -> tuple[Place | str, ...]:
    """The places of one answer that these documents hold, in the order they are named; `sections` of each document by
    its name.

    An entry is "document: Section" or "paper: what it is" for one that is not part of the packet. A clinic's own
    entries for a criterion, in [shown_in], go before those of the criterion, and these before those of its heading.
    """
    criterion, worded_places = verdict.criterion, worded.words["shown_in"]
    entries = worded_places.get(criterion.id) or criterion.shown_in or worded_places.get(criterion.heading, ())
    return tuple(place for entry in entries if (place := _place(entry, sections, worded)) is not None)


def _place(entry: str, sections: Mapping[str, Mapping[str, str]], worded: Wording) -> Place | str | None:
    name, _, section = entry.partition(": ")
    if name == _PAPER:
        return section
    if name not in sections:
        return None
    title = worded.words["short_titles"].get(name, worded.documents[name].title)
    words = worded.words["place"].format(document=title, section=section)
    anchor = sections[name].get(section.casefold())
    return Place(words, f"{name}/{anchor}") if anchor else None


def sections_of(tree: Node) -> dict[str, str]:
    """Anchor of each heading of a document by its words, case folded; of equal headings the first."""
    named = anchors(tree)
    anchor_of: dict[str, str] = {}
    for node in tree.walk():
        if node.kind == "heading":
            anchor_of.setdefault(node.plain().casefold(), named[id(node)])
    return anchor_of
