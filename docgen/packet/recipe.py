"""What is asked of every packet of one build, and the digest of all that decides their bytes besides the case."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from functools import cache, cached_property
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from msgspec import Struct, field

import docgen
from docgen.criteria.payer import Payer
from docgen.packet.approval import digest
from docgen.packet.contents import Contents
from docgen.packet.papers import Paper
from docgen.rendering.formats import format_names
from docgen.resources import folder

_PRINTERS = ("jinja2", "markdown-it-py", "python-docx", "lxml", "reportlab", "pillow", "icalendar", "pypdfium2")


@cache
def program_digest() -> str:
    """SHA-256 of the program: its own files, which hold rules and templates too, and the versions of what it prints
    with."""
    whole = hashlib.sha256()
    for root in (Path(docgen.__file__).parent, folder("templates")):
        for name, path in sorted(_files_below(root)):
            with open(path, "rb", buffering=0) as file:
                whole.update(f"{name}\n".encode() + hashlib.sha256(file.read()).digest())
    whole.update("\n".join(f"{name} {_version(name)}" for name in _PRINTERS).encode())
    return whole.hexdigest()


def _files_below(root: Path | str, below: str = "") -> Iterator[tuple[str, str]]:
    """Each file below a folder: its path from there with slashes, and its own. Not what Python compiled."""
    for entry in os.scandir(root):  # a fifth of the time of os.walk
        if entry.is_file():
            yield f"{below}{entry.name}", entry.path
        elif entry.is_dir(follow_symlinks=False) and entry.name != "__pycache__":
            yield from _files_below(entry.path, f"{below}{entry.name}/")


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return ""


class Selection(Struct, frozen=True):
    """Which files a packet gets.

    only     names of documents; all that the case has when empty
    enclose  documents that packet.pdf holds besides those that are always sent
    papers   of others, that packet.pdf of one case alone holds too
    langs    languages whose documents are written beside the English ones
    large_print  whether the sheets for daily use are written in large letters too
    """

    formats: tuple[str, ...] = format_names()
    only: tuple[str, ...] = ()
    enclose: tuple[str, ...] = ()
    papers: tuple[Paper, ...] = ()
    langs: tuple[str, ...] = ()
    large_print: bool = True


EVERY_FILE = Selection()


class Recipe(Selection, frozen=True, dict=True):
    """What is asked of every packet: its files, whose rules, and the clinic's own files as they are now.

    deidentified  make copies about nobody instead; each is drawn anew, so none is ever known again
    program       the program and its libraries, which must be the same wherever the work is done
    """

    payer: Payer | None = None
    templates: Contents | None = None
    letterhead: Contents | None = None
    deidentified: bool = False
    program: str = field(default_factory=program_digest)

    @cached_property
    def digest(self) -> str:
        """SHA-256 of all of it."""
        payer = self.payer.model_dump(mode="json") if self.payer else None
        own = [part.digest if part else None for part in (self.templates, self.letterhead)]
        papers = [[paper.name, paper.file, paper.sha256] for paper in self.papers]
        asked = [self.formats, self.only, self.enclose, papers, self.langs, self.large_print]
        return digest([*asked, payer, own, self.deidentified, self.program])

    def made_from(self, case: Contents) -> str:
        """What a packet of this case is known by; empty for a copy about nobody, which must not lead back to it."""
        return "" if self.deidentified else digest([self.digest, case.name, case.digest])
