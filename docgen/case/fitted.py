"""The delivered chair as it was fitted: it need not be what the trial had."""

from datetime import date

from docgen.case import usual
from docgen.case.base import Degrees, Id, Millimetres, Part, Words, key, must
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual


class Fitted(Part):
    """One part as it was set on the delivered chair."""

    mount: Id = must(Privacy.DEVICE, "part of the mounting record, by id", "rear")
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
