"""The requested control beside another: verdict, luck, shared days, collisions and times, worked out by hand."""

from __future__ import annotations

import pytest
from scipy.stats import beta, fisher_exact
from small_trial import attempt, known, of_day, small_case
from statsmodels.stats.proportion import confint_proportions_2indep

from docgen.evidence.facts import comparing


def compared(rows=(), totals=(), **more):
    return known(comparing.facts, small_case(rows, totals, **more))


def pair(mine, other, **of_other):
    """One total with each control on one day, alike in all but what is given of the other."""
    alike = {"order": 1, "supervisor": "x", "speed_m_s": 0.4}
    return [of_day(2, mine[1], mine[0], **alike), of_day(3, other[1], other[0], "b", **(alike | of_other))]


@pytest.mark.parametrize(
    ("of_other", "signs", "verdict"),
    [
        ({}, ["none"], "clearly_worse"),
        ({"supervisor": "y"}, ["other_helper"], "clearly_worse"),
        ({"supervisor": "y", "speed_m_s": 0.5}, ["other_helper", "other_speed"], "worse_so_far"),
    ],
)
def test_clearly_stands_beside_one_sign_of_unfairness_and_luck_is_told_where_it_does_not(of_other, signs, verdict):
    facts = compared(totals=pair((27, 30), (3, 30), **of_other))
    assert [fact.verdict for name, fact in facts.items() if name.startswith("unfair.b.")] == signs
    assert facts["difference.b"].verdict == verdict
    assert facts["difference.b"].note == "27 of 30 against 3 of 30" and facts["difference.b"].n == 60
    assert facts["by_chance.b"].value == pytest.approx(fisher_exact([[27, 3], [3, 27]]).pvalue)
    assert "further.b" not in facts


# attempts of the demo trials, all days and the days that two controls share
COUNTED = [
    ((32, 38), (4, 16)),
    ((32, 38), (2, 6)),
    ((25, 28), (6, 16)),
    ((25, 28), (8, 16)),
    ((25, 28), (17, 20)),
    ((29, 32), (2, 8)),
    ((29, 32), (7, 16)),
    ((13, 18), (4, 16)),
    ((9, 10), (2, 6)),
    ((6, 8), (3, 8)),
    ((9, 10), (4, 8)),
    ((9, 10), (7, 10)),
]


@pytest.mark.parametrize(("mine", "other"), COUNTED)
def test_what_chance_brings_is_fishers_exact_test_as_scipy_has_it(mine, other):
    """scipy.stats.fisher_exact, two-sided."""
    (k, n), (j, m) = mine, other
    fact = compared(totals=pair(mine, other))["by_chance.b"]
    assert fact.value == pytest.approx(fisher_exact([[k, n - k], [j, m - j]]).pvalue, abs=1e-12)
    assert fact.note == f"{k} of {n} against {j} of {m}" and "Fisher" in fact.formula


def test_the_days_that_two_controls_share_have_a_test_of_their_own():
    alike = {"supervisor": "x", "speed_m_s": 0.4}
    totals = [
        of_day(2, 20, 19, order=1, **alike),
        of_day(3, 8, 6, day=10, order=1, **alike),
        of_day(4, 8, 3, "b", day=10, order=2, **alike),
    ]
    facts = compared(totals=totals)
    assert (facts["shared_asked.b"].k, facts["shared.b"].k, facts["shared_days.b"].value) == (6, 3, 1)
    assert facts["same_day_by_chance.b"].value == pytest.approx(fisher_exact([[6, 2], [3, 5]]).pvalue)
    assert facts["by_chance.b"].value == pytest.approx(fisher_exact([[25, 3], [3, 5]]).pvalue)


@pytest.mark.parametrize(
    ("mine", "other", "more"),
    [
        # for 0.9 and 0.7 the formula asks for 61.6 with each, by hand
        ((9, 10), (14, 20), 52),
        ((14, 20), (9, 10), 52),
        ((9, 10), (9, 10), None),
    ],
)
def test_as_many_attempts_are_asked_for_as_the_control_with_fewer_lacks(mine, other, more):
    fact = compared(totals=pair(mine, other))["further.b"]
    assert (fact.value, fact.k) == (more, more)


@pytest.mark.parametrize(("mine", "other"), [((3, 4), (8, 10)), ((8, 10), (3, 4)), ((5, 5), (5, 5))])
def test_a_control_used_fewer_than_five_times_is_named_so(mine, other):
    note = compared(totals=pair(mine, other))["difference.b"].note
    assert note.endswith("; used fewer than 5 times") == (4 in (mine[1], other[1]))


def test_shared_days_are_compared_alone_where_they_are_not_all_the_days():
    mine = [of_day(2, 6, 0, day=3), of_day(3, 4, 3, day=4)]
    other = [of_day(4, 5, 1, "b", day=4), of_day(5, 8, 8, "b", day=5)]
    facts = compared(totals=[*mine, *other])
    fact = facts["same_day.b"]
    assert (fact.value, fact.n, fact.note, fact.totals) == (pytest.approx(0.55), 9, "3 of 4 against 1 of 5", (3, 4))
    assert (fact.low, fact.high) == pytest.approx(confint_proportions_2indep(3, 4, 1, 5, method="newcomb"), abs=1e-9)
    assert (facts["shared_asked.b"].k, facts["shared_asked.b"].n) == (3, 4)
    assert (facts["shared.b"].k, facts["shared.b"].n) == (1, 5)
    for totals in ([mine[1], other[0]], [mine[0], other[1]]):  # shared days are all the days, or none
        assert not {"same_day.b", "shared_asked.b", "shared.b"} & set(compared(totals=totals))
    assert "same_day.b" in compared(totals=[*mine, other[0]])


def test_collisions_for_each_metre_are_a_ratio_with_the_exact_limits():
    """Clopper-Pearson limits of 6 of 8 collisions, by scipy; the metres are the same."""
    mine, other = of_day(2, 5, 3, contacts=2, distance_m=100.0), of_day(3, 9, 3, "b", contacts=6, distance_m=100.0)
    fact = compared(totals=[mine, other])["contact_ratio.b"]
    assert (fact.value, fact.k, fact.n, fact.note) == (pytest.approx(3), 8, 14, "6 in 100 m against 2 in 100 m")
    low, high = beta.ppf(0.025, 6, 3), beta.ppf(0.975, 7, 2)
    assert (fact.low, fact.high) == pytest.approx((low / (1 - low), high / (1 - high)))
    none = of_day(2, 5, 3, contacts=0, distance_m=100.0)
    fact = compared(totals=[none, other])["contact_ratio.b"]
    assert (fact.value, fact.low, fact.k) == (None, None, 6)
    for bare in ([of_day(2, 5, 3, contacts=2), other], [mine, of_day(3, 9, 3, "b", contacts=6)]):
        assert "contact_ratio.b" not in compared(totals=bare)


def test_times_are_compared_over_the_tasks_done_with_both():
    rows = [attempt(2, seconds=10.0), attempt(3, seconds=10.0), attempt(4, task="halt", seconds=500.0)]
    rows += [attempt(5, "b", seconds=20.0), attempt(6, "b", task="ramp", seconds=99.0)]
    fact = compared([*rows, attempt(7, "b", False, seconds=3.0)])["time_ratio.b"]
    assert (fact.value, fact.n, fact.rows) == (pytest.approx(2), 3, (2, 3, 5))
    assert "time_ratio.b" not in compared([rows[0], rows[4]])
