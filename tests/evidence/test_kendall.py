"""Kendall's S, tau-b and its p values against scipy, brute force and published data."""

from __future__ import annotations

import random
from itertools import combinations, permutations, product

import pytest
from gathered import of_each
from scipy import stats

from docgen.evidence.kendall import EXACT_UP_TO, NORMAL_FROM, kendall_test, orders_by_inversions


def s_of(x, y):
    """Counted pair by pair."""
    return sum(
        (b > a) - (b < a) if d > c else (a > b) - (a < b) if d < c else 0
        for (c, a), (d, b) in combinations(zip(x, y, strict=True), 2)
    )


def drawn(n, values, seed):
    rng = random.Random(seed)
    return [rng.randrange(values) for _ in range(n)], [rng.randrange(values) for _ in range(n)]


@of_each("n, values", [(2, 9), (7, 3), (12, 4), (25, 100), (70, 5), (200, 1000)])
@of_each("seed", range(4))
def test_s_is_counted_pair_by_pair_and_tau_b_is_that_of_scipy(n, values, seed):
    x, y = drawn(n, values, seed)
    result = kendall_test(x, y)
    assert result.s == s_of(x, y) and result.n == n
    tau = stats.kendalltau(x, y).statistic
    assert result.tau_b is None if tau != tau else result.tau_b == pytest.approx(tau)


@pytest.mark.parametrize("y", [(1, 2, 3, 4, 5, 6), (3, 1, 2, 6, 5, 4), (1, 1, 2, 2, 3, 1), (2, 1, 1, 1, 1, 3)])
def test_the_exact_p_is_that_of_every_order(y):
    x = range(len(y))
    result, s = kendall_test(x, y), s_of(x, y)
    every = [s_of(x, order) for order in permutations(y)]
    assert result.exact
    assert result.p_upper == pytest.approx(sum(other >= s for other in every) / len(every))
    assert result.p_two_sided == pytest.approx(sum(abs(other) >= abs(s) for other in every) / len(every))
    assert kendall_test(y, x) == result  # whichever of the two holds the ties


@of_each("ties", [(1, 1, 1, 1, 1), (2, 1, 3), (3, 1, 2), (1, 2), (4,), (2, 2, 2)])
def test_the_orders_with_few_inversions_are_those_counted_one_by_one(ties):
    values = [group for group, size in enumerate(ties) for _ in range(size)]
    inversions = [sum(a > b for a, b in combinations(order, 2)) for order in set(permutations(values))]
    most = max(inversions)
    assert orders_by_inversions(ties) == [sum(n <= bound for n in inversions) for bound in range(most + 1)]


@pytest.mark.parametrize("n", [2, 3, 4])
def test_the_variance_is_that_over_every_order_of_one_series(n):
    for x, y in product(product(range(2), repeat=n), repeat=2):
        every = [s_of(x, order) for order in permutations(y)]
        result = kendall_test(x, y)
        assert result.var_s == pytest.approx(sum(s * s for s in every) / len(every), abs=1e-12)
        if result.var_s > 0.01:
            sign = (result.s > 0) - (result.s < 0)
            assert result.z == pytest.approx((result.s - sign) / result.var_s**0.5)


def test_two_values_have_a_z_and_an_s_of_nought_has_one_of_nought():
    assert kendall_test([1, 2], [1, 2]).z == 0 and kendall_test([1, 2], [1, 2]).var_s == 1
    assert kendall_test([1, 2, 3, 4], [2, 4, 1, 3]).s == 0 == kendall_test([1, 2, 3, 4], [2, 4, 1, 3]).z


@pytest.mark.parametrize("n, exact", [(EXACT_UP_TO, True), (EXACT_UP_TO + 1, False)])
def test_the_exact_count_ends_at_sixty_values(n, exact):
    y = random.Random(n).sample(range(n), n)
    result = kendall_test(range(n), y)
    assert EXACT_UP_TO == 60 and result.exact is exact
    method = "exact" if exact else "asymptotic"
    assert result.p_two_sided == pytest.approx(
        stats.kendalltau(range(n), y, method=method).pvalue, rel=1e-6 if exact else 0.05
    )


def test_the_variance_with_ties_is_that_of_kendall_1970_and_the_normal_form_is_corrected_by_one():
    x, y = drawn(30, 5, 3)
    result = kendall_test(x, y)
    n, var = 30, 0.0

    def t(values, power):
        return sum(power(values.count(v)) for v in set(values))

    f = [lambda k: k * (k - 1) * (2 * k + 5), lambda k: k * (k - 1) * (k - 2), lambda k: k * (k - 1)]
    var = (
        (f[0](n) - t(x, f[0]) - t(y, f[0])) / 18
        + t(x, f[1]) * t(y, f[1]) / (9 * f[1](n))
        + t(x, f[2]) * t(y, f[2]) / (2 * f[2](n))
    )
    assert result.var_s == pytest.approx(var) and not result.exact
    sign = (result.s > 0) - (result.s < 0)
    z = (result.s - sign) / var**0.5
    assert result.z == pytest.approx(z)
    assert result.p_two_sided == pytest.approx(2 * stats.norm.sf(abs(z)))


@pytest.mark.parametrize("n, told", [(NORMAL_FROM - 1, False), (NORMAL_FROM, True)])
def test_ties_in_both_series_take_ten_values(n, told):
    x, y = [0, 0, *range(1, n - 1)], [*range(1, n - 1), 0, 0]
    result = kendall_test(x, y)
    assert NORMAL_FROM == 10 and (result.p_two_sided is not None) is told and not result.exact


def test_a_series_that_does_not_vary_has_no_tau():
    result = kendall_test([1, 1, 1], [1, 2, 3])
    assert (result.s, result.tau_b, result.var_s, result.z) == (0, None, 0.0, None)


def test_published_values_are_met():
    # Hollander, Wolfe and Chicken, example 9.1 (from memory)
    result = kendall_test(range(5), [1.26, 1.27, 1.12, 1.16, 1.03])
    assert result.s == -6 and result.p_two_sided == pytest.approx(0.233333, abs=1e-6)


@of_each("n", [61, 62, 63, 64])
@of_each("seed", range(3))
def test_the_normal_form_is_one_sided_for_s_this_large_or_larger(n, seed):
    y = random.Random(seed).sample(range(n), n)
    for order in (y, y[::-1]):
        result = kendall_test(range(n), order)
        deviation = (n * (n - 1) * (2 * n + 5) / 18) ** 0.5  # Kendall 1970, no ties
        sign = (result.s > 0) - (result.s < 0)
        assert result.z == pytest.approx((result.s - sign) / deviation)
        assert result.p_upper == pytest.approx(stats.norm.sf((result.s - 1) / deviation))
        assert result.p_two_sided == pytest.approx(min(1, 2 * stats.norm.sf(abs(result.z))))


def test_the_smallest_s_is_corrected_to_nought_on_either_side():
    n, turned = 62, []
    rest, left = list(range(n)), n * (n - 1) // 4  # half of the pairs turned, less half a pair
    while rest:
        ahead = min(left, len(rest) - 1)
        turned.append(rest.pop(ahead))
        left -= ahead
    straight = list(range(n))
    for order in (turned, turned[::-1]):
        result = kendall_test(straight, order)
        assert abs(result.s) == 1 and result.z == 0 and result.p_two_sided == 1


def test_many_values_that_do_not_vary_are_no_evidence():
    result = kendall_test([1] * 61, [2] * 61)
    assert (result.z, result.p_two_sided, result.p_upper, result.exact) == (None, 1.0, 1.0, False)


def test_no_p_is_above_one():
    for y in ([1, 2, 2, 1], [2, 1, 1, 2], [1, 3, 2], [2, 2, 2]):
        result = kendall_test(range(len(y)), y)
        assert 0 < result.p_two_sided <= 1 and 0 < result.p_upper <= 1
