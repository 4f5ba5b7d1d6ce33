"""DEVELOPERS.md is true: what it names is there, what is there is in its map, its changes end with this version."""

from __future__ import annotations

import re
from pathlib import Path

import docgen

ROOT = Path(__file__).parent.parent
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
_PLACES = (
    ROOT,
    ROOT / "docgen",
    ROOT / "docgen" / "rendering",
    ROOT / "docgen" / "packet",
    ROOT / "docgen" / "documents",
)


def test_every_file_it_names_is_there():
    named = {
        path
        for path in re.findall(r"`([\w./*-]+/[\w.*-]*)`", TEXT)
        if path.split("/")[0] in ("docgen", "tests", "templates") or path.endswith(".py")
    }
    assert len(named) > 40
    assert [path for path in sorted(named) if not any(any(place.glob(path.rstrip("/"))) for place in _PLACES)] == []


def test_every_package_is_in_its_map():
    packages = [path.parent.name for path in (ROOT / "docgen").glob("*/__init__.py")]
    data = [path.name for path in (ROOT / "docgen").iterdir() if path.is_dir() and any(path.glob("*.toml"))]
    the_map = TEXT.partition("## Map")[2].partition("## Glossary")[0]
    assert [name for name in {*packages, *data} if f"`docgen/{name}" not in the_map] == []


def test_its_changes_begin_with_this_version():
    assert re.findall(r"^### (\d+\.\d+\.\d+), \d{4}-\d{2}-\d{2}", TEXT, re.M)[0] == docgen.__version__


def test_each_word_of_the_glossary_is_explained_once():
    rows = TEXT.partition("## Glossary")[2].partition("\n## ")[0].splitlines()
    words = [word for row in rows if row.startswith("| ") for word in row.split(" | ")[0].strip("| ").split(", ")][1:]
    assert len(words) == len(set(words)) > 25
    for word in (
        "fact",
        "finding",
        "feature",
        "verdict",
        "gap",
        "scene",
        "kind",
        "class of privacy",
        "mend",
        "packet",
        "key",
    ):
        assert word in words
