"""Student's t, central and noncentral, against scipy."""

from __future__ import annotations

import math

import pytest
from gathered import of_each
from scipy import stats
from scipy.integrate import quad

from docgen.evidence.student import noncentral_t_cdf, noncentral_t_quantile, student_t_quantile

DEGREES = [1, 2, 4.5, 9, 42, 300]


@of_each("df", DEGREES)
@of_each("p", [1e-6, 0.025, 0.4, 0.48, 0.5, 0.52, 0.6, 0.95, 0.999999])
def test_the_quantile_is_that_of_scipy(p, df):
    assert student_t_quantile(p, df) == pytest.approx(stats.t.ppf(p, df), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("df", [1, 3, 9.5, 42, 300])
@pytest.mark.parametrize("shift", [-8.0, -0.5, 0.0, 1.7, 12.0])
@pytest.mark.parametrize("t", [-9.0, 0.0, 0.8, 2.0, 14.0])
def test_the_noncentral_distribution_is_its_own_integral(t, df, shift):
    """By quadrature of scipy: its own noncentral t gives no number far out."""
    scale = stats.chi(df, scale=1 / math.sqrt(df))
    most = scale.ppf(1 - 1e-14)
    summed, _ = quad(lambda u: stats.norm.cdf(t * u - shift) * scale.pdf(u), 0, most, epsabs=1e-12, limit=400)
    assert noncentral_t_cdf(t, df, shift) == pytest.approx(summed, abs=1e-9)


@pytest.mark.parametrize("n, coverage, confidence, factor", [(43, 0.90, 0.99, 1.8740), (10, 0.95, 0.95, 2.911)])
def test_the_noncentral_quantile_gives_the_published_tolerance_factors(n, coverage, confidence, factor):
    """NIST/SEMATECH handbook 7.2.6.3; Odeh and Owen 1980 (both from memory)."""
    shift = stats.norm.ppf(coverage) * math.sqrt(n)
    assert noncentral_t_quantile(confidence, n - 1, shift) / math.sqrt(n) == pytest.approx(factor, abs=6e-4)


@pytest.mark.parametrize("p, df, shift", [(0.05, 4, 3.0), (0.5, 9, -2.0), (0.95, 42, 0.3), (0.99, 1, 0.0)])
def test_the_noncentral_quantile_is_that_of_scipy(p, df, shift):
    assert noncentral_t_quantile(p, df, shift) == pytest.approx(stats.nct.ppf(p, df, shift), rel=1e-6)


@pytest.mark.parametrize(
    "call",
    [
        lambda: student_t_quantile(0.5, 0.0),
        lambda: student_t_quantile(0.0, 5),
        lambda: student_t_quantile(1.0, 5),
        lambda: noncentral_t_cdf(0.0, 0.99, 0.0),
        lambda: noncentral_t_cdf(0.0, 5, 2000.5),
        lambda: noncentral_t_cdf(0.0, 5, -2000.5),
        lambda: noncentral_t_quantile(0.5, 0.99, 0.0),
        lambda: noncentral_t_quantile(0.5, 5, 2000.5),
        lambda: noncentral_t_quantile(0.5, 5, -2000.5),
    ],
)
def test_what_is_out_of_range_is_refused(call):
    with pytest.raises(ValueError, match=r"^(df|p|shift) must"):
        call()
    assert 0 <= noncentral_t_cdf(0.0, 5, 2000) <= noncentral_t_cdf(0.0, 5, -2000) <= 1
