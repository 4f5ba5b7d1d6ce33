"""What the therapist decides before a trial: which controls, how many visits, which difference matters, who guards."""

from datetime import date

from docgen.case import usual
from docgen.case.base import Id, Part, Words, key
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual

MOST_COMPARED = 6


class TrialPlan(Part):
    """A trial as it is planned, before its first row and before any choice."""

    on: date | None = key(Privacy.TRIAL, "date on which the trial was planned", date(2026, 3, 1))
    methods: tuple[Id, ...] = key(
        Privacy.TRIAL,
        "controls to compare, each a device of the shelf or a method of the trial; first the one expected to do better",
        ["head_array_proximity", "hand_stick"],
        default=(),
        max_length=MOST_COMPARED,
    )
    visits: int | None = key(Privacy.TRIAL, "how many visits there are for the comparison", 2, ge=1, le=20)
    visit_minutes: float | None = key(
        Privacy.TRIAL, "length of each visit in minutes", 45, gt=0, le=240, usual=Usual(20, 180, usual.PRACTICE)
    )
    fixed_minutes: float | None = key(
        Privacy.TRIAL,
        "of these, minutes for seating, task cards and scores",
        8,
        ge=0,
        le=240,
        usual=Usual(2, 60, usual.PRACTICE, or_none=True),
    )
    change_minutes: float | None = key(
        Privacy.TRIAL,
        "minutes from one control to the next, with the rest between; short where both are mounted at once",
        5,
        ge=0,
        le=240,
        usual=Usual(1, 60, usual.PRACTICE, or_none=True),
    )
    attempt_minutes: float | None = key(
        Privacy.TRIAL,
        "minutes of an attempt, with what lies between two",
        2,
        ge=0.5,
        le=60,
        usual=Usual(0.5, 10, usual.PRACTICE),
    )
    both_mounted: bool | None = key(
        Privacy.TRIAL, "whether both controls are mounted at once, so that they can change within a visit", False
    )
    difference_percent: float | None = key(
        Privacy.TRIAL,
        "smallest difference that would decide, in points of 100 attempts",
        40,
        gt=0,
        lt=100,
        usual=Usual(10, 80, usual.PRACTICE),
    )
    drawn: Words | None = key(
        Privacy.TRIAL,
        "how it was drawn by lot which control comes first, where more than two visits are planned",
        "a coin, by the aide: heads is the head array",
    )
    speed_m_s: float | None = key(
        Privacy.TRIAL,
        "speed at which every control is driven in the trial, in m/s",
        0.3,
        ge=0.01,
        lt=5,
        usual=Usual(0.08, 2.8, usual.SPEED, bears=True),
    )
    guard: Id | None = key(Privacy.TRIAL, "who guards: the same person for every control, at the stop", "aide")
    guard_stop: Words | None = key(
        Privacy.TRIAL,
        "how whoever guards stops the chair of the trial, whatever the driver does",
        "the red switch on the left push handle",
    )
    worn: Words | None = key(
        Privacy.TRIAL, "what is worn in every visit: headwear, glasses, orthoses, belts", "glasses; belt closed; shoes"
    )
    stop_when: Words | None = key(
        Privacy.TRIAL, "when this client's driving ends for the day, besides the rules for anyone", "Neck pain over 3."
    )
    drop_when: Words | None = key(
        Privacy.TRIAL,
        "when a control that plainly fails is dropped before its attempts are done",
        "Two missed stops, or none of the first four done.",
    )
    tilted_by: Words | None = key(
        Privacy.TRIAL, "how the seat of the trial's chair is tilted for a weight shift", "the aide, by the rear lever"
    )
    longest_hold: Words | None = key(
        Privacy.TRIAL,
        "how long a puff or a push is held at most in the trial, and the rest after it",
        "10 s, then three quiet breaths",
    )
