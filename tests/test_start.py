"""What a command loads and does before its first word, in a process of its own."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from docgen.case.toml import read_toml
from docgen.errors import UserError
from docgen.resources import folder

_CHECK = """
import contextlib, importlib.metadata, io, json, sys
looked, look = [], importlib.metadata.entry_points
importlib.metadata.entry_points = lambda **of: (looked.append(of), look(**of))[1]
folder = sys.argv[1]
from docgen.__main__ import main
def run(*words):
    sys.argv = ["docgen", *words]
    with contextlib.redirect_stdout(io.StringIO()):
        try:
            main()
        except SystemExit as end:
            return end.code, sorted(sys.modules)
status, loaded = run("check", folder)
from docgen.case.base import Part
def parts(kind):
    return [kind, *(part for below in kind.__subclasses__() for part in parts(below))]
built = sorted({part.__name__ for part in parts(Part) if part.__pydantic_complete__})
from jinja2.compiler import CodeGenerator
compiled, generate = [], CodeGenerator.visit_Template
CodeGenerator.visit_Template = lambda self, node, *rest: (compiled.append(self.name), generate(self, node, *rest))[1]
_, loaded_by_all = run("check", folder, "--all")
dataclasses = [
    f"{name}.{word}" for name, module in sorted(sys.modules.items()) if name.startswith("docgen.")
    for word, value in vars(module).items() if isinstance(value, type) and "__dataclass_fields__" in vars(value)
    and value.__module__ == name
]
print(json.dumps([status, loaded, loaded_by_all, compiled, looked, dataclasses, built]))
"""
_OF_A_BUILD = (
    "reportlab",
    "docx",
    "lxml",
    "pypdfium2",
    "icalendar",
    "docgen.case.nobody.text",
    "docgen.case.nobody.copy",
)
_OF_CHANGES = ("tomlkit",)  # a text as a tree takes longer to make than all answers
_OF_PAGES = (
    "jinja2",
    "markdown_it",
    "syllapy",
    "docgen.documents",
    "docgen.figures",
    "docgen.packet.wording",
    "docgen.packet.trees",
    "docgen.packet.hard_words",
    "docgen.rendering.tree",
)


@pytest.fixture(scope="module")
def checked():
    """Of a check in a fresh process, and then of the same with all of it told: status of the first, modules that were
    loaded after each; of the second, templates compiled; of both, plugins looked for, and dataclasses of the
    program; of the first, parts of a case whose form was made by itself."""
    words = [sys.executable, "-c", _CHECK, str(folder("cases") / "saoirse-villalobos-ng")]
    return json.loads(subprocess.run(words, capture_output=True, text=True, check=True).stdout)


def test_the_first_page_of_a_check_loads_nothing_of_the_pages(checked):
    """What lays them out takes longer to load than a case takes to read."""
    status, loaded, *_ = checked
    assert status in (0, 1) and "docgen.criteria.run" in loaded
    assert [name for name in (*_OF_PAGES, *_OF_A_BUILD, *_OF_CHANGES) if name in loaded] == []


def test_the_whole_page_of_a_check_loads_nothing_that_only_a_build_needs(checked):
    loaded = checked[2]
    assert [name for name in _OF_PAGES if name not in loaded] == []
    assert [name for name in _OF_A_BUILD if name in loaded] == []


def test_a_check_makes_no_dataclass(checked):
    """Each takes half a millisecond to make, thirty times as long as a struct of msgspec."""
    assert checked[5] == []


def test_a_check_makes_the_form_of_a_case_once(checked):
    """The parts in it need none of their own: an empty one is compared with `is_empty`. A changed profile is read
    alone."""
    assert set(checked[6]) <= {"Case", "Profile"} and "Case" in checked[6]


def test_a_check_looks_for_no_plugin(checked):
    """Looking for one reads what is known of every package installed, and a plugin would see every case."""
    assert checked[4] == []


def test_the_whole_page_of_a_check_compiles_the_guide_and_the_parts_that_it_shares_alone(checked):
    assert checked[3] == ["guide.md", "_stop_test.md", "_seat.md"]


def test_where_a_key_stands_is_looked_for_when_it_is_asked_for(monkeypatch):
    looked = []
    monkeypatch.setattr("docgen.case.toml.lines_of", lambda text: looked.append(text) or {("a",): 3})
    read = read_toml("\n\na = 1\n", "some.toml")
    assert read.tables == {"a": 1} and not looked
    assert read.where("a") == "some.toml:3" and read.where("a") == "some.toml:3" and len(looked) == 1
    with pytest.raises(UserError, match="some.toml:3: a is a number too large"):
        read_toml(f"a = {10**16}\n", "some.toml")
