"""What each reader must never see, written by hand after the agreed list of readers, one file a document.

Neither the classes of privacy nor the templates had a part in it, so that they do not check themselves. The keys of a
file:

    never             keys of the case whose words no page shows; "key@family" of whoever does not work on the request
    never_asked       tables and keys that a front matter cannot ask for, those made from a forbidden one beside it
    may_tell          if given: all that the document may tell from
    published_errors  if given: what a published example of such an error shows
"""

from __future__ import annotations

import tomllib
from pathlib import Path

FAMILY = ("caregiver", "coach", "school", "respiratory", "other")  # roles that do not work on the request

_LISTS = {
    file.stem: tomllib.loads(file.read_text(encoding="utf-8")) for file in sorted(Path(__file__).parent.glob("*.toml"))
}


def _by_document(name: str) -> dict[str, tuple[str, ...]]:
    """The list of that name of each document that has one."""
    return {document: tuple(lists[name]) for document, lists in _LISTS.items() if name in lists}


NEVER, NEVER_ASKED = _by_document("never"), _by_document("never_asked")
MAY_TELL, PUBLISHED_ERRORS = _by_document("may_tell"), _by_document("published_errors")


def beyond(document: str, seen: set[str]) -> set[str]:
    """Of the keys whose words a document shows, those that its reader must never see."""
    return {path for path in seen for never in NEVER[document] if _is(path, never)}


def _is(path: str, never: str) -> bool:
    (key, _, role), (wanted, _, family) = path.partition("@"), never.partition("@")
    return (key == wanted or key.startswith(f"{wanted}.")) and (not family or role in FAMILY)
