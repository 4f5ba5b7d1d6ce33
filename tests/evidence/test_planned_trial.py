"""A plan beside its rows: what it keeps out, what came in all the same, and what nobody recorded."""

from __future__ import annotations

from datetime import date

import pytest
from msgspec.structs import replace
from small_trial import attempt, small_case

from docgen.case.need import WeightShift
from docgen.case.trial_plan import TrialPlan
from docgen.evidence.planned_trial import (
    Kept,
    PlannedBlock,
    blocks_of,
    blocks_to_count,
    is_planned_before,
    kept,
    kept_out,
    order_of,
    prevented,
    visit_of,
)
from docgen.evidence.trial_order import Order

PLAN = {"on": date(2026, 3, 1), "methods": ("a", "b"), "visits": 2, "visit_minutes": 60}


def case(rows, asked="a", **plan):
    planned = TrialPlan(**{**PLAN, **plan})
    made = small_case(rows, asked=asked)
    return made.model_copy(update={"trial": made.trial.model_copy(update={"plan": planned})}).with_records(tuple(rows))


def both_ways(**more):
    """AB on the third, BA on the fourth."""
    places = [("a", 3, 1), ("b", 3, 2), ("b", 4, 1), ("a", 4, 2)]
    return [attempt(line, method, day=day, order=at, **more) for line, (method, day, at) in enumerate(places, 2)]


def test_a_plan_that_was_kept_keeps_out_what_it_planned():
    (pair,) = kept(case(both_ways()))
    assert (pair.first, pair.other, pair.broken, pair.besides) == ("a", "b", (), ())
    assert pair.avoided == ("always_first", "always_last", "more_days", "no_shared_day", "order_unknown", "other_tasks")
    assert kept_out((pair,)) == ("always_first", "more_days", "no_shared_day", "order_unknown", "other_tasks")


def test_what_was_not_recorded_is_not_kept():
    for column, code in (("supervisor", "other_helper"), ("speed_m_s", "other_speed"), ("distance_m", "more_metres")):
        recorded = [replace(row, **{column: "x" if column == "supervisor" else 0.4}) for row in both_ways()]
        plan = {"guard": "x", "speed_m_s": 0.4}
        (with_it,), (without,) = kept(case(recorded, **plan)), kept(case(both_ways(), **plan))
        (of_one_alone,) = kept(case([recorded[0], *both_ways()[1:]], **plan))
        assert code in with_it.avoided and code not in without.avoided and code not in of_one_alone.avoided


def test_what_came_in_all_the_same_is_told_apart_from_what_was_not_planned():
    always = [replace(row, order=1 if row.method == "a" else 2, supervisor=row.method) for row in both_ways()]
    (pair,) = kept(case(always))
    assert [sign.code for sign in pair.broken] == ["always_first"]
    assert [sign.code for sign in pair.besides] == ["other_helper"]
    (guarded,) = kept(case(always, guard="x"))
    assert [sign.code for sign in guarded.broken] == ["always_first", "other_helper"] and guarded.besides == ()
    assert "always_first" not in kept_out((pair,)) and kept_out(()) == ()


def test_a_plan_of_one_visit_keeps_no_place_out():
    plan = TrialPlan(**{**PLAN, "visits": 1})
    out = prevented(plan, order_of(plan, needs_rest=True), 0, 1)
    assert "always_first" not in out and {"always_last", "no_shared_day", "more_days"} <= out
    twice = plan.model_copy(update={"both_mounted": True, "visit_minutes": 75})
    assert {"always_first", "always_last"} <= prevented(twice, order_of(twice, needs_rest=False), 0, 1)
    assert "always_first" not in prevented(twice, order_of(twice, needs_rest=True), 0, 1)


def test_a_control_with_more_visits_is_not_kept_out():
    plan = TrialPlan(**{**PLAN, "methods": ("a", "b", "c"), "visits": 3})
    order = order_of(plan, needs_rest=True)
    assert order.kind == "two_of_three" and "more_days" in prevented(plan, order, 0, 1)
    assert {"no_shared_day"} <= prevented(plan, order, 0, 2)


@pytest.mark.parametrize(
    ("changes", "rows"),
    [
        ({"visits": None}, both_ways()),
        ({"methods": ()}, both_ways()),
        ({"visit_minutes": None}, both_ways()),
        ({"visit_minutes": 20}, both_ways()),
        ({}, []),
        ({}, [row for row in both_ways() if row.method == "a"]),
        ({}, [row for row in both_ways() if row.method == "b"]),
    ],
)
def test_without_a_plan_or_rows_of_two_nothing_is_compared(changes, rows):
    assert kept(case(rows, **changes)) == ()


def test_the_first_of_a_plan_stands_in_where_the_control_asked_for_is_none_of_it():
    assert [(pair.first, pair.other) for pair in kept(case(both_ways(), asked="b"))] == [("b", "a")]
    assert [(pair.first, pair.other) for pair in kept(case(both_ways(), asked=None))] == [("a", "b")]


def test_a_device_stands_for_the_method_that_tried_it():
    made = case(both_ways(), methods=("device_a", "b"))
    methods = tuple(m.model_copy(update={"device": f"device_{m.id}"}) for m in made.trial.methods)
    named = made.model_copy(update={"trial": made.trial.model_copy(update={"methods": methods})})
    assert [(pair.first, pair.other) for pair in kept(named.with_records(tuple(both_ways())))] == [("a", "b")]


@pytest.mark.parametrize(("on", "before"), [(date(2026, 3, 3), True), (date(2026, 3, 4), False), (None, False)])
def test_a_plan_is_one_only_before_the_first_attempt(on, before):
    assert is_planned_before(case(both_ways(), on=on)) is before


def test_minutes_that_are_not_recorded_are_named_as_reckoned():
    visit, reckoned = visit_of(TrialPlan(visit_minutes=60, attempt_minutes=1.5))
    assert (visit.length, visit.attempt, visit.change, visit.fixed) == (60, 1.5, 12, 10)
    assert (visit.slack, visit.relief) == (6, 0)
    assert reckoned == ("fixed", "change")
    mounted, _ = visit_of(TrialPlan(visit_minutes=60, both_mounted=True))
    assert (
        mounted.change == 5
        and visit_of(TrialPlan(visit_minutes=60, both_mounted=True, change_minutes=3))[0].change == 3
    )
    assert visit_of(TrialPlan()) == (None, ())


@pytest.mark.parametrize(("minutes", "relief"), [(30, 0), (45, 6), (60, 6), (75, 12)])
def test_a_weight_shift_that_falls_due_in_a_visit_takes_its_minutes(minutes, relief):
    shift = WeightShift(hold_min=3, every_min=30, wait_min=3)
    assert visit_of(TrialPlan(visit_minutes=minutes), shift)[0].relief == relief
    assert visit_of(TrialPlan(visit_minutes=minutes), WeightShift(hold_min=3))[0].relief == 0
    without_wait = WeightShift(hold_min=3, every_min=30)
    assert visit_of(TrialPlan(visit_minutes=minutes), without_wait)[0].relief == relief / 2


def order(*rows, n_block=3):
    return Order("two", rows, n_block, even=True, even_curved=True, both_ways=True, balanced=True)


def test_each_control_goes_through_the_cards_where_its_last_block_ended():
    """By hand: four cards, three a block."""
    assert blocks_of(order((0, 1), (1, 0), (0,)), 4) == (
        PlannedBlock(1, 1, 0, (1, 2, 3)),
        PlannedBlock(1, 2, 1, (1, 2, 3)),
        PlannedBlock(2, 1, 1, (4, 1, 2)),
        PlannedBlock(2, 2, 0, (4, 1, 2)),
        PlannedBlock(3, 1, 0, (3, 4, 1)),
    )
    assert blocks_of(order((0,)), 0) == (PlannedBlock(1, 1, 0, ()),)


def test_what_is_counted_names_method_and_tasks_of_each_block():
    of_tasks, two = case([]), order((0, 1))
    tasks = ("halt", "door", "ramp")
    assert [named for _, *named in blocks_to_count(of_tasks, two, ("a", "b"))] == [["a", tasks], ["b", tasks]]
    no_tasks = of_tasks.model_copy(update={"trial": of_tasks.trial.model_copy(update={"tasks": ()})})
    assert blocks_to_count(of_tasks, None, ("a", "b")) == () == blocks_to_count(no_tasks, two, ("a", "b"))


def test_places_and_visits_are_kept_out_by_the_order_itself():
    plan = TrialPlan(**PLAN)
    assert "always_last" not in prevented(plan, order((1, 0), (1, 0)), 0, 1)
    assert "always_first" not in prevented(plan, order((0, 1), (0, 1)), 0, 1)
    one_visit_more = order((0, 1), (0,))
    assert "more_days" not in prevented(plan, one_visit_more, 0, 1) and "more_days" in prevented(
        plan, one_visit_more, 1, 0
    )


def test_a_plan_is_held_to_what_it_keeps_out_without_a_control_twice_in_a_visit():
    (pair,) = kept(case(both_ways(), visits=1, both_mounted=True, visit_minutes=75))
    assert "always_first" not in pair.avoided and "always_last" in pair.avoided


def test_one_row_of_each_control_that_records_it_will_do():
    rows = both_ways()
    (pair,) = kept(case([replace(row, speed_m_s=0.4) if row.order == 1 else row for row in rows], speed_m_s=0.4))
    assert "other_speed" in pair.avoided


def test_first_and_last_place_are_told_as_one():
    both = Kept("a", "b", ("always_first", "always_last"), (), ())
    assert kept_out((both,)) == ("always_first",)
    assert kept_out((replace(both, avoided=("always_last",)),)) == ()
