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
from functools import cache

from markdown_it import MarkdownIt
from markdown_it.rules_core import StateCore
from markdown_it.token import Token

# of lists and call-outs within each other: nine lists, the most that a DOCX tells apart; far past that the parser drops
# words
MOST_LEVELS = 19
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
    parser.core.ruler.at("inline", _inline)
    return parser


def _inline(state: StateCore) -> None:
    """What stands inside a line. Most lines hold words alone: those are one text, without a search character by
    character."""
    for token in state.tokens:
        if token.type != "inline":
            continue
        token.children = []
        if not _WORDS_ALONE.fullmatch(token.content):
            state.md.inline.parse(token.content, state.md, state.env, token.children)
        elif token.content:
            token.children.append(Token("text", "", 0, content=_ESCAPED.sub(r"\1", token.content)))


def tokens(markdown: str) -> list[Token]:
    """Flat token stream of a document written in the dialect."""
    return _parser().parse(markdown)
