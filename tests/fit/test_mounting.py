"""Which figures of the mounting record look wrong, at and beyond each published edge."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each

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


@of_each(
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


def on(site: str, **keys: float) -> dict[str, object]:
    return {"site": site, **keys}


SENSED = ["proximity_sensing", "standby"]
ABOVE = "The part 0 is {} mm above the seat, too low for a part at the head; is it in inches?"
APART = "The part 0 and the part 1 differ by {}; say why under at."


@of_each(
    ("mounts", "asked", "sentences"),
    [
        ([on("head_back", gap_mm=40.0)], SENSED, []),
        (
            [on("head_back", gap_mm=40.5)],
            SENSED,
            ["The part 0 is 40.5 mm away; a proximity switch seldom responds beyond 40 mm."],
        ),
        ([on("knee", gap_mm=90.0)], SENSED, []),
        (
            [on("head_right", gap_mm=0.0)],
            ["head_array"],
            ["The part 0 touches at rest, and no standby is requested: the chair would drive as soon as it wakes."],
        ),
        ([on("head_right", gap_mm=1.0)], ["head_array"], []),
        (
            [on("knee", gap_mm=0.9)],
            [],
            ["The gap of the part 0 is 0.9 mm, less than anyone can see; is it in inches?"],
        ),
        ([on("knee", gap_mm=0.0)], [], []),
        ([on("mouth", height_mm=150.0)], [], []),
        *(
            ([on(site, height_mm=149.0)], [], [ABOVE.format(149)])
            for site in ("head_back", "head_left", "head_right", "mouth", "chin", "cheek")
        ),
        ([on("head_left", gap_mm=10.0), on("head_right", gap_mm=25.0)], [], []),
        ([on("head_left", gap_mm=10.0), on("head_right", gap_mm=25.5)], [], [APART.format("15.5 mm in gap")]),
        ([on("head_left", gap_mm=25.5), on("head_right", gap_mm=10.0)], [], [APART.format("15.5 mm in gap")]),
        ([on("head_left", height_mm=600.0), on("head_right", height_mm=620.0)], [], []),
        ([on("head_left", height_mm=600.0), on("head_right", height_mm=621.0)], [], [APART.format("21 mm in height")]),
        ([on("head_left", height_mm=600.0), on("head_right", gap_mm=10.0)], [], []),
        ([on("head_left", gap_mm=10.0)], [], []),
        ([on("head_right", gap_mm=10.0)], [], []),
    ],
)
def test_a_part_is_asked_about_past_its_edge_in_these_words(mounts, asked, sentences):
    assert told(mounts=mounts, asked=asked) == sentences


@of_each(
    ("born", "head", "sentences"),
    [
        (GROWN, {"width_mm": 130.0}, ["The head width of 130 mm is below 131 mm, the smallest of 6068 adults."]),
        (GROWN, {"width_mm": 181.0}, ["The head width of 181 mm is above 180 mm, the largest of 6068 adults."]),
        (CHILD, {"width_mm": 181.0}, ["The head width of 181 mm is above 180 mm, the largest of 6068 adults."]),
        (CHILD, {"width_mm": 100.0}, []),
        (CHILD, {"length_mm": 146.0}, ["The head length of 146 mm is small even for a child of one year."]),
        (CHILD, {"length_mm": 147.0}, []),
        (CHILD, {"circumference_mm": 437.5}, []),
        (
            CHILD,
            {"circumference_mm": 437.0},
            ["The head circumference of 437 mm is small even for a child of one year."],
        ),
        (date(2025, 4, 2), {"length_mm": 146.0}, ["The head length of 146 mm is small even for a child of one year."]),
        (date(2025, 4, 3), {"length_mm": 146.0}, []),
        (
            GROWN,
            {"forward_deg": 51.0},
            ["For the neck, bending forward by 51 degrees is more than the usual full range of 50."],
        ),
        (
            GROWN,
            {"turn_right_deg": 81.0},
            ["For the neck, turning to the right by 81 degrees is more than the usual full range of 80."],
        ),
        (GROWN, {"turn_right_deg": 80.0}, []),
    ],
)
def test_a_head_is_asked_about_past_its_edge_in_these_words(born, head, sentences):
    assert told(head, born=born) == sentences


@pytest.mark.parametrize(("dates", "asked_about"), [({"evaluated_on": date(2026, 4, 2)}, True), ({}, True)])
def test_the_age_is_that_of_the_evaluation_or_else_of_the_request(dates, asked_about):
    def small(**tables: object) -> list[str]:
        case = case_of(client={"born_on": GROWN, "head": {"width_mm": 130.0}}, **tables)
        return [doubt.says for doubt in doubts(case, fit(case, where))]

    assert bool(small(dates=dates, request={"requested_on": date(2026, 5, 4)})) is asked_about
    assert not small()


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_pad_where_the_neck_does_not_move_is_asked_about_on_either_side(side):
    words = "The part 0 is where the neck is recorded not to move."
    mount = on(f"head_{side}", gap_mm=10.0)
    other = "right" if side == "left" else "left"
    assert told({f"{side}_deg": 0.0}, [mount]) == [words]
    assert told({f"{side}_deg": 0.0, f"turn_{side}_deg": 0.0}, [mount]) == [words]
    assert told({f"{side}_deg": 0.0, f"turn_{side}_deg": 1.0}, [mount]) == []
    assert told({f"{side}_deg": 1.0}, [mount]) == told({f"{other}_deg": 0.0}, [mount]) == []


FRONT, BACK = ({"site": "foot", "limb": "left", "side": side, "part": f"{side} part"} for side in ("front", "back"))
ROUND = {"shape": "round"}


def told_of_foot(*mounts: dict[str, object], **configuration: object) -> list[str]:
    """Of someone of 1250 mm: a foot of 0.152 times that is 190 mm, and a shoe has 171 to 256.5 mm."""
    parts = tuple({"id": f"m{n}"} | mount for n, mount in enumerate(mounts))
    case = case_of(client={"height_mm": 1250}, configuration={"mounting": parts} | configuration)
    return [doubt.says for doubt in doubts(case, fit(case, where))]


@of_each(
    ("front", "back", "room"),
    [
        ({"depth_mm": 400}, {"depth_mm": 229}, None),
        ({"depth_mm": 400}, {"depth_mm": 230}, 170),
        ({"depth_mm": 400}, {"depth_mm": 143.5}, None),
        ({"depth_mm": 400}, {"depth_mm": 143}, 257),
        ({"depth_mm": 405, "gap_mm": 3}, {"depth_mm": 229, "gap_mm": 2}, None),
        ({"depth_mm": 404, "gap_mm": 3}, {"depth_mm": 229, "gap_mm": 2}, 170),
        (ROUND | {"depth_mm": 400}, {"depth_mm": 229}, None),
        (ROUND | {"depth_mm": 419, "wide_mm": 38}, {"depth_mm": 229}, None),
        (ROUND | {"depth_mm": 418, "wide_mm": 38}, {"depth_mm": 229}, 170),
        ({"depth_mm": 410, "thick_mm": 20}, {"depth_mm": 229}, None),
        ({"depth_mm": 409, "thick_mm": 20}, {"depth_mm": 229}, 170),
        ({"depth_mm": 415}, {"depth_mm": 229, "thick_mm": 30}, None),
        ({"depth_mm": 414}, {"depth_mm": 229, "thick_mm": 30}, 170),
        ({}, {"depth_mm": 229}, None),
        ({"depth_mm": 400, "site": "knee"}, {"depth_mm": 230}, None),
    ],
)
def test_parts_before_and_behind_a_foot_leave_room_for_a_shoe(front, back, room):
    says = told_of_foot(FRONT | front, BACK | back)
    told = f"Between the back part and the front part there are {room} mm for a shoe; a foot at a height of 1250 mm is"
    assert [words.partition(" about")[0] for words in says] == ([] if room is None else [told])


@pytest.mark.parametrize(("depth_mm", "under"), [(360, None), (359.5, "80.5 mm under the seat")])
def test_a_part_at_a_foot_is_asked_about_where_it_is_far_under_the_seat(depth_mm, under):
    says = told_of_foot(BACK | {"depth_mm": depth_mm}, chair={"seat_depth_mm": 440})
    assert len(says) == (under is not None) and all(under in words for words in says)


REAR = {"site": "head_back", "depth_mm": -15.0, "height_mm": 590.0, "midline_mm": 0.0}
REAR |= {"wide_mm": 110.0, "tall_mm": 60.0, "thick_mm": 15.0}
ROLL = {"site": "skull_base", "depth_mm": 20.0, "height_mm": 530.0, "midline_mm": 0.0}
ROLL |= {"wide_mm": 160.0, "tall_mm": 50.0, "thick_mm": 50.0}


@of_each(
    "changed, common_mm",
    [
        ({}, None),  # 5 mm between them
        ({"height_mm": 536.0}, None),  # they touch
        ({"height_mm": 545.0}, "10 mm"),
        ({"height_mm": 545.0, "depth_mm": 40.0}, None),  # the roll in front of the pad
        ({"height_mm": 545.0, "depth_mm": 30.0}, "5 mm"),
        ({"height_mm": 545.0, "midline_mm": 140.0}, None),  # beside it
        ({"height_mm": 545.0, "thick_mm": None}, None),  # not known
        ({"height_mm": 545.0, "site": "cheek"}, None),
    ],
)
def test_two_parts_behind_the_head_are_asked_about_where_the_record_puts_them_into_one_place(changed, common_mm):
    roll = {name: value for name, value in (ROLL | changed).items() if value is not None}
    says = [one for one in told(mounts=[REAR, roll]) if "overlap" in one]
    assert len(says) == (common_mm is not None)
    assert all(f"overlap by {common_mm}" in one for one in says)
