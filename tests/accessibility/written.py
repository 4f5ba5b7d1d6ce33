"""What must be usable without sight: every file of two demo cases, which have every document and figure that any has,
and some made to be hard."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib import import_module
from pathlib import Path
from random import Random
from unittest.mock import patch

from support import DEMO_FOLDERS, DEMOS

from docgen.packet.assess import assess
from docgen.packet.render import render
from docgen.recording_sheet import clipboard_pdf
from docgen.rendering.formats import to_html, to_pdf
from docgen.rendering.letterhead import Letterhead, Logo
from docgen.rendering.page import Page
from docgen.rendering.picture import png
from docgen.rendering.style import LARGE
from docgen.rendering.tree import Node, parse
from docgen.scene import Line, Rect, Scene, Text

_RENDER = import_module("docgen.packet.render")  # docgen.packet.render is its function
_HARD = "made to be hard"
OF_DEMOS = ("marisol-quenneville-tran", "saoirse-villalobos-ng")
GROUPS = (*OF_DEMOS, _HARD)


@dataclass(frozen=True, slots=True)
class Part:
    """What a renderer was given: a document, its title inside a packet, letterhead, drawings, the edge of its pages."""

    title: str
    tree: Node
    letterhead: Letterhead | None
    scenes: Mapping[str, Scene]
    edge: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Written:
    """A file, and what it was made from."""

    file: bytes
    parts: tuple[Part, ...]

    def nodes(self, kind: str) -> list[Node]:
        return [node for part in self.parts for node in part.tree.walk() if node.kind == kind]


def pdfs(group: str) -> dict[str, Written]:
    """Name -> each PDF of a group, one of GROUPS."""
    return {name: one for name, one in _written(group).items() if name.endswith(".pdf")}


def pages(group: str) -> dict[str, Written]:
    """Name -> each HTML page of a group."""
    return {name: one for name, one in _written(group).items() if name.endswith(".html")}


@cache
def _written(group: str) -> dict[str, Written]:
    with _recorded() as known:
        files = _hard() if group == _HARD else render(assess(DEMO_FOLDERS[DEMOS.index(group)]), ("pdf", "html"))
    return {name: Written(file, known[id(file)]) for name, file in files.items() if name.endswith((".pdf", ".html"))}


@contextmanager
def _recorded() -> Iterator[dict[int, tuple[Part, ...]]]:
    """id() of each file that is rendered inside -> what it was made from."""
    known: dict[int, tuple[Part, ...]] = {}

    laid: dict[int, tuple[Part, ...]] = {}

    def of_one(made: Callable[..., object], into: dict[int, tuple[Part, ...]]) -> Callable[..., object]:
        def recorded(document: Node, page: Page, scenes: Mapping[str, Scene], *others, **named) -> object:
            one = made(document, page, scenes, *others, **named)
            into[id(one)] = (Part("", document, page.letterhead, scenes, (page.running_head, page.status)),)
            return one

        return recorded

    def of_pages(pages: to_pdf.Laid, *others) -> to_pdf.Written:
        file = write_pages(pages, *others)
        known[id(file.data)] = laid[id(pages)]
        kept.append(pages)  # so that no other object takes its id
        return file

    def of_several(chapters, *others, **named) -> bytes:
        file = write_packet(chapters, *others, **named)
        known[id(file)] = tuple(
            Part(one.title, one.document, one.page.letterhead, one.scenes, (one.page.running_head, one.page.status))
            for one in chapters
        )
        return file

    def of_sealed(name: str, data: bytes, *others: str) -> bytes:
        file = seal(name, data, *others)
        known[id(file)] = known.get(id(data), ())
        kept.append(data)
        return file

    kept: list[object] = []
    write_pages, write_packet, seal = to_pdf.written, to_pdf.render_packet, _RENDER.sealed
    with (
        patch.object(to_pdf, "laid_out", of_one(to_pdf.laid_out, laid)),
        patch.object(to_pdf, "written", of_pages),
        patch.object(to_html, "render", of_one(to_html.render, known)),
        patch.object(to_pdf, "render_packet", of_several),
        patch.object(_RENDER, "sealed", of_sealed),
    ):
        yield known


def _hard() -> dict[str, bytes]:
    """Each kind of block once under a letterhead; all that may be split, in small and large print; an empty sheet."""
    logo = Logo(png(_PICTURE, 100), 417, 111, "Three rings, the sign of the clinic")
    letterhead = Letterhead("Sample Clinic", "1 Sample Street, Sampleton, 555-0100", (0.12, 0.31, 0.47), logo)
    page = Page("Robin Example: a long guide", "Robin Example, long guide", date(2026, 11, 25), "Draft", "Ada Sample")
    under = Page(page.title, page.running_head, page.dated_on, page.status, page.author, letterhead=letterhead)
    every_kind, split, scenes = parse(_every_kind()), parse(_split()), {"pads": _PICTURE}
    return {
        "every kind.pdf": to_pdf.render(every_kind, under, scenes),
        "every kind.html": to_html.render(every_kind, under, scenes),
        "split.pdf": to_pdf.render(split, page, scenes),
        "split large.pdf": to_pdf.render(split, page, scenes, LARGE),
        "split.html": to_html.render(split, page, scenes),
        "recording sheet.pdf": clipboard_pdf("robin-example"),
    }


_PICTURE = Scene(300, 80, "A pad 40 mm wide, 25 mm left of the head", (
    Rect(20, 20, 40, 40, fill=0.85), Line(60, 40, 160, 40), Text(110, 32, "25 mm", anchor="middle"),
))  # fmt: skip
_STOCK = (
    "roll up to the door and stop a hand width before it wait until light is steady then lean on left pad if chair "
    "turns lift your head let stand say aloud what comes next coach answers anything moves look where front wheels"
).split()


def _every_kind() -> str:
    return (Path(__file__).parents[1] / "rendering" / "every_kind.md").read_text(encoding="utf-8")


def _split() -> str:
    """All that may be split: a text, a list in a list, a box, a table of many rows, a row of many lines."""
    chance = Random(1)

    def said(n: int) -> str:
        """That many sentences, no two alike, so that no line looks like a running head."""
        return " ".join(" ".join(chance.sample(_STOCK, 11)).capitalize() + "." for _ in range(n))

    items = "\n".join(
        f"{at}. {said(1)}\n    - {said(at % 3 + 1)}\n    - See [rule {at}](https://example.org/{at})."
        for at in range(1, 25)
    )
    boxed = "\n>\n".join(f"> {said(at)}" for at in range(1, 16))
    rows = "\n".join(f"| {at} | {said(150 if at == 50 else 1)} | |" for at in range(1, 80))
    head = (
        "| Which question the coach put before the chair was moved | What the learner answered, in the words that were "
        "used | Who wrote it down, and on which of the days |"
    )
    answers = "\n".join(f"| {said(1)} | {said(2)} | |" for _ in range(18))
    return f"""\
# A long guide

{said(100)}

## Steps

{items}

![The pad, seen from above](fig:pads)

> [!WARNING]
{boxed}

## Log

Table: What was seen

| Try | Seen | By |
|--:|:--|:--|
{rows}

Table: What was asked

{head}
|:--|:--|:--|
{answers}

That is all.

![Dr. Ada Sample](sign:)
"""
