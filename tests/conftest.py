"""Shared by every test: demo cases, a small valid case on disk, and how to run the command."""

from __future__ import annotations

import gc
import os
import pickle
import shutil
import sys
import tomllib
from collections.abc import Mapping
from functools import cache, lru_cache, wraps
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from support import NOT_REVIEWED, SMALL, SMALL_ROWS

from docgen.case import toml
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile
from docgen.documents.document import Document
from docgen.documents.view import project
from docgen.packet.wording import Wording, wording
from docgen.rendering import dialect
from docgen.rendering.tree import Node
from docgen.resources import folder

# Nearly all that a run makes at its start stays to its end: the usual 700 have it looked through over and over.
gc.set_threshold(50_000, 20, 20)
# A program keeps the sections of one case; here the pages of every demo are made over and over, with one thing changed.
dialect._tokens = cache(dialect._tokens.__wrapped__)
trees = import_module("docgen.packet.trees")  # the package has a function of that name
_TREES: dict[tuple[object, ...], bytes] = {}
_tree = trees._tree


@wraps(_tree)
def _tree_once(file: CaseFile, worded: Wording, document: Document, shown: Mapping[str, Any]) -> Node:
    """A document in the program's own words, filled and parsed once for all cases of which it sees the same."""
    if worded.lang not in ("en", "es") or worded is not wording(worded.lang):
        return _tree(file, worded, document, shown)
    view = project(shown, document.shows, worded.words["not_recorded"], worded.words.get("labels"), document.may_see)
    changed_by_tests = (trees.figures, trees.fill)
    key = (worded.lang, document.name, *changed_by_tests, pickle.dumps(view))
    if key not in _TREES:
        _TREES[key] = pickle.dumps(_tree(file, worded, document, shown))
    tree: Node = pickle.loads(_TREES[key])  # its own, for what comes after changes it
    return tree


trees._tree = _tree_once

_loads, _lines_of = tomllib.loads, lru_cache(200)(toml.lines_of)
_SHORT = 2000  # characters that are read faster than looked up


@lru_cache(200)
def _pickled_tables(text: str) -> bytes:
    return pickle.dumps(_loads(text))


@wraps(_loads)
def _loads_once(text: str, **options: Any) -> dict[str, Any]:
    """The tables of a text that was read before, its own for each reader; what is refused is refused anew."""
    if options or not isinstance(text, str) or len(text) < _SHORT:
        return _loads(text, **options)
    tables: dict[str, Any] = pickle.loads(_pickled_tables(text))
    return tables


@wraps(toml.lines_of)
def _lines_once(text: str) -> dict[KeyPath, int]:
    return dict(_lines_of(text))


tomllib.loads, toml.lines_of = _loads_once, _lines_once


# Files that take longest, longest first: each goes to a process whole, and none may be left for the end.
LONGEST = (
    "test_templates.py",
    "test_html_in_chromium.py",
    "test_take_away.py",
    "test_deidentified.py",
    "test_many.py",
    "test_hostile_text.py",
    "test_pdf_ua.py",
    "test_bounds.py",
    "test_check.py",
    "test_other_systems.py",
    "test_approval.py",
    "test_send.py",
    "test_nothing_leaves.py",
    "test_each_key_left_out.py",
    "test_doors.py",
    "test_belonging.py",
    "test_spanish_words.py",
    "test_long_texts.py",
    "test_language_build.py",
    "test_commands.py",
    "test_readme.py",
)


def pytest_configure(config: pytest.Config) -> None:
    """Where Python is told to keep nothing that it compiles, the processes of a run share what they compile all the
    same, in the cache of the tests: each would compile the whole program anew."""
    if sys.dont_write_bytecode and not hasattr(config, "workerinput") and getattr(config, "cache", None):
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.environ["PYTHONPYCACHEPREFIX"] = str(config.cache.mkdir("bytecode"))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    place = {name: at for at, name in enumerate(LONGEST)}
    items.sort(key=lambda item: place.get(item.path.name, len(place)))


@pytest.fixture
def demo(tmp_path):
    """Copy a demo case, without the approval that one has, so that a test may change it; returns its folder."""

    def copy(name: str) -> Path:
        return Path(shutil.copytree(folder("cases") / name, tmp_path / "cases" / name, ignore=NOT_REVIEWED))

    return copy


@pytest.fixture
def case_folder(tmp_path):
    """Write a case folder from text; returns its folder."""

    def write(toml: str | bytes = SMALL, rows: str | bytes | None = SMALL_ROWS, name: str = "small") -> Path:
        target = tmp_path / name
        target.mkdir(exist_ok=True)
        for file, content in (("case.toml", toml), ("trial.csv", rows)):
            if content is not None:
                (target / file).write_bytes(content.encode() if isinstance(content, str) else content)
        return target

    return write
