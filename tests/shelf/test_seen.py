"""What a trial shows of the devices of a shelf: when it outweighs what was expected, and when it stands beside it."""

from __future__ import annotations

import pytest
from shelves import device, held, shelf
from small_trial import attempt, small_case

from docgen.evidence.gather import evidence
from docgen.shelf.seen import differs, seen

ALTERNATING = ((3, 1, 2), (4, 2, 1))  # day, place of the one, place of the other
ALWAYS_FIRST = ((3, 1, 2), (4, 1, 2))


def shown(days=ALTERNATING, *, days_of_a=None, **done_of):
    """What is seen of methods given as name = (done, attempts), spread evenly over the days; `re_set` is of b too."""
    of_device = {"a": "pads", "b": "stick", "re_set": "stick"}
    methods = [{"id": name, "name": name, "device": of_device[name]} for name in done_of]
    rows = []
    for name, (done, n) in done_of.items():
        for at in range(n):
            on = days_of_a if days_of_a and name == "a" else days
            day, first, second = on[at % len(on)]
            order = first if name == "a" else second
            rows.append(attempt(len(rows) + 2, name, at < done, day=day, order=order, attempt=at + 1))
    case = small_case(rows, trial={"methods": methods, "tasks": [{"id": "door", "name": "door"}]})
    return seen(case, evidence(case))


def test_a_fair_trial_with_its_interval_on_one_side_of_zero_outweighs():
    """9 of 10 against 3 of 10: 60 points, 17 to 81 (Newcombe 1998, Table II, method 10)."""
    (pair,) = shown(a=(9, 10), b=(3, 10)).compared
    assert (pair.better, pair.worse, pair.counts, pair.unfair) == ("pads", "stick", True, ())
    ends = (pair.difference.low, pair.difference.difference, pair.difference.high)
    assert tuple(round(end, 4) for end in ends) == (0.1705, 0.6, 0.809)
    assert shown(a=(9, 10), b=(3, 10)).better == {("pads", "stick")}


@pytest.mark.parametrize(
    ("days", "done"),
    [
        (ALTERNATING, {"a": (9, 10), "b": (5, 10)}),  # -0.0024 to 0.6759: open
        (ALTERNATING, {"a": (4, 4), "b": (0, 4)}),  # fewer than five attempts
        (ALWAYS_FIRST, {"a": (9, 10), "b": (3, 5)}),
    ],
)
def test_an_open_interval_or_few_attempts_outweigh_nothing(days, done):
    assert shown(days, **done).better == frozenset()


def test_two_signs_of_unfairness_leave_it_standing_beside_what_was_expected():
    shown_of = shown(ALWAYS_FIRST, days_of_a=(*ALWAYS_FIRST, (5, 1, 2)), a=(14, 15), b=(1, 10))
    (pair,) = shown_of.compared
    assert {sign.code for sign in pair.unfair} >= {"always_first", "more_days"}
    assert pair.counts is False and shown_of.better == frozenset()


def test_a_device_is_worse_only_where_each_way_of_trying_it_was():
    assert shown(a=(9, 10), b=(1, 10)).better == {("pads", "stick")}
    assert shown(a=(9, 10), b=(1, 10), re_set=(9, 10)).better == frozenset()
    assert shown(a=(10, 10), b=(1, 10), re_set=(2, 10)).better == {("pads", "stick")}


def test_where_the_trial_turns_the_expectation_round_it_is_told():
    shown_of = shown(a=(9, 10), b=(3, 10))
    pads, stick = device("pads", 0), device("stick", 0, can_have=("standby", "stop_switch", "mode_switch"))
    expected = held(["hand_tremor", "alone_hours", "computer_user"], shelf(pads, stick))
    assert expected.layers == (("stick",), ("pads",))
    assert [(d.device, d.rival) for d in differs(expected, shown_of)] == [("pads", "stick")]


def test_a_method_that_names_no_device_says_nothing_of_the_shelf():
    case = small_case([attempt(2, "a"), attempt(3, "b")])
    assert seen(case, evidence(case)).devices == {}
