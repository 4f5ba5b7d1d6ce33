"""Numbers to call and places to jump to: what a page on a phone leads to with one tap."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from docgen.case.model import Case
from docgen.packet.wording import ENGLISH_TAG, Wording
from docgen.rendering.numbering import anchors
from docgen.rendering.tree import Node

_BARE = frozenset({"link", "gap", "fact", "heading"})  # what stands in these stays as it is


def numbers_of(case: Case) -> tuple[str, ...]:
    """Each number of the case that somebody may call, the longest first."""
    called = [person.phone for person in case.people]
    called += [call.phone for call in case.emergency.calls]
    numbers = {number for number in (*called, case.client.emergency_number) if number and _dialled(number)}
    return tuple(sorted(numbers, key=lambda number: (-len(number), number)))


def with_dialling(tree: Node, case: Case) -> Node:
    """The document with each number of the case as a link that a phone dials; changed in place."""
    if numbers := numbers_of(case):
        _link_numbers(tree, re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, numbers))})(?![\w-])"))
    return tree


def _link_numbers(node: Node, numbers: re.Pattern[str]) -> None:
    linked: list[Node] = []
    for child in node.children:
        if child.kind == "text":
            linked += _parted(child.text, numbers)
        else:
            linked.append(child)
            if child.kind not in _BARE:
                _link_numbers(child, numbers)
    node.children = linked


def _parted(text: str, numbers: re.Pattern[str]) -> Iterator[Node]:
    """The text with its numbers as links."""
    end = 0
    for number in numbers.finditer(text):
        if number.start() > end:
            yield Node("text", text=text[end : number.start()])
        target = f"tel:{_dialled(number[0])}"
        yield Node("link", attrs={"target": target}, children=[Node("text", text=number[0])])
        end = number.end()
    if end < len(text) or not text:
        yield Node("text", text=text[end:])


def _dialled(number: str) -> str:
    """What a phone dials: the digits, with a plus before them where there is one (RFC 3966 allows no more here)."""
    plus = "+" if number.lstrip().startswith("+") else ""
    return plus + "".join(char for char in number if char in "0123456789") if re.search(r"\d{3}", number) else ""


def jumps_of(name: str, trees: Mapping[str, Node], worded: Wording) -> tuple[tuple[str, str], ...]:
    """Words and target of each jump of a document, where its heading is in what is made now."""
    tag = "" if worded.lang == ENGLISH_TAG else f".{worded.lang}"
    jumps = []
    for jump in worded.documents[name].jumps:
        document, _, heading = jump.rpartition(": ")
        tree = trees.get(document or name)
        if tree is None:
            continue
        names = anchors(tree)
        anchor = next((names[id(node)] for node in tree.walk() if id(node) in names and node.plain() == heading), "")
        if anchor:
            jumps.append((heading, f"{f'{document}{tag}.html' if document else ''}#{anchor}"))
    return tuple(jumps)
