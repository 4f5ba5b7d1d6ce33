"""Who is near while the client drives, and what holds where nobody is."""

import re
from datetime import date, time
from typing import Literal, Self

from pydantic import field_validator, model_validator

from docgen.case import usual
from docgen.case.base import Id, Minutes, Part, Seconds, Words, key, many, must
from docgen.case.privacy import Privacy
from docgen.case.stage import Step
from docgen.case.training import Day
from docgen.case.usual import Usual

SettledAlone = Literal[
    "call_without_voice",
    "call_fails",
    "fire",
    "faint",
    "sit_up",
    "phlegm",
    "weight_shifts",
    "no_answer",
    "toilet_and_drink",
    "night",
]
_AMOUNT = r"(?:\d+(?:[.,]\d+)?|an?|one|two|three|four|five|six|half an?)"
_HOW_LONG = re.compile(
    rf"(?:for )?(?:up to|at most|about|under)? ?{_AMOUNT}(?: ?(?:-|to) ?{_AMOUNT})? ?(?:h|hrs?|hours?|min(?:utes?)?)",
    re.IGNORECASE,
)


class HoursAlone(Part):
    """Hours in which the client is alone."""

    days: tuple[Day, ...] = key(
        Privacy.SUPERVISION, "days of the week", ["monday", "tuesday"], default=(), max_length=7
    )
    starts_at: time = must(Privacy.SUPERVISION, "from when the client is alone", time(11, 0))
    ends_at: time = must(Privacy.SUPERVISION, "until when", time(14, 0))

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.starts_at == self.ends_at:
            raise ValueError("must not end when they start")
        return self


class LooksIn(Part):
    """Who comes by in hours alone, and what they do."""

    who: Id = must(Privacy.SUPERVISION, "person who comes", "neighbor")
    at: time = must(Privacy.SUPERVISION, "when they come", time(12, 0))
    helps_with: Words = must(Privacy.SUPERVISION, "what they help with then", "a drink and the leg bag")


class Supervision(Part):
    """Who is near while the client drives, place by place."""

    place: Words = must(Privacy.SUPERVISION, "place", "at home")
    level: Literal["hands_on_stop", "arms_length", "same_room", "in_sight", "never_alone", "on_call", "alone"] = must(
        Privacy.SUPERVISION, "how near; never_alone where no more is known than that somebody is there", "same_room"
    )
    by: Words | None = key(Privacy.SUPERVISION, "who", "a family member")
    needs: int | None = key(Privacy.SUPERVISION, "how many people it takes there", 2, ge=1, le=5)
    who: tuple[Id, ...] = key(
        Privacy.SUPERVISION, "people who may be near there", ["aunt", "aide"], default=(), max_length=20
    )
    after_stage: Step | None = key(
        Privacy.SUPERVISION,
        "of a later arrangement for a place: step of training that must be passed before it begins",
        "tight",
    )
    until: Words | None = key(Privacy.SUPERVISION, "until when", "Tight places is passed")
    until_stage: Step | None = key(Privacy.SUPERVISION, "step of training that must be passed before it ends", "tight")
    released: bool = key(
        Privacy.SUPERVISION,
        "false where the therapist has not yet let the client drive there; what stands here then holds from that day",
        False,
        default=True,
    )
    covers: tuple[Id, ...] = key(
        Privacy.SUPERVISION,
        "places and tasks of training that it holds for",
        ["bathroom_door", "real_day"],
        default=(),
        max_length=20,
    )
    for_now: Words | None = key(
        Privacy.SUPERVISION,
        "what holds before that, in plain words for the guide",
        "The chair is off while she is alone.",
    )
    # where someone must be near
    stands: Literal["beside", "behind", "in_the_room", "elsewhere"] | None = key(
        Privacy.SUPERVISION,
        "where whoever is near stands: beside or behind the chair, in the room, elsewhere",
        "beside",
    )
    stops_with: Literal["stop_switch", "power_off", "remote_stop"] | None = key(
        Privacy.SUPERVISION, "with what they stop the chair from there", "stop_switch"
    )
    reach_s: Seconds | None = key(
        Privacy.SUPERVISION,
        "seconds, measured, from where they are until the stop is pressed",
        1.5,
        usual=Usual(0.2, 15, usual.PRACTICE),
    )
    reach_by: Id | None = key(Privacy.SUPERVISION, "who of those who may be near was timed there", "partner")
    stands_clear: Words | None = key(
        Privacy.SUPERVISION,
        "where they stand so that the chair keeps the floor that it turns on",
        "against the wall beside the door, outside the circle",
    )
    clear_reach_s: Seconds | None = key(
        Privacy.SUPERVISION,
        "seconds, measured, from there until the chair, turned toward them, is stopped",
        1.7,
        usual=Usual(0.2, 15, usual.PRACTICE),
    )
    no_stop_from: Words | None = key(
        Privacy.SUPERVISION,
        "from where, of those who may be near, nobody reaches a stop",
        "from beside or above while it drives up",
    )
    driven: Words | None = key(
        Privacy.SUPERVISION,
        "what was driven at a ramp or slope so far, with what help and when",
        "Eight runs up and eight down, with two helpers, 2026-07-20.",
    )
    pushed: Words | None = key(
        Privacy.SUPERVISION,
        "how the chair is pushed at a ramp or slope, by how many, or that it is not",
        "Not pushed there: the levers stay locked.",
    )
    backs_out: Words | None = key(
        Privacy.SUPERVISION,
        "where they stand while the chair backs out of a place in which it cannot turn",
        "Steps out first and waits beside the door, with a hand at the stop.",
    )
    backs_out_stands: Literal["beside_door"] | None = key(
        Privacy.SUPERVISION, "the same for the drawing: outside, beside the door", "beside_door"
    )
    reach_on: date | None = key(Privacy.SUPERVISION, "date these times were measured", date(2026, 3, 12))
    # where the client is alone
    chair_state: Literal["off", "seat_only", "rests", "drives", "in_bed"] | None = key(
        Privacy.SUPERVISION,
        "the chair while the client is alone: off, the seat alone moves, it rests and a command wakes it, it drives; "
        "or the client is in bed and not in it",
        "off",
    )
    calls_by: Words | None = key(
        Privacy.SUPERVISION,
        "how help is called then, and how when the voice fails",
        "By voice on the phone; a bell at the cheek.",
    )
    call_needs_chair: bool | None = key(
        Privacy.SUPERVISION, "whether that call needs the chair to be on, or its battery", False
    )
    help_after_min: Minutes | None = key(
        Privacy.SUPERVISION,
        "minutes until someone is there at the latest, not on average",
        10,
        usual=Usual(1, 240, usual.PRACTICE),
    )
    hours: tuple[HoursAlone, ...] = many("hours in which the client is alone there")
    longest_min: Minutes | None = key(
        Privacy.SUPERVISION,
        "longest time alone there at a stretch, in minutes, where it has no fixed hours",
        120,
        usual=Usual(1, 720, usual.PRACTICE),
    )
    looks_in: tuple[LooksIn, ...] = many("who comes by in these hours")
    no_answer: Words | None = key(
        Privacy.SUPERVISION, "what the client does when nobody answers the call", "The pendant calls 911."
    )
    before_leaving: tuple[Words, ...] = key(
        Privacy.SUPERVISION,
        "what whoever leaves the client alone does with the chair, one act each, in its order",
        ["Green lever left.", "Then the key on."],
        default=(),
        max_length=7,
    )
    if_stuck: Words | None = key(
        Privacy.SUPERVISION,
        "what the client does while alone with the seat back and the control out of reach",
        "Calls by voice at once.",
    )
    toilet_and_drink: Words | None = key(
        Privacy.SUPERVISION,
        "toilet, drink and medicine while the client is alone",
        "Before and after; a drink stands in reach of the mouth.",
    )
    fire_plan: Words | None = key(
        Privacy.SUPERVISION, "what holds at smoke or fire, and on an upper floor", "The neighbor has a key and comes."
    )
    settled: tuple[SettledAlone, ...] = key(
        Privacy.SUPERVISION,
        "what of these hours is settled, as written here and tried, call_without_voice where the call needs no voice; "
        "the rest keeps them from beginning",
        ["call_without_voice", "fire"],
        default=(),
        max_length=10,
    )

    @field_validator("until")
    @classmethod
    def _until_when(cls, until: str | None) -> str | None:
        if until is not None and _HOW_LONG.fullmatch(until.strip(" .")):
            raise ValueError(
                "tells how long, not until when; of a client who is alone that is longest_min, in minutes, or hours"
            )
        return until

    @property
    def is_later(self) -> bool:
        """Whether it holds only after a step that is still to come, and then once the therapist says so."""
        return self.after_stage is not None

    @property
    def is_near(self) -> bool:
        """Whether someone must be near enough to step in."""
        return self.level in ("hands_on_stop", "arms_length", "same_room", "in_sight", "never_alone")

    @property
    def drives_unwatched(self) -> bool:
        """Whether the client may drive there with nobody near; not where the chair is off or its drive locked."""
        return not self.is_near and self.chair_state not in ("off", "seat_only", "in_bed")
