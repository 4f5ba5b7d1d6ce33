"""The layers: what a module may never import, what importing the command may never load, that each stands alone."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import NamedTuple

from gathered import of_each

import docgen

ROOT = Path(docgen.__file__).parent
MODULES = sorted(ROOT.rglob("*.py"))

# Data flows one way; a layer imports nothing that comes after it, and rendering knows nothing of the trade.
_OUTSIDE = ("results", "library", "filling", "request", "languages", "console", "recording_sheet", "commands", "cli")
_PAGES = ("documents", "figures", "rendering", "packet", *_OUTSIDE)
NEVER = {
    "codes": ("case", "evidence", "fit", "shelf", "criteria", *_PAGES),
    "case": ("spreadsheet", "evidence", "fit", "shelf", "criteria", *_PAGES),
    "spreadsheet": ("evidence", "fit", "shelf", "criteria", *_PAGES),
    "vocabulary.py": _PAGES,
    "nearest.py": ("case", "fit", "shelf", "criteria", "documents", "packet", *_OUTSIDE),
    "evidence": ("fit", "shelf", "criteria", *_PAGES),
    "fit": ("shelf", "criteria", *_PAGES),
    "shelf": ("criteria", *_PAGES),
    "criteria": _PAGES,
    "figures": ("criteria", "documents", "rendering", "packet", *_OUTSIDE),
    "documents": ("packet", *_OUTSIDE, "rendering.formats"),
    "packet": _OUTSIDE,
    "results.py": ("library", "request", "filling", "console", "recording_sheet", "commands", "cli"),
    "library.py": ("request", "filling", "console", "recording_sheet", "commands", "cli"),
    "filling.py": ("console", "recording_sheet", "commands", "cli"),
    "request": ("filling", "console", "recording_sheet", "commands", "cli"),
    "languages": ("library", "filling", "request", "console", "recording_sheet", "commands", "cli"),
    "console": ("recording_sheet", "commands", "cli"),
    "commands": ("cli",),
    "rendering": ("case", "evidence", "fit", "shelf", "criteria", "documents", "packet", *_OUTSIDE),
}


def _name(path: Path) -> str:
    parts = path.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


class Imported(NamedTuple):
    """What a module imports: when it is imported itself, and at any time."""

    at_once: set[str]
    ever: set[str]


@cache
def _imports(path: Path) -> Imported:
    module = ast.parse(path.read_text(encoding="utf-8"))
    return Imported(_named_by(module.body), _named_by(ast.walk(module)))


def _named_by(nodes: Iterable[ast.AST]) -> set[str]:
    """What these statements import."""
    found = set()
    for node in nodes:
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return found


@of_each("path", MODULES, ids=_name)
def test_a_layer_imports_nothing_that_comes_after_it(path):
    layer = path.relative_to(ROOT).parts[0]
    never = tuple(f"docgen.{name}" for name in NEVER.get(layer, ()))
    wrong = {name for name in _imports(path).ever if any(name == n or name.startswith(f"{n}.") for n in never)}
    assert not wrong


def test_run_time_rests_on_no_scientific_library():
    heavy = ("scipy", "numpy", "statsmodels", "pandas", "matplotlib", "shapely", "textstat")
    wrong = {(_name(path), name) for path in MODULES for name in _imports(path).ever if name.split(".")[0] in heavy}
    assert not wrong


def test_importing_the_command_loads_nothing_heavy():
    script = "import sys, docgen.cli; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    loaded = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout.split()
    assert not set(loaded) & {
        "scipy",
        "numpy",
        "pydantic",
        "jinja2",
        "docx",
        "reportlab",
        "lxml",
        "markdown_it",
        "pypdfium2",
    }
    assert "typer" in loaded


def test_no_module_imports_itself_by_way_of_others():
    """So each can be imported first, whichever it is."""
    names = {_name(path): path for path in MODULES}
    imports = {name: _imports(path).at_once & set(names) - {name} for name, path in names.items()}
    assert sum(map(len, imports.values())) > 300
    assert not [cycle for cycle in [next(iter(_cycle(imports)), ())] if cycle]


def _cycle(imports: dict[str, set[str]]) -> list[tuple[str, ...]]:
    """What is left when modules that import nothing left are taken out, again and again."""
    left = dict(imports)
    while free := [name for name, others in left.items() if not others & set(left)]:
        for name in free:
            del left[name]
    return [tuple(sorted(left))] if left else []


def test_every_module_imports_without_a_warning():
    names = [_name(path) for path in MODULES if path.name != "__main__.py"]
    script = "import importlib, sys\nfor name in sys.argv[1:]: importlib.import_module(name)"
    done = subprocess.run([sys.executable, "-W", "error", "-c", script, *names], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr[-2000:]
