"""Whose the packet in a folder is, and which names there a packet could have."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from docgen.case.key import mark_of
from docgen.case.who import ORDINALS
from docgen.packet.data_files import CALENDAR, LINES, ORDER_DATA
from docgen.packet.manifest import Manifest
from docgen.packet.place import plain_bytes
from docgen.packet.render import COVER, FORMATS, PACKET
from docgen.packet.wording import ENGLISH_TAG, document_names, languages
from docgen.rendering.seal import mark_in

_NAME = re.compile(
    r"(?P<stem>[a-z_]+)(?:\.[a-z]{2,3})?(?:\.new(?:-\d+)?)?(?P<aside>\.outdated(?:-\d+)?)?\.(?P<suffix>[a-z]+)"
)
_SUFFIXES = {*FORMATS, *(name.rpartition(".")[2] for name in (CALENDAR, LINES, ORDER_DATA))}


def belongs(folder: Path, manifest: Manifest, key: str) -> bool:
    """Whether the packet in a folder is of the case with this key, or of none; without its manifest its files tell."""
    if manifest.case and not manifest.first_format:
        return manifest.key == key
    return marks(folder, packet_names(folder)[0]) <= {mark_of(key)}


def packet_names(folder: Path) -> tuple[list[str], list[str]]:
    """Names in a folder that a packet could have: of its files and those beside them, and of those set aside."""
    files: list[str] = []
    aside: list[str] = []
    for name in sorted(os.listdir(folder)):
        match = _NAME.fullmatch(name)
        if match and match["stem"] in _stems() and match["suffix"] in _SUFFIXES:
            (aside if match["aside"] else files).append(name)
    return files, aside


def marks(folder: Path, names: Iterable[str]) -> set[str]:
    """The marks of the cases that files were made for, as far as they carry one."""
    all_marks = (mark_in(name, data) for name in names if (data := plain_bytes(folder / name)) is not None)
    return {mark for mark in all_marks if mark}


@cache
def _stems() -> frozenset[str]:
    """How the names of a packet's files begin, in any language."""
    names = {name for lang in (ENGLISH_TAG, *languages()) for name in document_names(lang)}
    alone = {name.partition(".")[0] for name in (PACKET, CALENDAR, LINES, ORDER_DATA)}
    later = {f"{COVER}_{order}" for order in ORDINALS}
    return frozenset(names | {f"{name}_large" for name in names} | later | alone)
