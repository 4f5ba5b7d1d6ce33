"""Short forms of coverage policy, written out where a document first uses them, with the short form in brackets."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, partial

from docgen.rendering.tree import Node

_AS_THEY_ARE = ("heading", "callout")  # a heading stays short, and a call-out may quote a letter word for word


def written_out(tree: Node, short_forms: Mapping[str, str]) -> Node:
    """The document with the first use of each short form in its running text and tables written out.

    short_forms  short form -> its words; one that stands in brackets already was written out by the text itself
    """
    texts = _texts(tree)
    for short, words in short_forms.items():
        for node in texts:
            if short not in node.text:
                continue
            if f"({short})" in node.text:
                break
            if use := _bare(short).search(node.text):
                article = f"{use[1]} " if use[1] else ""
                node.text = f"{node.text[: use.start()]}{article}{words} ({short}){node.text[use.end() :]}"
                break
    return tree


def in_full(text: str, short_forms: Mapping[str, str]) -> str:
    """A text that is read by itself, each short form in it written out."""
    for short, words in short_forms.items():
        if short in text and f"({short})" not in text:
            text = _bare(short).sub(partial(_whole, words), text)
    return text


def _whole(words: str, use: re.Match[str]) -> str:
    return f"{use[1]} {words}" if use[1] else words


@cache
def _bare(short: str) -> re.Pattern[str]:
    """A use without brackets, with its article: "an LCD" becomes "a local ...", since the words begin with another
    sound than the letters."""
    return re.compile(rf"(?:\b([Aa])n )?(?<!\()\b{re.escape(short)}\b(?!\))")


def _texts(tree: Node) -> list[Node]:
    """Its texts in reading order, without those that stay as they are."""
    texts, rest = list[Node](), [tree]
    while rest:
        node = rest.pop()
        if node.kind == "text":
            texts.append(node)
        elif node.kind not in _AS_THEY_ARE:
            rest += node.children[::-1]
    return texts
