"""How tall and heavy someone of an age may be, and from which day the age is counted.

The percentiles themselves are held to the published L, M and S in tests/case/test_usual.py.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from gathered import of_each

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.criteria.growth import age_years, usual_height, usual_weight

BORN, ON = date(2016, 4, 2), date(2026, 4, 2)  # ten years, less half a day by years of 365.25 days


def _case(born: date | None = BORN, on: date | None = ON, **tables: Any) -> Case:
    client = tables.pop("client", {})
    return Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "x",
            "client": {"born_on": born} | client,
            "dates": {"evaluated_on": on},
            **tables,
        }
    )


@of_each(
    ("evaluated", "tried", "requested", "years"),
    [
        (ON, date(2025, 4, 2), date(2024, 4, 2), 10),
        (None, date(2025, 4, 2), date(2024, 4, 2), 9),
        (None, None, date(2024, 4, 2), 8),
        (None, None, None, None),
        (BORN, None, None, 0),
        (BORN - timedelta(1), None, None, None),
    ],
)
def test_the_age_is_that_of_the_evaluation_else_of_the_first_attempt_else_of_the_request(
    evaluated, tried, requested, years
):
    case = _case(on=evaluated, request={"requested_on": requested})
    if tried:
        days = (tried + timedelta(30), tried)
        case = case.with_records(tuple(Row(at, day, "pads", "door", True) for at, day in enumerate(days, start=2)))
    age = age_years(case)
    assert age == (None if years is None else pytest.approx(years, abs=0.01))
    assert age_years(_case(born=None)) is None


@pytest.mark.parametrize(
    ("born", "height_mm"),
    [
        # 0.75 of the lowest and 1.1 of the highest percentile of the years on both sides, in mm
        (date(2025, 10, 2), (510, 894)),  # below a year: those of the first
        (date(2016, 10, 2), (887, 1689)),  # nine and a half: 118.3 and 153.5 cm
        (date(2006, 10, 2), (1109, 2128)),  # nineteen and more: 147.9 and 193.5 cm
        (date(1950, 1, 1), (1109, 2128)),
    ],
)
def test_a_height_is_usual_between_the_years_on_both_sides_of_the_age(born, height_mm):
    usual = usual_height(_case(born=born))
    assert usual is not None and (usual.low, usual.high) == height_mm


CHILD = date(2016, 10, 2)  # nine and a half: BMI 12.8 to 24.1


@of_each(
    ("tables", "weight_kg"),
    [
        # 0.65 of the least and 1.6 of the greatest BMI at the height
        ({"client": {"height_mm": 1300}}, (14.1, 65.2)),
        ({}, (6.5, 110.0)),  # no height: those of the age, 887 and 1689 mm
        ({"client": {"height_mm": 886}}, (6.5, 110.0)),  # a height that is not likely is left out
        ({"client": {"height_mm": 887}}, (6.5, 30.3)),
        (
            {
                "client": {"height_mm": 886},
                "confirmed": ({"of": "client.height_mm", "values": (886,), "by": "ot", "on": ON},),
            },
            (6.5, 30.3),
        ),
        # the tallest of grown people may weigh more than a heavy class bears: BMI 50.56 at 2.1 m
        (
            {
                "client": {"born_on": date(1990, 1, 1), "height_mm": 2100},
                "configuration": {"chair": {"base_code": "K0850"}},
            },
            (45.6, 223.0),
        ),
        # a base of a heavy class: 301 to 450 lb, 204.1 kg; one without a heaviest counts to 900 lb, 408.2 kg
        ({"client": {"height_mm": 1300}, "configuration": {"chair": {"base_code": "K0850"}}}, (14.1, 204.1)),
        ({"client": {"height_mm": 1300}, "configuration": {"chair": {"base_code": "K0855"}}}, (14.1, 408.2)),
        ({"client": {"height_mm": 1300}, "configuration": {"chair": {"base_code": "K0848"}}}, (14.1, 65.2)),
    ],
)
def test_a_weight_is_usual_at_the_height_or_at_those_of_the_age(tables, weight_kg):
    usual = usual_weight(_case(born=CHILD, **tables))
    assert usual is not None and usual.bears
    assert (usual.low, usual.high) == weight_kg
    tables["client"] = tables.get("client", {}) | {"born_on": None}
    assert usual_weight(_case(born=None, **tables)) is None and usual_height(_case(born=None)) is None
