"""What is asked for and living with it: configuration, items, mounting, settings, training, follow-up."""

from datetime import date, time
from typing import Literal, Self
from zoneinfo import ZoneInfo

from pydantic import field_validator, model_validator

from docgen.case import usual
from docgen.case.base import (
    Degrees,
    DiagnosisCode,
    FeatureId,
    Id,
    Millimetres,
    Minutes,
    Modifiers,
    Offset,
    Part,
    Words,
    key,
    many,
    must,
    part,
)
from docgen.case.change import Change
from docgen.case.privacy import Privacy
from docgen.case.stage import Step
from docgen.case.tried import Chair, Headwear
from docgen.case.usual import Usual


class ChosenFeature(Part):
    """A feature of the control asked for, and the findings that call for it."""

    id: FeatureId = must(Privacy.ORDER, "feature", "proximity_sensing")
    because: tuple[Id, ...] = key(
        Privacy.CLINICAL, "findings that call for it", ["head_three_way"], default=(), max_length=20
    )
    note: Words | None = key(
        Privacy.CLINICAL, "the therapist's own sentence about it", "Force was tried and raised tone."
    )
    answer: Words | None = key(
        Privacy.CLINICAL, "what makes up for a finding that speaks against it", "Standby whenever he rests."
    )
    with_base: bool | None = key(
        Privacy.ORDER, "whether it comes with the base, so that no line of the order brings it", True
    )


class Item(Part):
    """One line of the order."""

    id: Id = must(Privacy.ORDER, "short id", "head_array")
    name: Words = must(Privacy.ORDER, "item in plain words", "head array with proximity switches")
    code: str | None = key(Privacy.ORDER, "procedure code", "E2330", pattern=r"^[A-Z][0-9]{4}$")
    no_code: bool | None = key(Privacy.ORDER, "whether there is no procedure code for it", True)
    quantity: int | None = key(Privacy.ORDER, "quantity", 1, ge=1, le=99)
    unit: Literal["each", "pair", "set"] = key(Privacy.ORDER, "what the quantity counts", "each", default="each")
    billed: Literal["separately", "included"] | None = key(
        Privacy.ORDER, "whether the line is billed separately or comes with another", "separately"
    )
    diagnosis_codes: tuple[DiagnosisCode, ...] = key(
        Privacy.BILLING, "codes of the diagnoses that this line answers", ["G14"], default=(), max_length=12
    )
    months_needed: int | None = key(
        Privacy.ORDER,
        "how many months the line is needed, if not as long as the chair",
        36,
        ge=0,
        le=1200,
        usual=Usual(3, 240, usual.PRACTICE),
    )
    why: Words | None = key(
        Privacy.ORDER, "why it is needed, in one line", "Drives the chair: three head movements are reliable."
    )
    brief: Words | None = key(
        Privacy.ORDER,
        "why it is needed, in a few words for the table of equipment",
        "Three head movements are his only ones",
    )
    without: Words | None = key(Privacy.ORDER, "what happens without it", "Stays where he is put.")
    features: tuple[FeatureId, ...] = key(
        Privacy.ORDER, "features this item brings", ["proximity_sensing"], default=(), max_length=20
    )
    because: tuple[Id, ...] = key(
        Privacy.NEED, "findings this item answers directly", ["pressure_risk"], default=(), max_length=20
    )
    purpose: Words | None = key(
        Privacy.ORDER, "what it is mainly for, in a few words", "to clear the way for a sling transfer"
    )
    supports: Literal["interface", "headrest", "trunk", "other"] | None = key(
        Privacy.ORDER,
        "part that this hardware holds: drive control, headrest, side support of the trunk, other",
        "interface",
    )
    modifier: Modifiers | None = key(Privacy.ORDER, "claim modifiers of the line", "KX")
    payer_says: Words | None = key(
        Privacy.ORDER, "what the payer answered about this line, and when", "2026-05-04, by phone: ..."
    )
    payer_said_on: date | None = key(Privacy.ORDER, "date of the payer's answer about this line", date(2026, 5, 4))


# Parts of a chair that an order leaves a supplier guessing about: those that every new chair is asked about once.
ASKED_PARTS = ("batteries", "transit_securement", "headrest", "armrests", "legrests")


class StandardPart(Part):
    """A part of the chair that is no special item: where it comes from, so that no line of the order is missed."""

    part: Literal[
        "batteries",
        "transit_securement",
        "headrest",
        "armrests",
        "legrests",
        "charger",
        "belt",
        "standard_joystick",
        "display",
        "other",
    ] = must(Privacy.ORDER, "part of the chair", "batteries")
    name: Words | None = key(Privacy.ORDER, "name of a part that is none of these", "tray")
    comes: Literal["with_base", "moves_over", "not_needed", "line"] | None = key(
        Privacy.ORDER,
        "where it comes from: with the base, from the chair there is, not at all, or by a line of the order",
        "with_base",
    )
    item: Id | None = key(Privacy.ORDER, "item of the order whose line brings it", "headrest")
    says: Words | None = key(Privacy.ORDER, "what is particular about it, or who said so", "Height can be set.")


# Where along a head, hand or foot a part stands.
Landmark = Literal[
    "behind_ear",
    "before_ear",
    "below_ear",
    "big_toe",
    "toes",
    "middle_of_foot",
    "heel",
    "first_finger",
    "first_two_fingers",
    "fingers",
    "thumb",
    "palm",
]


class MeasuredFrom(Part):
    """The zero points of the mounting record; all measures turn with the seat. Parts at a foot count from its plate."""

    height: Literal["seat_pan", "loaded_cushion"] | None = key(
        Privacy.DEVICE, "what heights are measured from", "seat_pan"
    )
    depth: Literal["back_posts", "back_canes", "loaded_back"] | None = key(
        Privacy.DEVICE, "what depths are measured from, to the front", "back_posts"
    )
    cushion_mm: Millimetres | None = key(
        Privacy.DEVICE, "thickness of the loaded cushion in mm", 50, usual=Usual(10, 150, usual.CHAIRS)
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
        "size_mm",
        "bracket",
        "tool",
        "mark",
    ] = must(Privacy.DEVICE, "measure that does not apply", "angle_deg")
    because: Words = must(Privacy.DEVICE, "why it does not apply", "it is round")


class Mount(Part):
    """Where one pad, switch or stick stands, measured in the driving position."""

    id: Id = must(Privacy.DEVICE, "short id", "rear")
    part: Words = must(Privacy.DEVICE, "part in plain words", "rear pad")
    site: Literal["head_back", "head_left", "head_right", "mouth", "chin", "cheek", "hand", "knee", "foot", "other"] = (
        must(Privacy.DEVICE, "where on the body", "head_back")
    )
    at: Words | None = key(Privacy.DEVICE, "place in words", "behind the head, 20 mm above the bony bump")
    side: Literal["front", "back", "left", "right", "above", "below"] | None = key(
        Privacy.DEVICE, "side of the body part it stands on", "left"
    )
    limb: Literal["left", "right"] | None = key(Privacy.DEVICE, "which hand, knee or foot it is for", "left")
    near: Landmark | None = key(
        Privacy.DEVICE, "part of the head, hand or foot it stands at, for the drawing", "behind_ear"
    )
    held_by: Literal["tray", "foot_plate"] | None = key(Privacy.DEVICE, "what it stands on, for the drawing", "tray")
    swings: Literal["left", "right"] | None = key(
        Privacy.DEVICE, "the way it swings to be out of the way, as the driver sits", "left"
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
    angle_deg: Degrees | None = key(Privacy.DEVICE, "angle in degrees", 10, usual=Usual(-90, 90, usual.PRACTICE))
    angle_axis: Literal["yaw", "pitch", "roll"] | None = key(
        Privacy.DEVICE, "axis of the angle: upright (yaw), left to right (pitch), front to back (roll)", "pitch"
    )
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
    tool: Words | None = key(Privacy.DEVICE, "tool that moves it", "4 mm hex key, supplier only")
    mark: Words | None = key(
        Privacy.DEVICE, "mark for putting it back", "white line on the joint meets the white line on the rod"
    )
    mark_kind: Literal["lines", "edge", "outline"] | None = key(
        Privacy.DEVICE,
        "what the mark is: two lines that meet, a line at an edge, an outline to set the body in",
        "lines",
    )
    by: Id | None = key(Privacy.DEVICE, "who measured", "evaluator")
    on: date | None = key(Privacy.DEVICE, "date measured", date(2026, 3, 24))
    visit: Id | None = key(Privacy.DEVICE, "visit at which it was recorded: gives day and who", "clinic_1")


class Profile(Part):
    """A drive profile: settings of one place."""

    id: Id = must(Privacy.DEVICE, "short id", "indoor")
    name: Words = must(Privacy.DEVICE, "name of the profile", "indoor")
    speed_m_s: float | None = key(
        Privacy.DEVICE, "forward speed in m/s", 0.4, ge=0.01, lt=5, usual=Usual(0.08, 2.8, usual.SPEED, bears=True)
    )
    reverse_m_s: float | None = key(
        Privacy.DEVICE, "reverse speed in m/s", 0.2, ge=0.01, lt=5, usual=Usual(0.05, 1.5, usual.SPEED, bears=True)
    )
    turn_deg_s: float | None = key(
        Privacy.DEVICE,
        "turn rate in degrees per second",
        15,
        ge=0.1,
        lt=360,
        usual=Usual(4, 90, usual.PRACTICE, bears=True),
    )
    latched: bool | None = key(Privacy.DEVICE, "whether forward is latched in it", False)
    latch_timeout_s: float | None = key(
        Privacy.DEVICE, "latch timeout in s", 10, ge=0.1, lt=600, usual=Usual(2, 60, usual.PRACTICE, bears=True)
    )
    used: Words | None = key(Privacy.DEVICE, "where it is used", "at home and in class")
    until_stage: Step | None = key(Privacy.DEVICE, "step of training after which it is used no more", "corners")
    why: Words | None = key(Privacy.DEVICE, "why these settings", "Stops inside the shortest space at home.")


class SetTo(Part):
    """One setting of the electronics as it was on the trial chair: what was measured, never a step of a programmer."""

    setting: Id = must(Privacy.DEVICE, "setting, by its id in the list of settings", "acceleration")
    profile: Id | None = key(Privacy.DEVICE, "profile it is of; all of them where none is named", "indoor")
    value: Words | None = key(Privacy.DEVICE, "what was measured, with its unit", "1.5 s to top speed")
    how: Words | None = key(Privacy.DEVICE, "how it was measured, or why", "from film, mean of three starts")
    as_delivered: bool | None = key(Privacy.DEVICE, "whether it is left as the chair is delivered", True)


class Command(Part):
    """One command: what the driver does, what the chair does for it."""

    does: Literal["forward", "back", "left", "right", "stop", "rest", "drive", "seat", "external_device"] = must(
        Privacy.DEVICE,
        "what the chair does: a movement, or a change to rest, drive, seat or another device",
        "forward",
    )
    input: Words = must(Privacy.DEVICE, "what the driver does for it, in plain words", "head back to the rear pad")
    hear: Words | None = key(Privacy.DEVICE, "what is heard or seen then", "a rising tone")


# Places of a chair where a switch or lever can be, as the driver sits.
OnChair = Literal[
    "push_handle_left",
    "push_handle_right",
    "armrest_left",
    "armrest_right",
    "tray_left",
    "tray_right",
    "back_left",
    "back_right",
    "low_back_left",
    "low_back_middle",
    "low_back_right",
    "head_left",
    "head_right",
    "knee_left",
    "knee_right",
    "behind_seat",
]


ReachedBy = Literal["driver", "helper", "both"]
AfterStop = Literal["rests", "starts", "waits"]


class Stop(Part):
    """How anyone stops this chair."""

    driver: Words | None = key(Privacy.DEVICE, "how the driver stops it", "takes the head off the rear pad")
    stop_switch: Words | None = key(
        Privacy.DEVICE, "where the stop switch is; a switch that also drives is none", "left cheek"
    )
    has_switch: bool | None = key(
        Privacy.DEVICE, "whether there is a stop switch besides the power switch; false where there is none", True
    )
    stop_switch_by: ReachedBy | None = key(Privacy.DEVICE, "who reaches the stop switch", "both")
    stop_switch_site: OnChair | None = key(
        Privacy.DEVICE, "place of the stop switch on the chair, for the drawing", "head_left"
    )
    helper_switch: Words | None = key(
        Privacy.DEVICE, "where a helper's own stop switch is, if it is not the driver's", "red box on the push handle"
    )
    helper_switch_site: OnChair | None = key(
        Privacy.DEVICE, "place of a helper's own stop switch on the chair, for the drawing", "push_handle_right"
    )
    power_off: Words | None = key(Privacy.DEVICE, "where the power switch is", "red switch, right armrest, front end")
    power_off_by: ReachedBy | None = key(Privacy.DEVICE, "who reaches the power switch", "helper")
    power_off_site: OnChair | None = key(
        Privacy.DEVICE, "place of the power switch on the chair, for the drawing", "armrest_right"
    )
    helper: Words | None = key(Privacy.DEVICE, "what a helper can do", "press the stop box on the push handle")
    again: Words | None = key(
        Privacy.DEVICE, "what makes it drive again after the stop switch", "Turn the button until it pops out."
    )
    after_stop: AfterStop | None = key(
        Privacy.DEVICE,
        "after the stop switch: it only rests and a signal wakes it; set back under a signal, it starts or it waits",
        "waits",
    )
    passed_on: date | None = key(
        Privacy.DEVICE, "date every stop of the delivered chair was last tried and passed", date(2026, 8, 3)
    )
    drive_off: Words | None = key(
        Privacy.DEVICE,
        "what turns the drive off and leaves the seat working, if there is anything",
        "green lever on the back of the chair, turned to the left",
    )
    other_way: Words | None = key(
        Privacy.DEVICE,
        "another way to cut the power, when neither switch stops it",
        "pull the battery plug behind the seat",
    )
    other_way_by: ReachedBy | None = key(Privacy.DEVICE, "who reaches that other way", "helper")
    other_way_site: OnChair | None = key(
        Privacy.DEVICE, "place of that other way on the chair, for the drawing", "low_back_middle"
    )
    freewheel: Words | None = key(
        Privacy.DEVICE, "where the brake release levers are", "two levers under the seat, both sides"
    )
    freewheel_site: OnChair | None = key(
        Privacy.DEVICE, "place of the brake release levers on the chair, for the drawing", "behind_seat"
    )

    @property
    def at_hand(self) -> tuple[str | None, str | None]:
        """The stop switch that a helper presses, and its place: one of their own if there is one.

        A switch that only puts the control in rest, from which a signal wakes it, is none.
        """
        if self.helper_switch:
            return self.helper_switch, self.helper_switch_site
        return (None, None) if self.after_stop == "rests" else (self.stop_switch, self.stop_switch_site)

    @property
    def drivers_own(self) -> tuple[str | None, str | None]:
        """The driver's stop switch and its place, where a helper has another; else nothing."""
        return (self.stop_switch, self.stop_switch_site) if self.helper_switch else (None, None)


REVERSES = "reverse_access."  # the feature that drives back, with whatever value


Programmable = Literal["speed", "tremor_dampening", "acceleration", "braking", "throw", "dead_zone"]


class Configuration(Part):
    """What is asked for."""

    method: Id | None = key(Privacy.DEVICE, "trial method that is asked for", "head_pads")
    summary: Words | None = key(
        Privacy.FUNDING, "the control asked for in one plain sentence", "a head array of three proximity pads"
    )
    works: Words | None = key(
        Privacy.DEVICE, "how it drives, in plain words", "Head back drives forward; head to a side pad turns."
    )
    rest: Words | None = key(
        Privacy.DEVICE, "how to put it in rest and wake it", "Tap the knee switch once; a falling tone sounds."
    )
    swing: Words | None = key(
        Privacy.DEVICE, "how to move it away and put it back", "Press the catch, swing left; back until it clicks."
    )
    latched: bool | None = key(Privacy.DEVICE, "whether forward is latched", False)
    latched_now: Words | None = key(
        Privacy.DEVICE,
        "whether the keep-going setting is on now, and who turns it on",
        "It is off. Only the therapist turns it on.",
    )
    seat_deg: Degrees | None = key(
        Privacy.DEVICE, "tilt of the seat for driving in degrees", 5, usual=Usual(-10, 60, usual.PRACTICE)
    )
    headwear: tuple[Headwear, ...] | None = key(
        Privacy.DEVICE, "what is worn on the head while driving; empty for nothing", ["glasses"], max_length=7
    )
    worn: Words | None = key(
        Privacy.DEVICE, "what is worn every day at the parts, such as a headscarf or a thick sole", "a headscarf"
    )
    worn_checked_by: Id | None = key(Privacy.DEVICE, "who checked the parts with that on", "evaluator")
    without_reverse: Words | None = key(
        Privacy.DEVICE,
        "how a chair without reverse gets out of a place and away from a table",
        "It turns on the spot; at the table it stands at the open end.",
    )
    choose: Words | None = key(
        Privacy.DEVICE, "how to choose a drive setting", "Slide the switch behind the seat to training or indoor."
    )
    chair: Chair = Chair()
    features: tuple[ChosenFeature, ...] = many("features asked for")
    items: tuple[Item, ...] = many("items of the order")
    standard_parts: tuple[StandardPart, ...] = many("standard parts of the chair, each asked about once")
    measured_from: MeasuredFrom = MeasuredFrom()
    mounting: tuple[Mount, ...] = many("mounting record")
    commands: tuple[Command, ...] = many("commands, one by one, for the drawings of the guide")
    profiles: tuple[Profile, ...] = many("drive profiles")
    settings: tuple[SetTo, ...] = many("settings of the electronics on the trial chair, those of a profile apart")
    programmable: tuple[Programmable, ...] = key(
        Privacy.DEVICE,
        "what of the control can be programmed, by the manufacturer's sheet",
        ["speed", "acceleration", "braking"],
        default=(),
        max_length=6,
    )
    stop: Stop = Stop()

    @property
    def is_held(self) -> bool:
        """Whether it is recorded that the chair goes only while the signal lasts."""
        return not self.is_latched and (
            self.latched is False
            or any(feature.id == "momentary_drive" for feature in self.features)
            or (bool(self.profiles) and all(profile.latched is False for profile in self.profiles))
        )

    @property
    def is_latched(self) -> bool:
        """Whether the chair can go on after the signal ends, wherever that is recorded."""
        return (
            bool(self.latched)
            or any(profile.latched for profile in self.profiles)
            or any(feature.id == "latched_drive" for feature in self.features)
        )

    @property
    def backs(self) -> bool | None:
        """Whether the driver can back up: a command or a feature does it; None when nothing, or only a speed, is
        recorded."""
        if any(entry.does == "back" for entry in self.commands) or any(
            entry.id.startswith(REVERSES) for entry in self.features
        ):
            return True
        return None if not self.commands or any(profile.reverse_m_s for profile in self.profiles) else False


class MasteryRule(Part):
    """When a stage counts as mastered: a sequential test of a poor against a good share of tries done."""

    poor: float = key(Privacy.TRAINING, "share of tries done that is not mastery", 0.6, default=0.6, ge=0.01, le=0.99)
    good: float = key(Privacy.TRAINING, "share of tries done that is mastery", 0.9, default=0.9, ge=0.01, le=0.99)
    wrong_pass: float = key(
        Privacy.TRAINING, "accepted chance of moving on at the poor share", 0.1, default=0.1, ge=0.001, le=0.4
    )
    wrong_hold: float = key(
        Privacy.TRAINING, "accepted chance of going back at the good share", 0.1, default=0.1, ge=0.001, le=0.4
    )

    @model_validator(mode="after")
    def _apart(self) -> Self:
        if self.good - self.poor < 0.05:
            raise ValueError("good must be at least 0.05 above poor")
        return self


class Hours(Part):
    """Hours of the week in which a session can or cannot be; without hours the whole day."""

    day: Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"] = must(
        Privacy.TRAINING, "day of the week", "monday"
    )
    free: bool = must(Privacy.TRAINING, "whether these hours are free for a session; false when they are taken", True)
    starts_at: time | None = key(Privacy.TRAINING, "first of these hours", time(16, 0))
    ends_at: time | None = key(Privacy.TRAINING, "last of these hours", time(17, 30))
    who: Id | None = key(Privacy.CIRCLE, "whose hours", "aunt")

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if (self.starts_at is None) != (self.ends_at is None):
            raise ValueError("needs both starts_at and ends_at, or neither for the whole day")
        if self.starts_at is None and self.free:
            raise ValueError("needs starts_at and ends_at; a session has an hour")
        if self.starts_at is not None and self.ends_at is not None and self.starts_at >= self.ends_at:
            raise ValueError("must start before it ends, on the same day")
        return self


class Lesson(Part):
    """How the driver will learn."""

    start_on: date | None = key(Privacy.TRAINING, "first day of training", date(2026, 8, 10))
    sessions_a_week: int | None = key(Privacy.TRAINING, "training sessions a week", 3, ge=1, le=21)
    minutes: Minutes | None = key(
        Privacy.TRAINING, "longest session in minutes", 20, usual=Usual(3, 120, usual.PRACTICE)
    )
    weeks: int | None = key(
        Privacy.TRAINING,
        "for how many weeks sessions are planned",
        12,
        ge=1,
        le=260,
        usual=Usual(1, 104, usual.PRACTICE),
    )
    zone: str | None = key(Privacy.TRAINING, "time zone of the sessions' hours", "America/Chicago")
    week: tuple[Hours, ...] = many("hours of the coach's week that are free or taken")
    taken_on: tuple[date, ...] = key(
        Privacy.TRAINING, "single days without a session", None, default=(), max_length=200
    )
    place: Words | None = key(Privacy.TRAINING, "where training takes place", "school hall, then home")
    coach: Id | None = key(Privacy.CIRCLE, "who coaches", "aunt")
    substitute: Id | None = key(Privacy.CIRCLE, "who else was taught to coach", "aide")
    tries: int | None = key(Privacy.TRAINING, "tries of driving in one lesson", 8, ge=1, le=60)
    stops: int | None = key(Privacy.TRAINING, "stops asked for in one lesson, between the tries", 4, ge=1, le=60)
    stop_word: Words | None = key(Privacy.TRAINING, "the word that asks for a stop", "stop")
    says_stop: Words | None = key(
        Privacy.TRAINING, "how the driver says stop while driving", "shakes the head and keeps off the pads"
    )
    pain_shows: Words | None = key(
        Privacy.TRAINING, "how pain shows in a driver who gives no number", "frowns and pulls the legs up"
    )
    stage: Step | None = key(Privacy.TRAINING, "step of training to start from", "each_way")
    stage_why: Words | None = key(
        Privacy.TRAINING, "why this step", "All directions reliable in the clinic; no doors at home yet."
    )
    prompts: Words | None = key(Privacy.TRAINING, "how to prompt", "Wait ten seconds, then one word.")
    mastery: MasteryRule = part("when a stage is mastered", MasteryRule())

    @field_validator("zone")
    @classmethod
    def _known(cls, zone: str | None) -> str | None:
        if zone is None:
            return None
        try:
            return ZoneInfo(zone).key
        except (LookupError, ValueError, OSError):
            raise ValueError(f"'{zone[:60]}' is not the name of a time zone, such as America/Chicago") from None


class Taught(Part):
    """A caregiver and what was taught and shown back."""

    who: Id = must(Privacy.CARE, "who was taught", "grandmother")
    what: Words = must(Privacy.CARE, "what was taught", "setup, stop, transfers")
    on: date | None = key(Privacy.CARE, "date shown back", date(2026, 3, 24))
    visit: Id | None = key(Privacy.CARE, "visit at which it was recorded: gives day and who", "clinic_1")


class FollowUp(Part):
    """One follow-up visit or call."""

    after_weeks: float = must(
        Privacy.TRAINING, "weeks after delivery", 2, ge=0, le=520, usual=Usual(0.1, 110, usual.PRACTICE, or_none=True)
    )
    what: Words = must(Privacy.TRAINING, "what is looked at", "fit, skin, positions, teach-back")
    by: Id | None = key(Privacy.TRAINING, "who", "evaluator")
    done_on: date | None = key(Privacy.TRAINING, "date the visit or call was held", date(2026, 8, 17))
    found: Words | None = key(Privacy.TRAINING, "what was found", "Pads on their marks; skin clear.")
    changed: tuple[Change, ...] = many("settings changed at the visit, each of one profile")


class Caution(Part):
    """A caution particular to this client, in plain words for the guide."""

    about: Literal["skin", "neck", "straps", "hair", "tubes", "cleaning", "travel", "transfer", "seizure", "other"] = (
        must(Privacy.CARE, "what it is about", "skin")
    )
    says: Words = must(Privacy.CARE, "the caution in plain words", "Look behind both ears night and morning.")
