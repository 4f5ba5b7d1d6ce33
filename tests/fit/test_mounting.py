"""Which figures of the mounting record look wrong, at and beyond each published edge."""

from __future__ import annotations

from datetime import date

import pytest

from cases import case_of, where
from docgen.fit.match import fit
from docgen.fit.mounting import doubts, sites_lacking

GROWN, CHILD = date(1990, 1, 31), date(2017, 1, 31)


def told(head=None, mounts=(), asked=(), born=GROWN):
    case = case_of(
        ["head_three_way"],
        asked,
        client={"born_on": born, "head": head or {}},
        dates={"evaluated_on": date(2026, 4, 2)},
        configuration={"mounting": tuple({"id": f"m{n}", "part": f"part {n}", **one} for n, one in enumerate(mounts))},
    )
    return [doubt.says for doubt in doubts(case, fit(case, where))]


# ANSUR II, Gordon et al. 2014, NATICK/TR-15/007, public data of 4082 men and 1986 women: smallest and largest
@pytest.mark.parametrize(
    ("name", "low", "high"), [("width_mm", 131, 180), ("length_mm", 168, 225), ("circumference_mm", 500, 633)]
)
def test_an_adult_head_is_asked_about_only_beyond_the_smallest_and_largest_measured(name, low, high):
    for inside in (low, high):
        assert not told({name: float(inside)})
    for outside in (low - 1, high + 1):
        [says] = told({name: float(outside)})
        assert f"{outside:g} mm" in says and "6068 adults" in says


# Farkas et al. 1992, Cleft Palate Craniofac J 29:303-308, abstract: at one year 87.1% of adult length, 87.5% of
# circumference
@pytest.mark.parametrize(("name", "least"), [("length_mm", 168 * 0.871), ("circumference_mm", 500 * 0.875)])
def test_a_childs_head_may_be_smaller_than_any_adults_but_not_than_an_infants(name, least):
    assert not told({name: least + 0.5}, born=CHILD)
    assert told({name: least - 0.5}, born=CHILD)


# AMA Guides, 5th edition, from memory: flexion 50, extension 60, side bend 45, rotation 80
@pytest.mark.parametrize(
    ("name", "most"),
    [("forward_deg", 50), ("back_deg", 60), ("left_deg", 45), ("right_deg", 45), ("turn_left_deg", 80)],
)
def test_a_neck_is_asked_about_beyond_its_usual_range(name, most):
    assert not told({name: float(most)})
    [says] = told({name: most + 1.0})
    assert f"{most + 1} degrees" in says and f"of {most}." in says


SIDES = {"site": "head_left", "gap_mm": 18.0}, {"site": "head_right", "gap_mm": 20.0}


@pytest.mark.parametrize(
    ("mounts", "asked", "n"),
    [
        (SIDES, ["proximity_sensing"], 0),
        (({"site": "head_left", "gap_mm": 41.0},), ["proximity_sensing"], 1),
        (({"site": "head_left", "gap_mm": 0.7},), [], 1),  # inches
        (({"site": "foot", "gap_mm": 1.0},), [], 0),
        (({"site": "chin", "height_mm": 22.0},), [], 1),  # inches
        (({"site": "knee", "height_mm": 22.0},), [], 0),
        (({"site": "head_left", "gap_mm": 41.0},), ["contact_switch_sensing"], 0),
        (({"site": "head_back", "gap_mm": 0.0},), ["head_array"], 1),
        (({"site": "head_back", "gap_mm": 0.0},), ["head_array", "standby"], 0),
        ((SIDES[0], SIDES[1] | {"gap_mm": 33.0}), [], 0),  # 15 mm apart, the most that is not asked about
        ((SIDES[0], SIDES[1] | {"gap_mm": 34.0}), [], 1),
        ((SIDES[0] | {"height_mm": 590.0}, SIDES[1] | {"height_mm": 615.0}), [], 1),
    ],
)
def test_gaps_are_asked_about_where_the_sensing_or_the_other_side_makes_them_odd(mounts, asked, n):
    assert len(told(mounts=mounts, asked=asked)) == n


def test_a_pad_on_a_side_to_which_the_neck_does_not_move_is_asked_about():
    [says] = told({"left_deg": 0.0}, mounts=(SIDES[0],))
    assert "neck is recorded not to move" in says
    assert not told({"left_deg": 0.0, "turn_left_deg": 40.0}, mounts=(SIDES[0],))


def test_parts_that_the_features_need_and_the_record_lacks_are_named():
    case = case_of(
        ["head_three_way"],
        ["head_array"],
        configuration={"mounting": ({"id": "rear", "part": "rear pad", "site": "head_back"},)},
    )
    assert sites_lacking(case, fit(case, where)) == ("head_left", "head_right")


def test_an_adult_is_one_from_the_birthday_on():
    """The evaluation is on 2 April 2026, see `told`."""
    small = {"width_mm": 130.0}  # below every adult measured, and no measure that a child of one year is held to
    assert told(small, born=date(2009, 4, 2)) and told(small, born=date(2009, 4, 1))
    assert not told(small, born=date(2009, 4, 3)) and not told(small, born=date(2009, 5, 1))
