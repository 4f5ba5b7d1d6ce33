"""Living with it: training, who was taught what, visits after delivery, cautions for the guide."""

from datetime import date, time
from typing import Literal, Self
from zoneinfo import ZoneInfo

from pydantic import field_validator, model_validator

from docgen.case import usual
from docgen.case.base import (
    Id,
    Minutes,
    Part,
    Words,
    key,
    many,
    must,
)
from docgen.case.change import Change
from docgen.case.privacy import Privacy
from docgen.case.stage import Step
from docgen.case.usual import Usual

Day = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]


class Hours(Part):
    """Hours of the week in which a session can or cannot be; without hours the whole day."""

    day: Day = must(Privacy.TRAINING, "day of the week", "monday")
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


class SessionTotal(Part):
    """A training session of which only the sums were written down: told as such, and no attempt of it is counted."""

    on: date = must(Privacy.TRAINING, "date of the session", date(2026, 9, 24))
    task: Words = must(Privacy.TRAINING, "what was practiced", "start and stop")
    place: Words | None = key(Privacy.TRAINING, "where", "hall at home")
    tries: int | None = key(Privacy.TRAINING, "attempts of it", 10, ge=1, le=1000)
    done: int | None = key(Privacy.TRAINING, "of these, successful", 9, ge=0, le=1000)
    minutes: Minutes | None = key(Privacy.TRAINING, "minutes of the session", 30, usual=Usual(3, 120, usual.PRACTICE))
    prompts_verbal: int | None = key(Privacy.TRAINING, "verbal prompts in all", 4, ge=0, le=1000)
    prompts_physical: int | None = key(Privacy.TRAINING, "physical prompts in all", 0, ge=0, le=1000)
    by: Words | None = key(Privacy.CIRCLE, "who was there", "the therapist and his wife")
    says: Words | None = key(Privacy.TRAINING, "what happened", "One rub on the door frame.")

    @model_validator(mode="after")
    def _no_more_than_tried(self) -> Self:
        if self.done is not None and self.tries is not None and self.done > self.tries:
            raise ValueError(f"has {self.done} done of {self.tries} tries")
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
    week: tuple[Hours, ...] = many("hours of the trainer's week that are free or taken")
    taken_on: tuple[date, ...] = key(
        Privacy.TRAINING, "single days without a session", None, default=(), max_length=200
    )
    totals: tuple[SessionTotal, ...] = many("training sessions recorded as totals only")
    place: Words | None = key(Privacy.TRAINING, "where training takes place", "school hall, then home")
    starts_at_home: bool | None = key(Privacy.TRAINING, "whether the first lesson is at home", False)
    coach: Id | None = key(Privacy.CIRCLE, "who trains", "aunt")
    substitute: Id | None = key(Privacy.CIRCLE, "who else was taught to train", "aide")
    tries: int | None = key(Privacy.TRAINING, "tries of driving in one session", 8, ge=1, le=60)
    stops: int | None = key(Privacy.TRAINING, "stops asked for in one session, between the tries", 4, ge=1, le=60)
    stop_word: Words | None = key(Privacy.TRAINING, "the word that asks for a stop", "stop")
    skin_call: Words | None = key(
        Privacy.TRAINING,
        "who is called for a new skin mark, with the number, where a coach is to have it at hand",
        "the nurse line, 555-0190",
    )
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
    likes: tuple[Words, ...] = key(
        Privacy.TRAINING,
        "what the driver likes, for games and tasks",
        ["music", "dogs"],
        default=(),
        max_length=20,
    )
    dislikes: tuple[Words, ...] = key(
        Privacy.TRAINING, "what the driver does not like", ["loud toys"], default=(), max_length=20
    )
    ordered: Words | None = key(
        Privacy.TRAINING,
        "what the payer or the therapist has ordered of training: who, how often, for how long",
        "The therapist: three sessions a week until Tight places is passed.",
    )
    prompts: Words | None = key(Privacy.TRAINING, "how to prompt", "Wait ten seconds, then one word.")

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
    skills: tuple[Literal["setup", "standby", "stop", "emergency", "ride", "levers", "seat"], ...] = key(
        Privacy.CARE,
        "which of these it was: setup, standby and the way back to drive, stop, emergency page, ride in a vehicle, "
        "brake release levers and pushing, a helper's switch of the seat",
        ["setup", "standby", "stop"],
        default=(),
        max_length=7,
    )
    on: date | None = key(Privacy.CARE, "date shown back", date(2026, 3, 24))
    visit: Id | None = key(Privacy.CARE, "visit at which it was recorded, whose day is printed with it", "clinic_1")


class ToTeach(Part):
    """Someone who has still to be taught, and when that is planned; once it was shown back it stands under taught."""

    who: Id = must(Privacy.CARE, "who is still to be taught", "stepfather")
    what: Words = must(Privacy.CARE, "what is still to be taught", "standby and the stop")
    planned_on: date | None = key(Privacy.CARE, "date planned for it", date(2026, 9, 14))


class FollowUp(Part):
    """One follow-up visit or call."""

    after_weeks: float = must(
        Privacy.TRAINING, "weeks after delivery", 2, ge=0, le=520, usual=Usual(0.1, 110, usual.PRACTICE, or_none=True)
    )
    latest_weeks: float | None = key(
        Privacy.TRAINING,
        "weeks after delivery by which it is held, where a span is planned",
        6,
        ge=0,
        le=520,
        usual=Usual(0.1, 110, usual.PRACTICE),
    )
    every_months: int | None = key(
        Privacy.TRAINING,
        "months from one to the next, where it is repeated",
        3,
        ge=1,
        le=60,
        usual=Usual(1, 24, usual.PRACTICE),
    )
    for_months: int | None = key(
        Privacy.TRAINING,
        "months after delivery until which it is repeated",
        24,
        ge=1,
        le=240,
        usual=Usual(1, 120, usual.PRACTICE),
    )
    what: Words = must(Privacy.TRAINING, "what is looked at", "fit, skin, positions, teach-back")
    by: Id | None = key(Privacy.TRAINING, "who", "evaluator")
    done_on: date | None = key(Privacy.TRAINING, "date the visit or call was held", date(2026, 8, 17))
    found: Words | None = key(Privacy.TRAINING, "what was found", "Pads on their marks; skin clear.")
    changed: tuple[Change, ...] = many("settings changed at the visit, each of one profile")

    @property
    def is_open(self) -> bool:
        """Whether it is still to be held, or to be held again."""
        return self.done_on is None or self.every_months is not None

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.latest_weeks is not None and self.latest_weeks < self.after_weeks:
            raise ValueError("has latest_weeks before after_weeks; swap them")
        if self.for_months is not None and self.every_months is None:
            raise ValueError("has for_months and no every_months; write how many months lie between, or leave it out")
        return self


class Caution(Part):
    """A caution particular to this client, in plain words for the guide."""

    about: Literal[
        "skin",
        "neck",
        "straps",
        "hair",
        "tubes",
        "cleaning",
        "travel",
        "transfer",
        "seizure",
        "heat",
        "fire",
        "night",
        "bed",
        "meal",
        "ready",
        "slope",
        "other",
    ] = must(Privacy.CARE, "what it is about", "skin")
    says: Words = must(Privacy.CARE, "the caution in plain words", "Look behind both ears night and morning.")
