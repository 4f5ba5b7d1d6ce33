"""What is requested: the configuration, its features and its commands."""

import re
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
)
from docgen.case.chair import Chair
from docgen.case.items import Item, StandardPart
from docgen.case.mount import MeasuredFrom, Mount
from docgen.case.privacy import Privacy
from docgen.case.profile import Profile, Programmable, SetTo
from docgen.case.stop import ReachedBy, Stop
from docgen.case.tried import Headwear
from docgen.case.usual import Usual

_STARTS_IN_DRIVE = re.compile(r"drive\b", re.I)


class ChosenFeature(Part):
    """A feature of the requested control, and the findings that call for it."""

    id: FeatureId = must(Privacy.ORDER, "feature", "proximity_sensing")
    because: tuple[Id, ...] = key(
        Privacy.CLINICAL, "findings that call for it", ["head_three_way"], default=(), max_length=20
    )
    note: Words | None = key(
        Privacy.CLINICAL, "the therapist's own sentence about it", "Force was tried and raised tone."
    )
    answer: Words | None = key(
        Privacy.CLINICAL, "what mitigates a finding that is a contraindication to it", "Standby whenever he rests."
    )
    with_base: bool | None = key(
        Privacy.ORDER, "whether it comes with the base, so that no line of the order brings it", True
    )


class Command(Part):
    """One command: what the driver does, what the chair does for it."""

    does: Literal[
        "forward",
        "back",
        "left",
        "right",
        "forward_left",
        "forward_right",
        "back_left",
        "back_right",
        "stop",
        "rest",
        "drive",
        "seat",
        "external_device",
    ] = must(
        Privacy.DEVICE,
        "what the chair does: a movement, two at once, or a change to rest, drive, seat or another device",
        "forward",
    )
    input: Words = must(Privacy.DEVICE, "what the driver does for it, in plain words", "head back to the rear pad")
    hear: Words | None = key(Privacy.DEVICE, "what is heard or seen then", "a rising tone")


COMBINED = ("forward_left", "forward_right", "back_left", "back_right")  # commands of two movements at once
BACKWARD = ("back", "back_left", "back_right")
REVERSES = "reverse_access."  # the feature that drives back, with whatever value


class Configuration(Part):
    """What is requested."""

    method: Id | None = key(Privacy.DEVICE, "trial method that is requested", "head_pads")
    summary: Words | None = key(
        Privacy.FUNDING, "the requested control in one plain sentence", "a head array of proximity switches"
    )
    works: Words | None = key(
        Privacy.DEVICE, "how it drives, in plain words", "Head back drives forward; head to a side pad turns."
    )
    rest: Words | None = key(
        Privacy.DEVICE, "how to put it in standby and wake it", "Tap the knee switch once; a falling tone sounds."
    )
    change_waits: Words | None = key(
        Privacy.DEVICE,
        "what is done before each drive until the driver may change between driving and another device",
        "To drive, unplug the speech device with the chair off.",
    )
    swing_back: Words | None = key(
        Privacy.DEVICE,
        "how it is brought back, and what shows that it holds, where this is told apart from how it is moved away",
        "Swing it back until it clicks and the lines meet.",
    )
    swing: Words | None = key(
        Privacy.DEVICE, "how to move it away and put it back", "Press the catch, swing left; back until it clicks."
    )
    swing_looks: Literal["catch", "lever"] | None = key(
        Privacy.DEVICE,
        "what lets it swing: a catch that is pressed or a lever that is turned, for the drawing",
        "catch",
    )
    latched: bool | None = key(Privacy.DEVICE, "whether forward is latched", False)
    latched_now: Words | None = key(
        Privacy.DEVICE,
        "whether the keep-going setting is on now, and who turns it on",
        "It is off. Only the therapist turns it on.",
    )
    seat_deg: Degrees | None = key(
        Privacy.DEVICE, "tilt of the seat for driving in degrees", 5, usual=Usual(-10, 60, usual.PRACTICE)
    )
    headwear: tuple[Headwear, ...] | None = key(
        Privacy.DEVICE, "what is worn on the head while driving; empty for nothing", ["glasses"], max_length=7
    )
    worn: Words | None = key(
        Privacy.DEVICE, "what is worn every day at the parts, such as a headscarf or a thick sole", "a headscarf"
    )
    worn_checked_by: Id | None = key(Privacy.DEVICE, "who checked the parts with that on", "evaluator")
    without_reverse: Words | None = key(
        Privacy.DEVICE,
        "how a chair without reverse gets out of a place and away from a table",
        "It turns in place; at the table it parks at the open end.",
    )
    has_reverse: bool | None = key(
        Privacy.DEVICE, "whether the chair can be driven backward by anybody; false where nobody can", False
    )
    choose: Words | None = key(
        Privacy.DEVICE, "how to choose a drive setting", "Slide the switch behind the seat to training or indoor."
    )
    choose_by: ReachedBy | None = key(Privacy.DEVICE, "who reaches what changes the drive setting", "helper")
    choose_looks: Literal["slide"] | None = key(
        Privacy.DEVICE,
        "what a helper changes it with, its marks in the order of the profiles, for the drawing",
        "slide",
    )
    charge_at: Words | None = key(
        Privacy.DEVICE, "where the plug of the charger goes in", "the round socket behind the seat, on the left"
    )
    charge_full: Words | None = key(
        Privacy.DEVICE, "how one sees that the battery is full", "the light on the charger is green"
    )
    starts_in: Words | None = key(
        Privacy.DEVICE, "drive setting that is on when the power comes on", "the one at which its switch stands"
    )
    neutral_first: Words | None = key(
        Privacy.DEVICE,
        "whether drive comes back only with the control at rest, and how that was tried",
        "Only at rest: tried five times with the joystick held forward.",
    )
    external_jacks: Words | None = key(
        Privacy.DEVICE,
        "form of each jack of that device, as read off it: mono or stereo, plug or socket, and who read it",
        "two mono sockets of 3.5 mm, marked 1 and 2, read off by the supplier",
    )
    external_device: Words | None = key(
        Privacy.DEVICE,
        "plugs of the device that the drive control also works, and what each input does on it",
        "two 3.5 mm plugs: left scans, right selects",
    )
    speech_muted_by_hand: bool | None = key(
        Privacy.DEVICE, "whether somebody mutes the speech device by hand before each drive", True
    )
    chair: Chair = Chair.model_construct()
    features: tuple[ChosenFeature, ...] = many("requested features")
    items: tuple[Item, ...] = many("items of the order")
    standard_parts: tuple[StandardPart, ...] = many("standard parts of the chair, each asked about once")
    measured_from: MeasuredFrom = MeasuredFrom.model_construct()
    mounting: tuple[Mount, ...] = many("mounting record")
    switches: int | None = key(
        Privacy.DEVICE, "switches of the control in all, those for mode and power too", 4, ge=1, le=12
    )
    commands: tuple[Command, ...] = many("commands, one by one, for the drawings of the guide")
    profiles: tuple[Profile, ...] = many("drive profiles")
    settings: tuple[SetTo, ...] = many("settings of the electronics on the trial chair, those of a profile apart")
    programmable: tuple[Programmable, ...] = key(
        Privacy.DEVICE,
        "what of the control can be programmed, by the manufacturer's sheet",
        ["speed", "acceleration", "braking"],
        default=(),
        max_length=6,
    )
    stop: Stop = Stop.model_construct()

    @property
    def counts_presses(self) -> bool:
        """Whether two quick presses of a switch mean something else than one."""
        return any(entry.setting == "press_window" and not entry.is_unused for entry in self.settings)

    @property
    def is_held(self) -> bool:
        """Whether it is recorded that the chair goes only while the signal lasts."""
        return not self.is_latched and (
            self.latched is False
            or any(feature.id == "momentary_drive" for feature in self.features)
            or (bool(self.profiles) and all(profile.latched is False for profile in self.profiles))
        )

    @property
    def is_latched(self) -> bool:
        """Whether the chair can go on after the signal ends, wherever that is recorded."""
        return (
            bool(self.latched)
            or any(profile.latched for profile in self.profiles)
            or any(feature.id == "latched_drive" for feature in self.features)
        )

    @property
    def rests(self) -> bool:
        """Whether it is recorded that the control can be put in rest: by a command or by a feature."""
        return any(entry.id == "standby" for entry in self.features) or any(
            entry.does == "rest" for entry in self.commands
        )

    @property
    def wakes_in_drive(self) -> bool:
        """Whether it is in drive once the power comes on, although it can be put in rest."""
        return self.rests and self.starts_in_drive

    @property
    def starts_in_drive(self) -> bool:
        """Whether it is in drive once the power comes on."""
        return _STARTS_IN_DRIVE.match(self.starts_in or "") is not None

    @property
    def backs(self) -> bool | None:
        """Whether the driver can back up: a command or a feature does it. Not where it is recorded how they do without,
        or where the commands are listed that drive and steer and none is back; None where the list tells no driving,
        such as one of a stop alone, or a speed of reverse is recorded."""
        if any(entry.does in BACKWARD for entry in self.commands) or any(
            entry.id.startswith(REVERSES) for entry in self.features
        ):
            return True
        does = {part for entry in self.commands for part in entry.does.split("_")}
        is_known = self.without_reverse is not None or self.has_reverse is False or {"forward", "left", "right"} <= does
        return False if is_known and not any(profile.reverse_m_s for profile in self.profiles) else None

    @property
    def is_without_reverse(self) -> bool:
        """Whether the chair is recorded as one that nobody can drive backward: commands without one may be left out by
        mistake, and an adult may have what the driver lacks, so no page says it from these alone."""
        return self.backs is False and self.has_reverse is False
