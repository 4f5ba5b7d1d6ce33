"""The demo that is ready to send, and how to change it: a second case beside the whole one, with all that a real one
holds."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from typing import Any

from in_full import tables_in_full
from support import DEMO_FOLDERS

from docgen.case.model import Case
from docgen.case.read import frozen, read_case
from docgen.criteria.criterion import Grounds
from docgen.evidence.gather import evidence
from docgen.fit.match import fit

Entries = list[dict[str, Any]]
SOURCE = next(folder for folder in DEMO_FOLDERS if folder.name == "ilmari-okonjo-vale")
RAW: dict[str, Any] = tables_in_full(SOURCE)
ROWS = read_case(SOURCE).case.records


def ready_grounds(raw: dict[str, Any], rows: Any = ROWS) -> Grounds:
    """All that an answer may rest on."""
    case = Case.model_validate(frozen(raw)).with_records(rows)
    return Grounds(case, evidence(case), fit(case, lambda *path: "case.toml:1"))


def changed_ready(*changes: tuple[tuple[Any, ...], Any]) -> dict[str, Any]:
    """The ready demo with these changes: (key path, value); None takes the key away, a function changes it."""
    raw = pickle.loads(pickle.dumps(RAW))  # a quarter of the time of deepcopy
    for path, value in changes:
        node: Any = raw
        for part in path[:-1]:
            node = node[part]
        if value is None:
            del node[path[-1]]
        else:
            node[path[-1]] = value(node[path[-1]]) if callable(value) else value
    return raw


def place(table: str, key: str, value: str) -> int:
    """Index of the entry in which key has this value."""
    node: Any = RAW
    for part in table.split("."):
        node = node[part]
    return next(i for i, entry in enumerate(node) if entry[key] == value)


def without(**wanted: str) -> Callable[[Entries], Entries]:
    """A change that drops the entries of a list in which a key has this value."""
    ((key, value),) = wanted.items()
    return lambda entries: [entry for entry in entries if entry.get(key) != value]


def feature(feature_id: str, because: list[str]) -> Callable[[Entries], Entries]:
    """A change that asks for one more feature."""
    return lambda features: [*features, {"id": feature_id, "because": because}]


def only(code: str) -> Callable[[Entries], Entries]:
    """A change that leaves the lines with this code."""
    return lambda items: [item for item in items if item["code"] == code]


def line(code: str, **keys: Any) -> Callable[[Entries], Entries]:
    """A change that adds a line with this code."""
    return lambda items: [*items, {"id": "more", "name": "one more", "code": code, "why": "Needed.", **keys}]


ALT = "alternatives"
STICK_AT = place(ALT, "id", "hand_stick")
FEATURES, ITEMS, MOUNTS = ("configuration", "features"), ("configuration", "items"), ("configuration", "mounting")
BASE, SEAT_MOTORS = ("configuration", "chair", "base_code"), ("configuration", "chair", "seat_actuators")
HARDWARE = place("configuration.items", "code", "E1028")
EVALUATOR = place("people", "role", "evaluator")
SUPPLIER = place("people", "role", "supplier")
PROFILES = ("configuration", "profiles")
