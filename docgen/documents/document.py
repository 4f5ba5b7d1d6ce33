"""A document: one Markdown template whose front matter names its reader and lists all it may show."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from docgen.errors import Problem, UserError

_FENCE = "+++\n"
_KEYS = {"title", "head", "reader", "order", "plain", "figures", "shows"}


@dataclass(frozen=True, slots=True)
class Document:
    """One document as its template describes it.

    name     file name without its ending; also the name of the files made from it
    reader   for whom it is written
    plain    whether its reader should meet no term of the trade
    shows    key table -> the keys of it that may be shown; nothing else exists inside the template
    figures  names of the drawings it may show
    body     the template, with blank lines in place of the front matter so that its lines keep their numbers
    """

    name: str
    title: str
    head: str
    reader: str
    order: int
    plain: bool
    shows: Mapping[str, tuple[str, ...]]
    figures: tuple[str, ...]
    body: str
    path: Path


def documents(folder: Path) -> dict[str, Document]:
    """Every document of a template folder by name, in packet order. Raises UserError for a broken one."""
    found = [_document(path) for path in sorted(folder.glob("*.md")) if not path.name.startswith("_")]
    return {document.name: document for document in sorted(found, key=lambda d: (d.order, d.name))}


def _document(path: Path) -> Document:
    text = path.read_text(encoding="utf-8")
    opening, fence, rest = text.partition(_FENCE)
    matter, closing, body = rest.partition(_FENCE)
    if opening or not fence or not closing:
        raise UserError([Problem(f"{path}:1", "has no front matter", "Open it with +++ and close it with +++.")])
    try:
        front: dict[str, Any] = tomllib.loads(matter)
    except tomllib.TOMLDecodeError as failure:
        raise UserError([Problem(f"{path}:1", f"its front matter is not valid TOML: {failure}")]) from None
    if wrong := sorted(set(front) ^ _KEYS):
        raise UserError([Problem(f"{path}:1", f"its front matter must hold {', '.join(sorted(_KEYS))}",
                                 f"Look at {', '.join(wrong)}.")])
    shows = {table: tuple(keys) for table, keys in front["shows"].items()}
    blank = "\n" * (matter.count("\n") + 2)
    return Document(path.stem, front["title"], front["head"], front["reader"], front["order"], front["plain"], shows,
                    tuple(front["figures"]), blank + body, path)
