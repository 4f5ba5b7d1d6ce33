"""manifest.json: whose packet a folder holds, and of each file its digest, its verdict and what it was made from."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from msgspec import Struct, field

from docgen.packet.place import plain_bytes

MANIFEST = "manifest.json"
_FORMAT, _FIRST_FORMAT = "docgen manifest 2", "docgen manifest 1"
_MOST_BYTES = 5_000_000


class Entry(Struct, frozen=True):
    """A file that this program wrote.

    sha256   of what was written
    content  digest of the content that it was made from; empty when that is not known, as of the first format
    verdict  draft, ready or approved, of this file
    review   who reviewed it, in words; empty when nobody has
    words    digest of what it says, of letter.pdf alone: a signed scan is tied to it
    """

    sha256: str
    content: str = ""
    verdict: str = ""
    review: str = ""
    words: str = ""


class Manifest(Struct, frozen=True):
    """What a manifest tells; of none, or of one that cannot be read, nothing.

    key         of the case that the folder belongs to; empty for a copy about nobody and in the first format
    verdict     of the packet as last built
    files       name -> what was written under it and is still as it was
    edited      name -> the same of a file that someone has changed since and that stands in its place
    removed     names whose pages the last build took away, because its content did not make them
    set_aside   name of a changed file -> the name that says it is outdated, of the last build
    papers      of others that packet.pdf of the last build holds: name, file, pages and sha256 of each
    signed_letter  file and sha256 of the scan that stands in the letter's place there; empty for none
    packet_holds  names of the documents in packet.pdf of the last build that made it
    last_build  by what the last build is known, and what it told; none for a copy about nobody
    """

    case: str = ""
    key: str = ""
    verdict: str = ""
    files: Mapping[str, Entry] = field(default_factory=dict)
    edited: Mapping[str, Entry] = field(default_factory=dict)
    removed: tuple[str, ...] = ()
    set_aside: Mapping[str, str] = field(default_factory=dict)
    last_build: Mapping[str, Any] = field(default_factory=dict)
    first_format: bool = False
    papers: Sequence[Mapping[str, str | int]] = ()
    signed_letter: Mapping[str, str] = field(default_factory=dict)
    packet_holds: Sequence[str] = ()

    @property
    def known(self) -> Mapping[str, Entry]:
        """Every file that was ever written here and is not gone."""
        return {**self.files, **self.edited}

    def as_bytes(self) -> bytes:
        """The file."""
        content: dict[str, Any] = {"format": _FORMAT, "case": self.case}
        if self.key:
            content["key"] = self.key
        content |= {"verdict": self.verdict, "files": _listed(self.files)}
        if self.edited:
            content["changed_by_hand"] = _listed(self.edited)
        if self.removed:
            content["removed"] = [*self.removed]
        if self.set_aside:
            content["set_aside"] = dict(self.set_aside)
        if self.papers:
            content["enclosed"] = [dict(paper) for paper in self.papers]
        if self.signed_letter:
            content["signed_letter"] = dict(self.signed_letter)
        if self.packet_holds:
            content["packet_holds"] = [*self.packet_holds]
        if self.last_build:
            content["last_build"] = dict(self.last_build)
        return (json.dumps(content, indent=2) + "\n").encode()


def manifest_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of the file."""
    text = {"type": "string"}
    entry = {
        "type": "object",
        "required": ["name", "sha256"],
        "additionalProperties": False,
        "properties": {
            "name": text | {"description": "name of the file"},
            "sha256": text | {"description": "digest of what was written", "pattern": "^[0-9a-f]{64}$"},
            "content": text | {"description": "digest of the content that it was made from"},
            "verdict": {"enum": ["draft", "ready", "approved"], "description": "state of this file"},
            "review": text | {"description": "who reviewed it, in words; left out when nobody has"},
            "words": text | {"description": "digest of what it says, of letter.pdf alone"},
        },
    }
    listed = {"type": "array", "items": entry}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": _FORMAT,
        "type": "object",
        "required": ["format", "case", "verdict", "files"],
        "additionalProperties": False,
        "properties": {
            "format": {"const": _FORMAT},
            "case": text | {"description": "id of the case"},
            "key": text | {"description": "key of the case; left out of a copy about nobody"},
            "verdict": {"enum": ["draft", "ready", "approved"], "description": "state of the packet as last built"},
            "files": listed | {"description": "files that are as they were written"},
            "changed_by_hand": listed | {"description": "files that someone has changed since"},
            "removed": {"type": "array", "items": text, "description": "files that the last build took away"},
            "set_aside": {
                "type": "object",
                "additionalProperties": text,
                "description": "name of a changed file -> the name that says it is outdated",
            },
            "enclosed": {
                "type": "array",
                "items": {"type": "object"},
                "description": "papers of others in packet.pdf: name, file, pages and sha256 of each",
            },
            "signed_letter": {
                "type": "object",
                "description": "file and sha256 of the scan that stands in the letter's place",
            },
            "packet_holds": {"type": "array", "items": text, "description": "documents in packet.pdf"},
            "last_build": {"type": "object", "description": "by what the last build is known, and what it told"},
        },
    }


def read_manifest(folder: Path) -> Manifest:
    """The manifest in a folder. One that is not whole tells nothing."""
    try:
        content = json.loads(plain_bytes(folder / MANIFEST, _MOST_BYTES) or b"")
        if content["format"] not in (_FORMAT, _FIRST_FORMAT):
            return Manifest()
        return Manifest(
            str(content["case"]),
            str(content.get("key", "")),
            str(content["verdict"]),
            _entries(content["files"]),
            _entries(content.get("changed_by_hand", [])),
            tuple(name for name in content.get("removed", []) if _is_name(name)),
            {old: new for old, new in content.get("set_aside", {}).items() if _is_name(old) and _is_name(new)},
            dict(content.get("last_build", {})),
            content["format"] == _FIRST_FORMAT,
            tuple(content.get("enclosed", ())),
            dict(content.get("signed_letter", {})),
            tuple(map(str, content.get("packet_holds", ()))),
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return Manifest()


def _entries(listed: list[dict[str, Any]]) -> dict[str, Entry]:
    entries = {
        str(item["name"]): Entry(
            str(item["sha256"]), *(str(item.get(key, "")) for key in ("content", "verdict", "review", "words"))
        )
        for item in listed
    }
    return {name: entry for name, entry in entries.items() if _is_name(name)}


def _is_name(name: object) -> bool:
    return isinstance(name, str) and Path(name).name == name and name not in (".", "..", MANIFEST)


def _listed(entries: Mapping[str, Entry]) -> list[dict[str, str]]:
    return [
        {"name": name}
        | {
            key: value
            for key in ("sha256", "verdict", "review", "content", "words")
            if (value := getattr(entries[name], key))
        }
        for name in sorted(entries)
    ]
