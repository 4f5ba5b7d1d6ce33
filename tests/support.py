"""What several tests start from: the demo cases, a small valid case, the command."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import typer.testing
from typer.testing import CliRunner

from docgen.case.read import read_case
from docgen.cli import app
from docgen.resources import folder

if TYPE_CHECKING:
    from docgen.criteria.payer import Payer
    from docgen.packet.assess import Assessed

# the commands are put together once, as in a real process, and not for every call of them
typer.testing._get_command = cache(typer.testing._get_command)
Made = TypeVar("Made")

DEMO_FOLDERS = sorted(path.parent for path in folder("cases").glob("*/case.toml"))
DEMOS = [path.name for path in DEMO_FOLDERS]
NOT_REVIEWED = shutil.ignore_patterns("approval.toml")  # a copy to be changed is nobody's approved content


class Lazily(Mapping[str, Made]):
    """Demo -> what is made of its folder when it is first asked for: not when tests are collected, and once for all
    tests of a process."""

    def __init__(self, make: Callable[[Path], Made]) -> None:
        self._make, self._made = make, dict[str, Made]()

    def __getitem__(self, name: str) -> Made:
        if name not in self._made:
            self._made[name] = self._make(DEMO_FOLDERS[DEMOS.index(name)])
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        return iter(DEMOS)

    def __len__(self) -> int:
        return len(DEMOS)


def _assessed(folder: Path, payer: Payer | None = None) -> Assessed:
    from docgen.packet.assess import assess

    return assess(folder, payer)


CASES = Lazily(lambda folder: read_case(folder).case)
ASSESSED = Lazily(_assessed)


def assess(folder: Path, payer: Payer | None = None) -> Assessed:
    """A case with all that follows from it; a demo as it stands once in a process."""
    return ASSESSED[folder.name] if payer is None and folder in DEMO_FOLDERS else _assessed(folder, payer)


SMALL = """\
format = "docgen case 1"
id = "small"

[client]
name = "Robin Example"

[[people]]
id = "ot"
role = "evaluator"

[trial]
[[trial.methods]]
id = "pads"
name = "head pads"

[[trial.tasks]]
id = "door"
name = "through a door"
"""
SMALL_ROWS = "date,method,task,success\n2026-03-03,pads,door,1\n2026-03-03,pads,door,0\n"


def run(*words: object) -> tuple[int, str, str]:
    """The command in this process: status, standard output, standard error."""
    done = CliRunner().invoke(app, [str(word) for word in words])
    if done.exception is not None and not isinstance(done.exception, SystemExit):
        raise done.exception
    return done.exit_code, done.stdout, done.stderr


def pages_of(pdf: bytes) -> list[str]:
    """The words of each page of a PDF, with one space between them."""
    from pypdfium2 import PdfDocument

    with PdfDocument(pdf) as opened:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in opened]


def each_key_gone(raw: dict[str, Any]) -> Iterator[tuple[tuple[str | int, ...], dict[str, Any]]]:
    """Every key of a case's data with the data without it, to be read and not changed: what is not on the way to the
    key is shared. Of the entries of a list, the first that has the key."""
    seen = set()
    for path in _keys(raw):
        general = tuple("*" if isinstance(part, int) else part for part in path)
        if general in seen or path[0] in ("format", "id"):
            continue
        seen.add(general)
        yield path, without(raw, path)


def without(node: Any, path: tuple[str | int, ...]) -> Any:
    """The data without what stands at a path; what is not on the way is shared."""
    first, *rest = path
    if isinstance(node, dict):
        kept = {name: child for name, child in node.items() if rest or name != first}
        return kept | {first: without(node[first], tuple(rest))} if rest else kept
    left, right = node[:first], node[first + 1 :]
    return [*left, *([without(node[first], tuple(rest))] if rest else []), *right]


def with_value(node: Any, path: tuple[str | int, ...], value: Any) -> Any:
    """The data with another value at a path; what is not on the way is shared."""
    if not path:
        return value
    first, *rest = path
    changed = with_value(node[first], tuple(rest), value)
    return node | {first: changed} if isinstance(node, dict) else [*node[:first], changed, *node[first + 1 :]]


def _keys(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    if isinstance(node, dict):
        for name, child in node.items():
            yield (*path, name)
            yield from _keys(child, (*path, name))
    elif isinstance(node, list):
        for index, child in enumerate(node):
            yield from _keys(child, (*path, index))
