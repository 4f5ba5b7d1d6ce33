"""Rows grouped by day and control; an amount written once for a block."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import DayTotal
from docgen.evidence.blocks import (
    Block,
    blocks,
    by_method,
    cited_totals,
    exposure,
    in_order,
    lines,
    n_attempts,
    ranges,
    recorded,
    rise,
    tally,
    total,
    total_lines,
)
from docgen.evidence.facts import changing

MARCH = [date(2026, 3, day) for day in (1, 2, 3)]


def row(line, day=0, method="pads", **more):
    return Row(line, MARCH[day], method, "door", True, **more)


def test_a_block_is_one_control_on_one_day_in_the_order_of_the_days_then_of_the_file():
    rows = [row(2, 1), row(3, 0, "stick"), row(4, 1, "stick"), row(5, 0), row(6, 1)]
    assert [(block.on.day, block.method, lines(block.rows)) for block in blocks(rows)] == [
        (1, "stick", (3,)),
        (1, "pads", (5,)),
        (2, "pads", (2, 6)),
        (2, "stick", (4,)),
    ]
    assert {method: lines(group) for method, group in by_method(rows).items()} == {"pads": (2, 5, 6), "stick": (3, 4)}


def test_a_total_is_over_the_rows_that_record_it_and_none_without_any():
    rows = [row(2, distance_m=4.5), row(3), row(4, distance_m=0.0)]
    assert lines(recorded(rows, "distance_m")) == (2, 4) and total(rows, "distance_m") == 4.5
    assert total(rows, "minutes") is None


@of_each(
    "rows, expected",
    [
        # both on every row
        ([row(2, contacts=1, distance_m=5.0), row(3, contacts=2, distance_m=6.0)], (3, 11.0, (2, 3), 0)),
        # the amount on every row: a row without its events is left out with its amount
        ([row(2, contacts=1, distance_m=5.0), row(3, distance_m=6.0)], (1, 5.0, (2,), 0)),
        # the amount once for the block: it covers all of it
        ([row(2, contacts=1, distance_m=20.0), row(3, contacts=0)], (1, 20.0, (2, 3), 0)),
        # once for the block, but a row without its events: the block says nothing
        ([row(2, contacts=1, distance_m=20.0), row(3)], None),
        # a day that lacks the amount, and one with an amount of nought, are left out and counted
        (
            [row(2, contacts=1, distance_m=5.0), row(3, 1, contacts=4), row(4, 2, contacts=1, distance_m=0.0)],
            (1, 5.0, (2,), 2),
        ),
        ([row(2), row(3)], None),
        ([], None),
    ],
)
def test_events_are_counted_over_the_amount_that_belongs_to_them(rows, expected):
    found = exposure(rows, "contacts", "distance_m")
    assert (found and (found.n_events, found.amount, lines(found.rows), found.n_blocks_left_out)) == expected


def _day(*attempts, **more):
    return [
        Row(line, date(2026, 3, 3), "pads", "door", line < 6, attempt=attempt, **more)
        for line, attempt in enumerate(attempts, start=2)
    ]


@pytest.mark.parametrize(
    ("attempts", "lines"),
    [((1, 2, 3), (2, 3, 4)), ((3, 1, 2), (3, 4, 2)), ((None, 2, 3), None), ((1, 1, 2), None), ((None,), (2,))],
)
def test_the_order_of_a_block_is_that_of_its_attempts_and_never_of_its_lines(attempts, lines):
    ordered = in_order(_day(*attempts))
    assert (ordered and tuple(row.line for row in ordered)) == lines


@pytest.mark.parametrize(
    ("attempt", "after", "rose"),
    [(True, (5.0, 4.0), 2.0), (False, (5.0, 4.0), None), (False, (4.0, 4.0), 2.0), (False, (None, 4.0), 2.0)],
)
def test_a_scale_written_several_times_rises_only_where_the_order_is_known(attempt, after, rose):
    rows = [
        Row(at, date(2026, 3, 3), "pads", "door", True, attempt=at if attempt else None, tone_before=2.0, tone_after=on)
        for at, on in enumerate(after, start=2)
    ]
    found = rise(Block(date(2026, 3, 3), "pads", tuple(rows)), "tone")
    assert (found and found[0]) == rose


def test_a_scale_rises_from_the_first_before_to_the_last_after_and_needs_both():
    first, last = row(2, attempt=2, tone_before=3.0), row(3, attempt=1, tone_before=1.0, tone_after=2.0)
    assert rise(Block(MARCH[0], "pads", (first, last)), "tone") == (1.0, (last, last))
    assert rise(Block(MARCH[0], "pads", (first,)), "tone") is None
    assert rise(Block(MARCH[0], "pads", (row(2, tone_after=4.0),)), "tone") is None


@of_each(
    ("of_file", "told"),
    [
        ((), ""),
        ((5,), "5"),
        ((4, 3, 2, 2), "2-4"),
        ((2, 3, 4, 5, 14), "2-5, 14"),
        ((2, 4, 5), "2, 4-5"),
        ((2, 4), "2, 4"),
    ],
)
def test_lines_are_told_in_short(of_file, told):
    assert ranges(of_file) == told


def test_totals_are_cited_with_their_file_and_count_all_their_attempts():
    assert cited_totals((3,)) == "totals.csv, line 3" and cited_totals((2, 3)) == "totals.csv, lines 2-3"
    tried = [row(7), DayTotal(4, MARCH[0], "pads", "door", attempts=12, done=9)]
    assert (n_attempts(tried), lines(tried), total_lines(tried)) == (13, (7,), (4,))
    assert tally(tried) == (10, 13)
    assert in_order(tried) is None  # of a total no order is known


@pytest.mark.parametrize(("numbered", "seen"), [(True, True), (False, False)])
def test_late_in_a_session_is_told_from_numbered_attempts_alone(numbered, seen):
    rows = _day(*(range(1, 9) if numbered else [None] * 8))
    case = Case.model_validate(
        {"format": "docgen case 1", "id": "x", "trial": {"methods": ({"id": "pads", "name": "pads"},)}}, strict=False
    ).with_records(tuple(rows))
    assert ("late.pads" in {fact.id for fact in changing.facts(case)}) == seen
