"""The lines of the order, and the standard parts of the chair that no line brings."""

from datetime import date
from typing import Literal

from docgen.case import usual
from docgen.case.base import (
    DiagnosisCode,
    FeatureId,
    Id,
    Modifiers,
    Part,
    Words,
    key,
    must,
)
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual


class Item(Part):
    """One line of the order."""

    id: Id = must(Privacy.ORDER, "short id", "head_array")
    name: Words = must(Privacy.ORDER, "item in plain words", "head array with proximity switches")
    code: str | None = key(Privacy.ORDER, "procedure code", "E2330", pattern=r"^[A-Z][0-9]{4}$")
    no_code: bool | None = key(Privacy.ORDER, "whether there is no procedure code for it", True)
    quantity: int | None = key(Privacy.ORDER, "quantity", 1, ge=1, le=99)
    unit: Literal["each", "pair", "set"] = key(Privacy.ORDER, "what the quantity counts", "each", default="each")
    billed: Literal["separately", "included"] | None = key(
        Privacy.ORDER, "whether the line is billed separately or comes with another", "separately"
    )
    diagnosis_codes: tuple[DiagnosisCode, ...] = key(
        Privacy.BILLING, "codes of the diagnoses that this line answers", ["G14"], default=(), max_length=12
    )
    size_mm: Words | None = key(Privacy.ORDER, "size in mm, in words for the order", "250 x 130")
    months_needed: int | None = key(
        Privacy.ORDER,
        "how many months the line is needed, if not as long as the chair",
        36,
        ge=0,
        le=1200,
        usual=Usual(3, 240, usual.PRACTICE),
    )
    why: Words | None = key(
        Privacy.ORDER, "why it is needed, in one line", "Drives the chair: three head movements are reliable."
    )
    brief: Words | None = key(
        Privacy.ORDER,
        "why it is needed, in a few words for the table of equipment",
        "Three head movements are his only ones",
    )
    without: Words | None = key(Privacy.ORDER, "what happens without it", "Stays where he is put.")
    features: tuple[FeatureId, ...] = key(
        Privacy.ORDER, "features this item brings", ["proximity_sensing"], default=(), max_length=20
    )
    because: tuple[Id, ...] = key(
        Privacy.NEED, "findings this item answers directly", ["pressure_risk"], default=(), max_length=20
    )
    purpose: Words | None = key(
        Privacy.ORDER, "what it is mainly for, in a few words", "to clear the way for a sling transfer"
    )
    serves: Literal["transfer", "catheter", "care", "surface", "other"] | None = key(
        Privacy.ORDER,
        "what that is: a transfer, a catheter, other care, reaching a table or another surface, something else",
        "transfer",
    )
    supports: Literal["interface", "headrest", "trunk", "other"] | None = key(
        Privacy.ORDER,
        "part that this hardware holds: drive control, headrest, side support of the trunk, other",
        "interface",
    )
    included_fitted: Words | None = key(
        Privacy.ORDER,
        "which of the parts that its code includes are fitted, and as what; what is left off",
        "the stop switch is the cheek switch; the direction switch is left off",
    )
    box: Words | None = key(
        Privacy.ORDER,
        "of a line that brings a box of electronics: where it is mounted, and how its cables run",
        "under the seat, on its rear cross tube",
    )
    modifier: Modifiers | None = key(Privacy.ORDER, "claim modifiers of the line", "KX")
    payer_says: Words | None = key(
        Privacy.ORDER, "what the payer answered about this line, and when", "2026-05-04, by phone: ..."
    )
    payer_said_on: date | None = key(Privacy.ORDER, "date of the payer's answer about this line", date(2026, 5, 4))


# Parts of a chair that an order leaves a supplier guessing about: those that every new chair is asked about once.
ASKED_PARTS = ("batteries", "transit_securement", "headrest", "armrests", "legrests")


class StandardPart(Part):
    """A part of the chair that is no special item: where it comes from, so that no line of the order is missed."""

    part: Literal[
        "batteries",
        "transit_securement",
        "headrest",
        "armrests",
        "legrests",
        "charger",
        "belt",
        "standard_joystick",
        "attendant_control",
        "display",
        "helper_stop",
        "drive_lock",
        "seat_switch",
        "profile_switch",
        "other",
    ] = must(Privacy.ORDER, "part of the chair", "batteries")
    name: Words | None = key(Privacy.ORDER, "name of a part that is none of these", "tray")
    comes: Literal["with_base", "moves_over", "not_needed", "line"] | None = key(
        Privacy.ORDER,
        "where it comes from: with the base, from the chair there is, not at all, or by a line of the order",
        "with_base",
    )
    item: Id | None = key(Privacy.ORDER, "item of the order whose line brings it", "headrest")
    mounted: Words | None = key(
        Privacy.DEVICE,
        "how it is mounted, and where its cable goes",
        "clamp on the handle; stop input of the base",
    )
    set_at: Words | None = key(
        Privacy.DEVICE,
        "where it stands: anchors of a belt, height of an armrest, height, depth, side and angle of a device",
        "center of its screen 340 mm above the pan, 420 mm in front of the posts, 60 mm left of the midline",
    )
    payer_takes: bool | None = key(
        Privacy.ORDER, "whether the payer, in its answer about that line, takes the part with it", True
    )
    says: Words | None = key(Privacy.ORDER, "what is particular about it, or who said so", "Height can be set.")
