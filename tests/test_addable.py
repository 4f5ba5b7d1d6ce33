"""A new thing is a new file: one of each kind that code or data finds by its place, with no edit of another file.

A feature, a finding, a drawing and a language have tests of their own: fit/test_new_feature.py,
fit/test_new_finding.py, figures/test_self_placed.py, languages/test_new_language.py.
"""

from __future__ import annotations

import shutil
import sys
from importlib import import_module

import pytest
from support import DEMO_FOLDERS

from docgen.criteria.criterion import Grounds, criteria
from docgen.criteria.payer import load, payers
from docgen.criteria.run import verdicts
from docgen.evidence.gather import evidence, questions
from docgen.fit.condition import of_case, rows
from docgen.fit.condition_asked import asked_of
from docgen.packet.assess import assess
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import _own_wording as wording_of
from docgen.rendering.formats import format_names
from docgen.resources import folder

CASE = next(source for source in DEMO_FOLDERS if source.name == "pilar-nakashima-holt")
CRITERION = '''"""The client has a name to be called by.

Asks: Whether it is recorded.
Why a payer asks: It does not; a test does.
What settles it: called under [client].
Source: invented for this test.
"""

from docgen.criteria.criterion import cannot_tell, met
from docgen.criteria.mend import fill_in

HEADING = "record"
CLAIM = "The client has a name to be called by"
SETTINGS = {}


def answer(grounds):
    if grounds.case.client.called is None:
        return cannot_tell("Not recorded: called.", ("client",), mend=fill_in({"client.called": "<name>"}))
    return met(f"The client is called {grounds.case.client.called}.", ("client", "called"))
'''
PAYER = """
id = "harbour"
name = "Harbour State Health Plan"
extends = "general"
reviewed_on = 2026-01-01
review_by = 2027-01-01

[[requirements]]
id = "home"
criterion = "fits_the_home"
severity = "query"
from = 2020-01-01
citation = "invented for this test"
version = "2026"
known = "memory"
"""
FACT = """from docgen.evidence.fact import Fact

QUESTION = "How many tasks were there?"
ORDER = 999


def facts(case):
    yield Fact("n_tasks", "counting", "tasks of the trial", "count", len(case.trial.tasks), len(case.trial.tasks))
"""
DOCUMENT = """+++
title = "Door Card"
head = "door card"
reader = "whoever opens the door"
may_see = ["name"]
about = "who drives"
leaves_out = "all else"
order = 99
plain = false
figures = []

[shows]
client = ["name"]
+++
# Door Card

{{ client.name }} drives a wheelchair.
"""
FORMAT = """def render(document, page, scenes, style=None, *, labels=None):
    return f"{page.status}\\n{document.plain()}\\n".encode()
"""
CONDITION = """
name = "a condition of this test"
rows = [{ id = "TST-1", says = "Nothing is known.", source = "invented for this test", mark = "memory" }]

[recognised]
codes = ["G82.5"]

[[asks]]
id = "seen"
form = "yes"
asks = "Was it seen?"
changes = "nothing"
rows = ["TST-1"]
holds = true
"""


@pytest.fixture
def add_module(tmp_path, monkeypatch):
    """Put one more module into a package of modules that are found by their place."""
    added = []

    def add(package, name, text):
        (tmp_path / f"{name}.py").write_text(text, encoding="utf-8")
        module = import_module(package)
        monkeypatch.setattr(module, "__path__", [*module.__path__, str(tmp_path)])
        added.append((module, name))

    yield add
    for module, name in added:
        sys.modules.pop(f"{module.__name__}.{name}", None)
        if hasattr(module, name):
            delattr(module, name)


@pytest.fixture
def add_table(tmp_path, monkeypatch):
    """Put one more TOML file beside those that a module finds in its folder."""

    def add(module, name, text):
        there = import_module(module)
        own = tmp_path / there._FOLDER.name
        shutil.copytree(there._FOLDER, own)
        (own / f"{name}.toml").write_text(text, encoding="utf-8")
        monkeypatch.setattr(there, "_FOLDER", own)

    return add


@pytest.fixture(autouse=True)
def found_anew():
    """What is found is kept: each test here looks for itself, and leaves nothing found behind."""
    kept = (criteria, payers, rows, wording_of, import_module("docgen.evidence.gather")._topics)
    for function in kept:
        function.cache_clear()
    yield
    for function in kept:
        function.cache_clear()


def test_a_criterion_is_asked_of_every_case(add_module):
    add_module("docgen.criteria.questions", "has_a_name", CRITERION)
    assessed = assess(CASE)
    answer = next(verdict.answer for verdict in assessed.verdicts if verdict.criterion.id == "has_a_name")
    assert answer.status == "met" and answer.reason == f"The client is called {assessed.file.case.client.called}."


def test_a_payer_is_known_by_its_id_and_takes_over_the_rows_of_another(add_table):
    add_table("docgen.criteria.payer", "harbour", PAYER)
    payer = load("harbour", "--payer")
    assert payer in payers()
    assert {row.id for row in payer.requirements} >= {row.id for row in load("general", "").requirements}
    row = next(v for v in assess(CASE, payer).verdicts if v.criterion.id == "fits_the_home")
    assert row.requirement.citation == "invented for this test" and row.bound


def test_a_fact_is_worked_out_of_every_case(add_module):
    add_module("docgen.evidence.facts", "counting", FACT)
    case = assess(CASE).file.case
    assert evidence(case)["n_tasks"].value == len(case.trial.tasks) > 0
    assert questions()["counting"] == "How many tasks were there?"


def test_a_document_is_made_of_every_case(tmp_path, monkeypatch):
    templates = tmp_path / "templates"
    shutil.copytree(folder("templates"), templates)
    (templates / "en" / "door_card.md").write_text(DOCUMENT, encoding="utf-8")
    module = import_module("docgen.packet.wording")  # the package gives a function under this name
    monkeypatch.setattr(module, "folder", lambda name: templates if name == "templates" else folder(name))
    assessed = assess(CASE)
    assert (
        trees(assessed, ["door_card"])["door_card"]
        .plain()
        .endswith(f"{assessed.file.case.client.name} drives a wheelchair.")
    )


def test_a_format_is_written_of_every_document(add_module):
    add_module("docgen.rendering.formats", "to_txt", FORMAT)
    assert "txt" in format_names()
    files = render(assess(CASE), ["txt"], ["letter"])
    assert "Letter of Medical Necessity" in files["letter.txt"].decode()


def test_a_condition_is_recognised_and_asks(add_table):
    add_table("docgen.fit.condition", "of_this_test", CONDITION)
    case = assess(CASE).file.case
    sick = case.model_copy(
        update={"diagnoses": tuple(d.model_copy(update={"code": "G82.51"}) for d in case.diagnoses[:1])}
    )
    assert "of_this_test" not in of_case(case.model_copy(update={"diagnoses": ()})) and "of_this_test" in of_case(sick)
    assert any(condition.id == "of_this_test" and question.holds for condition, question in asked_of(sick))
    grounds = Grounds(sick, evidence(sick), assess(CASE).grounds.fit)
    answers = {v.criterion.id: v.answer for v in verdicts(grounds, load("general", ""), case.request.requested_on)}
    assert answers["conditions_answered"].status == "cannot_tell" and answers["conditions_answered"].danger
