"""The Python of the templates that a wheel holds: the same pages, nothing compiled, and never for another text."""

from __future__ import annotations

import importlib

import pytest
from jinja2.compiler import CodeGenerator

from docgen.packet import assess, languages, trees, wording
from docgen.rendering.template import TemplateProblem, fill
from docgen.resources import folder

own = importlib.import_module("docgen.packet.wording")  # its package has a function of that name
DEMOS = sorted(path.parent for path in folder("cases").glob("*/case.toml"))


@pytest.fixture(scope="module")
def python(tmp_path_factory):
    """Folder of the Python of every template, as a wheel holds it."""
    target = tmp_path_factory.mktemp("compiled")
    own.write_python(target)
    return target


@pytest.fixture
def shipped(python, monkeypatch):
    """The wording of a language as in a package that was installed from a wheel."""
    monkeypatch.setattr(own, "folder", lambda name: python if name == "compiled" else folder(name))
    return own.wording.__wrapped__


@pytest.fixture
def compiled(monkeypatch):
    """Names of the templates that are compiled from here on."""
    names, generate = [], CodeGenerator.visit_Template
    monkeypatch.setattr(
        CodeGenerator, "visit_Template", lambda self, *given: (names.append(self.name), generate(self, *given))[1]
    )
    return names


def test_every_template_of_every_language_is_there(python):
    there = {path.relative_to(python).with_suffix(".md").as_posix() for path in python.rglob("*.py")}
    templates = {path.relative_to(folder("templates")).as_posix() for path in folder("templates").rglob("*.md")}
    assert there == templates and len({name.partition("/")[0] for name in there}) == 1 + len(languages())


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.name)
def test_the_pages_are_the_same_and_nothing_is_compiled(shipped, compiled, demo):
    assessed = assess(demo)
    expected = {name: tree.plain() for name, tree in trees(assessed).items()}
    compiled.clear()
    assert {name: tree.plain() for name, tree in trees(assessed, worded=shipped("en")).items()} == expected
    assert compiled == []


def test_a_mistake_is_told_by_the_line_of_the_template(shipped, compiled):
    with pytest.raises(TemplateProblem) as told:
        fill(wording().environment, "letter.md", {})
    compiled.clear()
    with pytest.raises(TemplateProblem) as by_python:
        fill(shipped("en").environment, "letter.md", {})
    assert (by_python.value.name, by_python.value.line) == (told.value.name, told.value.line)
    assert told.value.line > 1 and compiled == []


@pytest.mark.parametrize("changed", ["text", "release"])
def test_python_made_from_something_else_is_left_aside(python, shipped, compiled, monkeypatch, changed):
    file = python / "en" / "ticks.py"
    kept = file.read_text(encoding="utf-8")
    try:
        if changed == "text":
            file.write_text(kept.replace("made_from = '", "made_from = 'f"), encoding="utf-8")
        else:
            monkeypatch.setattr("jinja2.__version__", "0")
        shipped("en").environment.get_template("ticks.md")
    finally:
        file.write_text(kept, encoding="utf-8")
    assert compiled == ["ticks.md"]


def test_the_words_of_a_clinic_are_never_with_our_python(shipped, compiled, tmp_path, monkeypatch):
    monkeypatch.setattr(own, "wording", shipped)
    (tmp_path / "words.toml").write_text((folder("templates") / "en" / "words.toml").read_text(encoding="utf-8"))
    own.overlaid(tmp_path).environment.get_template("guide.md")
    assert "guide.md" in compiled
