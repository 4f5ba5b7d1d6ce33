"""Stops that were not made: in the order of their days and attempts, each with its note and the release it has."""

from __future__ import annotations

from datetime import date

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import DayTotal
from docgen.evidence.misses import misses

CASE = Case.model_validate(
    {
        "format": "docgen case 1",
        "id": "x",
        "trial": {
            "methods": ({"id": "a", "name": "pads"},),
            "tasks": ({"id": "halt", "name": "halt", "shows": "stop"}, {"id": "door", "name": "door"}),
        },
    },
    strict=False,
)


def row(line, day, success=False, task="halt", **more):
    return Row(line, date(2026, 3, day), "a", task, success, **more)


def test_only_a_stop_that_was_not_made_is_missed():
    missed = row(2, 3)
    (miss,) = misses(CASE, [missed, row(3, 3, success=True), row(4, 3, task="door")])
    assert (miss.row, miss.n_made, miss.n_asked, miss.n_missed) == (missed, 0, 1, 1)


def test_misses_stand_by_day_then_by_attempt_then_by_what_happened_however_the_rows_were_typed():
    in_order = [
        row(2, 3, attempt=9),
        row(3, 4, note="a door banged"),
        DayTotal(4, date(2026, 3, 4), "a", "halt", 2, 1, note="the belt was loose"),
        row(5, 4, note="the foot slipped"),
        row(6, 4, attempt=1),
        row(7, 4, attempt=10),
    ]
    assert [miss.row.line for miss in misses(CASE, in_order[::-1])] == [2, 3, 4, 5, 6, 7]


def test_the_release_of_a_miss_is_told_rounded_up_and_nothing_is_told_of_one_that_was_not_timed():
    timed, untimed = row(2, 3, release_s=1.234), row(3, 3, attempt=2)
    assert [miss.release for miss in misses(CASE, [timed, untimed])] == [" (release 1.3 s)", ""]


def test_a_total_says_how_many_of_how_many_and_no_release_for_its_slowest_may_be_of_a_stop_that_was_made():
    total = DayTotal(2, date(2026, 3, 3), "a", "halt", 5, 3, slowest_release_s=2.0, note="tired")
    (miss,) = misses(CASE, [total])
    assert (miss.n_made, miss.n_asked, miss.n_missed, miss.what, miss.release) == (3, 5, 2, "tired", "")
