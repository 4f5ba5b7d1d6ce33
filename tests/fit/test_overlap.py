"""Which parts behind the head the record puts into one place, by hand from their sizes and places."""

from __future__ import annotations

import pytest
from gathered import of_each

from cases import case_of
from docgen.fit.overlap import overlaps

# from -50 to 50 across, from 160 to 200 to the front, from 560 to 640 up
PAD = {"site": "head_back", "wide_mm": 100, "tall_mm": 80, "thick_mm": 40}
PAD |= {"height_mm": 600, "depth_mm": 200, "midline_mm": 0}
# in the middle of it: 60 across, 30 to the front, 50 up
SUPPORT = {"site": "skull_base", "wide_mm": 60, "tall_mm": 50, "thick_mm": 30}
SUPPORT |= {"height_mm": 600, "depth_mm": 200, "midline_mm": 0}


def overlapping(*mounts: dict[str, object]) -> list[tuple[int, int, float]]:
    parts = tuple({"id": f"m{n}", "part": f"part {n}"} | mount for n, mount in enumerate(mounts))
    return [*overlaps(case_of(configuration={"mounting": parts}))]


@of_each(
    ("moved", "common"),
    [
        ({}, 30),
        ({"midline_mm": 70}, 10),  # 40 to 100
        ({"midline_mm": -70}, 10),
        ({"midline_mm": 78.9375}, 1.0625),
        ({"midline_mm": 79}, None),  # 1 mm is a touch
        ({"midline_mm": 200}, None),
        ({"depth_mm": 225}, 25 - 20),  # 195 to 225
        ({"depth_mm": 170}, 10),  # 140 to 170
        ({"depth_mm": 230}, None),
        ({"height_mm": 655}, 10),  # 630 to 680
        ({"height_mm": 545}, 10),  # 520 to 570
        ({"height_mm": 665}, None),
        ({"site": "head_left"}, None),
        *(({key: None}, None) for key in SUPPORT if key.endswith("_mm")),
    ],
)
def test_two_parts_are_told_with_the_least_of_their_overlaps(moved, common):
    pairs = [] if common is None else [(0, 1, common)]
    assert overlapping(PAD, SUPPORT | moved) == overlapping(SUPPORT | moved, PAD) == pairs


@pytest.mark.parametrize("between", [{"site": "head_left"}, {"thick_mm": None}])
def test_each_pair_is_told_by_its_numbers_in_the_record(between):
    aside = SUPPORT | {"midline_mm": 70}
    assert overlapping(PAD, SUPPORT | between, SUPPORT, aside) == [(0, 2, 30), (0, 3, 10)]
