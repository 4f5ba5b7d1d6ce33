"""The Markdown the templates are written in: a small, closed dialect, parsed by markdown-it-py.

Headings, lists, tick lists, tables, emphasis, links, images, rules and call-outs; no raw HTML,
no code, no autolinks. Meaning is carried by reserved targets, so the prose stays plain:

    [32 of 38](fact:success.head_pads)    a number and the record it comes from
    [not recorded: weight](gap:client.weight_kg)   a fact the case lacks
    [before use](lang:en)                 words in another language than the document's
    ![Pads from above](fig:pad_layout)    a figure with its caption, alone in its paragraph
    ![](page:break)                       a new page
    ![Name, credential](sign:)            a signature block, unsigned
    | [](row:chosen)32 of 38 |     what a row of a table is, at the head of its first cell: chosen, total or gap
    > [!CAUTION]                          a call-out: NOTE, IMPORTANT, WARNING or CAUTION
    Table: What was tried                 a caption, in the paragraph just above its table
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache

from markdown_it import MarkdownIt
from markdown_it.rules_core import StateCore, text_join
from markdown_it.token import Token

# of lists and call-outs within each other: nine lists, the most that a DOCX tells apart; far past that the parser drops
# words
MOST_LEVELS = 19
_LINES_KEPT = 2_000
_SECTIONS_KEPT = 300  # all pages of a case have some hundred; one fewer than come in turn, and none is met again
_BEFORE_HEADING = re.compile(r"^(?=#{1,6} )", re.M)
_ESCAPED = re.compile(r"\\([!-/:-@\[-`{-~])")
_WORDS_ALONE = re.compile(rf"(?:[^\\!*_\[\]]|{_ESCAPED.pattern})*")  # nothing that any of the rules below could act on
_RULES = ["heading", "list", "table", "blockquote", "emphasis", "link", "image", "escape", "hr"]


class _Parser(MarkdownIt):
    def validateLink(self, url: str) -> bool:
        """Any target: the tree refuses what it does not know."""
        return True


@cache
def _parser() -> MarkdownIt:
    parser = _Parser("zero", {"html": False, "alerts": True, "tasklists": True, "maxNesting": 2 * MOST_LEVELS})
    parser.enable(_RULES)
    parser.core.ruler.at("inline", _inline)  # joins texts too
    parser.disable("text_join")
    return parser


def _inline(state: StateCore) -> None:
    """What stands inside a line."""
    for token in state.tokens:
        if token.type == "inline":
            token.children = _inside(token.content)


@lru_cache(maxsize=_LINES_KEPT)
def _inside(line: str) -> list[Token]:
    """The tokens of a line, to be read and never changed: pages of one packet share many lines, and so do cases.

    Most lines hold words alone: those are one text, without a search character by character.
    """
    if _WORDS_ALONE.fullmatch(line):
        return [Token("text", "", 0, content=_ESCAPED.sub(r"\1", line))] if line else []
    children: list[Token] = []
    whole = Token("inline", "", 0, content=line, children=children)
    state = StateCore(line, _parser(), {}, [whole])
    state.md.inline.parse(line, state.md, state.env, children)
    text_join(state)
    return whole.children or []


def sections(markdown: str) -> Iterator[tuple[int, Sequence[Token]]]:
    """Flat token stream of a document written in the dialect, section by section, each with the number of lines above
    it; to be read and never changed.

    A heading ends whatever stands above it, and nothing in the dialect refers to another place.
    """
    above = 0
    for section in _BEFORE_HEADING.split(markdown):
        yield above, _tokens(section)
        above += section.count("\n")


@lru_cache(maxsize=_SECTIONS_KEPT)
def _tokens(section: str) -> tuple[Token, ...]:
    """The tokens of a section: pages of a case that are made again are mostly as they were."""
    return tuple(_parser().parse(section))
