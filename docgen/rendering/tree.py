"""Markdown -> one closed tree of nodes that every output format walks.

Block kinds and their attributes:

    document
    heading     level 1 to 6
    paragraph
    list        ordered (bool), start (int)
    item        checked: None for a plain item, else True or False; children are blocks
    table       caption (text, "" for none), aligns (one of left, right, center per column), and where it is set `even`:
                how many of its last columns are alike in width; `row_heads` where the first cell of a row names it
    row         header (bool), role (chosen, total or gap; "" for a plain row); children are cells
    cell        children are inline nodes
    callout     tone: note, important, warning or caution; children are blocks
    figure      name; children are the caption's inline nodes
    signature   children are the inline nodes of who signs
    page_break
    rule

Inline kinds:

    text        text
    strong, emphasis
    fact        name: the id of the record a number comes from
    gap         name: the key path of a fact the case lacks
    link        target: an http, https, mailto or tel address, or #anchor
    passage     lang: the tag of the language of its words, where that is not the document's
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from markdown_it.token import Token
from msgspec import Struct, field

from docgen.rendering.dialect import MOST_LEVELS, sections

ROLES = ("", "chosen", "total", "gap")  # what a row of a table can be

_TONES = {"NOTE": "note", "TIP": "note", "IMPORTANT": "important", "WARNING": "warning", "CAUTION": "caution"}
_WEB = ("http://", "https://", "mailto:", "tel:", "#")
_CAPTION = "Table: "
_LANGUAGE = re.compile(r"[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")  # a tag as in BCP 47, without its rarer forms
_LINE_END = re.compile(r" *\n *")


class Node(Struct):
    """One piece of a document: its kind, its text (kind text only), its attributes, its children."""

    kind: str
    text: str = ""
    attrs: dict[str, Any] = field(default_factory=dict)
    children: list[Node] = field(default_factory=list)

    def __getattr__(self, name: str) -> Any:
        try:
            return self.attrs[name]
        except KeyError:
            raise AttributeError(f"a {self.kind} node has no {name}") from None

    def walk(self) -> Iterator[Node]:
        """This node and every node below it, in reading order."""
        rest = [self]
        while rest:
            node = rest.pop()
            yield node
            if children := node.children:  # most nodes are texts
                rest += children[::-1]

    def plain(self) -> str:
        """The words a reader sees in this node, without any mark-up."""
        if self.kind == "text":
            return self.text
        return "".join([child.plain() for child in self.children])  # a list is joined faster than one by one


class DialectError(ValueError):
    """A template used something outside the dialect; `line` counts from 1 in the rendered Markdown."""

    def __init__(self, what: str, line: int) -> None:
        super().__init__(what)
        self.line = line


def parse(markdown: str) -> Node:
    """The document as a tree. Raises DialectError for an unknown target or construct."""
    document = Node("document")
    for above, stream in sections(markdown):
        if deep := next((token for token in stream if token.level > MOST_LEVELS), None):
            raise DialectError("lists and call-outs stand too deep in each other", above + (deep.map or [0])[0] + 1)
        document.children += _Builder(stream, above).blocks()
    return document


def outline(node: Node) -> str:
    """The tree in one line, for tests and for comparing formats: kind(attributes "text" ...)."""
    parts = [f"{key}={value}" for key, value in node.attrs.items() if value not in (None, "", ())]
    if node.kind == "text":
        return f'"{node.text}"'
    parts += [outline(child) for child in node.children]
    return f"{node.kind}({' '.join(parts)})"


class _Builder:
    """Folds the flat stream of a section into nodes; one pass, no look-back except for a table's caption."""

    def __init__(self, stream: Sequence[Token], above: int) -> None:
        self.stream = stream
        self.at = 0
        self.above = above  # lines of the document before this section
        self.line = above + 1

    def blocks(self) -> list[Node]:
        return self._blocks(until=None)

    def _inner_blocks(self, until: str) -> list[Node]:
        """Blocks inside a list item or a call-out, where no page can begin."""
        blocks = self._blocks(until)
        if any(node.kind == "page_break" for node in blocks):
            raise DialectError("a page break stands between blocks, not inside a list or a call-out", self.line)
        return blocks

    def _blocks(self, until: str | None) -> list[Node]:
        blocks: list[Node] = []
        while self.at < len(self.stream):
            token = self.stream[self.at]
            if token.type == until:
                self.at += 1
                return blocks
            if token.map:
                self.line = self.above + token.map[0] + 1
            self.at += 1
            node = self._block(token, blocks)
            if node is not None:
                blocks.append(node)
        return blocks

    def _block(self, token: Token, before: list[Node]) -> Node | None:
        match token.type:
            case "heading_open":
                return Node("heading", attrs={"level": int(token.tag[1])}, children=self._content("heading_close"))
            case "paragraph_open":
                return self._paragraph()
            case "bullet_list_open":
                return Node("list", attrs={"ordered": False, "start": 1}, children=self._blocks("bullet_list_close"))
            case "ordered_list_open":
                start = int(token.attrs.get("start", 1))
                return Node(
                    "list", attrs={"ordered": True, "start": start}, children=self._blocks("ordered_list_close")
                )
            case "list_item_open":
                checked = (token.meta or {}).get("checked")
                return Node("item", attrs={"checked": checked}, children=self._inner_blocks("list_item_close"))
            case "table_open":
                return self._table(before)
            case "alert_open":
                tone = _TONES[token.meta["kind"].upper()]
                self._skip("alert_title_close")
                return Node("callout", attrs={"tone": tone}, children=self._inner_blocks("alert_close"))
            case "blockquote_open":
                return Node("callout", attrs={"tone": "note"}, children=self._inner_blocks("blockquote_close"))
            case "hr":
                return Node("rule")
        raise DialectError(f"the dialect has no {token.type}", self.line)

    def _skip(self, until: str) -> None:
        while self.stream[self.at].type != until:
            self.at += 1
        self.at += 1

    def _content(self, close: str) -> list[Node]:
        inline = self.stream[self.at]
        self._skip(close)
        return self._inlines(inline.children or [])

    def _paragraph(self) -> Node:
        raw = self.stream[self.at]
        children = raw.children or []
        if len(children) == 1 and children[0].type == "image":
            self._skip("paragraph_close")
            return self._standing(children[0])
        node = Node("paragraph", children=self._content("paragraph_close"))
        # read from the source, where case text is escaped, so that no client's words become a caption
        if raw.content.startswith(_CAPTION):
            node.attrs["caption"] = True
        return node

    def _standing(self, image: Token) -> Node:
        """A figure, page break or signature block: an image alone in its paragraph."""
        scheme, _, name = str(image.attrGet("src") or "").partition(":")
        caption = self._inlines(image.children or [])
        match scheme:
            case "fig":
                return Node("figure", attrs={"name": name}, children=caption)
            case "page" if name == "break":
                return Node("page_break")
            case "sign":
                return Node("signature", children=caption)
        raise DialectError(f"an image must be fig:, page:break or sign:, not {image.attrGet('src')!r}", self.line)

    def _table(self, before: list[Node]) -> Node:
        caption = ""
        if before and before[-1].kind == "paragraph" and before[-1].attrs.pop("caption", False):
            line = before.pop()
            if any(node.kind in ("fact", "gap") for node in line.walk()):
                raise DialectError("a table's caption holds plain words, no number and no gap", self.line)
            caption = line.plain().removeprefix(_CAPTION)
        rows: list[Node] = []
        aligns: tuple[str, ...] = ()
        header = False
        row_aligns: list[str] = []
        while (token := self.stream[self.at]).type != "table_close":
            self.at += 1
            if token.type in ("thead_open", "tbody_open"):
                header = token.type == "thead_open"
            elif token.type == "tr_open":
                self.line = self.above + token.map[0] + 1 if token.map else self.line
                rows.append(Node("row", attrs={"header": header, "role": ""}))
                row_aligns = []
            elif token.type in ("th_open", "td_open"):
                row_aligns.append(str(token.attrGet("style") or "text-align:left").partition(":")[2])
                content = self.stream[self.at].children or []
                if not rows[-1].children and (role := self._role(content)) is not None:
                    rows[-1].attrs["role"], content = role, content[2:]
                rows[-1].children.append(Node("cell", children=self._inlines(content)))
            elif token.type == "tr_close":
                aligns = aligns or tuple(row_aligns)
        self.at += 1
        return Node("table", attrs={"caption": caption, "aligns": aligns}, children=rows)

    def _role(self, cell: Sequence[Token]) -> str | None:
        """What the head of a row's first cell says that the row is; None where it says nothing."""
        if len(cell) < 2 or cell[0].type != "link_open" or cell[1].type != "link_close":
            return None
        scheme, _, role = str(cell[0].attrGet("href") or "").partition(":")
        if scheme != "row":
            return None
        if role not in ROLES:
            raise DialectError(f"a row is {', '.join(ROLES[1:])} or plain, not {role!r}", self.line)
        return role

    def _inlines(self, children: Sequence[Token]) -> list[Node]:
        top: list[Node] = []
        open_nodes: list[list[Node]] = [top]
        for token in children:
            if token.type in ("text", "text_special"):
                self._add_text(open_nodes[-1], token.content)
            elif token.type in ("softbreak", "hardbreak"):
                self._add_text(open_nodes[-1], "\n")
            elif token.nesting == 1:
                node = self._opened(token)
                open_nodes[-1].append(node)
                open_nodes.append(node.children)
            elif token.nesting == -1:
                open_nodes.pop()
            else:
                raise DialectError(f"{token.type} cannot stand inside a line", self.line)
        return top

    def _opened(self, token: Token) -> Node:
        if token.type == "strong_open":
            return Node("strong")
        if token.type == "em_open":
            return Node("emphasis")
        target = str(token.attrGet("href") or "")
        scheme, _, name = target.partition(":")
        if scheme in ("fact", "gap"):
            return Node(scheme, attrs={"name": name})
        if scheme == "lang" and _LANGUAGE.fullmatch(name):
            return Node("passage", attrs={"lang": name})
        if target.startswith(_WEB):
            return Node("link", attrs={"target": target})
        raise DialectError(f"a link must be fact:, gap:, lang: or a web address, not {target!r}", self.line)

    @staticmethod
    def _add_text(siblings: list[Node], text: str) -> None:
        text = _LINE_END.sub(" ", text) if "\n" in text else text
        if siblings and siblings[-1].kind == "text":
            siblings[-1].text += text
        elif text:
            siblings.append(Node("text", text=text))
