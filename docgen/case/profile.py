"""Drive profiles, and the settings of the electronics as they were on the trial chair."""

from typing import Literal

from docgen.case import usual
from docgen.case.base import Degrees, Id, Part, Seconds, Words, key, must
from docgen.case.privacy import Privacy
from docgen.case.stage import Step
from docgen.case.usual import Usual

_ANGLE = Usual(-15, 180, usual.PRACTICE)


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
    used_holds: tuple[Literal["decided", "up"], ...] = key(
        Privacy.DEVICE,
        "what the words of where it is used hold back themselves, so that no page tells it twice",
        ["decided"],
        default=(),
        max_length=2,
    )
    until_stage: Step | None = key(Privacy.DEVICE, "step of training after which it is used no more", "corners")
    why: Words | None = key(Privacy.DEVICE, "why these settings", "Stops inside the shortest space at home.")


class SetTo(Part):
    """One setting of the electronics as it was on the trial chair: what was measured, never a step of a programmer."""

    setting: Id = must(Privacy.DEVICE, "which setting", "acceleration")
    profile: Id | None = key(Privacy.DEVICE, "profile it is of; all of them where none is named", "indoor")
    value: Words | None = key(Privacy.DEVICE, "what was measured, with its unit", "1.5 s to top speed")
    how: Words | None = key(Privacy.DEVICE, "how it was measured, or why", "from video, mean of three starts")
    loudness: Words | None = key(
        Privacy.DEVICE,
        "of a sound that is on: who sets how loud it is, with whom and when",
        "by the therapist with her",
    )
    passes: Words | None = key(
        Privacy.DEVICE,
        "range in which a measurement of it passes, where it is not all on one side of the value",
        "0.8 to 1.1 m/s²",
    )
    caution: Words | None = key(
        Privacy.DEVICE,
        "what happened beyond this value, as a caution to whoever sets it",
        "At 9 s a spasm came in 2 of 3: do not set it faster.",
    )
    lowest_deg: Degrees | None = key(
        Privacy.DEVICE, "of a speed of the seat: where the range of that part begins, in degrees", 5, usual=_ANGLE
    )
    highest_deg: Degrees | None = key(
        Privacy.DEVICE, "of a speed of the seat: where the range of that part ends, in degrees", 50, usual=_ANGLE
    )
    timed_from_deg: Degrees | None = key(
        Privacy.DEVICE,
        "of a speed of the seat: where the timing began; lowest_deg where none is given",
        5,
        usual=_ANGLE,
    )
    timed_to_deg: Degrees | None = key(
        Privacy.DEVICE,
        "of a speed of the seat: where the timing ended; highest_deg where none is given",
        35,
        usual=_ANGLE,
    )
    timed_s: Seconds | None = key(
        Privacy.DEVICE,
        "of a speed of the seat: the seconds between those two angles",
        15,
        usual=Usual(2, 90, usual.PRACTICE),
    )
    slowest_s: Seconds | None = key(
        Privacy.DEVICE,
        "of a speed of the seat: the most of these seconds that passes at delivery",
        17,
        usual=Usual(2, 90, usual.PRACTICE),
    )
    turn_ends_s: Seconds | None = key(
        Privacy.DEVICE,
        "of the turning deceleration: the seconds from the chair's slowing to the end of a turn in place",
        0.5,
        usual=Usual(0.1, 3, usual.PRACTICE),
    )
    timeout_s: Seconds | None = key(
        Privacy.DEVICE,
        "of the time-out to standby: the seconds with the chair in drive and the control at rest after which it acts",
        8,
        usual=Usual(1, 1800, usual.PRACTICE),
    )
    shortest_s: Seconds | None = key(
        Privacy.DEVICE,
        "of the hold time: the shortest hold in seconds that passes: whatever is let go sooner starts nothing",
        1.8,
        usual=Usual(0.05, 10, usual.PRACTICE),
    )
    used: bool | None = key(
        Privacy.DEVICE, "whether this control uses the setting at all; false where no profile does", False
    )
    as_delivered: bool | None = key(Privacy.DEVICE, "whether it is left as the chair is delivered", True)
    on_trial_chair: Words | None = key(
        Privacy.DEVICE, "value of the trial chair, where it is left as delivered", "60 of 100 on the programmer"
    )

    @property
    def whole_range_s(self) -> float | None:
        """Seconds that a part of the seat takes through its range at the speed timed; None where a figure lacks."""
        if self.lowest_deg is None or self.highest_deg is None or not self.timed_s:
            return None
        started = self.lowest_deg if self.timed_from_deg is None else self.timed_from_deg
        ended = self.highest_deg if self.timed_to_deg is None else self.timed_to_deg
        if started == ended:
            return None
        return abs(self.highest_deg - self.lowest_deg) * self.timed_s / abs(ended - started)

    @property
    def slowest_range_s(self) -> float | None:
        """The same at the slowest speed that passes at delivery; at the speed timed where none is given."""
        whole_s = self.whole_range_s
        return whole_s * self.slowest_s / self.timed_s if whole_s and self.slowest_s and self.timed_s else whole_s

    @property
    def is_unused(self) -> bool:
        """Whether it is recorded that no profile of this control uses the setting."""
        return self.profile is None and self.used is False


Programmable = Literal["speed", "tremor_dampening", "acceleration", "braking", "throw", "dead_zone"]
