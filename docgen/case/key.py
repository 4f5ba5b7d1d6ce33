"""The key of a case: drawn at random once, kept beside case.toml, and the only thing a packet is known to belong by.

Two people may get the same id in two places; no two cases get the same key. The key says nothing about a person.
Beside it stand the id that it was drawn for and salted digests of the parts of the client's name, by which a folder
copied from another person's is noticed. They are for this folder alone; of all this only the key goes further.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from pathlib import Path
from uuid import uuid4

import tomli
from msgspec import Struct

from docgen.case.files import leads_out, text_of
from docgen.errors import Problem, UserError
from docgen.private import alone_in, write_whole, writing

FILE = "key.toml"
_FORMAT = "docgen key 1"
_MOST_BYTES, _MOST_CASE_BYTES = 10_000, 512_000
_KEY = re.compile(r"[0-9a-f]{32}")
_LEAST_LETTERS = 3  # shorter parts of a name, such as initials, tell nobody apart


class Key(Struct, frozen=True):
    """What key.toml holds.

    key     32 hexadecimal digits
    case    id of the case that it was drawn for
    client  salted digests of the parts of the client's name, none when there was no name
    """

    key: str
    case: str
    client: frozenset[str]


def new_key() -> str:
    """A key that nobody else draws."""
    return uuid4().hex


def read_key(folder: Path) -> Key | None:
    """The key of a case folder; None when none was drawn yet. Raises UserError when the file is not as it was
    written."""
    path = folder / FILE
    if leads_out(path, folder):
        raise UserError([Problem(str(path), "is a link that leads out of the case folder", "Take it away.")])
    if not path.exists():
        return None
    try:
        raw = tomli.loads(text_of(path, str(path), _MOST_BYTES))
        key, case, client = raw["key"], raw["case"], raw["client"]
        whole = raw["format"] == _FORMAT and bool(_KEY.fullmatch(key)) and isinstance(case, str)
        whole = whole and isinstance(client, list) and all(isinstance(part, str) for part in client)
    except (tomli.TOMLDecodeError, KeyError, TypeError, RecursionError):
        whole = False
    if not whole:
        raise UserError(
            [
                Problem(
                    f"{path}:1",
                    "is not as docgen wrote it",
                    "Put back the one that was there, or take it away and the packet built with it too.",
                )
            ]
        )
    return Key(key, case, frozenset(client))


def known_key(folder: Path) -> str:
    """The key of a case folder, or empty when there is none that can be read."""
    try:
        stored = read_key(folder)
    except UserError:
        return ""
    return stored.key if stored else ""


def settle_key(folder: Path) -> tuple[str, str]:
    """The key of a case, drawn and kept when it has none yet, and what the user must be told of it, or "".

    A folder whose id has changed since gets a key of its own. Nothing is drawn for a case that cannot be read: the key
    is then empty. Raises UserError when the client has become another, and when the key cannot be kept.
    """
    name = _client_name(folder)
    if name is None:
        return "", ""
    case_id, path = folder.resolve().name, folder / FILE
    advice = "A case gets its key once: build it where its folder can be written, or copy the folder to such a place."
    with writing(path, advice):
        known = read_key(folder)
        if known and known.case == case_id and known.client == _digests(name, known.key):
            return known.key, ""
        with alone_in(folder):
            known = read_key(folder)  # another process may have drawn it in the meantime
            remark = ""
            if known and known.case != case_id:
                remark = f"{path} was written for '{known.case}'; '{case_id}' has a key of its own now"
                known = None
            if known and known.client and name and not known.client & _digests(name, known.key):
                raise UserError(
                    [
                        Problem(
                            str(path),
                            "was written for a client of another name",
                            (
                                "If this folder was copied from another person's, take key.toml away; if the name "
                                "was put right, take its line 'client' away."
                            ),
                        )
                    ]
                )
            key = known.key if known else new_key()
            if not known or (name and known.client != _digests(name, key)):
                write_whole(path, _written(key, case_id, _digests(name, key)).encode())
    return key, remark


def mark_of(key: str) -> str:
    """What the files of a packet carry of the key, from which the key cannot be read; empty for no key."""
    return hashlib.sha256(f"docgen packet {key}".encode()).hexdigest()[:16] if key else ""


def _client_name(folder: Path) -> str | None:
    """The client's name as written, empty when there is none; None when the case cannot be read."""
    try:
        raw = tomli.loads(text_of(folder / "case.toml", FILE, _MOST_CASE_BYTES))
    except (UserError, tomli.TOMLDecodeError, RecursionError):
        return None
    client = raw.get("client")
    name = client.get("name") if isinstance(client, dict) else ""
    return name if isinstance(name, str) else ""


def _digests(name: str, key: str) -> frozenset[str]:
    plain = unicodedata.normalize("NFKC", name).casefold()
    parts = re.findall(r"\w+", plain)
    long = [part for part in parts if len(part) >= _LEAST_LETTERS] or parts
    return frozenset(hashlib.sha256(f"{key} {part}".encode()).hexdigest()[:16] for part in long)


def _written(key: str, case_id: str, client: frozenset[str]) -> str:
    lines = [
        "# Written once by docgen. The key is drawn at random: it tells the packet of this case from any other's.",
        "# Keep it with the case. In a copy that becomes another person's case, take it away.",
        f'format = "{_FORMAT}"',
        f'case = "{case_id}"',
        f'key = "{key}"',
        "client = [" + ", ".join(f'"{part}"' for part in sorted(client)) + "]",
    ]
    return "\n".join(lines) + "\n"
