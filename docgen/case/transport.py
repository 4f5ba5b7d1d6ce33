"""How the client travels, and how the chair, its control and the head are held on the way."""

from typing import Literal

from docgen.case import usual
from docgen.case.base import Degrees, Part, Words, key
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual

Known = Literal["yes", "no", "unknown"]  # unknown: asked, and nobody could tell


class Transport(Part):
    """How the client travels."""

    rides_in_chair: bool | None = key(Privacy.CARE, "whether the client rides seated in the chair", True)
    vehicle: Words | None = key(
        Privacy.CARE, "vehicle and how the chair is held", "a van with four tie-downs and a lap-and-shoulder belt"
    )
    trained: Words | None = key(
        Privacy.CARE, "who is trained to load the chair and tie it down", "an aunt and the driver of the van"
    )
    chair_labeled: Known | None = key(
        Privacy.CARE, "whether the chair's label says that it is made to be ridden in", "yes"
    )
    four_tie_downs: Known | None = key(
        Privacy.CARE, "whether four tie-downs hold it at its marked points, or its own docking", "yes"
    )
    own_belt: Known | None = key(
        Privacy.CARE,
        "whether there is a crash-tested lap-and-shoulder belt; the chair's counts if its manual says so",
        "yes",
    )
    head_support: Known | None = key(
        Privacy.CARE, "whether something is behind the head that is no pad of the control", "yes"
    )
    head_support_looks: Literal["clips_on"] | None = key(
        Privacy.CARE, "whether what is behind the head there is clipped on for the ride, for the drawing", "clips_on"
    )
    back_deg: Degrees | None = key(
        Privacy.CARE, "back from upright in the vehicle, in degrees", 10, usual=Usual(-5, 60, usual.PRACTICE)
    )
    control: Literal["swung_away", "comes_off", "locked", "clear", "stays"] | None = key(
        Privacy.CARE,
        "the control in the vehicle: swung away, taken off, locked, off and clear of head and trunk, or as for driving",
        "swung_away",
    )
    lock: Words | None = key(
        Privacy.CARE, "what locks the control there, where it is locked", "the red catch below the joystick"
    )
    loose_parts: Words | None = key(
        Privacy.CARE, "what comes off or is tied down before the ride", "The tray and the bag come off."
    )
    says: Words | None = key(Privacy.CARE, "what matters about travel", "The control comes off the path of the belt.")
