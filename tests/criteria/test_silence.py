"""Silence is never a pass: what is not recorded is never met, and nothing left out makes a question fail."""

from __future__ import annotations

import re
from contextlib import suppress
from functools import cache

import pytest
from pydantic import ValidationError
from records import all_records
from whole_case import GONE, ROWS, WHOLE, ask, changed, grounds, key_paths

from docgen.criteria.criterion import Answer, criteria

WHOLE_GROUNDS, WITHOUT_ROWS = grounds(WHOLE), grounds(WHOLE, ())
NOTHING = grounds({"format": "docgen case 1", "id": "robin-example"}, ())
TABLES = [name for name in WHOLE if name not in ("format", "id")]


@pytest.mark.parametrize("criterion", criteria())
def test_an_empty_case_meets_nothing(criterion):
    answer = ask(criterion, NOTHING)
    if criterion == "awaited_answers_in":  # it asks only about what the record itself calls open
        assert answer.status == "does_not_apply" and answer.where
        return
    assert answer.status == "cannot_tell"
    assert answer.reason.endswith(".") and answer.mend and answer.where


@pytest.mark.parametrize("criterion", all_records())
def test_rows_alone_or_a_case_without_rows_meet_only_what_needs_no_other_half(criterion):
    tables = {"trial": WHOLE["trial"], "configuration": {"method": "pads"}}
    rows_alone = ask(criterion, grounds({"format": "docgen case 1", "id": "robin-example", **tables}))
    records = all_records()[criterion]
    assert rows_alone.status != "met" or records.rows_suffice
    # what is asked only of a later day is not met with the rows either
    met_with_rows = ask(criterion, WHOLE_GROUNDS).status == "met"
    assert (ask(criterion, WITHOUT_ROWS).status == "met") is (met_with_rows and not records.needs_rows)


def test_each_table_left_out_is_missed_by_some_criterion():
    for table in TABLES:
        left = grounds({key: value for key, value in WHOLE.items() if key != table}, () if table == "trial" else ROWS)
        assert any(ask(criterion, left).status == "cannot_tell" for criterion in criteria()), table


@cache
def _without_each_key() -> dict[str, dict[str, Answer]]:
    """Key or entry of the whole case -> the answer of each criterion when it alone is left out, where that can be."""
    answers = {}
    for path in key_paths(WHOLE):
        with suppress(ValidationError):  # a key that its table cannot do without
            left = grounds(changed((path, GONE)))
            answers[path] = {criterion: ask(criterion, left) for criterion in criteria()}
    return answers


def test_any_one_key_left_out_gives_every_question_exactly_one_answer():
    answers = _without_each_key()
    assert 0 < len(list(key_paths(WHOLE))) - len(answers) < 150
    for path, given in answers.items():
        for criterion, answer in given.items():
            assert answer.status in ("met", "not_met", "cannot_tell", "does_not_apply"), (path, criterion)
            assert bool(answer.mend) is (answer.status in ("not_met", "cannot_tell")), (path, criterion)
    assert sum(map(len, answers.values())) > 3000


def resting(criterion: str) -> set[str]:
    """The innermost keys of the whole case without which a criterion cannot be told, entries of a list as "*"."""
    needed = {path for path, given in _without_each_key().items() if given[criterion].status == "cannot_tell"}
    keys = {re.sub(r"\.\d+(?=\.|$)", ".*", path) for path in needed}
    return {key for key in keys if not any(other.startswith(f"{key}.") for other in keys)}


@pytest.mark.parametrize("criterion", all_records())
def test_a_criterion_cannot_be_told_without_exactly_the_keys_it_rests_on(criterion):
    assert resting(criterion) == set(all_records()[criterion].rests_on)


def test_the_records_name_many_keys():
    assert len(set().union(*map(resting, all_records()))) > 30
