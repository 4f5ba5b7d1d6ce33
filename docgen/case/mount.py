"""Where each pad, switch or joystick stands: the mounting record and its zero points."""

from datetime import date
from typing import Literal, Self

from pydantic import model_validator

from docgen.case import usual
from docgen.case.base import (
    Degrees,
    Id,
    Millimetres,
    Offset,
    Part,
    Words,
    key,
    many,
    must,
)
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual

# Where along a head, hand or foot a part stands.
Landmark = Literal[
    "behind_ear",
    "before_ear",
    "below_ear",
    "big_toe",
    "toes",
    "middle_of_foot",
    "heel",
    "index_finger",
    "index_and_middle_fingers",
    "fingers",
    "thumb",
    "palm",
]


class MeasuredFrom(Part):
    """The zero points of the mounting record; all measures turn with the seat. Parts at a foot count from its plate."""

    height: Literal["seat_pan", "loaded_cushion"] | None = key(
        Privacy.DEVICE, "what heights are measured from", "seat_pan"
    )
    depth: Literal["back_posts", "posts_at_pan", "back_canes", "loaded_back"] | None = key(
        Privacy.DEVICE,
        "what depths are measured from, to the front; of parts at a foot the posts at the height of the seat pan",
        "back_posts",
    )
    point: Literal["face", "body"] | None = key(
        Privacy.DEVICE, "which center of a part is measured to: of its face toward the driver, or of its body", "face"
    )
    cushion_mm: Millimetres | None = key(
        Privacy.DEVICE, "thickness of the loaded cushion in mm", 50, usual=Usual(10, 150, usual.CHAIRS)
    )
    depth_along: Literal["seat", "level"] | None = key(
        Privacy.DEVICE,
        "whether depths run along the seat and heights square to it, or depths level and heights plumb",
        "seat",
    )
    back_deg: Degrees | None = key(
        Privacy.DEVICE,
        "angle of the back to the seat when the parts were measured, in degrees",
        95,
        usual=Usual(80, 140, usual.PRACTICE),
    )
    beyond_posts: Literal["prolonged", "square"] | None = key(
        Privacy.DEVICE,
        "depth of a part above the top of the back posts: from their front face prolonged, or from their top square to "
        "the seat",
        "prolonged",
    )
    depth_above: Literal["at_part", "at_pan"] | None = key(
        Privacy.DEVICE,
        "where on the posts the depth of a standard part above the seat pan begins, if parts at a foot are measured",
        "at_part",
    )
    back_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "how far the face of the loaded back stands in front of the back posts, in mm",
        30,
        usual=Usual(1, 150, usual.PRACTICE, or_none=True),
    )
    seated: Words | None = key(
        Privacy.DEVICE, "how the driver sat when the parts were measured", "tilt 5 degrees, belt closed, shoes on"
    )


class NotApplicable(Part):
    """A measure that a part does not have, and why."""

    of: Literal[
        "height_mm",
        "depth_mm",
        "midline_mm",
        "angle_deg",
        "gap_mm",
        "allowed",
        "allowed_angle",
        "size_mm",
        "bracket",
        "tool",
        "mark",
        "wired_to",
    ] = must(Privacy.DEVICE, "measure that does not apply", "angle_deg")
    because: Words = must(Privacy.DEVICE, "why it does not apply", "it is round")


class Mount(Part):
    """Where one pad, switch or stick stands, measured in the driving position."""

    id: Id = must(Privacy.DEVICE, "short id", "rear")
    part: Words = must(Privacy.DEVICE, "part in plain words", "rear pad")
    site: Literal[
        "head_back",
        "skull_base",
        "head_left",
        "head_right",
        "mouth",
        "chin",
        "cheek",
        "hand",
        "forearm",
        "elbow",
        "knee",
        "foot",
        "other",
    ] = must(Privacy.DEVICE, "where on the body", "head_back")
    at: Words | None = key(Privacy.DEVICE, "place in words", "behind the head, 20 mm above the bony bump")
    side: Literal["front", "back", "left", "right", "above", "below"] | None = key(
        Privacy.DEVICE, "side of the body part it is on", "left"
    )
    limb: Literal["left", "right"] | None = key(Privacy.DEVICE, "which hand, arm, knee or foot it is for", "left")
    near: Landmark | None = key(
        Privacy.DEVICE, "part of the head, hand or foot it is at, for the drawing", "behind_ear"
    )
    held_by: Literal["tray", "footplate"] | None = key(Privacy.DEVICE, "what it is mounted on, for the drawing", "tray")
    swings: Literal["left", "right"] | None = key(
        Privacy.DEVICE, "the way it swings to be out of the way, as the driver sits", "left"
    )
    swing: Words | None = key(
        Privacy.DEVICE, "how far its mount swings, and what holds it out and in", "100 degrees; a click holds each end"
    )
    touches: bool | None = key(
        Privacy.DEVICE,
        "whether it touches the body at rest, as a headrest or a joystick under the hand does, and so has no gap",
        True,
    )
    gap_mm: Millimetres | None = key(
        Privacy.DEVICE, "gap at rest in mm", 12, usual=Usual(1, 100, usual.PRACTICE, or_none=True)
    )
    gap_from_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "smallest gap at which it still works in mm",
        8,
        usual=Usual(1, 100, usual.PRACTICE, or_none=True),
    )
    gap_to_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "largest gap at which it still works in mm",
        16,
        usual=Usual(1, 150, usual.PRACTICE, or_none=True),
    )
    height_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "height of its center above the seat in mm",
        610,
        usual=Usual(5, 1100, usual.PRACTICE, or_none=True),
    )
    depth_mm: Offset | None = key(
        Privacy.DEVICE,
        "depth of its center in front of the back in mm; behind it with a minus",
        120,
        usual=Usual(-400, 1200, usual.PRACTICE),
    )
    midline_mm: Offset | None = key(
        Privacy.DEVICE,
        "side of its center from the midline of the seat in mm, to the driver's right; to the left with a minus",
        -95,
        usual=Usual(-600, 600, usual.PRACTICE),
    )
    angle_deg: Degrees | None = key(
        Privacy.DEVICE,
        "angle in degrees; at 0 its face is square to the seat",
        10,
        usual=Usual(-90, 90, usual.PRACTICE),
    )
    angle_from_deg: Degrees | None = key(
        Privacy.DEVICE, "smallest angle at which it still works in degrees", 5, usual=Usual(-90, 90, usual.PRACTICE)
    )
    angle_to_deg: Degrees | None = key(
        Privacy.DEVICE, "largest angle at which it still works in degrees", 15, usual=Usual(-90, 90, usual.PRACTICE)
    )
    angle_axis: Literal["yaw", "pitch", "roll"] | None = key(
        Privacy.DEVICE, "axis of the angle: upright (yaw), left to right (pitch), front to back (roll)", "pitch"
    )
    gap_moved: Words | None = key(
        Privacy.DEVICE,
        "gap with the seat at full tilt and recline, as measured",
        "12 mm at 35 degrees of tilt, 14 mm with the back at 120",
    )
    item: Id | None = key(Privacy.DEVICE, "item of the order that brings it", "head_array")
    bracket: Words | None = key(Privacy.DEVICE, "bracket and rail that hold it", "swing arm on the right back post")
    not_applicable: tuple[NotApplicable, ...] = many("measures that the part does not have")
    size_mm: Words | None = key(Privacy.DEVICE, "size in mm, in words for the order", "90 x 60")
    shape: Literal["flat", "round"] | None = key(Privacy.DEVICE, "a flat pad, or round, for the drawing", "flat")
    wide_mm: Millimetres | None = key(
        Privacy.DEVICE, "its width, or how far across a round one is, in mm", 90, usual=Usual(3, 400, usual.PRACTICE)
    )
    tall_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "the other side of a flat pad, or how high a round one stands, in mm",
        60,
        usual=Usual(3, 400, usual.PRACTICE),
    )
    thick_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "how thick a flat pad is, from its face to its back, in mm",
        15,
        usual=Usual(1, 80, usual.PRACTICE),
    )
    wired_to: Words | None = key(
        Privacy.DEVICE, "input or plug that its cable goes to, and what powers it", "rear input of the head array"
    )
    reaches_speech: bool | None = key(
        Privacy.DEVICE,
        "whether a cable of its own reaches the speech device, beside the drive control or instead",
        True,
    )
    route: Words | None = key(
        Privacy.DEVICE,
        "how its cable or tube runs: length and from where to where, ties, slack where the seat moves; of a plug "
        "with two sockets how far it reaches free, and what holds it",
        "900 mm from the clamp on, three clips down the left post, 100 mm of slack at the pivot of the back",
    )
    tool: Words | None = key(Privacy.DEVICE, "tool that moves it", "4 mm hex key, supplier only")
    gives_way: Words | None = key(
        Privacy.DEVICE,
        "of a part in front of the face: how it gives way when the driver is thrown against it, as tried",
        "its clamp slips at a push of the hand, and goes back to its mark",
    )
    force_g: float | None = key(
        Privacy.DEVICE,
        "force at which it worked in the trial, in grams; 0 where none is needed",
        90,
        ge=0,
        le=5000,
        usual=Usual(5, 1500, usual.PRACTICE, or_none=True),
    )
    travel_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "way it was pushed in the trial until it worked, in mm",
        3,
        usual=Usual(0.2, 60, usual.PRACTICE, or_none=True),
    )
    mark: Words | None = key(
        Privacy.DEVICE, "mark for putting it back", "white line on the joint meets the white line on the rod"
    )
    mark_kind: Literal["lines", "edge", "outline"] | None = key(
        Privacy.DEVICE,
        "what the mark is: two lines that meet, a line at an edge, an outline to set the body in",
        "lines",
    )
    body_mark: Words | None = key(
        Privacy.DEVICE,
        "what of the body comes to a line of its own there, where something does",
        "the tip of the shoe is at the second line",
    )
    by: Id | None = key(Privacy.DEVICE, "who measured", "evaluator")
    on: date | None = key(Privacy.DEVICE, "date measured", date(2026, 3, 24))
    visit: Id | None = key(Privacy.DEVICE, "visit at which it was recorded, whose day is printed with it", "clinic_1")

    @model_validator(mode="after")
    def _no_gap_where_it_touches(self) -> Self:
        if self.touches and self.gap_mm:
            raise ValueError(f"touches the body, and has a gap of {self.gap_mm:g} mm; leave one of them out")
        return self
