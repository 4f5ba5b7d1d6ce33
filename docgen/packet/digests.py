"""Files that a document lists with their digests: a mark as long stands in its place until the file is written."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection, Iterable, Mapping

from docgen.packet.wording import Wording
from docgen.rendering.formats import sent_as
from docgen.rendering.tree import Node


def enclosed_files(names: Iterable[str], worded: Wording, formats: Collection[str]) -> tuple[dict[str, str], ...]:
    """Each of these documents, once, as the file most likely to go out; in place of its digest a mark as long, which
    nobody would write."""
    suffix = sent_as(formats)
    return tuple(marked_file(worded.documents[name].title, f"{name}.{suffix}") for name in names if suffix)


def marked_file(title: str, file: str) -> dict[str, str]:
    """A file by its title, with a mark in the place of its digest."""
    return {"title": title, "file": file, "sha256": hashlib.sha256(f"digest of {file}".encode()).hexdigest()}


def name_digests(tree: Node, enclosed: Iterable[Mapping[str, str]], files: Mapping[str, bytes]) -> None:
    """Put the SHA-256 of each file into the place of its mark."""
    digests = {entry["sha256"]: hashlib.sha256(files[entry["file"]]).hexdigest() for entry in enclosed}
    if not digests:
        return
    mark = re.compile("|".join(digests))

    def named(text: str) -> str:
        return mark.sub(lambda placeholder: digests[placeholder[0]], text)

    for node in tree.walk():
        node.text = named(node.text)
        if isinstance(caption := node.attrs.get("caption"), str):
            node.attrs["caption"] = named(caption)
