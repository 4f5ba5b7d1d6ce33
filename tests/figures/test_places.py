"""Each part is drawn where the mounting record says that it is, and no word of a drawing lies on anything.

Distances are measured on the drawing and compared with the record; the scale is taken from a part of recorded size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import product
from typing import get_args

import pytest
from gathered import of_each
from hypothesis import example, given, settings
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth
from shapely import Polygon
from support import ASSESSED

from docgen.case.mount import Landmark, Mount
from docgen.figures import (
    driving_map,
    gap_gauge,
    marks_meet,
    pad_layout,
    part_shapes,
    ready_card,
    rest_wake,
    sit_right_wrong,
    stop_card,
    stop_sites,
)
from docgen.figures.placing import PLACES
from docgen.packet.wording import language_words
from docgen.resources import folder
from docgen.scene import Circle, Line, Poly, Rect, Scene, Shape, Text

WORDS = {lang: language_words(lang)["figures"] for lang in ("en", "es")}
ILMARI, MARISOL, SAOIRSE, BOHDAN = (
    "ilmari-okonjo-vale",
    "marisol-quenneville-tran",
    "saoirse-villalobos-ng",
    "bohdan-lacroix-mbeki",
)
PICTURES = (
    pad_layout,
    ready_card,
    stop_card,
    stop_sites,
    sit_right_wrong,
    driving_map,
    rest_wake,
    gap_gauge,
    marks_meet,
)
HEADS = ("head_back", "skull_base", "head_left", "head_right", "mouth", "chin", "cheek")
LISTED_X = 11.0  # where the number of a part stands that is named, in its panel


def drawn(module, name: str, lang: str = "en", **configuration) -> Scene | None:
    one = ASSESSED[name]
    case = one.file.case.model_copy(
        update={"configuration": one.file.case.configuration.model_copy(update=configuration)}
    )
    return module.scene(case, one.evidence, WORDS[lang])


def mounts(name: str, **changes):
    """The mounting record with the keys of some parts changed."""
    return tuple(
        mount.model_copy(update=changes.get(mount.id, {})) for mount in ASSESSED[name].file.case.configuration.mounting
    )


def box(shape: Shape) -> tuple[float, float, float, float]:
    """Left, top, right, bottom."""
    match shape:
        case Rect(x, y, w, h):
            return x, y, x + w, y + h
        case Circle(x, y, r):
            return x - r, y - r, x + r, y + r
        case Line(x1, y1, x2, y2):
            return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)
        case Poly(points):
            xs, ys = zip(*points, strict=True)
            return min(xs), min(ys), max(xs), max(ys)
        case Text(x, y, text, size, bold, anchor):
            width = stringWidth(text, "Helvetica-Bold" if bold else "Helvetica", size)
            left = x - {"start": 0, "middle": width / 2, "end": width}[anchor]
            return left, y - 0.72 * size, left + width, y
    raise TypeError(shape)


def middle(shape: Shape) -> tuple[float, float]:
    left, top, right, bottom = box(shape)
    return (left + right) / 2, (top + bottom) / 2


def told(scene: Scene) -> str:
    """All words of the drawing, broken lines put together."""
    return " ".join(s.text for s in scene.shapes if isinstance(s, Text))


def rings(scene: Scene) -> list[tuple[str, Circle]]:
    return rings_in(scene.shapes)


def rings_in(shapes: Sequence[Shape]) -> list[tuple[str, Circle]]:
    return [
        (text.text, ring)
        for ring, text in zip(shapes, shapes[1:], strict=False)
        if isinstance(ring, Circle) and ring.fill == 1.0 and isinstance(text, Text)
    ]


def views(scene: Scene, view: str) -> list[Shape]:
    """What the panels of the view from above, or from the side, show; their words are their titles."""
    sides = {words[f"from_{side}"] for words in WORDS.values() for side in ("left", "right")}
    above = {words["from_above"] for words in WORDS.values()}
    wanted = above if view == "above" else sides
    return [
        shape
        for panel in scene.panels
        if any(view in told(panel) for view in wanted)  # a title may have two lines
        for shape in panel.shapes
    ]


def parts(scene: Scene, view: str) -> dict[str, Shape]:
    """Number -> the part of the drawing that it stands on or beside, in the view from above or from the side."""
    shown = views(scene, view)
    here = [
        s
        for s in shown
        if isinstance(s, Rect | Circle | Poly)
        and (s.fill == 0.7 or (s.fill is None and s.width == 1.6))
        and not getattr(s, "dash", None)
    ]
    found = {}
    for number, ring in rings_in(shown):
        if ring.x != LISTED_X and here:

            def away(shape: Shape, ring: Circle = ring) -> float:
                left, top, right, bottom = box(shape)
                return math.hypot(max(left - ring.x, 0, ring.x - right), max(top - ring.y, 0, ring.y - bottom))

            found[number] = min(here, key=away)
            assert away(found[number]) < 18
    return found


def outlines(scene: Scene, view: str) -> list[Poly]:
    return [s for s in views(scene, view) if isinstance(s, Poly) and s.fill == 0.95]


def body(scene: Scene, view: str) -> Poly:
    """The largest outline of a view."""
    return max(outlines(scene, view), key=lambda s: (box(s)[2] - box(s)[0]) * (box(s)[3] - box(s)[1]))


def ears(scene: Scene, view: str) -> list[Poly]:
    return [s for s in views(scene, view) if isinstance(s, Poly) and len(s.points) == 24]


def clear(one: Shape, other: Shape) -> bool:
    a, b = box(one), box(other)
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def spans(scene: Scene, view: str) -> list[float]:
    return [
        math.hypot(s.x2 - s.x1, s.y2 - s.y1)
        for s in views(scene, view)
        if isinstance(s, Line) and s.width == 1.4 and not s.dash
    ]


# ---- the record and the drawing -----------------------------------------------------------------

NEAR_MM = 15.0  # by which a body may differ from the plain outline; heads differ by more between people


def _faces(name: str, view: str) -> list[tuple[float, float, Mount]]:
    """The middle of the face of each part as drawn, in mm, and its record: off the middle of its body by half of how
    thick it is drawn, toward the driver. A part under the skull is dashed from above, and not found there."""
    record, found = mounts(name), []
    for number, shape in parts(drawn(pad_layout, name), view).items():
        mount = record[int(number) - 1]
        if mount.site == "skull_base" and view == "above":
            continue
        stick = mount.shape == "round" and mount.tall_mm is not None
        thick = mount.wide_mm or 0 if stick else max(mount.wide_mm or 0, 12) if mount.site == "mouth" else 0
        half = (thick or min(mount.thick_mm or part_shapes.PAD_MM, 40)) / 2
        side = mount.side or PLACES[mount.site].side
        x, y = (at / part_shapes.SCALE for at in middle(shape))
        if view == "above":
            x += {"left": half, "right": -half}.get(side or "", 0)
            y += {"front": half, "back": -half}.get(side or "", 0)
        else:
            x += {"front": half, "back": -half}.get(side or "", 0)
        found.append((x, y, mount))
    return found


def _apart(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one - other


@pytest.mark.parametrize("view", ["above", "side"])
@of_each("name", list(ASSESSED))
def test_parts_are_drawn_as_far_apart_as_the_order_tells(name, view):
    """From above: depth down the page, side across it. From the side: depth across, height up."""
    told = _faces(name, view)
    for (x, y, one), (other_x, other_y, other) in product(told, told):
        if (one.site in HEADS) is not (other.site in HEADS) or one.limb != other.limb or one.site == "hand":
            continue  # another panel; of a hand no depth is recorded
        tilt = math.radians(one.angle_deg or 0) if one.held_by == other.held_by == "footplate" else 0.0
        depth = _apart(one.depth_mm, other.depth_mm)
        if view == "above":
            across, along = x - other_x, y - other_y
            side = _apart(one.midline_mm, other.midline_mm)
            assert side is None or abs(across - side) <= NEAR_MM, (one.part, other.part)
            assert depth is None or abs(along + depth / math.cos(tilt)) <= NEAR_MM, (one.part, other.part)
        else:
            turned = -1 if "right" in {mount.side for mount in (one, other)} else 1
            assert depth is None or abs(turned * (x - other_x) + depth) <= NEAR_MM, (one.part, other.part)
            high = _apart(one.height_mm, other.height_mm)
            if one.site != "foot" and high is not None:  # of a foot the plate tilts what stands on it
                assert abs(y - other_y + high) <= NEAR_MM, (one.part, other.part)


# ---- the head -----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [ILMARI, "anselm-kirawira-boone"])
def test_head_pads_stand_behind_and_beside_the_head_with_the_ears_free(name):
    record = {mount.id: mount for mount in mounts(name)}
    assert all("ear free" in record[side].at for side in ("left", "right"))
    scene = drawn(pad_layout, name)
    above, side = parts(scene, "above"), parts(scene, "side")
    numbers = {mount.id: str(at) for at, mount in enumerate(mounts(name), 1)}
    rear, left, right = (above[numbers[one]] for one in ("rear", "left", "right"))
    head = next(s for s in outlines(scene, "above") if len(s.points) == 48)
    assert box(rear)[1] > box(head)[3] and box(left)[0] < box(head)[0] and box(right)[2] > box(head)[2]
    assert not any(Polygon(head.points).intersects(Polygon(pad.points)) for pad in (left, right))
    for ear in ears(scene, "above"):
        assert clear(ear, left) and clear(ear, right) and clear(ear, rear)
    (ear,) = ears(scene, "side")
    assert clear(ear, side[numbers["left"]])
    assert abs(middle(ear)[1] - middle(side[numbers["left"]])[1]) < 1  # level with the ear
    assert numbers["right"] not in side  # the far side is not seen
    # the rear pad stands as much lower as it was measured, and everything has one scale
    scale = (box(rear)[2] - box(rear)[0]) / record["rear"].wide_mm
    lower = (middle(side[numbers["rear"]])[1] - middle(side[numbers["left"]])[1]) / scale
    # to the millimeter or two by which the middle of a tipped pad is off the middle of its face
    assert lower == pytest.approx(record["left"].height_mm - record["rear"].height_mm, abs=2)
    gaps = sorted(length / scale for length in spans(scene, "above"))
    assert gaps == pytest.approx(sorted(mount.gap_mm for mount in record.values() if mount.gap_mm))


@pytest.mark.parametrize(("yaw_deg", "nearer"), [(-12.0, "back"), (12.0, "front")])
def test_a_pad_at_the_left_turned_to_the_left_is_nearest_the_head_at_its_back_as_the_order_tells(yaw_deg, nearer):
    # a minus turns the front to the left, counterclockwise from above; the front of the page's head points up
    scene = drawn(pad_layout, ILMARI, mounting=mounts(ILMARI, left={"angle_deg": yaw_deg, "angle_axis": "yaw"}))
    points = parts(scene, "above")["2"].points
    by_height = sorted(points, key=lambda point: point[1])
    front, back = (sum(x for x, _ in pair) / 2 for pair in (by_height[:2], by_height[2:]))
    assert (front > back) is (nearer == "front")
    assert math.degrees(math.asin(abs(front - back) / (90 * part_shapes.SCALE))) == pytest.approx(12, abs=0.1)


def test_left_on_the_page_is_the_drivers_left_in_the_view_from_above():
    above = parts(drawn(pad_layout, ILMARI), "above")
    record = {mount.side or mount.site: str(at) for at, mount in enumerate(mounts(ILMARI), 1)}
    assert (
        middle(above[record["head_left"]])[0]
        < middle(above[record["head_back"]])[0]
        < middle(above[record["head_right"]])[0]
    )


def test_the_mouthpiece_is_before_the_lips_and_the_switch_at_the_cheek():
    scene = drawn(pad_layout, MARISOL)
    record = {mount.id: mount for mount in mounts(MARISOL)}
    mouthpiece, cheek = (parts(scene, "side")[number] for number in "12")
    (ear,) = ears(scene, "side")
    head = body(scene, "side")
    lips = max(
        (point for point in head.points if abs(point[1] - middle(mouthpiece)[1]) < 6), key=lambda point: -point[0]
    )
    assert box(mouthpiece)[2] < lips[0]
    scale = cheek.r * 2 / record["cheek"].wide_mm
    # it is tipped as recorded, so its gap is measured along its own axis
    assert any(span / scale == pytest.approx(record["mouthpiece"].gap_mm, abs=0.1) for span in spans(scene, "side"))
    assert lips[0] < box(cheek)[0] and box(cheek)[2] < box(ear)[0]  # between the lips and the ear
    assert (middle(mouthpiece)[1] - middle(cheek)[1]) / scale == pytest.approx(
        record["cheek"].height_mm - record["mouthpiece"].height_mm,
        abs=5,  # its tipped body lies higher than its face
    )
    above = parts(scene, "above")
    assert WORDS["en"]["lips"] in [s.text for s in scene.shapes if isinstance(s, Text)]
    for number in "12":
        assert all(clear(ear, above[number]) for ear in ears(scene, "above"))
    assert all(clear(above["1"], outline) for outline in outlines(scene, "above"))


def test_a_cheek_switch_of_the_right_side_is_seen_from_the_right():
    scene = drawn(pad_layout, MARISOL, mounting=mounts(MARISOL, cheek={"side": "right"}))
    told = [s.text for s in scene.shapes if isinstance(s, Text)]
    assert any(text.endswith(WORDS["en"]["from_right"]) for text in told)
    (ear,) = ears(scene, "side")
    assert box(parts(scene, "side")["2"])[0] > box(ear)[2]  # front is to the right
    assert box(parts(scene, "above")["2"])[0] > box(body(scene, "above"))[2] - 12


# ---- foot, hand, knee ---------------------------------------------------------------------------


@pytest.mark.parametrize("limb", ["left", "right"])
def test_stick_heel_block_and_button_stand_at_big_toe_heel_and_beside_the_heel(limb):
    record = mounts(SAOIRSE)
    assert [mount.near for mount in record] == ["big_toe", "heel", "heel"] and {mount.limb for mount in record} == {
        "left"
    }
    scene = drawn(
        pad_layout,
        SAOIRSE,
        mounting=mounts(
            SAOIRSE,
            **{
                mount.id: {
                    "limb": limb,
                    "side": limb if mount.side == "left" else mount.side,
                    "midline_mm": (mount.midline_mm or 0) * (1 if limb == "left" else -1),
                }
                for mount in record
            },
        ),
    )
    stick, heel, button = (parts(scene, "above")[number] for number in "123")
    foot = box(body(scene, "above"))
    assert box(stick)[3] < foot[1] + 3 and box(heel)[1] > foot[3]
    inner = 1 if limb == "left" else -1  # the big toe is on the inner side
    assert inner * (middle(stick)[0] - middle(body(scene, "above"))[0]) > 8
    assert middle(button)[1] > foot[3] - (foot[3] - foot[1]) / 4
    assert -inner * (middle(button)[0] - middle(body(scene, "above"))[0]) > (foot[2] - foot[0]) / 4
    side = parts(scene, "side")
    low = box(body(scene, "side"))
    at = [(middle(side[number])[0] - low[0]) / (low[2] - low[0]) for number in "123"]
    front, heel_at, button_at = at if limb == "left" else [1 - one for one in at]
    assert front < 0 and heel_at > 1 and 0.75 < button_at < 1
    plate = next(s for s in views(scene, "side") if isinstance(s, Line) and s.width == 2.4)
    (front_x, front_y), (back_x, back_y) = sorted(((plate.x1, plate.y1), (plate.x2, plate.y2)), reverse=limb == "right")
    tilt = math.degrees(math.atan2(back_y - front_y, abs(back_x - front_x)))
    assert tilt == pytest.approx(record[0].angle_deg) and record[0].angle_deg == 12  # toes up by the recorded angle
    for number in "12":  # both stand on the plate, as recorded: their lower corners lie along it
        low_corners = sorted(side[number].points, key=lambda p: _above_line(p, plate))[:2]
        assert all(0 <= _above_line(corner, plate) < 3 for corner in low_corners)
        assert min(plate.x1, plate.x2) <= middle(side[number])[0] <= max(plate.x1, plate.x2)
    assert WORDS["en"]["footplate"] in [s.text for s in scene.shapes if isinstance(s, Text)]


def _above_line(point: tuple[float, float], line: Line) -> float:
    """How far a point lies above a line that is not upright, square to it."""
    (x1, y1), (x2, y2) = sorted(((line.x1, line.y1), (line.x2, line.y2)))
    return ((x2 - x1) * (y1 - point[1]) - (y2 - y1) * (x1 - point[0])) / math.hypot(x2 - x1, y2 - y1)


def test_the_finger_sensors_lie_under_the_two_fingers_beside_the_thumb_of_each_hand():
    assert [(m.limb, m.near, m.side, m.held_by) for m in mounts(BOHDAN)] == [
        (limb, "index_and_middle_fingers", "below", None) for limb in ("left", "right")
    ]
    on_trays = tuple(mount.model_copy(update={"held_by": "tray"}) for mount in mounts(BOHDAN))
    scene = drawn(pad_layout, BOHDAN, mounting=on_trays)
    hands = [panel for panel in scene.panels if any(len(getattr(s, "points", ())) == 7 for s in panel.shapes)]
    thumb_sides = []
    for hand in hands:
        polys = [s for s in hand.shapes if isinstance(s, Poly)]
        dashed = [s for s in polys if s.dash]
        tall = [s for s in polys if s.fill == 0.95 and box(s)[3] - box(s)[1] > 1.5 * (box(s)[2] - box(s)[0])]
        (thumb,) = (s for s in tall if len(s.points) == 7)
        thumb_sides.append(middle(thumb)[0] > sum(middle(s)[0] for s in tall) / len(tall))
        four = sorted((s for s in tall if len(s.points) != 7), key=lambda s: abs(middle(s)[0] - middle(thumb)[0]))
        hit = [
            finger
            for finger in four
            for beam in dashed
            if abs(middle(finger)[0] - middle(beam)[0]) < 1 and abs(box(beam)[1] - box(finger)[1]) < 1
        ]
        assert hit == four[:2]
    assert thumb_sides == [True, False]  # left hand first, its thumb to the right
    words = [s.text for s in scene.shapes if isinstance(s, Text)]
    assert words.count(WORDS["en"]["dashed_below"]) == words.count(WORDS["en"]["tray"]) == 2
    assert all(f"{side} hand: from above" in told(scene) for side in ("Left", "Right"))
    trays = [s for s in views(scene, "side") if isinstance(s, Line) and s.width == 2.4]
    for tray, part in zip(trays, parts(scene, "side").values(), strict=True):
        assert 0 <= tray.y1 - box(part)[3] < 3


def test_the_knee_switch_stands_at_the_knee_on_its_outer_side():
    scene = drawn(pad_layout, ILMARI, mounting=tuple(m for m in mounts(ILMARI) if m.id == "knee"))
    switch, knee = parts(scene, "above")["1"], box(body(scene, "above"))
    assert box(switch)[2] < knee[0] + 4 and middle(switch)[1] < knee[1] + (knee[3] - knee[1]) / 2
    side, leg = parts(scene, "side")["1"], box(body(scene, "side"))
    assert middle(side)[0] < leg[0] + (leg[2] - leg[0]) / 2 and middle(side)[1] < leg[1] + (leg[3] - leg[1]) / 2
    unsized = drawn(pad_layout, ILMARI, mounting=mounts(ILMARI, knee={"wide_mm": None}))
    assert WORDS["en"]["no_size"] in [s.text for s in unsized.shapes if isinstance(s, Text)]
    assert WORDS["en"]["no_size"] not in [s.text for s in drawn(pad_layout, SAOIRSE).shapes if isinstance(s, Text)]


@of_each(
    "name, part, lost, why",
    [
        (ILMARI, "left", {"near": None}, "no_place"),
        (ILMARI, "knee", {"limb": None}, "no_place"),
        (ILMARI, "knee", {"side": None}, "no_place"),
        (ILMARI, "rear", {"gap_mm": None}, "no_gap"),
        (ILMARI, "rear", {"gap_mm": 900}, "no_room"),
        (ILMARI, "rear", {"site": "other"}, "no_picture"),
        (SAOIRSE, "button", {"near": None}, "no_place"),
        (MARISOL, "cheek", {"side": None}, "no_place"),
        (BOHDAN, "left_switches", {"near": "heel"}, "no_place"),
    ],
)
def test_a_part_whose_place_is_not_recorded_is_not_drawn_and_the_picture_says_so(name, part, lost, why):
    before, after = drawn(pad_layout, name), drawn(pad_layout, name, mounting=mounts(name, **{part: lost}))
    line = WORDS["en"]["not_drawn"].format(
        part=next(m.part for m in mounts(name) if m.id == part), why=WORDS["en"][why]
    )
    assert line in told(after) and f"{line}." in after.alt and line not in before.alt
    assert len(rings(after)) < len(rings(before))


# ---- what swings, and the marks -----------------------------------------------------------------


@pytest.mark.parametrize("way", ["left", "right"])
def test_the_mouthpiece_arm_swings_to_the_recorded_side(way):
    scene = drawn(marks_meet, MARISOL, mounting=mounts(MARISOL, mouthpiece={"swings": way}))
    arms = [s for s in scene.shapes if isinstance(s, Line) and s.y1 < 100 and s.width >= 3 and s.x1 < 320]
    away, place = (next(s for s in arms if bool(s.dash) == dashed) for dashed in (True, False))
    head = next(s for s in scene.shapes if isinstance(s, Poly) and len(s.points) == 48 and s.fill == 0.95)
    x = middle(head)[0]
    assert abs(place.x2 - x) < 2 and place.y2 < box(head)[1]  # in front of the face
    assert (away.x2 < box(head)[0]) if way == "left" else (away.x2 > box(head)[2])
    for line in arms:  # nothing is drawn across the head
        for i in range(21):
            px, py = line.x1 + (line.x2 - line.x1) * i / 20, line.y1 + (line.y2 - line.y1) * i / 20
            assert ((px - x) / (box(head)[2] - x)) ** 2 + (
                (py - middle(head)[1]) / (box(head)[3] - middle(head)[1])
            ) ** 2 > 1
    assert WORDS["en"][f"swings_{way}"].format(part="mouthpiece") in scene.alt


def test_both_side_pads_swing_out_to_their_own_side():
    scene = drawn(marks_meet, ILMARI)
    away = sorted(
        (s for s in scene.shapes if isinstance(s, Line) and s.dash and abs(s.x2 - s.x1) > 30), key=lambda s: s.x2
    )
    head = next(s for s in scene.shapes if isinstance(s, Poly) and len(s.points) == 48 and s.fill == 0.95)
    assert len(away) == 2 and away[0].x2 < away[0].x1 < box(head)[0] and away[1].x2 > away[1].x1 > box(head)[2]


def test_what_swings_is_not_made_up():
    silent = drawn(marks_meet, MARISOL, mounting=mounts(MARISOL, mouthpiece={"swings": None}))
    assert WORDS["en"]["swing_unknown"] in silent.alt
    assert not [s for s in silent.shapes if isinstance(s, Line) and s.dash]
    assert WORDS["en"]["swing_panel"] not in [s.text for s in drawn(marks_meet, SAOIRSE).shapes if isinstance(s, Text)]


@of_each("name", list(ASSESSED))
def test_a_mark_is_drawn_as_the_kind_it_is_and_in_black(name):
    scene = drawn(marks_meet, name)
    told = " ".join(s.text for s in scene.shapes if isinstance(s, Text))
    kinds = {mount.mark_kind for mount in mounts(name)}
    assert kinds and None not in kinds
    shown = {kind for kind in ("lines", "edge", "outline", "hinge") if WORDS["en"][f"mark_{kind}"] in told}
    assert kinds == {"lines" if kind == "hinge" else kind for kind in shown}
    strong = [s for s in scene.shapes if isinstance(s, Line) and s.width == 5.0]
    assert all(s.shade == 0.0 for s in strong) and bool(strong) == bool(kinds & {"lines", "edge"})
    assert (
        drawn(marks_meet, name, features=(), mounting=mounts(name, **{m.id: {"mark_kind": None} for m in mounts(name)}))
        is None
    )


# ---- sizes, words, numbers ----------------------------------------------------------------------


def test_what_has_its_true_size_says_so_and_what_has_not_says_so():
    gauge = drawn(gap_gauge, ILMARI)
    assert "at true size" in gauge.alt and any(panel.true_size for panel in gauge.panels)
    assert WORDS["en"]["pads_scale"] in drawn(pad_layout, ILMARI).alt  # and in its caption on the page


@pytest.mark.parametrize(
    "lang, start, end, words",
    [
        ("en", "## Before each drive", "fig:ready_card", ("hips", "belt", "feet", "head")),
        ("es", "## Antes de manejar", "fig:ready_card", ("cadera", "cinturón", "pies", "cabeza")),
    ],
)
def test_the_numbers_of_the_picture_follow_the_order_of_the_words_before_it(lang, start, end, words):
    card = (folder("templates") / lang / "card.md").read_text(encoding="utf-8")
    below = card[card.index(start) : card.index(end)].lower()
    places = [below.index(word) for word in words]
    alt = drawn(ready_card, ILMARI, lang).alt
    in_alt = [alt.index(word, alt.index(f"{number} ")) for number, word in enumerate(words, 1)]
    assert places == sorted(places) and in_alt == sorted(in_alt)


def edges(shape: Shape) -> list[tuple[float, float, float, float]]:
    match shape:
        case Line(x1, y1, x2, y2):
            return [(x1, y1, x2, y2)]
        case Rect(x, y, w, h):
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
        case Circle(x, y, r):
            corners = [(x + r * math.cos(math.tau * i / 24), y + r * math.sin(math.tau * i / 24)) for i in range(24)]
        case Poly(points, closed):
            corners = list(points)
            if not closed:
                return [(*a, *b) for a, b in zip(corners, corners[1:], strict=False)]
        case _:
            return []
    return [(*a, *b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]


def crosses(line: tuple[float, float, float, float], area: tuple[float, float, float, float]) -> bool:
    x1, y1, x2, y2 = line
    n = max(2, int(math.hypot(x2 - x1, y2 - y1)))
    return any(
        area[0] < x1 + (x2 - x1) * i / n < area[2] and area[1] < y1 + (y2 - y1) * i / n < area[3] for i in range(n + 1)
    )


def covers(shape: Shape, area: tuple[float, float, float, float]) -> bool:
    """Whether a filled shape lies under the whole area."""
    if not isinstance(shape, Rect | Circle) or shape.fill is None:
        return False
    if isinstance(shape, Circle):
        return all(math.hypot(x - shape.x, y - shape.y) < shape.r for x in area[::2] for y in area[1::2])
    left, top, right, bottom = box(shape)
    return left <= area[0] and top <= area[1] and right >= area[2] and bottom >= area[3]


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("name", list(ASSESSED))
@pytest.mark.parametrize("module", PICTURES, ids=lambda m: m.__name__.rpartition(".")[2])
def test_no_word_lies_on_another_or_on_an_outline(module, name, lang):
    scene = drawn(module, name, lang)
    if scene is None:
        assert module in (pad_layout, gap_gauge, marks_meet, driving_map, rest_wake)
        return
    words = [(at, shape, box(shape)) for at, shape in enumerate(scene.shapes) if isinstance(shape, Text)]
    for i, (_, one, a) in enumerate(words):
        assert a[0] >= 0 and a[2] <= scene.w + 0.5 and a[3] <= scene.h, one.text
        for _, other, b in words[i + 1 :]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (one.text, other.text)
    for at, text, area in words:
        ground = max((i for i, shape in enumerate(scene.shapes[:at]) if covers(shape, area)), default=-1)
        for i, shape in enumerate(scene.shapes):
            if i > ground and not isinstance(shape, Text):
                assert not any(crosses(line, area) for line in edges(shape)), (text.text, shape)


@of_each("name", list(ASSESSED))
def test_the_words_for_the_picture_name_each_part_its_place_and_its_gap(name):
    alt = drawn(pad_layout, name).alt
    for at, mount in enumerate(mounts(name), 1):
        assert f"{at}, {mount.part}, {mount.at}: gap {mount.gap_mm:g} mm." in alt


ANY_PART = st.fixed_dictionaries(
    {"site": st.sampled_from(get_args(Mount.model_fields["site"].annotation))},
    optional={
        "side": st.sampled_from(("front", "back", "left", "right", "above", "below")),
        "limb": st.sampled_from(("left", "right")),
        "near": st.sampled_from(get_args(Landmark)),
        "held_by": st.sampled_from(("tray", "footplate")),
        "gap_mm": st.floats(0, 200),
        "height_mm": st.floats(0, 2000),
        "shape": st.sampled_from(("flat", "round")),
        "wide_mm": st.sampled_from((38, 45, 90, 900, 999)),
        "tall_mm": st.sampled_from((42, 60, 900, 999)),
        "swings": st.sampled_from(("left", "right")),
        "mark": st.just("white line"),
        "mark_kind": st.sampled_from(("lines", "edge", "outline")),
    },
)


@settings(max_examples=150, deadline=None)
@given(st.lists(ANY_PART, min_size=1, max_size=4))
@example(
    [
        {
            "site": "foot",
            "side": "front",
            "limb": "right",
            "near": "big_toe",
            "gap_mm": 40.0,
            "shape": "round",
            "wide_mm": 999,
            "tall_mm": 999,
        }
    ]
)
@example([{"site": "head_back", "gap_mm": 69.96875}])
def test_any_record_is_drawn_on_the_sheet_and_each_part_is_drawn_or_named_as_left_out(found):
    record = tuple(Mount(id=f"p{at}", part=f"part {at}", **one) for at, one in enumerate(found))
    for module, lang in product((pad_layout, gap_gauge, marks_meet), WORDS):
        scene = drawn(module, ILMARI, lang, mounting=record)
        for shape in scene.shapes if scene else ():
            left, top, right, bottom = box(shape)
            assert left >= -1 and right <= scene.w + 1 and top >= -1 and bottom <= scene.h + 1, shape
    layout = drawn(pad_layout, ILMARI, mounting=record)
    listed = [number for panel in layout.panels for number, ring in rings_in(panel.shapes) if ring.x == LISTED_X]
    assert sorted(listed) == [str(at) for at in range(1, len(record) + 1)]
    shown = {
        number for view in ("above", "side") for number, ring in rings_in(views(layout, view)) if ring.x != LISTED_X
    }
    left_out = {str(at) for at, part in enumerate(record, 1) if f"{part.part}, " in told(layout)}
    assert shown.isdisjoint(left_out) and shown | left_out == set(listed)
    assert all(part.part in layout.alt and part.part in told(layout) for part in record)
