"""What was ruled out and what was tried: alternatives, the trial's methods and tasks."""

from datetime import date
from typing import Literal

from docgen.case import usual
from docgen.case.base import (
    Degrees,
    FeatureId,
    Id,
    Part,
    Words,
    key,
    many,
    must,
    part,
)
from docgen.case.privacy import Privacy
from docgen.case.trial_plan import TrialPlan
from docgen.case.usual import Usual

# Kinds of drive control, simplest first: the order in which a payer asks for them to be ruled out.
ControlKind = Literal[
    "stick_by_hand",
    "stick_by_chin",
    "mini_stick",
    "breath_control",
    "head_control",
    "foot_control",
    "finger_switches",
    "other_control",
]
# What a simpler device can be, simplest first; a control of another kind is "other_control".
AlternativeKind = Literal["cane_or_walker", "manual_chair", "scooter", ControlKind]


class Alternative(Part):
    """A device considered and not chosen: how it was ruled out, and why."""

    id: Id = must(Privacy.NEED, "short id", "manual_chair")
    kind: AlternativeKind = must(Privacy.NEED, "kind of device", "manual_chair")
    name: Words = must(Privacy.NEED, "name of the device in plain words", "a manual wheelchair")
    ruled_out_by: Literal["trial", "condition", "feature", "refusal", "not_a_fair_try", "nothing"] | None = key(
        Privacy.NEED,
        "what rules it out; trial where rows of its method tell it, condition with reason and measure where a try has "
        "no rows, refusal where the client will not have it, not_a_fair_try where it was tried and that tells nothing",
        "condition",
    )
    method: Id | None = key(Privacy.NEED, "trial method that tried it", "hand_stick")
    features: tuple[FeatureId, ...] = key(
        Privacy.NEED, "features it has beyond those of its kind", ["contact_switch_sensing"], default=(), max_length=20
    )
    reason: Words | None = key(
        Privacy.NEED, "why it will not do, tied to this client", "Cannot push: neither hand closes on a handrim."
    )
    measure: Words | None = key(Privacy.NEED, "measure behind the reason", "push force 0 N both sides")
    limb: Literal["left", "right"] | None = key(
        Privacy.NEED,
        "which hand or foot it was for, of a control at one: a finding of the other says nothing of it",
        "right",
    )
    tries: int | None = key(
        Privacy.NEED,
        "how many tries were made with it that are no rows or totals of the trial: told, and compared with nothing",
        10,
        ge=1,
        le=10_000,
    )
    tries_done: int | None = key(
        Privacy.NEED, "of these tries, how many were done; left out where it was not kept", 0, ge=0, le=10_000
    )
    setup: Words | None = key(
        Privacy.NEED, "how it was set up to give it its best chance", "midline, slowest profile, tremor dampening on"
    )
    on: date | None = key(Privacy.NEED, "date considered", date(2026, 3, 3))
    by: Id | None = key(Privacy.NEED, "who judged", "evaluator")
    visit: Id | None = key(Privacy.NEED, "visit at which it was recorded, whose day is printed with it", "clinic_1")

    @property
    def is_ruled_out(self) -> bool:
        """Whether something is recorded that rules it out; a try that was not a fair one does not."""
        return self.ruled_out_by not in (None, "nothing", "not_a_fair_try")

    @property
    def had_no_fair_try(self) -> bool:
        """Whether it was tried, and the record says that this try tells nothing."""
        return self.ruled_out_by == "not_a_fair_try"


Headwear = Literal["hat", "hood", "helmet", "glasses", "hearing_aid", "headscarf", "hair_clip"]


class Method(Part):
    """One drive control as it was tried; the same control set differently is another method."""

    id: Id = must(Privacy.TRIAL, "short id, as in trial.csv", "head_pads")
    name: Words = must(Privacy.TRIAL, "name of the control in plain words", "proximity head array")
    device: Id | None = key(Privacy.TRIAL, "device of the shelf that it is", "head_array_proximity")
    standard_stick: bool = key(
        Privacy.TRIAL, "whether it is a standard joystick used by hand or chin", False, default=False
    )
    setup: Words | None = key(Privacy.TRIAL, "how it was set", "side pads at ear height, indoor profile")
    chair: Words | None = key(
        Privacy.TRIAL,
        "chair that it was tried on, where not every method had the same",
        "the clinic's mid-wheel-drive chair",
    )
    footwear: Words | None = key(Privacy.TRIAL, "what was worn on the foot in the trial", "the thick winter boot")
    features: tuple[FeatureId, ...] = key(
        Privacy.TRIAL,
        "features it had in the trial: what senses, at which site, latched or not, what supported the head",
        ["head_array", "proximity_sensing", "momentary_drive"],
        default=(),
        max_length=20,
    )
    without: tuple[FeatureId, ...] = key(
        Privacy.TRIAL,
        "requested features that it did not have in the trial",
        ["suboccipital_support"],
        default=(),
        max_length=20,
    )
    speed_m_s: float | None = key(
        Privacy.TRIAL,
        "fastest speed driven with it in m/s",
        0.4,
        ge=0.01,
        lt=5,
        usual=Usual(0.08, 2.8, usual.SPEED, bears=True),
    )
    seat_deg: Degrees | None = key(
        Privacy.TRIAL, "tilt of the seat in the trial in degrees", 5, usual=Usual(-10, 60, usual.PRACTICE)
    )
    headwear: tuple[Headwear, ...] | None = key(
        Privacy.TRIAL, "what was worn on the head in the trial; empty for nothing", ["glasses"], max_length=7
    )
    minutes: float | None = key(
        Privacy.TRIAL,
        "minutes driven with it in all, where the rows have none",
        58,
        gt=0,
        le=10_000,
        usual=Usual(5, 600, usual.PRACTICE),
    )
    help_before_start: int | None = key(
        Privacy.TRIAL,
        "attempts counted as done before whose start someone set the control again, which was not counted as help",
        3,
        ge=0,
        le=10_000,
    )
    changed: Words | None = key(
        Privacy.TRIAL, "what of it as requested was added or changed during the trial, in a few words", "the heel stop"
    )
    changed_on: date | None = key(
        Privacy.TRIAL, "first day of the trial on which it was driven with that", date(2026, 3, 10)
    )
    notes_count: str | None = key(
        Privacy.TRIAL,
        "attempts done with it as notes or a summary tell them, where the rows count otherwise, such as 6 of 10",
        "6 of 10",
        pattern=r"^[0-9]{1,4} ?(of|/) ?[0-9]{1,4}$",
    )
    notes_stops: str | None = key(
        Privacy.TRIAL,
        "stops made of those asked with it as notes tell them, where the rows count otherwise, such as 3 of 4",
        "3 of 4",
        pattern=r"^[0-9]{1,4} ?(of|/) ?[0-9]{1,4}$",
    )
    notes_say: Words | None = key(
        Privacy.TRIAL,
        "what notes tell of its attempts that the rows do not show, such as why a stop was missed, in a sentence",
        "On September 16 he missed one stop, because he coughed.",
    )
    stops_asked: int | None = key(
        Privacy.TRIAL,
        "stops asked for with this control beside the rows, in none of their attempts; presses of a stop switch apart",
        10,
        ge=1,
        le=10_000,
    )
    stops_made: int | None = key(Privacy.TRIAL, "of these, made in the distance that counts", 9, ge=0, le=10_000)
    stops_on: date | None = key(Privacy.TRIAL, "day of these stops", date(2026, 3, 31))
    stops_say: Words | None = key(
        Privacy.TRIAL, "what happened at those of them that were missed", "A film ran on the screen ahead."
    )

    @property
    def done_in_notes(self) -> tuple[int, int] | None:
        """Attempts done and all attempts, as notes_count tells them."""
        return _k_of_n(self.notes_count)

    @property
    def stops_in_notes(self) -> tuple[int, int] | None:
        """Stops made and stops asked for, as notes_stops tells them."""
        return _k_of_n(self.notes_stops)


def _k_of_n(count: str | None) -> tuple[int, int] | None:
    """A count in the form that its key holds, such as 6 of 10 or 6/10."""
    if count is None:
        return None
    k, n = count.replace("of", "/").split("/")
    return int(k), int(n)


class Task(Part):
    """One task of the trial: the same card for every method."""

    id: Id = must(Privacy.TRIAL, "short id, as in trial.csv", "doorway")
    name: Words = must(Privacy.TRIAL, "name of the task", "through a doorway")
    shows: Literal["steer", "stop", "place", "other"] = key(
        Privacy.TRIAL,
        "what the task shows: stop where it is a stop on a command, a cue or at a line",
        "steer",
        default="other",
    )
    within_m: float | None = key(
        Privacy.TRIAL,
        "of a stopping task: within how many meters a stop counts as done",
        1.0,
        gt=0,
        le=50,
        usual=Usual(0.2, 5, usual.PRACTICE, bears=True),
    )
    rule: Words | None = key(Privacy.TRIAL, "what counts as success", "815 mm clear, no collision, no help")
    backs: bool = key(Privacy.TRIAL, "whether the task has the chair back up", True, default=False)
    turns: bool = key(Privacy.TRIAL, "whether the task has the chair turn round in place", True, default=False)


class Trial(Part):
    """How the trial was run. The raw rows are in a CSV file beside the case."""

    rows: str = key(Privacy.TRIAL, "file with the raw rows, a CSV", "trial.csv", default="trial.csv")
    chair: Words | None = key(
        Privacy.TRIAL, "chair and speed used in every method", "the clinic's mid-wheel-drive chair, 0.4 m/s"
    )
    seating: Words | None = key(Privacy.ORDER, "seating used in every method", "own seat, tilt 5 degrees")
    counted_by: Words | None = key(
        Privacy.TRIAL, 'who scored and how, in words that follow "scored by"', "one rater, from video"
    )
    log_by: Words | None = key(
        Privacy.TRIAL,
        "who kept the log, where that is not known to be who scored, in words",
        "the student of the trial chair's supplier",
    )
    done_rule: Literal["no_contact_no_help", "task_rule"] | None = key(
        Privacy.TRIAL,
        "what a row counted as done means: no collision and no help by hand, or the rule of its task alone",
        "no_contact_no_help",
    )
    release_from: Literal["cue", "line"] | None = key(Privacy.TRIAL, "what release was timed from", "cue")
    place: Words | None = key(Privacy.TRIAL, "where the trial was held", "clinic corridor and the client's home")
    limits: Words | None = key(Privacy.TRIAL, "what the trial could not show", "No ramp was driven.")
    none_why: Words | None = key(
        Privacy.TRIAL, "why no trial was possible, where there was none", "No chair with this control could be lent."
    )
    after_miss: Words | None = key(
        Privacy.TRIAL,
        "what was changed after a stop with the requested control was missed",
        "Since March 10 a block holds his heel.",
    )
    few_why: Words | None = key(
        Privacy.TRIAL,
        "why more attempts or stops with the requested control were not possible",
        "Two visits were all that the ward allowed.",
    )
    few_guard: Id | None = key(Privacy.TRIAL, "who stays close to the driver until more is shown", "aunt")
    few_until: Words | None = key(
        Privacy.TRIAL, "until when that person stays close", "ten stops of ten are done at home"
    )
    plan: TrialPlan = part("the plan of the trial", TrialPlan)
    methods: tuple[Method, ...] = many("drive controls tried, simplest first")
    tasks: tuple[Task, ...] = many("tasks of the trial")

    @property
    def stop_tasks(self) -> tuple[str, ...]:
        """Ids of the tasks that show a stop: one not done is a missed stop."""
        return tuple(task.id for task in self.tasks if task.shows == "stop")

    @property
    def driving_tasks(self) -> tuple[Task, ...]:
        """The tasks that show anything but a stop."""
        return tuple(task for task in self.tasks if task.shows != "stop")
