"""The printed sheets for daily use: which edition they are of, and who holds which."""

from __future__ import annotations

from datetime import date
from typing import Literal

from docgen.case.base import Id, Part, Words, key, many, must
from docgen.case.privacy import Privacy

ByHand = Literal[
    "sling",
    "sling_head",
    "in_arms",
    "by_two",
    "blanket",
    "sheet",
    "sheet_by_two",
    "yes_eyes_up",
    "yes_foot_up",
    "no_eyes_shut",
    "no_foot_up_twice",
    "stop_calls_looks_down",
    "stop_shouts",
    "leg_bag",
    "cuff",
    "legs_up",
    "mouthpiece",
    "switch_plug",
    "device_plug",
    "heel_pendant",
]


class SheetHeld(Part):
    """A sheet that was handed out or hung up, and whether it was taken back."""

    what: Literal["card", "guide", "emergency", "log", "lesson"] = must(Privacy.CARE, "which sheet", "card")
    who: Id | None = key(Privacy.CARE, "who holds it", "grandmother")
    hangs: Words | None = key(
        Privacy.CARE, "where it hangs or lies, where nobody carries it", "on the back of the chair"
    )
    edition: int = must(Privacy.CARE, "its edition", 1, ge=1, le=999)
    on: date | None = key(Privacy.CARE, "date handed out or hung up", date(2026, 8, 3))
    back_on: date | None = key(Privacy.CARE, "date taken back", date(2026, 9, 1))


class Sheets(Part):
    """Card, guide, emergency page and log as they are printed now."""

    # it stands in the head of each sheet beside the name, and tells no more of a person than that
    edition: int | None = key(Privacy.NAME, "edition of the sheets, counted up at each change", 1, ge=1, le=999)
    by_hand: tuple[ByHand, ...] = key(
        Privacy.CARE,
        "care by hand that card, guide or emergency page ask for and the log draws, each as it is done for this client",
        ["sling", "leg_bag"],
        default=(),
        max_length=12,
    )
    handed_out: tuple[SheetHeld, ...] = many("sheets handed out or hung up, and who holds them")

    @property
    def to_collect(self) -> tuple[SheetHeld, ...]:
        """Sheets of an earlier edition that nobody has taken back yet, in the order of the case."""
        if self.edition is None:
            return ()
        return tuple(sheet for sheet in self.handed_out if sheet.edition < self.edition and sheet.back_on is None)
