"""The Python of the templates that a wheel holds: the same pages, nothing compiled, and never for another text."""

from __future__ import annotations

import importlib
import tomllib
from pathlib import Path

import pytest
from jinja2.compiler import CodeGenerator

import docgen
import docgen.shipped as from_package
from docgen.documents.document import front_matter
from docgen.packet.assess import assess
from docgen.packet.trees import trees
from docgen.packet.wording import languages, wording
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
    return own._own_wording.__wrapped__


@pytest.fixture
def compiled(monkeypatch):
    """Names of the templates that are compiled from here on."""
    names, generate = [], CodeGenerator.visit_Template
    monkeypatch.setattr(
        CodeGenerator, "visit_Template", lambda self, *given: (names.append(self.name), generate(self, *given))[1]
    )
    return names


def test_every_template_of_every_language_is_there(python):
    there = {path.relative_to(python).with_suffix(".md").as_posix() for path in python.glob("*/*.py")}
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
    file = python / "en" / "lesson.py"
    kept = file.read_text(encoding="utf-8")
    try:
        if changed == "text":
            file.write_text(kept.replace("made_from = '", "made_from = 'f"), encoding="utf-8")
        else:
            monkeypatch.setattr("jinja2.__version__", "0")
        shipped("en").environment.get_template("lesson.md")
    finally:
        file.write_text(kept, encoding="utf-8")
    assert compiled == ["lesson.md"]


def test_the_words_of_a_clinic_are_never_with_our_python(shipped, compiled, tmp_path, monkeypatch):
    monkeypatch.setattr(own, "wording", shipped)
    (tmp_path / "words.toml").write_text((folder("templates") / "en" / "words.toml").read_text(encoding="utf-8"))
    own.overlaid(tmp_path).environment.get_template("guide.md")
    assert "guide.md" in compiled


def test_of_a_clinics_templates_the_one_it_changed_is_compiled_and_no_other(shipped, compiled, tmp_path, monkeypatch):
    monkeypatch.setattr(own, "wording", shipped)
    text = (folder("templates") / "en" / "letter.md").read_text(encoding="utf-8")
    (tmp_path / "letter.md").write_text(f"{text}\nAsk for a copy in large print.\n", encoding="utf-8")
    worded = own.overlaid(tmp_path)
    compiled.clear()
    pages = trees(assess(DEMOS[0]), ["letter", "guide", "order"], worded)
    assert "Ask for a copy in large print." in pages["letter"].plain() and compiled == ["letter.md"]


@pytest.fixture
def tables(python, monkeypatch):
    """The tables of a text as in a package that was installed from a wheel."""
    monkeypatch.setattr(from_package, "folder", lambda name: python if name == "compiled" else folder(name))
    from_package._compiled.cache_clear()
    yield from_package.shipped
    from_package._compiled.cache_clear()


_ROOT = Path(docgen.__file__).parent
TOML = sorted([*_ROOT.rglob("*.toml"), *folder("templates").rglob("*.toml")])


def test_every_table_of_the_program_is_there_as_its_text_has_it(tables):
    texts = {path: path.read_text(encoding="utf-8") for path in TOML}
    assert len(texts) > 130
    assert [str(path) for path, text in texts.items() if tables(text) != tomllib.loads(text)] == []


def test_nothing_that_the_program_brings_is_read_as_toml(tables, monkeypatch):
    from docgen.case.toml import read_toml

    read = []
    loads = tomllib.loads
    monkeypatch.setattr(tomllib, "loads", lambda text: read.append(text[:60]) or loads(text))
    for path in sorted(folder("templates").rglob("*.md")):
        if not path.name.startswith("_"):
            read_toml(front_matter(path.read_text(encoding="utf-8")), str(path))
    for path in TOML:
        assert read_toml(path.read_text(encoding="utf-8"), str(path)).tables
    assert read == []


def test_a_text_that_was_changed_is_read_as_it_is_and_no_table_is_shared(tables):
    text = TOML[0].read_text(encoding="utf-8")
    assert tables("later = 1\n" + text) is None
    assert from_package.tables_of("later = 1\n" + text)["later"] == 1
    tables(text).clear()
    assert tables(text) == tomllib.loads(text)


def test_a_checkout_has_no_compiled_tables_and_reads_its_toml():
    assert from_package.shipped(TOML[0].read_text(encoding="utf-8")) is None
