"""Why and where: limits screened, findings, activities, goals, spaces, weight shift, help."""

import re
from collections.abc import Mapping
from datetime import date
from typing import Any, Literal

from pydantic import model_validator

from docgen.case import usual
from docgen.case.base import Degrees, FeatureId, Id, Millimetres, Minutes, Part, Words, key, many, must
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual

# Our own ordinal scale of help, least able first; the number is the place in the list.
HELP_LEVELS = ("not_done", "done_for", "hands_on", "watched", "set_up", "alone")
HelpLevel = Literal["not_done", "done_for", "hands_on", "watched", "set_up", "alone"]


class Limit(Part):
    """A screening for something that could defeat the equipment, with an explicit result."""

    kind: Literal["cognition", "judgment", "vision", "hearing", "seizures", "behavior", "skin", "other"] = must(
        Privacy.CLINICAL, "what was screened", "vision"
    )
    found: bool | None = key(
        Privacy.CLINICAL,
        "whether a deficit was found; of seizures, whether any are told of that the practitioner does not hold to be "
        "over; left out while that is not known",
        False,
    )
    says: Words | None = key(
        Privacy.CLINICAL, "what was seen in the screening", "Follows a target at 3 m to both sides."
    )
    attacks: tuple[Literal["fainting", "autonomic_dysreflexia"], ...] = key(
        Privacy.CLINICAL, "attacks that this screening is of", ["fainting"], default=(), max_length=2
    )
    driving_seen: bool | None = key(
        Privacy.CLINICAL, "of a deficit that comes and goes: whether it was seen what happens then while driving", False
    )
    physician_says: Words | None = key(
        Privacy.CLINICAL,
        "of attacks: what the physician says of driving with them, as a sentence",
        "Dr. Adeyemi-Holt wrote on March 3 that he has no objection while someone is in reach.",
    )
    answer: Words | None = key(Privacy.CLINICAL, "what compensates for the deficit", "Sounds mark each change of mode.")
    by: Id | None = key(Privacy.CLINICAL, "who screened", "evaluator")
    on: date | None = key(Privacy.CLINICAL, "date of the screening", date(2026, 3, 3))
    visit: Id | None = key(Privacy.CLINICAL, "visit at which it was recorded, whose day is printed with it", "clinic_1")


class Finding(Part):
    """One finding of the evaluation that bears on the choice of control."""

    id: Id = must(Privacy.CLINICAL, "finding, in the trade's short word", "head_three_way")
    own: bool = key(
        Privacy.CLINICAL,
        "whether it is a finding of the therapist's own, for which the vocabulary has no word",
        True,
        default=False,
    )
    says: Words = must(
        Privacy.CLINICAL,
        "the finding in one sentence",
        "Moves the head back, left and right and returns to the middle.",
    )
    calls_for: tuple[FeatureId, ...] = key(
        Privacy.CLINICAL, "features that a finding of one's own calls for", ["stop_switch"], default=(), max_length=20
    )
    speaks_against: tuple[FeatureId, ...] = key(
        Privacy.CLINICAL, "features to which it is a contraindication", ["latched_drive"], default=(), max_length=20
    )
    measure: Words | None = key(Privacy.CLINICAL, "how it was measured", "back 10 of 10, left 10 of 10, right 9 of 10")
    on: date | None = key(Privacy.CLINICAL, "date of the finding", date(2026, 3, 3))
    by: Id | None = key(Privacy.CLINICAL, "who found it", "evaluator")
    visit: Id | None = key(Privacy.CLINICAL, "visit at which it was recorded, whose day is printed with it", "clinic_1")
    side: Literal["left", "right", "both"] | None = key(
        Privacy.CLINICAL,
        "of an arm, hand, leg or foot: on which side; it says nothing of a control at the other",
        "left",
    )
    seen_with: Id | None = key(
        Privacy.CLINICAL, "alternative with which it was seen, where it tells what that device did", "headrest"
    )
    only_in_bed: bool = key(
        Privacy.CLINICAL,
        "whether it holds in bed alone and not in the chair, as a mask that is worn at night",
        True,
        default=False,
    )


class Activity(Part):
    """One thing of daily life that needs moving about; help before, and with the device in the trial."""

    id: Id = must(Privacy.NEED, "short id", "toilet")
    name: Words = must(Privacy.NEED, "the activity, as something one does", "reach the toilet")
    at_home: bool | None = key(Privacy.NEED, "whether it is done in the home", True)
    needed_for: Literal["toileting", "feeding", "dressing", "grooming", "bathing", "other"] | None = key(
        Privacy.NEED, "daily activity it belongs to", "toileting"
    )
    barrier: Literal["prevents", "unsafe", "too_slow"] | None = key(
        Privacy.NEED, "how the limitation shows", "prevents"
    )
    before: HelpLevel | None = key(Privacy.NEED, "help needed now", "done_for")
    before_when: Words | None = key(
        Privacy.NEED, "on which days or how often that help is needed, where it is not each time", "at 2 of 3 meals"
    )
    with_device: HelpLevel | None = key(Privacy.NEED, "help needed with the device", "watched")
    minutes_before: Minutes | None = key(
        Privacy.NEED,
        "minutes of help by hand a day now, watching not counted",
        18,
        usual=Usual(1, 240, usual.PRACTICE, or_none=True),
    )
    minutes_with: Minutes | None = key(
        Privacy.NEED,
        "minutes of help by hand a day with the device, watching not counted",
        6,
        usual=Usual(1, 240, usual.PRACTICE, or_none=True),
    )
    left: Words | None = key(
        Privacy.NEED,
        "what help by hand the minutes with the device are for, and who gives it",
        "his aunt lifts him onto the toilet and off it",
    )
    not_counted: Words | None = key(
        Privacy.NEED,
        "help by hand, for now, that the minutes with the device leave out",
        "the shifts by hand of whoever stays with her meanwhile",
    )
    when_alone: Literal["drives", "at_rest", "no"] | None = key(
        Privacy.NEED,
        "whether the gain is claimed for hours alone too: driving, with the chair in standby, or not",
        "no",
    )
    says: Words | None = key(
        Privacy.NEED, "what happens now, in a sentence", "Waits to be pushed; two accidents a week."
    )
    source: Words | None = key(Privacy.NEED, "how the minutes were counted, and by whom", "his aunt's log of one week")
    by: Id | None = key(Privacy.NEED, "who recorded it", "evaluator")
    on: date | None = key(Privacy.NEED, "date recorded", date(2026, 4, 1))
    visit: Id | None = key(Privacy.NEED, "visit at which it was recorded, whose day is printed with it", "clinic_1")

    @property
    def has_minutes_to_tell(self) -> bool:
        """Whether minutes of help by hand are counted at a level at which nobody need touch the client."""
        return self.with_device in ("watched", "alone") and bool(self.minutes_with)


class Reached(Part):
    """The level of a goal on a later day."""

    on: date = must(Privacy.GOALS, "date of the review", date(2026, 11, 2))
    level: int = must(Privacy.GOALS, "level reached then, -2 to 2", 0, ge=-2, le=2)


class Goal(Part):
    """A goal of the client, with its five levels from much less (-2) to much more (+2) than expected."""

    id: Id = must(Privacy.GOALS, "short id", "kitchen")
    says: Words = must(Privacy.GOALS, "the goal, in the client's words", "Get to the kitchen table without calling.")
    weight: float = key(Privacy.GOALS, "weight of the goal", 1.0, default=1.0, ge=0, le=9)
    level: int | None = key(Privacy.GOALS, "level reached now, -2 to 2", -2, ge=-2, le=2)
    levels: tuple[Words, ...] = key(
        Privacy.GOALS,
        "the five levels, lowest first",
        ["none", "one room", "two rooms", "the floor", "the house"],
        default=(),
        max_length=5,
    )
    reached: tuple[Reached, ...] = many("levels reached since")

    @property
    def latest(self) -> Reached | None:
        """The last level reached since, or None."""
        return max(self.reached, key=lambda level: level.on, default=None)


class Space(Part):
    """A place the chair must pass, turn or stop in, as measured."""

    id: Id = must(Privacy.HOME, "short id", "bathroom_door")
    name: Words = must(Privacy.HOME, "name of the place", "bathroom door")
    kind: Literal["doorway", "corridor", "turning", "ramp", "stopping", "elevator", "path"] = must(
        Privacy.HOME, "kind of space", "doorway"
    )
    at_home: bool | None = key(Privacy.HOME, "whether it is in the home", True)
    clear_width_mm: Millimetres | None = key(
        Privacy.HOME, "clear width in mm", 815, gt=300, usual=Usual(500, 5000, usual.DOORS)
    )
    widest_mm: Millimetres | None = key(
        Privacy.HOME,
        "clear width of the widest in mm, where the entry is of several and clear_width_mm of the narrowest",
        915,
        gt=300,
        usual=Usual(500, 5000, usual.DOORS),
    )
    threshold_mm: Millimetres | None = key(
        Privacy.HOME,
        "height of the threshold in mm, 0 where there is none",
        12,
        usual=Usual(2, 75, usual.DOORS, or_none=True),
    )
    floor: Words | None = key(Privacy.HOME, "what its floor is", "tile")
    wall_mm: Millimetres | None = key(
        Privacy.HOME, "thickness of the wall at the door in mm", 120, usual=Usual(40, 600, usual.PRACTICE)
    )
    approach_mm: Millimetres | None = key(
        Privacy.HOME,
        "from the wall, where the last correction is made, in mm",
        300,
        usual=Usual(50, 5000, usual.PRACTICE, or_none=True),
    )
    clear_ahead_mm: Millimetres | None = key(
        Privacy.HOME, "clear space ahead to stop in, in mm", 1200, usual=Usual(450, 8000, usual.PRACTICE, bears=True)
    )
    ahead_from: Literal["chair", "way_in"] | None = key(
        Privacy.HOME,
        "what the clear space ahead is measured from: the front of the chair, or the way in, such as a door",
        "way_in",
    )
    turning_mm: Millimetres | None = key(
        Privacy.HOME, "diameter of the free floor to turn on, in mm", 1525, gt=300, usual=Usual(800, 6000, usual.DOORS)
    )
    hall_mm: Millimetres | None = key(
        Privacy.HOME,
        "width of the hall in front of a door, from the door to what is across from it, in mm",
        1200,
        gt=300,
        usual=Usual(700, 4000, usual.DOORS),
    )
    across: Literal["door", "wall"] | None = key(
        Privacy.HOME, "what is straight across that hall: another door, or the wall", "door"
    )
    across_tried: Words | None = key(
        Privacy.HOME,
        "how the way straight across to that door was tried, in a sentence",
        "On April 1 the supplier pushed the empty chair straight across.",
    )
    pushed_out: bool | None = key(
        Privacy.HOME,
        "whether the chair is pushed out of the room there, power off, until the client comes out of it reliably",
        True,
    )
    waits_for: Words | None = key(
        Privacy.HOME,
        "what must be measured or tried before the client drives there, in words that follow “only once”",
        "the corner into it from the hall is tried",
    )
    waits_done_on: date | None = key(Privacy.HOME, "date that was done", date(2026, 8, 14))
    slope_percent: float | None = key(
        Privacy.HOME, "slope in percent", 8.3, ge=0, le=60, usual=Usual(0.5, 25, usual.RAMPS, bears=True, or_none=True)
    )
    slope_stop_m: float | None = key(
        Privacy.HOME,
        "longest stop measured on the slope, from the word to standing, going down at the speed of its profile, in m",
        0.6,
        gt=0,
        le=50,
        usual=Usual(0.1, 8, usual.PRACTICE, bears=True),
    )
    slope_stop_on: date | None = key(Privacy.HOME, "date that stop was measured", date(2026, 8, 3))
    length_mm: float | None = key(
        Privacy.HOME, "length of a ramp in mm", 6100, gt=0, le=200_000, usual=Usual(300, 60_000, usual.RAMPS)
    )
    rails: Literal["none", "one_side", "both_sides"] | None = key(
        Privacy.HOME, "on which sides of a ramp there is a handrail", "both_sides"
    )
    inside_width_mm: Millimetres | None = key(
        Privacy.HOME, "width inside an elevator in mm", 1370, gt=300, usual=Usual(700, 3000, usual.DOORS)
    )
    inside_depth_mm: Millimetres | None = key(
        Privacy.HOME,
        "depth inside an elevator in mm, from its door to what is opposite",
        1400,
        gt=300,
        usual=Usual(700, 4000, usual.DOORS),
    )
    doors: Words | None = key(
        Privacy.HOME, "how the doors of an elevator open", "one sliding door, open for 8 s; in and out by the same door"
    )
    profile: Id | None = key(Privacy.HOME, "drive profile used there", "indoor")
    says: Words | None = key(Privacy.HOME, "what matters about it", "Opens inward; the sink is on the left.")
    on: date | None = key(Privacy.HOME, "date measured", date(2026, 4, 1))
    by: Id | None = key(Privacy.HOME, "who measured", "supplier")
    visit: Id | None = key(Privacy.HOME, "visit at which it was recorded, whose day is printed with it", "clinic_1")

    @property
    def is_sloping(self) -> bool:
        """Whether figures measured on the level do not hold there: a ramp, unless its slope is recorded as none."""
        return self.slope_percent != 0 if self.kind == "ramp" else bool(self.slope_percent)


class WeightShift(Part):
    """The one weight shift set for this person: every paper takes its numbers from here."""

    tilt_deg: Degrees | None = key(
        Privacy.DEVICE, "tilt of a weight shift in degrees", 35, usual=Usual(10, 65, usual.PRACTICE)
    )
    recline_deg: Degrees | None = key(
        Privacy.DEVICE, "angle of the back then, in degrees from the seat", 120, usual=Usual(90, 180, usual.PRACTICE)
    )
    recline_first: Words | None = key(
        Privacy.DEVICE, "why the back goes down before the seat tilts, where it does", "Tilt first pulls the tube."
    )
    hold_min: Minutes | None = key(Privacy.DEVICE, "minutes that it is held", 3, usual=Usual(0.5, 30, usual.PRACTICE))
    every_min: Minutes | None = key(
        Privacy.DEVICE, "minutes from one to the next", 30, usual=Usual(10, 180, usual.PRACTICE)
    )
    starts: Literal["driver", "helper"] | None = key(Privacy.DEVICE, "who starts it", "driver")
    helper: Words | None = key(Privacy.DEVICE, "who does it, or helps", "Whoever is in the room.")
    how: Words | None = key(Privacy.DEVICE, "how it is started and ended", "A soft puff, then a hard puff.")
    steps: tuple[Words, ...] = key(
        Privacy.DEVICE,
        "the same as steps, one act each, from driving and back",
        ["Press the switch once. Wait for the falling tone.", "A soft puff: a spoken word."],
        default=(),
        max_length=7,
    )
    seen: Words | None = key(
        Privacy.DEVICE,
        "what shows a helper that the angle is reached, and that the seat is up again",
        "Down until the two red marks meet, up until all stays still.",
    )
    marks_meet: bool | None = key(
        Privacy.DEVICE, "whether two marks at the seat meet once it is tilted far enough, for the drawing", True
    )
    reminder: Words | None = key(Privacy.DEVICE, "what reminds of it", "a tone of the phone")
    wait_min: Minutes | None = key(
        Privacy.DEVICE, "minutes after it before driving", 3, usual=Usual(0.5, 60, usual.PRACTICE, or_none=True)
    )
    not_when: Words | None = key(Privacy.DEVICE, "when it waits, as whoever set it says", "A headache: come up first.")
    by: Id | None = key(Privacy.DEVICE, "who set it", "evaluator")
    on: date | None = key(Privacy.DEVICE, "date it was set", date(2026, 3, 3))


_PERIOD = re.compile(r"\s+(?:a|per|each|every) (week|month)\b")


class Need(Part):
    """Help outside the activities: counts, a day unless it says of what, before and with the device."""

    name: Words = must(
        Privacy.NEED,
        "what is counted; the week or month of a count stands in per, and need not be said here",
        "times a day someone is called to turn or move the client",
    )
    per: Literal["day", "week", "month", "time"] = key(
        Privacy.NEED, "what the count is of: a day, a week, a month, or each time", "week", default="day"
    )
    before: float | None = key(Privacy.NEED, "count now", 14, ge=0, le=1000)
    with_device: float | None = key(Privacy.NEED, "count with the device", 3, ge=0, le=1000)
    source: Words | None = key(
        Privacy.NEED, "how it was counted, and by whom, over which days", "his aunt's log of one week"
    )

    @model_validator(mode="before")
    @classmethod
    def _period_said_once(cls, raw: Any) -> Any:
        """A name that says the week or month of its count gives it to `per`: pages print that behind the name. The
        name is a label of the form "times a week ...", and what is written under per stands before it."""
        name = raw.get("name") if isinstance(raw, Mapping) else None
        if not isinstance(name, str):
            return raw
        periods = _PERIOD.findall(name)
        if len(periods) != 1 or raw.get("per", periods[0]) != periods[0]:
            return raw
        return {**raw, "per": periods[0], "name": _PERIOD.sub("", name)}


class HelpADay(Part):
    """Help of every kind in a day, where it was counted as a whole: activities, turning, travel and the rest. Help of
    one kind alone, such as pushing, is a line of [counts]."""

    minutes_before: Minutes | None = key(
        Privacy.NEED,
        "minutes of help of every kind in a day now, in all",
        240,
        usual=Usual(5, 1440, usual.PRACTICE, or_none=True),
    )
    minutes_with: Minutes | None = key(
        Privacy.NEED,
        "minutes of help in a day with the device, in all",
        150,
        usual=Usual(5, 1440, usual.PRACTICE, or_none=True),
    )
    source: Words | None = key(Privacy.NEED, "how they were counted, and by whom", "his aunt's log of one week")
    by: Id | None = key(Privacy.NEED, "who recorded it", "evaluator")
    on: date | None = key(Privacy.NEED, "date recorded", date(2026, 4, 1))
    visit: Id | None = key(Privacy.NEED, "visit at which it was recorded, whose day is printed with it", "clinic_1")
