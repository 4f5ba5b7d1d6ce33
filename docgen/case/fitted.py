"""The delivered chair as it was fitted and set: it need not be what the trial had."""

from datetime import date
from typing import Literal

from docgen.case import usual
from docgen.case.base import Degrees, Id, Millimetres, Part, Words, key, must
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual


class Fitted(Part):
    """One part as it was set on the delivered chair."""

    mount: Id = must(Privacy.DEVICE, "part of the mounting record", "rear")
    gap_mm: Millimetres | None = key(
        Privacy.DEVICE, "gap at rest as fitted in mm", 12, usual=Usual(1, 100, usual.PRACTICE, or_none=True)
    )
    angle_deg: Degrees | None = key(
        Privacy.DEVICE, "angle as fitted in degrees", 10, usual=Usual(-90, 90, usual.PRACTICE)
    )
    why: Words | None = key(Privacy.DEVICE, "why it differs from the trial, where it does", "A thicker headrest.")
    stop_passed: bool | None = key(Privacy.DEVICE, "whether the stop test was passed with it", True)
    by: Id | None = key(Privacy.DEVICE, "who set it", "evaluator")
    on: date | None = key(Privacy.DEVICE, "date it was set", date(2026, 8, 3))


class FittedSetting(Part):
    """One setting of one profile as it was measured on the delivered chair."""

    profile: Id = must(Privacy.DEVICE, "id of the profile", "indoor")
    setting: Literal["forward_speed", "reverse_speed", "turn_speed", "latch_timeout"] = must(
        Privacy.DEVICE, "setting that a profile holds a value of", "forward_speed"
    )
    to: float | None = key(
        Privacy.DEVICE,
        "its value as fitted, of a speed in m/s, a turning speed in degrees/s, a time-out in s",
        0.35,
        ge=0.01,
        lt=600,
        usual=Usual(0.05, 90, usual.PRACTICE, bears=True),
    )
    why: Words | None = key(Privacy.DEVICE, "why it differs from what was ordered, where it does", "He asked for it.")
    stop_passed: bool | None = key(Privacy.DEVICE, "whether the stop test was passed with it", True)
    by: Id | None = key(Privacy.DEVICE, "who set it", "evaluator")
    on: date | None = key(Privacy.DEVICE, "date it was set", date(2026, 8, 3))
