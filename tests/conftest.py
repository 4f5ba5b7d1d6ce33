"""Shared by every test: demo cases, a small valid case on disk, and how to run the command."""

from __future__ import annotations

import gc
import shutil
from functools import cache
from pathlib import Path

import pytest
from support import NOT_REVIEWED, SMALL, SMALL_ROWS

from docgen.rendering import dialect
from docgen.resources import folder

# Nearly all that a run makes at its start stays to its end: the usual 700 have it looked through over and over.
gc.set_threshold(50_000, 20, 20)
# A program keeps the sections of one case; here the pages of every demo are made over and over, with one thing changed.
dialect._tokens = cache(dialect._tokens.__wrapped__)


# Files that take longest, longest first: each goes to a process whole, and none may be left for the end.
LONGEST = (
    "test_templates.py",
    "test_take_away.py",
    "test_deidentified.py",
    "test_many.py",
    "test_check.py",
    "test_approval.py",
    "test_pdf_ua.py",
    "test_commands.py",
    "test_language_build.py",
    "test_spanish_words.py",
    "test_doors.py",
    "test_readme.py",
)


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
