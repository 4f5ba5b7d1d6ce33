"""Each clause of what a page may not say, and of what a record is held against itself for, is shown twice: in a record
where it fails, and in one where all is well and nothing is said."""

from __future__ import annotations

import ast
import tomllib
from functools import cache
from pathlib import Path

import pytest
from records import all_records

from docgen.criteria.criterion import criteria

TESTS = Path(__file__).parent.parent
CLAUSES = tomllib.loads((Path(__file__).parent / "clauses.toml").read_text(encoding="utf-8"))["clause"]
STATUSES = {"fault": ("not_met", "cannot_tell"), "well": ("met", "does_not_apply")}


@cache
def names_of_tests(path: str) -> frozenset[str]:
    """Names of the tests of a file below tests."""
    tree = ast.parse((TESTS / path).read_text(encoding="utf-8"))
    return frozenset(node.name for node in tree.body if isinstance(node, ast.FunctionDef))


def is_shown(where: str, kind: str) -> bool:
    """Whether a record or test of that name is there; a record with an answer of that kind."""
    path, double, test = where.partition("::")
    if double:
        return (TESTS / path).is_file() and test in names_of_tests(path)
    criterion, _, name = where.partition(": ")
    records = all_records().get(criterion)
    return records is not None and any(
        record[0] == name for status in STATUSES[kind] for record in getattr(records, status)
    )


@pytest.mark.parametrize("kind", STATUSES)
def test_each_clause_is_shown_where_it_fails_and_where_all_is_well(kind):
    missing = {
        clause["says"]: [where for where in clause[kind] if not is_shown(where, kind)] or "nothing named"
        for clause in CLAUSES
        if not clause[kind] or not all(is_shown(where, kind) for where in clause[kind])
    }
    assert missing == {}


def test_every_criterion_that_holds_the_record_against_itself_is_of_some_clause():
    named = {where.partition(": ")[0] for clause in CLAUSES for kind in STATUSES for where in clause[kind]}
    of_record = {name for name, criterion in criteria().items() if criterion.heading == "record"}
    assert len(of_record) > 20
    assert of_record - named == set()


def test_a_name_that_nothing_has_is_not_shown():
    assert is_shown("done_as_defined: done with a collision", "fault")
    assert not is_shown("done_as_defined: done with a collision", "well")
    assert not is_shown("done_as_defined: done with no such thing", "fault")
    assert not is_shown("no_such_criterion: done with a collision", "fault")
    assert not is_shown("criteria/test_clauses.py::test_no_such_thing", "fault")
