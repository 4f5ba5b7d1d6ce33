"""Resources collected into one Bundle: each once, under an identifier that follows from its content.

No clock and no chance: the same case gives the same bytes, and a corrected one gives other identifiers. The identifiers
have the form of version 4 of RFC 4122, for servers that take no other.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any, Final, TypeVar

from docgen.errors import Problem
from docgen.request.guide import ABSENT_REASON, PAS, URI_SYSTEM

Json = dict[str, Any]
Value = TypeVar("Value")


class Absent:
    """Stands for a value that the request needs and nobody has recorded."""


ABSENT: Final = Absent()


class Asking:
    """What a request needs is asked of it, and each value that is not recorded is kept as a gap."""

    def __init__(self) -> None:
        self.gaps: list[Problem] = []

    def needed(self, value: Value | None, where: str, what: str, do: str) -> Value | Absent:
        """The value; ABSENT, and a gap, for none.

        where  file and line of the key
        what   its meaning, as "the client's gender"
        do     what to write
        """
        if value is None or value == "" or value == ():
            gap = Problem(where, f"missing: {what}", do)
            if gap not in self.gaps:
                self.gaps.append(gap)
            return ABSENT
        return value


class Bundle:
    """The entries of a request so far, and their references."""

    def __init__(self, case_id: str) -> None:
        self._case_id = case_id
        self._entries: list[Json] = []

    def add(self, kind: str, profile: str, content: Json, name: str = "", first: bool = False) -> Json:
        """A reference to a resource of this content, which is now in the bundle.

        profile  its address, or the end of one of the guide's own
        name     tells apart two resources of the same content
        first    whether it goes before all others
        """
        address = profile if profile.startswith("http") else PAS + profile
        resource = {"resourceType": kind, "meta": {"profile": [address]}, **plain(content)}
        guid = guid_of(self._case_id, kind, name, resource)
        entry = {
            "fullUrl": f"urn:uuid:{guid}",
            "resource": {"resourceType": kind, "id": guid, **resource},
        }
        self._entries.insert(0 if first else len(self._entries), entry)
        return {"reference": entry["fullUrl"]}

    def whole(self, timestamp: str | Absent, meta: Json) -> Json:
        """The Bundle itself."""
        guid = guid_of(self._case_id, "Bundle", "", {"entries": self._entries, "meta": meta})
        return plain(
            {
                "resourceType": "Bundle",
                "id": guid,
                "meta": {"profile": [f"{PAS}profile-pas-request-bundle"], **meta},
                "identifier": {"system": URI_SYSTEM, "value": f"urn:uuid:{guid}"},
                "type": "collection",
                "timestamp": timestamp,
                "entry": self._entries,
            }
        )


def guid_of(case_id: str, kind: str, name: str, content: Json) -> str:
    """32 hexadecimal digits in the form of a version 4 UUID, from SHA-256 of all of it."""
    text = json.dumps([case_id, kind, name, content], sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    digits = [*hashlib.sha256(text.encode()).hexdigest()[:32]]
    digits[12] = "4"
    digits[16] = "89ab"[int(digits[16], 16) % 4]
    whole = "".join(digits)
    return "-".join((whole[:8], whole[8:12], whole[12:16], whole[16:20], whole[20:]))


def plain(content: Json) -> Json:
    """The content without what is empty; a value that is ABSENT is told as such in the way of FHIR."""
    return dict(_plain(content))


def _plain(content: Json) -> Iterator[tuple[str, Any]]:
    for name, value in content.items():
        if isinstance(value, Absent):
            yield f"_{name}", {"extension": [{"url": ABSENT_REASON, "valueCode": "unknown"}]}
            continue
        value = _value(value)
        if value is not None and value != [] and value != {} and value != "":
            yield name, value


def _value(value: Any) -> Any:
    if isinstance(value, dict):
        return plain(value)
    if isinstance(value, (list, tuple)):
        return [inner for inner in map(_value, value) if inner is not None and inner != {}]
    return value


def concept(system: str, code: str | Absent) -> Json:
    """A CodeableConcept of one code. No display: the code alone is what is meant."""
    return {"coding": [{"system": system, "code": code}]}


def as_bytes(bundle: Json) -> bytes:
    """The file."""
    return (json.dumps(bundle, indent=1, ensure_ascii=False) + "\n").encode()
