"""Every topic of facts is asked, in its order, with the rows counted as the case's rule says."""

from __future__ import annotations

import importlib
import pkgutil
from datetime import date

import docgen.evidence.facts
from docgen.case.model import Case
from docgen.case.record import Row
from docgen.evidence.gather import evidence, questions
from docgen.evidence.stopping_rule import stopping


def test_each_module_of_facts_is_a_question_under_its_own_name():
    names = [info.name for info in pkgutil.iter_modules(docgen.evidence.facts.__path__) if info.name[0] != "_"]
    assert sorted(questions()) == sorted(names)
    orders = [importlib.import_module(f"docgen.evidence.facts.{name}").ORDER for name in questions()]
    assert orders == sorted(orders)
    assert all(question.endswith("?") for question in questions().values())


def case_with(**trial):
    rows = [Row(at, date(2026, 3, 3), "a", "t", True, release_s=0.5 + at / 10, contacts=at % 2) for at in range(2, 10)]
    return Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "x",
            "trial": {"methods": ({"id": "a", "name": "a"},), "tasks": ({"id": "t", "name": "t"},)} | trial,
            "configuration": {"method": "a"},
        },
        strict=False,
    ).with_records(tuple(rows))


def test_a_row_with_a_collision_counts_as_done_by_the_rule_of_its_task_alone():
    strict, by_task = evidence(case_with()), evidence(case_with(done_rule="task_rule"))
    assert (strict["success.a"].k, by_task["success.a"].k) == (4, 8)
    for known in (strict, by_task):  # both counts are told under either rule
        assert (known["done_recorded.a"].k, known["done_strict.a"].k) == (8, 4)
        assert known.stopping.release == stopping(case_with()).release and known.stopping.release.seconds >= 1.4
