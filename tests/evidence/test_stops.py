"""Stops on request: tries of a task that is a stop, and the stops that a day total counts within another task."""

from __future__ import annotations

from datetime import date

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import NO_LINE, DayTotal
from docgen.case.tried import Method
from docgen.evidence.stops import NO_DAY, beside_rows, stops_on_request

DAY = date(2026, 3, 3)
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


def row(line, task, success):
    return Row(line, DAY, "a", task, success)


def total(line, task, attempts, done, **more):
    return DayTotal(line, DAY, "a", task, attempts, done, **more)


def test_a_try_of_a_stopping_task_is_a_stop_and_a_try_of_another_is_none():
    made, missed, door = row(2, "halt", True), row(3, "halt", False), row(4, "door", False)
    stops = stops_on_request(CASE, [made, missed, door])
    assert (stops.n_made, stops.n_asked, stops.rows) == (1, 2, (made, missed))
    assert stops.missed == ((missed, 0, 1),)


def test_of_a_total_the_stops_it_counts_apart_count_and_else_the_tries_of_a_stopping_task():
    apart, halts = total(2, "door", 12, 9, stops_asked=6, stops_made=5), total(3, "halt", 8, 8)
    none_apart, poor = total(4, "door", 10, 2), total(5, "halt", 5, 2)
    stops = stops_on_request(CASE, [apart, halts, none_apart, poor])
    assert (stops.n_made, stops.n_asked) == (5 + 8 + 2, 6 + 8 + 5)
    assert stops.rows == (apart, halts, poor) and stops.missed == ((apart, 5, 6), (poor, 2, 5))


def test_without_a_stop_asked_for_nothing_is_counted():
    stops = stops_on_request(CASE, [row(2, "door", True), total(3, "door", 4, 4)])
    assert (stops.n_made, stops.n_asked, stops.rows, stops.missed) == (0, 0, (), ())


def test_stops_of_a_method_that_no_attempt_counts_are_a_total_on_no_line():
    def of_method(**recorded):
        return beside_rows(Method(id="a", name="pads", **recorded))

    asked = {"stops_asked": 6, "stops_made": 5}
    (dated,) = of_method(**asked, stops_on=DAY, stops_say="in the hall")
    assert dated == DayTotal(NO_LINE, DAY, "a", "", 0, 0, stops_asked=6, stops_made=5, note="in the hall")
    (undated,) = of_method(**asked)
    assert undated.date == NO_DAY
    assert of_method(stops_asked=6) == of_method(stops_made=5) == of_method() == ()
