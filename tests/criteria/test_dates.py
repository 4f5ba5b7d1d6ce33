"""Calendar months: the same day number, or the month's last day; never a number of days."""

from __future__ import annotations

import calendar
from datetime import date

import pytest
from gathered import of_each
from hypothesis import given
from hypothesis import strategies as st
from whole_case import ask, changed, grounds

from docgen.criteria.months import borderline, within_months
from docgen.months import months_later, whole_years

DAYS = st.dates(date(1950, 1, 1), date(2150, 12, 31))


@of_each(
    ("start", "months", "later", "n_days"),
    [
        # the clamp of general date libraries; libraries that overflow give 2024-03-02 and 2025-03-01 instead
        (date(2023, 8, 31), 6, date(2024, 2, 29), 182),
        (date(2024, 8, 31), 6, date(2025, 2, 28), 181),
        (date(2024, 2, 29), 12, date(2025, 2, 28), 365),
        # 42 CFR 410.38(d)(2), six months; days counted by hand on the calendar
        (date(2025, 9, 2), 6, date(2026, 3, 2), 181),
        (date(2025, 8, 31), 6, date(2026, 2, 28), 181),
        (date(2026, 4, 7), 6, date(2026, 10, 7), 183),
        (date(2023, 12, 31), 12, date(2024, 12, 31), 366),
        (date(2024, 3, 31), -1, date(2024, 2, 29), -31),
    ],
)
def test_months_later_are_counted_on_the_calendar(start, months, later, n_days):
    assert months_later(start, months) == later
    assert (later - start).days == n_days


@pytest.mark.parametrize(
    ("born", "on", "age"),
    [
        # python-dateutil 2.9, relativedelta(on, born).years
        (date(2008, 3, 26), date(2026, 3, 25), 17),
        (date(2008, 3, 26), date(2026, 3, 26), 18),
        (date(2008, 12, 31), date(2026, 1, 1), 17),
        (date(2008, 2, 29), date(2024, 2, 29), 16),
    ],
)
def test_an_age_is_the_years_that_are_over(born, on, age):
    assert whole_years(born, on) == age


@pytest.mark.parametrize(
    ("start", "second", "note"),
    [
        # 30 days for each of 6 months, counted with GNU date: 2025-08-31 + 180 days is 2026-02-27, 2026-01-01 + 180
        # days is 2026-06-30
        (
            date(2025, 8, 31),
            date(2026, 2, 28),
            "Borderline: 181 days; whoever counts 180 days instead of 6 months ends on February 27, 2026.",
        ),
        (date(2025, 8, 31), date(2026, 2, 27), ""),
        (
            date(2026, 1, 1),
            date(2026, 7, 1),
            "Borderline: 181 days; whoever counts 180 days instead of 6 months ends on June 30, 2026.",
        ),
        (date(2026, 1, 1), date(2026, 7, 2), ""),  # late, and so no longer near the limit
        (date(2026, 1, 1), date(2025, 12, 31), ""),
    ],
)
def test_a_day_in_time_by_months_and_late_by_days_is_said_to_be_borderline(start, second, note):
    assert borderline(start, second, 6) == note


def test_six_months_are_181_to_184_days_and_never_180():
    # firsts of the month of 2021 to 2024, counted with the calendar
    lengths = {(months_later(date(y, m, 1), 6) - date(y, m, 1)).days for y in range(2021, 2025) for m in range(1, 13)}
    assert lengths == {181, 182, 183, 184}


@given(DAYS, st.integers(-240, 240))
def test_the_day_number_is_kept_or_is_the_last_of_the_month(start, months):
    later = months_later(start, months)
    assert (later.year - start.year) * 12 + later.month - start.month == months
    assert later.day == min(start.day, calendar.monthrange(later.year, later.month)[1])


@given(DAYS, DAYS, st.integers(0, 24))
def test_a_second_day_before_the_first_is_never_within(first, second, months):
    assert within_months(first, second, months) == (first <= second <= months_later(first, months))
    if second < first:
        assert not within_months(first, second, months)


@of_each(
    ("encounter", "order", "status"),
    [
        (date(2026, 3, 4), date(2026, 3, 20), "met"),  # 16 days
        (date(2025, 9, 2), date(2026, 3, 2), "met"),  # the last day counts
        (date(2025, 9, 2), date(2026, 3, 3), "not_met"),
        (date(2025, 9, 2), date(2026, 3, 20), "not_met"),  # 199 days
        (date(2025, 8, 31), date(2026, 2, 28), "met"),  # month end
        (date(2025, 8, 31), date(2026, 3, 1), "not_met"),
        (date(2026, 3, 20), date(2026, 3, 20), "met"),  # day of the encounter
        (date(2026, 3, 20), date(2026, 3, 19), "not_met"),  # the order first
    ],
)
def test_the_encounter_window_closes_after_six_calendar_months(encounter, order, status):
    # 42 CFR 410.38(d)(2): within six months before the order, never after it
    dates = ("dates.encounter_on", encounter), ("dates.ordered_on", order)
    assert ask("encounter_before_order", grounds(changed(*dates))).status == status


def test_the_reason_names_the_last_day_of_the_window():
    late = ("dates.encounter_on", date(2025, 8, 31)), ("dates.ordered_on", date(2026, 3, 1))
    assert "February 28, 2026" in ask("encounter_before_order", grounds(changed(*late))).reason
