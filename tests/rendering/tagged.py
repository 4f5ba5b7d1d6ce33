"""Reads a tagged PDF back with pikepdf, knowing nothing of how it was written.

Source: ISO 32000-1:2008, 9.10.3 (ToUnicode), 14.6 (marked content), 14.7 (logical structure).
"""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, field

import pikepdf

_PAINTING = {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do", "Tj", "TJ", "'", '"', "BI"}
_PAIR = re.compile(rb"<([0-9A-Fa-f]+)>")


@dataclass
class Mark:
    """A marked-content sequence: its page from 0, tag, number (None for an artifact) and what it shows."""

    page: int
    tag: str
    mcid: int | None
    properties: dict
    text: str = ""
    n_lines: int = 0
    n_painted: int = 0


@dataclass
class Part:
    """A structure element read back; `kids` are parts and marks in reading order."""

    tag: str
    entries: pikepdf.Dictionary
    kids: list[Part | Mark] = field(default_factory=list)
    n_links: int = 0

    def text(self) -> str:
        return "".join(kid.text() if isinstance(kid, Part) else kid.text for kid in self.kids)

    def pages(self) -> set[int]:
        found = set()
        for kid in self.kids:
            found |= kid.pages() if isinstance(kid, Part) else {kid.page}
        return found

    def walk(self):
        yield self
        for kid in self.kids:
            if isinstance(kid, Part):
                yield from kid.walk()

    def all(self, *tags: str) -> list[Part]:
        return [part for part in self.walk() if part.tag in tags]

    def parts(self) -> list[Part]:
        return [kid for kid in self.kids if isinstance(kid, Part)]

    def lines_by_page(self) -> dict[int, int]:
        """How many lines of the element's own text stand on each page."""
        found: dict[int, int] = {}
        for kid in self.kids:
            if isinstance(kid, Mark):
                found[kid.page] = found.get(kid.page, 0) + kid.n_lines
        return found

    def attribute(self, name: str) -> str | None:
        value = self.entries.get("/A", {}).get(name)
        return None if value is None else str(value)


class Tagged:
    """The file: marks page by page, and structure tree; a breach of the rules is an AssertionError."""

    def __init__(self, file: bytes) -> None:
        self.pdf = pikepdf.open(io.BytesIO(file))
        self.marks = [_marks(page, at) for at, page in enumerate(self.pdf.pages)]
        self.numbers = {page.obj.objgen: at for at, page in enumerate(self.pdf.pages)}
        self.used: list[set[int]] = [set() for _ in self.pdf.pages]
        self.tree = self.pdf.Root.StructTreeRoot
        self.parents = list(self.tree.ParentTree.Nums)
        self.parents = dict(zip(map(int, self.parents[::2]), self.parents[1::2], strict=True))
        (root,) = self.tree.K
        assert root.P.objgen == self.tree.objgen
        self.root = self._part(root)
        for at, marks in enumerate(self.marks):
            assert self.used[at] == {mark.mcid for mark in marks if mark.mcid is not None}, "a mark belongs to nobody"

    def text(self) -> str:
        return self.root.text()

    def furniture(self, page: int, subtype: str) -> str:
        return " ".join(m.text for m in self.marks[page] if m.properties.get("/Subtype") == f"/{subtype}")

    def _part(self, element: pikepdf.Dictionary) -> Part:
        part = Part(str(element.S)[1:], element)
        for kid in element.get("/K", []):
            if isinstance(kid, int):
                self._leaf(part, element, element.Pg, kid)
            elif kid.get("/Type") == "/MCR":
                self._leaf(part, element, kid.Pg, int(kid.MCID))
            elif kid.get("/Type") == "/OBJR":
                part.n_links += 1
                assert self.parents[int(kid.Obj.StructParent)].objgen == element.objgen
                assert kid.Obj.objgen in {a.objgen for a in self.pdf.pages[self.numbers[kid.Pg.objgen]].Annots}
            else:
                assert kid.P.objgen == element.objgen
                part.kids.append(self._part(kid))
        return part

    def _leaf(self, part: Part, element: pikepdf.Dictionary, page: pikepdf.Dictionary, mcid: int) -> None:
        at = self.numbers[page.objgen]
        (mark,) = [mark for mark in self.marks[at] if mark.mcid == mcid]
        assert mcid not in self.used[at], "a mark belongs to two elements"
        assert mark.tag == part.tag
        assert self.parents[int(page.StructParents)][mcid].objgen == element.objgen
        self.used[at].add(mcid)
        part.kids.append(mark)


def _marks(page: pikepdf.Page, number: int) -> list[Mark]:
    """The marks of a page in painting order; refuses nested, unbalanced and missing ones."""
    marks: list[Mark] = []
    inside: Mark | None = None
    cmaps = {str(name): _cmap(font) for name, font in page.Resources.Font.items()}
    cmap: dict[int, str] = {}
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        if name in ("BDC", "BMC"):
            assert inside is None, "marks are nested"
            properties = dict(operands[1].items()) if name == "BDC" else {}
            mcid = properties.get("/MCID")
            inside = Mark(
                number,
                str(operands[0])[1:],
                None if mcid is None else int(mcid),
                {key: str(value) for key, value in properties.items()},
            )
            assert (inside.tag == "Artifact") == (mcid is None)
            marks.append(inside)
        elif name == "EMC":
            assert inside is not None, "a mark ends that never began"
            inside = None
        elif name == "Tf":
            cmap = cmaps[str(operands[0])]
        elif name == "Tm":
            inside.n_lines += 1
        if name in _PAINTING:
            assert inside is not None, f"{name} paints outside every mark"
            inside.n_painted += 1
            if name == "Tj":
                inside.text += "".join(cmap[byte] for byte in bytes(operands[0]))
    assert inside is None, "a mark never ends"
    assert all(mark.n_painted for mark in marks), "a mark holds nothing"
    return marks


def _cmap(font: pikepdf.Dictionary) -> dict[int, str]:
    """Code -> text, from the font's ToUnicode table."""
    stream = font.ToUnicode.read_bytes()
    table: dict[int, str] = {}
    for block in re.findall(rb"beginbfchar(.*?)endbfchar", stream, re.S):
        codes = [bytes.fromhex(code.decode()) for code in _PAIR.findall(block)]
        table |= {src[0]: dst.decode("utf-16-be") for src, dst in zip(codes[::2], codes[1::2], strict=True)}
    for block in re.findall(rb"beginbfrange(.*?)endbfrange", stream, re.S):
        for first, last, rest in re.findall(rb"<(\w+)>\s*<(\w+)>\s*(\[.*?\]|<\w+>)", block, re.S):
            start, texts = (
                int(first, 16),
                [bytes.fromhex(t.decode()).decode("utf-16-be") for t in _PAIR.findall(rest)],
            )
            for at in range(start, int(last, 16) + 1):
                table[at] = texts[at - start] if rest[:1] == b"[" else chr(ord(texts[0]) + at - start)
    return table
