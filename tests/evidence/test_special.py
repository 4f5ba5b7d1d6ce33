"""Incomplete beta and gamma, binomial, Student t and noncentral t, against published values and scipy.

Agreement with scipy is asked to 1e-9, relative where the value is above 1e-200, else absolute.
"""

from __future__ import annotations

import math
import random
from decimal import Decimal, getcontext

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import special as scipy_special
from scipy import stats

from docgen.evidence import solve, special, student

modest = settings(max_examples=60, deadline=None, derandomize=True)
shapes = st.floats(0.05, 5_000)
shares = st.floats(1e-6, 1 - 1e-6)


@of_each(
    ("got", "published"),
    [
        (special.beta_tails(2, 3, 0.5, 0.5)[0], 11 / 16),  # by hand from the definition
        (special.beta_tails(1, 7, 0.2, 0.8)[0], 1 - 0.8**7),  # by hand from the definition
        # Newcombe 1998 Table I, 0 of 20, exact upper limit
        (scipy_special.expit(special.beta_log_odds(1, 20, 0.975)), 0.168433),
        (special.incomplete_gamma_inverse(25, 0.025), 16.177),  # Garwood 1936 limits, 25 events, printed as 16.18
        (special.incomplete_gamma_upper_inverse(26, 0.025), 36.905),  # the same, printed as 36.90
        (special.incomplete_gamma_upper_inverse(1, 0.025), 3.688879),  # -ln 0.025
        (student.student_t_quantile(0.975, 1), 12.706),  # t table
        (student.student_t_quantile(0.975, 5), 2.571),  # t table
        (student.student_t_quantile(0.975, 10), 2.228),  # t table
        (student.student_t_quantile(0.975, 30), 2.042),  # t table
        (student.student_t_quantile(0.95, 10), 1.812),  # t table
        (student.noncentral_t_cdf(0, 7, 1.3), 0.0968),  # normal table, Phi(-1.3)
        # tolerance tables, from memory
        (student.noncentral_t_quantile(0.95, 9, 1.6448536 * 10**0.5), 2.911 * 10**0.5),
        (solve.root(lambda x: x**3 - 2 * x - 5, 2, 3), 2.0945514815423265),  # Wallis's example
        (solve.rising_root(lambda x: x**3 - 8, 0, 1e3), 2),  # by hand
    ],
)
def test_published_values_are_met(got, published):
    assert got == pytest.approx(published, rel=5e-4)


@of_each(
    ("k", "n", "p", "published"),
    [
        # chance of passing a "k of n" rule, binomial tables
        (4, 5, 0.5, 0.1875),
        (4, 5, 0.8, 0.7373),
        (4, 5, 0.95, 0.9774),
        (5, 5, 0.7, 0.1681),
        (5, 5, 0.9, 0.5905),
        (8, 10, 0.5, 0.0547),
        (8, 10, 0.6, 0.1673),
        (8, 10, 0.8, 0.6778),
        (8, 10, 0.9, 0.9298),
        (9, 10, 0.5, 0.0107),
        (9, 10, 0.8, 0.3758),
        (9, 10, 0.95, 0.9139),
        (16, 20, 0.5, 0.0059),
        (16, 20, 0.7, 0.2375),
        (16, 20, 0.9, 0.9568),
        (18, 20, 0.5, 0.0002),
        (18, 20, 0.8, 0.2061),
        (18, 20, 0.95, 0.9245),
    ],
)
def test_the_chance_of_passing_a_fixed_rule_is_the_tabled_one(k, n, p, published):
    assert 1 - special.binomial_cdf(k - 1, n, p) == pytest.approx(published, abs=5e-5)


def _close(got: float, expected: float, relative: float = 1e-9) -> bool:
    return abs(got - expected) <= relative * (abs(expected) if abs(expected) > 1e-200 else 1)


@pytest.mark.parametrize("a", [0.5, 3, 40])
def test_the_ends_of_the_inverses_of_gamma_keep_their_digits(a):
    assert special.incomplete_gamma_inverse(a, 0) == 0 == special.incomplete_gamma_upper_inverse(a, 1)
    for power in (6, 10, 13):
        small = 10.0**-power
        near_one = 1 - small
        left = 1 - near_one  # exact, so that scipy's other tail has every digit
        assert special.incomplete_gamma_inverse(a, near_one) == pytest.approx(
            scipy_special.gammainccinv(a, left), rel=1e-11
        )
        assert special.incomplete_gamma_upper_inverse(a, near_one) == pytest.approx(
            scipy_special.gammaincinv(a, left), rel=1e-11
        )
        assert special.incomplete_gamma_upper_inverse(a, small) == pytest.approx(
            scipy_special.gammainccinv(a, small), rel=1e-11
        )


def test_beta_and_gamma_functions_agree_with_scipy_to_nine_digits_over_thousands_of_inputs():
    draw = random.Random(1)
    for _ in range(3000):
        a, b = 10 ** draw.uniform(-1, 5), 10 ** draw.uniform(-1, 5)
        spread = math.sqrt(a * b / (a + b) ** 2 / (a + b + 1))
        near = draw.gauss(a / (a + b), 2 * spread)
        x = min(1 - 1e-12, max(1e-12, near)) if draw.random() < 0.7 else draw.random()
        p = draw.choice([0.025, 0.975, 0.5, draw.random(), 10 ** draw.uniform(-8, -1)])
        for got, expected in (
            (special.beta_tails(a, b, x, 1 - x)[0], scipy_special.betainc(a, b, x)),
            (scipy_special.expit(special.beta_log_odds(a, b, p)), scipy_special.betaincinv(a, b, p)),
            (special.incomplete_gamma_inverse(a, p), scipy_special.gammaincinv(a, p)),
            (special.incomplete_gamma_upper_inverse(a, p), scipy_special.gammainccinv(a, p)),
        ):
            assert _close(got, expected), (a, b, x, p, got, expected)


def test_student_t_agrees_with_scipy_to_nine_digits_over_thousands_of_inputs():
    draw = random.Random(2)
    for _ in range(3000):
        df = 10 ** draw.uniform(-0.3, 5)
        p = draw.choice([0.025, 0.975, draw.uniform(1e-4, 0.9999), 10 ** draw.uniform(-6, -1)])
        expected = scipy_special.stdtrit(df, p)
        assert abs(student.student_t_quantile(p, df) - expected) < 1e-9 * (1 + abs(expected)), (p, df)


def test_noncentral_t_agrees_with_scipy_within_1e9_absolute_over_a_thousand_inputs():
    draw = random.Random(3)
    n_compared = 0
    for _ in range(1050):
        df = draw.choice([1, 2, 3, draw.uniform(1, 50), 10 ** draw.uniform(0, 4)])
        shift = draw.choice([draw.gauss(0, 2), draw.uniform(0, 37)])
        t = shift + draw.gauss(0, 1.5) * (1 + abs(shift) / math.sqrt(2 * df))
        theirs = stats.nct.cdf(t, df, shift)
        if math.isnan(theirs):  # scipy gives up far out in a tail; ours may not
            ours, beyond = student.noncentral_t_cdf(t, df, shift), student.noncentral_t_cdf(-t, df, -shift)
            assert min(ours, beyond) < 1e-9
            continue
        n_compared += 1
        assert abs(student.noncentral_t_cdf(t, df, shift) - theirs) < 1e-9, (t, df, shift)
    assert n_compared >= 1000


def test_noncentral_t_without_shift_is_student_t():
    draw = random.Random(4)
    for _ in range(300):
        t, df = draw.gauss(0, 4), 10 ** draw.uniform(0, 4)
        assert student.noncentral_t_cdf(t, df, 0) == pytest.approx(scipy_special.stdtr(df, t), abs=1e-12)


@modest
@given(shapes, shapes, shares)
def test_an_inverse_leads_back(a, b, p):
    x = scipy_special.expit(special.beta_log_odds(a, b, p))  # near 1 the next number up can lie well beyond p
    below, above = max(0, x * (1 - 4e-16)), min(1, x * (1 + 4e-16))
    assert special.beta_tails(a, b, below, 1 - below)[0] <= p * (1 + 1e-9)
    assert special.beta_tails(a, b, above, 1 - above)[0] >= p * (1 - 1e-9)
    for there, back in (
        (special.incomplete_gamma_inverse, scipy_special.gammainc),
        (special.incomplete_gamma_upper_inverse, scipy_special.gammaincc),
    ):
        assert back(a, there(a, p)) == pytest.approx(p, rel=1e-8)


def test_the_tails_of_beta_are_whole_at_both_ends_and_next_to_them():
    assert special.beta_tails(2, 3, 0.0, 1.0) == (0, 1) and special.beta_tails(2, 3, 1.0, 0.0) == (1, 0)
    tiny = 1e-300
    assert special.beta_tails(1, 7, tiny, 1 - tiny) == (pytest.approx(7 * tiny), 1)  # 1 - (1 - x)^7, by hand
    assert special.binomial_cdf(2, 3, 0.0) == 1 and special.binomial_cdf(2, 3, 1.0) == 0


@of_each("a", [9.5, 10, 11, 13, 20, 50, 400])
def test_what_stirlings_form_leaves_out_has_every_digit(a):
    """log Gamma in 50 digits: a product of whole or half numbers, with Gamma(1/2) = sqrt(pi)."""
    getcontext().prec = 50
    pi, shape = Decimal("3.14159265358979323846264338327950288419716939937511"), Decimal(str(a))
    at, log_gamma = shape, Decimal(0) if a == int(a) else pi.ln() / 2
    while at > 1:
        at -= 1
        log_gamma += at.ln()
    exact = log_gamma - (shape - Decimal("0.5")) * shape.ln() + shape - (2 * pi).ln() / 2
    # where the series takes over, at 10, its next term is 691 / 360360 / 10^11 (DLMF 5.11.1); below it is lgamma's
    assert special._stirling_rest(a) == pytest.approx(float(exact), abs=2e-14 if a >= 10 else 4e-15)


@pytest.mark.parametrize("a", [0.001, 2e7])
def test_shapes_of_gamma_are_taken_up_to_the_stated_ends_and_no_further(a):
    assert special.incomplete_gamma_upper_inverse(a, 1e-4) == pytest.approx(scipy_special.gammainccinv(a, 1e-4))
    for beyond in (a * 0.999, a * 1.001):
        if not 0.001 <= beyond <= 2e7:
            with pytest.raises(ValueError, match="a must be at least 0.001 and at most 2e.07"):
                special.incomplete_gamma_inverse(beyond, 0.5)


def test_equal_shapes_halve_at_the_middle_however_large_they_are():
    """By symmetry."""
    assert special.beta_tails(2e7, 2e7, 0.5, 0.5) == pytest.approx((0.5, 0.5), rel=1e-11)


@pytest.mark.parametrize("p", [1e-20, 1e-200])
def test_the_log_odds_of_a_small_chance_keep_their_digits(p):
    """I_x(1, 1) = x, and I_x(1, 2) = 1 - (1 - x)^2, by hand from the definition."""
    assert special.beta_log_odds(1, 1, p) == pytest.approx(math.log(p), rel=1e-12)
    assert special.beta_log_odds(1, 2, p) == pytest.approx(math.log(p / 2), rel=1e-12)


def test_the_binomial_distribution_begins_at_0_and_ends_at_1():
    found = [special.binomial_cdf(k, 3, 0.5) for k in (-1, 0, 1, 2, 3, 4)]
    assert found == pytest.approx([0, 1 / 8, 1 / 2, 7 / 8, 1, 1])
    assert special.binomial_cdf(0, 0, 0.5) == 1


@modest
@given(shapes, shapes, st.floats(0, 1))
def test_the_two_tails_of_beta_mirror_each_other(a, b, x):
    lower, upper = special.beta_tails(a, b, x, 1 - x)
    assert lower + upper == pytest.approx(1, abs=1e-12)
    assert special.beta_tails(b, a, 1 - x, x) == pytest.approx((upper, lower), abs=1e-12)


@modest
@given(st.floats(1, 500), st.floats(-20, 20), shares)
def test_noncentral_t_quantile_leads_back_and_mirrors(df, shift, p):
    t = student.noncentral_t_quantile(p, df, shift)
    assert student.noncentral_t_cdf(t, df, shift) == pytest.approx(p, abs=1e-10)
    assert student.noncentral_t_cdf(-t, df, -shift) == pytest.approx(1 - p, abs=1e-10)


@of_each(
    ("call", "words"),
    [
        (lambda: special.incomplete_gamma_inverse(1, 1.5), "p must be .*, not 1.5"),
        (lambda: special.incomplete_gamma_inverse(1, 1), "p must be less than 1, not 1"),
        (lambda: special.incomplete_gamma_upper_inverse(1, 1.5), "q must be .*, not 1.5"),
        (lambda: special.incomplete_gamma_upper_inverse(1, 0), "q must be more than 0, not 0"),
        (lambda: special.binomial_cdf(1, 2, "half"), "p must be a number, not 'half'"),
        (lambda: special.binomial_cdf(1.5, 2, 0.5), "k must be a whole number, not 1.5"),
        (lambda: special.binomial_cdf(1, 2, 1.5), "p must be .*, not 1.5"),
        (lambda: student.student_t_quantile(1, 5), "p must lie strictly between 0 and 1, not 1"),
        (lambda: student.noncentral_t_cdf(1, 0.5, 1), "df must be .*, not 0.5"),
        (lambda: solve.root(lambda x: x * x + 1, 0, 1), "f must change sign between 0 and 1"),
    ],
)
def test_a_bad_argument_is_refused_by_name_and_value(call, words):
    with pytest.raises(ValueError, match=words):
        call()
