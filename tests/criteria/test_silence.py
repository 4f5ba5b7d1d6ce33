"""Silence is never a pass: what is not recorded is never met, and nothing left out makes a question fail."""

from __future__ import annotations

from functools import cache

import pytest
from pydantic import ValidationError
from records import all_records
from whole_case import GONE, ROWS, WHOLE, ask, changed, grounds, key_paths

from docgen.criteria.criterion import criteria

WHOLE_GROUNDS, WITHOUT_ROWS = grounds(WHOLE), grounds(WHOLE, ())
NOTHING = grounds({"format": "docgen case 1", "id": "robin-example"}, ())
TABLES = [name for name in WHOLE if name not in ("format", "id")]


@pytest.mark.parametrize("criterion", criteria())
def test_an_empty_case_meets_nothing(criterion):
    answer = ask(criterion, NOTHING)
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


def test_any_one_key_left_out_gives_every_question_exactly_one_answer():
    asked, refused = 0, 0
    for path in key_paths(WHOLE):
        try:
            left = grounds(changed((path, GONE)))
        except ValidationError:  # a key that its table cannot do without
            refused += 1
            continue
        for criterion in criteria():
            answer = ask(criterion, left)
            assert answer.status in ("met", "not_met", "cannot_tell", "does_not_apply"), (path, criterion)
            assert bool(answer.mend) is (answer.status in ("not_met", "cannot_tell")), (path, criterion)
            asked += 1
    assert asked > 3000 and 0 < refused < 150


@cache
def _resting() -> dict[str, set[str]]:
    """Criterion -> keys without which it cannot be told, of those that the records name."""
    keys = sorted({key for records in all_records().values() for key in records.rests_on})
    without = {key: grounds(changed((key, GONE))) for key in keys}
    return {
        criterion: {key for key, left in without.items() if ask(criterion, left).status == "cannot_tell"}
        for criterion in criteria()
    }


@pytest.mark.parametrize("criterion", all_records())
def test_a_criterion_cannot_be_told_without_exactly_the_keys_it_rests_on(criterion):
    assert _resting()[criterion] == set(all_records()[criterion].rests_on)


def test_the_records_name_many_keys():
    assert len(set().union(*_resting().values())) > 30
