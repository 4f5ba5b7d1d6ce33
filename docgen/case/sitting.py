"""How the client sits as measured, and what holds when the seat is moved."""

from datetime import date
from typing import Literal

from docgen.case.base import Part, Words, key, many, must, part
from docgen.case.privacy import Privacy
from docgen.case.stop import OnChair


class SeatCommand(Part):
    """One command that moves the seat, in the order in which they are given; several may follow as alternatives."""

    moves: Words = must(Privacy.DEVICE, "what the seat does then", "the seat goes back")
    input: Words = must(Privacy.DEVICE, "what the driver does for it, in plain words", "a hard puff")
    kept: Literal["held", "once"] | None = key(
        Privacy.DEVICE, "kept up for as long as the seat is to move, or given once", "held"
    )
    hear: Words | None = key(Privacy.DEVICE, "what is heard or seen then", "two clicks")
    any_of: bool | None = key(
        Privacy.DEVICE, "whether it is one of several that may come at this place, and no step of its own", True
    )


class AfterMove(Part):
    """After a move of the seat: what comes before the next drive."""

    reached: Words | None = key(
        Privacy.CARE, "how one sees that the control is in reach again", "The lips close on the mouthpiece."
    )
    restart: Words | None = key(Privacy.CARE, "when driving may begin again", "When she says that all is clear.")
    decides: Words | None = key(Privacy.CARE, "who decides that driving may begin again", "Robin, by word.")


class Sitting(Part):
    """How the client sits as measured, how one sees it, and how the seat moves."""

    pelvis: Words | None = key(Privacy.DEVICE, "how the pelvis sits", "back against the cushion, level")
    trunk: Words | None = key(Privacy.DEVICE, "how the trunk is held", "side supports, chest strap")
    head: Words | None = key(Privacy.DEVICE, "what supports the head", "the headrest, below the back of the skull")
    belts: Words | None = key(Privacy.DEVICE, "belts and straps, and how tight", "belt at the hips, one finger fits")
    marks: Words | None = key(
        Privacy.DEVICE, "marks that show that the client sits as measured", "hip seam at the line on the armrest"
    )
    leans: Words | None = key(
        Privacy.DEVICE,
        "how the client shifts the weight without the seat, and how often, where the body alone does it",
        "Leans forward and to each side by herself, every half hour.",
    )
    rests: Words | None = key(
        Privacy.DEVICE,
        "how the seat rests the client, where that is no weight shift: how far, how long, when and by whom",
        "Tilted 30 degrees for 15 minutes, after school and before supper, by her father.",
    )
    effect: Words | None = key(
        Privacy.DEVICE, "what the seat does to the control", "When the hips slide, the head misses the pads."
    )
    seat_switch: Words | None = key(
        Privacy.DEVICE, "a helper's switch that moves the seat, and where it is", "gray switch on the back, left side"
    )
    seat_switch_site: OnChair | None = key(
        Privacy.DEVICE, "place of a helper's switch that moves the seat, for the drawing", "back_left"
    )
    seat_switch_raises: Literal["up", "down"] | None = key(
        Privacy.DEVICE, "which way that switch is held for the seat to come up, for the drawing", "up"
    )
    no_power: Words | None = key(
        Privacy.CARE, "how the seat comes up with the chair off or its battery flat", "Two people lift the back."
    )
    drive_meanwhile: Literal["locked", "slow", "drives"] | None = key(
        Privacy.DEVICE, "the drive while the seat is out of its driving place: locked, slow, or as ever", "locked"
    )
    stuck: Words | None = key(
        Privacy.CARE, "who moves the seat back when the client cannot, and how", "Anyone, by the gray switch behind."
    )
    while_off: Words | None = key(
        Privacy.CARE,
        "of a chair that must stay off: how the seat is moved all the same, for a weight shift or in an emergency",
        "Off means no driving. For the seat: green lever left, key on, gray switch alone.",
    )
    not_at_all: Words | None = key(
        Privacy.CARE,
        "where the seat moves no more: how the weight is shifted all the same, by how many, within what time",
        "Two people lift her to bed before the next shift is due. Cannot: the nurse line.",
    )
    stays_chosen: bool | None = key(
        Privacy.DEVICE,
        "whether the seat, once chosen on the control, stays so until that is changed; false where it rests by itself",
        True,
    )
    chosen_held: Literal["stays", "moves"] | None = key(
        Privacy.DEVICE,
        "the seat while the signal that chooses it is kept on, where that signal also moves it: it stays, or it moves",
        "stays",
    )
    chosen_held_on: date | None = key(Privacy.DEVICE, "date that was tried", date(2026, 3, 6))
    commands: tuple[SeatCommand, ...] = many("commands that move the seat, in the order in which they are given")
    moved_by: int | None = key(
        Privacy.CARE,
        "how many people it takes to move the client in or out of the chair; 0 where the client moves alone",
        2,
        ge=0,
        le=5,
    )
    moving: tuple[Words, ...] = key(
        Privacy.CARE,
        "moving in or out in its order: sling, head, straps, belt, footplates, what stays in place",
        ["Sling on, head held.", "Chest strap open, then the belt."],
        default=(),
        max_length=7,
    )
    after: AfterMove = part("after a move of the seat", AfterMove)
