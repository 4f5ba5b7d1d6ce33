"""Units: exact factors and published conversions, and which way each number is rounded."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
import scipy.constants as published
from gathered import of_each
from hypothesis import given
from hypothesis import strategies as st

from docgen import units
from docgen.case.measures_written import measure_of

SIZES = st.integers(1, 40_000).map(lambda tenths: tenths / 10)


def _inches(words: str) -> Fraction:
    """The number that words such as 1 3/4 stand for."""
    sign = -1 if words.startswith("-") else 1
    return sign * sum((Fraction(part) for part in words.removeprefix("-").split()), Fraction(0))


def test_the_factors_are_those_that_define_the_units():
    # scipy.constants has them of CODATA and of NIST Special Publication 811
    ours = (units.MM_PER_INCH, units.MM_PER_FOOT, units.KG_PER_POUND, units.M_S_PER_MPH)
    theirs = (published.inch * 1000, published.foot * 1000, published.pound, published.mph)
    assert ours == pytest.approx(theirs, rel=1e-15)
    # exact by definition, NIST Handbook 44 (2024), Appendix C: inch 25.4 mm, pound 0.453 592 37 kg, mile 1609.344 m
    # (from memory)
    assert (units.MM_PER_INCH, units.KG_PER_POUND, units.M_S_PER_MPH * 3600) == (25.4, 0.45359237, 1609.344)


@of_each(
    "law_mm, inches",
    # 2010 ADA Standards for Accessible Design print both: 304.3.1, 404.2.3, 403.5.1, 304.3.2, 305.3; to 5 mm
    [(1525, "60"), (815, "32"), (915, "36"), (305, "12"), (610, "24"), (1065, "42"), (1220, "48")],
)
def test_a_length_of_the_law_comes_back_in_its_own_inches(law_mm, inches):
    assert units.inches(law_mm) == inches


@pytest.mark.parametrize("m_s, mph", [(1.34112, "3.0"), (1.78816, "4.0"), (2.01168, "4.5"), (2.2352, "5.0")])
def test_a_speed_of_the_coding_groups_comes_back_in_mph(m_s, mph):
    assert units.miles_an_hour(m_s) == mph  # groups 2 and 3 have 3 and 4.5 mph; factors as above


@given(st.integers(4, 400), st.sampled_from(["near", "up", "down"]))  # under an inch a need has no leeway
def test_an_inch_measure_written_down_in_whole_millimetres_comes_back(quarters, side):
    written_mm = round(Fraction(quarters, 4) * Fraction("25.4"))
    assert _inches(units.inches(written_mm, side)) == Fraction(quarters, 4)


@pytest.mark.parametrize("side", ["near", "up", "down"])
@pytest.mark.parametrize("written", ["1/16", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"])
def test_a_part_of_an_inch_written_as_one_comes_back(written, side):
    mm = measure_of(f"{written} in", "mm")
    assert units.inches(mm, side) == written
    assert units.inches(20.0, "up") == "7/8"  # what was measured in whole mm has no leeway


@given(st.integers(200, 1000), st.sampled_from(["near", "up", "down"]))
def test_a_weight_written_down_in_kg_comes_back_in_its_pounds(lb, side):
    assert units.pounds(round(lb * 0.45359237, 1), side) == lb


@given(st.integers(10, 99))
def test_a_speed_written_down_in_m_s_comes_back_in_its_mph(tenths):
    assert units.miles_an_hour(round(tenths / 10 * 0.44704, 3)) == f"{tenths / 10:.1f}"


@given(SIZES)
def test_what_is_needed_is_never_shown_smaller_and_what_there_is_never_larger(mm):
    """By no more than the half mm for which a length in whole mm stands, and by one mark of the tape."""
    up, down, near = (float(_inches(units.inches(mm, side))) * 25.4 for side in ("up", "down", "near"))
    mark = 25.4 / (16 if mm < 6.35 else 8 if mm < 152.4 else 4)
    assert mm - 0.5 - 1e-6 <= up < mm + mark and mm - mark - 1e-6 < down <= mm + 0.5 + 1e-6
    assert abs(near - mm) <= mark / 2 + 1e-6


@given(SIZES)
def test_a_distance_on_the_ground_holds_to_its_side_exactly(mm):
    (up_ft, up_in), (down_ft, down_in) = units.feet_and_inches(mm, "up"), units.feet_and_inches(mm, "down")
    assert 0 <= up_in < 12 and 0 <= down_in < 12
    assert (down_ft * 12 + down_in) * 25.4 <= mm + 1e-4 and mm - 1e-4 <= (up_ft * 12 + up_in) * 25.4 < mm + 25.4


@given(st.integers(300, 3000), st.integers(300, 3000))
def test_rounding_never_turns_a_chair_that_does_not_fit_into_one_that_does(room, needed):
    if room < needed:
        assert _inches(units.inches(room, "down")) <= _inches(units.inches(needed, "up"))
        assert units.feet_and_inches(room, "down") < units.feet_and_inches(needed, "up")


@given(st.floats(0.01, 5))
def test_a_speed_is_never_shown_faster_nor_braking_harder_than_it_is(value):
    assert float(units.miles_an_hour(value)) * 0.44704 <= value + 0.000501  # recorded to 0.001 m/s
    assert float(units.miles_an_hour(value)) * 0.44704 > value * 0.9 - 1e-9  # two digits that count
    assert float(units.feet_a_second_squared(value)) * 0.3048 <= value + 1e-9


@given(st.floats(0.001, 99), st.sampled_from(["up", "down"]))
def test_two_digits_hold_to_their_side(value, side):
    shown = float(units.two_digits(value, side))
    assert shown >= value - 1e-6 if side == "up" else shown <= value + 1e-6
    assert math.isclose(shown, value, rel_tol=0.11)


@of_each(
    "words, shown",
    [
        (units.length(815, "down"), "32 in (815 mm)"),
        (units.length(-7.5, "down"), "-3/8 in (-7.5 mm)"),  # 7 / 25.4 = 0.276, away from zero
        (units.built(12), "12 mm (1/2 in)"),
        (units.ground(1300, "down"), "4 ft 3 in (1300 mm)"),
        (units.stretch(0.514, "up"), "1 ft 9 in (0.52 m)"),
        (units.stretch(0.299, "down"), "11 in (0.29 m)"),
        (units.weight(61), "134 lb (61 kg)"),  # 61 / 0.45359237 = 134.48
        (units.weight(136.2, "up"), "301 lb (136.2 kg)"),  # 300.27: over a limit of 300
        (units.weight(136.1, "up"), "300 lb (136.1 kg)"),  # 300 lb, written down in kg
        (units.speed(0.9), "2.0 mph (0.9 m/s)"),
        (units.speed(0.4), "0.89 mph (0.4 m/s)"),
    ],
)
def test_sentences_name_both_units(words, shown):
    assert words == shown


def test_the_inches_of_a_gap_name_its_millimeters_and_no_others():
    """Each whole mm has inches of its own, which bring it back: no mark stands for two gaps."""
    marks = {mm: units.gap_inches(mm) for mm in range(1, 71)}
    assert len(set(marks.values())) == len(marks)
    assert all(round(float(_inches(mark)) * units.MM_PER_INCH) == mm for mm, mark in marks.items())
    assert [marks[mm] for mm in (1, 2, 3, 5, 25)] == ["1/32", "3/32", "1/8", "3/16", "31/32"]


@pytest.mark.parametrize(
    ("mm", "left"),
    [
        (121, "4 3/4"),  # 4.764; 895 less 774, or 35 1/4 less 30 1/2
        (130, "5"),  # 5.118; 1400 less 1270, and 900 less 770
        (100, "3 7/8"),  # 3.937; half of 850 less 650
        (97.5, "3 3/4"),  # 3.839
        (140, "5 1/2"),  # 5.512
        (127, "5"),  # just 5
        (12, "3/8"),  # 0.472
        (0, "0"),
        (-130, "-5 1/8"),  # 5.118 too little
    ],
)
def test_what_is_left_is_the_same_inches_wherever_the_same_mm_are_left(mm, left):
    assert units.spare_inches(mm) == left


def test_what_is_left_and_what_is_missing_name_both_units():
    assert (units.spare(130), units.too_little(130)) == ("5 in (130 mm)", "5 1/8 in (130 mm) too little")


@pytest.mark.parametrize(
    ("m_s", "set_to", "driven"),
    [
        (0.15, "0.33", "0.34"),  # 0.3355
        (0.2, "0.44", "0.45"),  # 0.4474
        (0.25, "0.55", "0.56"),  # 0.5592
        (0.3, "0.67", "0.67"),  # 0.6711
        (0.7, "1.5", "1.6"),  # 1.5659
        (0, "0", "0"),
    ],
)
def test_a_limit_is_never_above_its_speed_and_a_speed_driven_goes_to_the_nearest(m_s, set_to, driven):
    assert (units.miles_an_hour(m_s), units.miles_an_hour(m_s, "near")) == (set_to, driven)


def test_a_small_thing_that_is_needed_is_never_put_below_its_mm():
    """A threshold of 10 mm is 0.394 in: no base that climbs 3/8 in passes it."""
    assert (units.inches(10, "up"), units.inches(8, "up"), units.inches(12.7, "up")) == ("1/2", "3/8", "1/2")


@given(st.integers(1, 40_000).map(lambda tenths: tenths / 10))
def test_a_limit_in_inches_lets_nothing_pass_that_its_mm_would_not(mm):
    """Without the leeway of a measure: what must not be passed goes down, what must be reached goes up."""
    most, least = (float(_inches(words)) * 25.4 for words in (units.at_most_inches(mm), units.at_least_inches(mm)))
    mark = 25.4 / (16 if mm < 25.4 else 8 if mm < 152.4 else 4)
    assert mm - mark - 1e-6 < most <= mm + 1e-6 and mm - 1e-6 <= least < mm + mark + 1e-6


@pytest.mark.parametrize(
    ("mm", "most", "least"),
    [
        (10, "3/8", "7/16"),  # 0.394
        (15, "9/16", "5/8"),  # 0.591
        (20, "3/4", "13/16"),  # 0.787
        (40, "1 1/2", "1 5/8"),  # 1.575
        (80, "3 1/8", "3 1/4"),  # 3.150
        (240, "9 1/4", "9 1/2"),  # 9.449
        (254, "10", "10"),
    ],
)
def test_each_side_of_a_limit_has_its_own_inches(mm, most, least):
    assert (units.at_most_inches(mm), units.at_least_inches(mm)) == (most, least)
