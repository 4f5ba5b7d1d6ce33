"""What tests of documents share: the demo folders, a changed copy of one, and the words under a heading or in a
table."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

from in_full import file_in_full
from support import DEMO_FOLDERS, assess

from docgen.case.model import Case
from docgen.case.read import CaseFile
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import load
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees
from docgen.rendering.tree import Node

FOLDERS = {folder.name: folder for folder in DEMO_FOLDERS}
SAOIRSE, MARISOL, ILMARI, BOHDAN = (
    "saoirse-villalobos-ng",
    "marisol-quenneville-tran",
    "ilmari-okonjo-vale",
    "bohdan-lacroix-mbeki",
)


def items(tree, under):
    """Text of the blocks under a heading, with or without what the record holds, up to the next one of its level or
    above."""
    found, level = [], None
    for node in tree.children:
        if node.kind == "heading":
            if level is not None and node.level <= level:
                break
            if node.plain() == under or node.plain().startswith(f"{under}: the record "):
                level = node.level
        elif level is not None:
            found += [node.plain()] if node.kind != "list" else [item.plain() for item in node.children]
    return found


def table(tree, caption):
    found = next(node for node in tree.walk() if node.kind == "table" and node.caption == caption)
    return [[cell.plain() for cell in row.children] for row in found.children]


def lesson_rows():
    """Rows of the demo's lessons, read here on their own."""
    with (FOLDERS[SAOIRSE] / "sessions.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def rebuilt(tmp_path, name, only=("plan", "lesson", "progress", "appeal"), **changes):
    """These documents of a demo whose files were changed: file -> function of its text; None takes the file away."""
    target = shutil.copytree(FOLDERS[name], tmp_path / name)
    for file, change in changes.items():
        path = target / file.replace("_", ".")
        if change is None:
            path.unlink()
        else:
            text = file_in_full(path)
            changed = change(text)
            assert changed != text
            path.write_text(changed, encoding="utf-8")
    return trees(assess(target), list(only))


def page(tmp_path: Path, document: str, source: Path, *changes: tuple[str, str, str]) -> str:
    """The words of a document of a demo with these texts of its files replaced, each of which stands there once."""
    return " ".join(tree_of(tmp_path, document, source, *changes).plain().split())


def tree_of(tmp_path: Path, document: str, source: Path, *changes: tuple[str, str, str]) -> Node:
    """The same as a tree."""
    folder = tmp_path / source.name
    shutil.copytree(source, folder)
    for file, old, new in changes:
        text = file_in_full(folder / file)
        assert text.count(old) == 1, old
        (folder / file).write_text(text.replace(old, new), encoding="utf-8")
    return trees(assess(folder), [document])[document]


def assessed(**tables) -> Assessed:
    """A case of these tables, assessed but for the payer's questions, which no guide shows."""
    case = Case.model_validate({"format": "docgen case 1", "id": "robin-example", **tables}, strict=False)
    file = CaseFile(case, Path("robin-example"), {}, "")
    grounds = Grounds(case, evidence(case), fit(case, lambda *path: "case.toml"))
    return Assessed(file, grounds.evidence, grounds, load("general", ""), ())
