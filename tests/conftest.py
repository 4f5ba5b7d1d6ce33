"""Shared by every test: demo cases, a small valid case on disk, and how to run the command."""

from __future__ import annotations

import gc
import os
import pickle
import shutil
import tomllib
from collections.abc import Callable, Generator, Mapping, MutableMapping
from functools import cache, lru_cache, partial, wraps
from importlib import import_module
from pathlib import Path
from typing import Any

import jinja2
import pytest
import tomli
from support import NOT_REVIEWED, SMALL, SMALL_ROWS

from docgen.case import toml
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile
from docgen.documents.document import Document
from docgen.documents.view import project
from docgen.packet.wording import Wording, wording
from docgen.rendering import dialect
from docgen.rendering.compiled import CompiledLoader
from docgen.rendering.tree import Node
from docgen.resources import folder

# Nearly all that a run makes stays to its end, or goes without being looked for: the usual 700 have it looked through
# over and over.
gc.set_threshold(1_000_000, 50, 50)
# Environments of many wordings are made here, and nearly all of their templates are the program's own.
jinja2.Environment._compile = staticmethod(lru_cache(500)(partial(compile, mode="exec")))
_load = CompiledLoader.load
_CODE: dict[tuple[object, ...], Any] = {}


@wraps(_load)
def _load_once(
    self: CompiledLoader, environment: jinja2.Environment, name: str, globals: MutableMapping[str, Any] | None = None
) -> jinja2.Template:
    """A template in the words of its language, made into Python once, as a wheel holds it: a checkout has none."""
    if self.python.is_dir():
        return _load(self, environment, name, globals)
    text, path, _ = self.get_source(environment, name)
    key = (self.python, name, path, text)
    if key not in _CODE:
        _CODE[key] = environment.compile(text, name, path)
    return environment.template_class.from_code(environment, _CODE[key], globals or {})


CompiledLoader.load = _load_once
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

_lines_of = lru_cache(200)(toml.lines_of)
_SHORT = 2000  # characters that are read faster than looked up


def _read_once(loads: Callable[..., dict[str, Any]]) -> Callable[..., dict[str, Any]]:
    """The tables of a text that was read before, its own for each reader; what is refused is refused anew."""

    @lru_cache(200)
    def pickled(text: str) -> bytes:
        return pickle.dumps(loads(text))

    @wraps(loads)
    def read(text: str, **options: Any) -> dict[str, Any]:
        if options or not isinstance(text, str) or len(text) < _SHORT:
            return loads(text, **options)
        tables: dict[str, Any] = pickle.loads(pickled(text))
        return tables

    return read


@wraps(toml.lines_of)
def _lines_once(text: str) -> dict[KeyPath, int]:
    return dict(_lines_of(text))


tomllib.loads, tomli.loads, toml.lines_of = _read_once(tomllib.loads), _read_once(tomli.loads), _lines_once


# Folders whose files share what takes long to make: pages of every demo, the whole case without each of its keys, the
# libraries that the numbers are held against. One process makes it.
TOGETHER = ("accessibility", "criteria", "evidence")
# What takes longest, longest first: each goes to a process whole, and none may be left for the end.
LONGEST = (
    "test_templates.py",
    "criteria",
    "accessibility",
    "test_take_away.py",
    "test_deidentified.py",
    "evidence",
    "test_many.py",
    "test_language_build.py",
    "test_readme.py",
    "test_doors.py",
    "test_spanish_pages.py",
    "test_approval.py",
    "test_check.py",
    "test_first_packet.py",
    "test_states_in_chromium.py",
    "test_desk_in_chromium.py",
    "test_belonging.py",
    "test_send.py",
    "test_nothing_leaves.py",
    "test_bounds.py",
    "test_commands.py",
    "test_scripts.py",
    "test_page_in_chromium.py",
    "test_free_text.py",
    "test_hostile_text.py",
    "test_ablations.py",
    "test_long_texts.py",
    "test_write.py",
    "test_request.py",
)


def pytest_configure(config: pytest.Config) -> None:
    """Where Python is told to keep nothing that it compiles, the processes of a run share what they compile all the
    same: each would compile the whole program and all tests anew."""
    if not hasattr(config, "workerinput"):
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Every second process looks through the folders from their end: what one has compiled, the other need not."""
    report = yield
    if isinstance(collector, (pytest.Session, pytest.Directory)) and _is_every_second(collector.config):
        report.result.reverse()
    return report


def _is_every_second(config: pytest.Config) -> bool:
    name: str = getattr(config, "workerinput", {"workerid": "gw0"})["workerid"]
    return int(name.removeprefix("gw")) % 2 == 1


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    place = {name: at for at, name in enumerate(LONGEST)}

    def first(item: pytest.Item) -> tuple[int, Path]:
        return min((place[part] for part in item.path.parts if part in place), default=len(place)), item.path

    items.sort(key=first)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> object:
    """Where files go to a process whole, some go with the others of their folder."""
    if config.getvalue("dist") != "loadfile":
        return None
    from xdist.scheduler import LoadFileScheduling

    class ByFileOrFolder(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file: str = super()._split_scope(nodeid)
            return next((name for name in TOGETHER if name in file.split("/")), file)

    return ByFileOrFolder(config, log)


def pytest_collection_finish() -> None:
    gc.freeze()  # what is there now is there at the end, and need not be looked through


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
