"""What was ruled out and what was tried: alternatives, the trial's methods and tasks."""

from datetime import date
from typing import Literal

from docgen.case import usual
from docgen.case.base import (
    Degrees,
    DiagnosisCode,
    FeatureId,
    Id,
    Millimetres,
    Modifiers,
    Part,
    Seconds,
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
        "what rules it out; refusal where the client will not have it, not_a_fair_try where it was tried and that try "
        "tells nothing",
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
    setup: Words | None = key(
        Privacy.NEED, "how it was set up to give it its best chance", "midline, slowest profile, tremor dampening on"
    )
    on: date | None = key(Privacy.NEED, "date considered", date(2026, 3, 3))
    by: Id | None = key(Privacy.NEED, "who judged", "evaluator")
    visit: Id | None = key(Privacy.NEED, "visit at which it was recorded, with its day and clinician", "clinic_1")

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
    stops_asked: int | None = key(
        Privacy.TRIAL, "stops asked for beside the rows, in none of their attempts", 10, ge=1, le=10_000
    )
    stops_made: int | None = key(Privacy.TRIAL, "of these, made in the distance that counts", 9, ge=0, le=10_000)
    stops_on: date | None = key(Privacy.TRIAL, "day of these stops", date(2026, 3, 31))
    stops_say: Words | None = key(
        Privacy.TRIAL, "what happened at those of them that were missed", "A film ran on the screen ahead."
    )


class Task(Part):
    """One task of the trial: the same card for every method."""

    id: Id = must(Privacy.TRIAL, "short id, as in trial.csv", "doorway")
    name: Words = must(Privacy.TRIAL, "name of the task", "through a doorway")
    shows: Literal["steer", "stop", "place", "other"] = key(
        Privacy.TRIAL, "what the task shows", "steer", default="other"
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
    counted_by: Words | None = key(Privacy.TRIAL, "who scored and how", "one rater, from video")
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


class Chair(Part):
    """The chair the control goes on."""

    name: Words | None = key(Privacy.DEVICE, "chair in plain words", "a mid-wheel-drive power chair with power tilt")
    base_code: str | None = key(Privacy.ORDER, "procedure code of the base", "K0861", pattern=r"^[A-Z][0-9]{4}$")
    why: Words | None = key(
        Privacy.ORDER, "why this base, tied to this client", "Turns in the hall; its electronics accept the head array."
    )
    diagnosis_codes: tuple[DiagnosisCode, ...] = key(
        Privacy.BILLING, "codes of the diagnoses that the base answers", ["G14"], default=(), max_length=12
    )
    modifier: Modifiers | None = key(Privacy.ORDER, "claim modifiers of the base", "KX")
    payer_says: Words | None = key(
        Privacy.ORDER, "what the payer answered about the base, word for word", "APPROVED 1 EA"
    )
    payer_said_on: date | None = key(Privacy.ORDER, "date of the payer's answer about the base", date(2026, 5, 4))
    electronics_now: Words | None = key(
        Privacy.DEVICE,
        "electronics that the chair already there has, where a control alone is requested",
        "expandable controller of 2024 with one free port",
    )
    takes_input: bool | None = key(Privacy.DEVICE, "whether the electronics already there take another input", True)
    electronics_added: Words | None = key(
        Privacy.DEVICE,
        "what must be added to the electronics already there, or replaced; that nothing must, where that is so",
        "a harness for the pads; nothing is replaced",
    )
    blends_commands: bool | None = key(
        Privacy.DEVICE,
        "whether its electronics blend two commands of switches into one movement, or take one after the other",
        True,
    )
    brief: Words | None = key(
        Privacy.ORDER, "why this base, in a few words for the table of equipment", "Neurological; turns in the hall"
    )
    seat_actuators: int | None = key(
        Privacy.DEVICE, "motors that move the seat: tilt, recline, legs, elevation", 2, ge=0, le=12
    )
    seat_type: Literal["sling_or_solid", "captains"] | None = key(Privacy.DEVICE, "seat of the base", "sling_or_solid")
    seat_width_mm: float | None = key(
        Privacy.DEVICE, "width of the seat in mm", 410, gt=100, lt=1000, usual=Usual(200, 700, usual.CHAIRS)
    )
    seat_depth_mm: float | None = key(
        Privacy.DEVICE, "depth of the seat in mm", 430, gt=100, lt=1000, usual=Usual(180, 650, usual.CHAIRS)
    )
    back_height_mm: float | None = key(
        Privacy.DEVICE,
        "height of the back above the seat in mm",
        510,
        gt=100,
        lt=1200,
        usual=Usual(200, 900, usual.CHAIRS),
    )
    leg_mm: float | None = key(
        Privacy.DEVICE, "seat to footplate in mm", 400, gt=50, lt=800, usual=Usual(120, 600, usual.CHAIRS)
    )
    sizes_to: Literal["frame", "surface"] | None = key(
        Privacy.DEVICE,
        "what seat depth, back height and the way to the footplate are measured to: the bare pan and posts, or the "
        "cushion and back on them",
        "frame",
    )
    details: Words | None = key(
        Privacy.DEVICE,
        "what else is decided of the base: color, batteries, wheels, seat height, handles, charger port, gauge, horn",
        "Blue; seat pan 450 mm above the floor; solid tires; two push handles of one height.",
    )
    cushion: Words | None = key(
        Privacy.DEVICE, "cushion and back: new or taken over", "His own cushion and back will be reused."
    )
    cushion_reused: bool | None = key(
        Privacy.DEVICE, "whether cushion or back are reused from the chair in use now", True
    )
    back_hung: Words | None = key(
        Privacy.DEVICE,
        "how high above the pan a back of the client's own hangs, and on what",
        "Its lower edge is 90 mm above the pan; its hardware is on the posts.",
    )
    width_mm: float | None = key(
        Privacy.DEVICE, "overall width in mm", 640, gt=200, lt=1500, usual=Usual(480, 850, usual.CHAIRS)
    )
    length_mm: float | None = key(
        Privacy.DEVICE, "overall length in mm", 1100, gt=300, lt=2500, usual=Usual(600, 1500, usual.CHAIRS, bears=True)
    )
    turning_mm: float | None = key(
        Privacy.DEVICE, "turning diameter in mm", 1250, gt=300, lt=5000, usual=Usual(700, 2500, usual.CHAIRS)
    )
    most_tilt_deg: Degrees | None = key(
        Privacy.DEVICE,
        "furthest tilt of the seat in degrees, as its manufacturer states",
        50,
        usual=Usual(10, 65, usual.PRACTICE),
    )
    climbs_mm: float | None = key(
        Privacy.DEVICE,
        "highest threshold it takes in mm, as its manufacturer states",
        50,
        ge=0,
        lt=300,
        usual=Usual(10, 150, usual.CHAIRS, or_none=True),
    )
    most_slope_percent: float | None = key(
        Privacy.DEVICE,
        "steepest slope it takes in percent, as its manufacturer states",
        10.5,
        ge=0,
        le=60,
        usual=Usual(5, 30, usual.PRACTICE),
    )
    axle_to_front_mm: float | None = key(
        Privacy.DEVICE,
        "drive axle to the foremost point in mm",
        540,
        ge=0,
        lt=2500,
        usual=Usual(100, 1300, usual.CHAIRS),
    )
    figures_from: Words | None = key(
        Privacy.DEVICE, "which chair its sizes and its braking were measured on", "the clinic's trial chair"
    )
    electronics_delay_s: Seconds | None = key(
        Privacy.DEVICE,
        "delay from input off to braking, measured, in s",
        0.15,
        usual=Usual(0.03, 0.8, usual.BRAKING, bears=True, or_none=True),
    )
    electronics_delay_how: Words | None = key(
        Privacy.DEVICE, "how that delay was measured", "from video, longest of ten stops"
    )
    deceleration_m_s2: float | None = key(
        Privacy.DEVICE,
        "deceleration in m/s2, measured on the chair",
        0.8,
        ge=0.01,
        lt=10,
        usual=Usual(0.25, 4, usual.BRAKING, bears=True),
    )
    braked_mm: Millimetres | None = key(
        Privacy.DEVICE,
        "longest stop measured on the level, from the input that ends to standing, in mm",
        700,
        usual=Usual(100, 8000, usual.PRACTICE, bears=True),
    )
    braked_from_m_s: float | None = key(
        Privacy.DEVICE,
        "speed from which that stop was measured, in m/s",
        0.9,
        ge=0.01,
        lt=5,
        usual=Usual(0.08, 2.8, usual.SPEED, bears=True),
    )
    braked_how: Words | None = key(
        Privacy.DEVICE,
        "how that stop was measured, by whom and when",
        "by the supplier's specialist on October 13, 2026",
    )
    turn_deceleration_deg_s2: float | None = key(
        Privacy.DEVICE,
        "how fast a turn slows, in degrees/s2",
        120,
        ge=0.1,
        lt=5000,
        usual=Usual(15, 1000, usual.PRACTICE, bears=True),
    )
    speed_step_m_s: float | None = key(
        Privacy.DEVICE,
        "smallest step of the speed setting in m/s",
        0.05,
        ge=0.001,
        lt=1,
        usual=Usual(0.01, 0.25, usual.PRACTICE, bears=True),
    )
