"""How anyone stops the chair: its switches, who reaches each and where it is."""

from datetime import date
from typing import Any, Literal

from docgen.case import usual
from docgen.case.base import (
    Id,
    Part,
    Words,
    key,
)
from docgen.case.privacy import Privacy
from docgen.case.usual import Usual

# Places of a chair where a switch or lever can be, as the driver sits.
OnChair = Literal[
    "push_handle_left",
    "push_handle_right",
    "armrest_left",
    "armrest_right",
    "tray_left",
    "tray_right",
    "back_left",
    "back_right",
    "low_back_left",
    "low_back_middle",
    "low_back_right",
    "head_left",
    "head_right",
    "knee_left",
    "knee_right",
    "behind_seat",
]


ReachedBy = Literal["driver", "helper", "both"]


AfterStop = Literal["rests", "starts", "waits"]

# What a stop switch is, and how the power switch looks when it is off: a key upright is on when it is turned to the
# right, a slide that is back on when it is pushed forward.
StopLooks = Literal["button", "knob", "paddle", "bar", "lever"]
# A lever that shuts off driving points to that side while it does, and to the other while the chair drives.
SetBack = Literal["turned_right", "turned_left", "pulled"]
# another way to cut the power: a plug that is pulled out, or a switch that is turned off to that side
OtherLooks = Literal["plug", "turned_left", "turned_right"]
LockLooks = Literal["lever_left", "lever_right"]
OffLooks = Literal["key_upright", "push_out", "rocker_down", "flip_back", "toggle_down", "slide_back"]


def _pressed(switch: str) -> Any:
    """A key of the fastest speed at which a switch was pressed in a moving chair."""
    return key(
        Privacy.DEVICE,
        f"fastest speed at which the {switch} was pressed in a moving chair and stopped it, in m/s; 0 for never",
        0.3,
        ge=0,
        lt=5,
        usual=Usual(0.08, 2.8, usual.SPEED, or_none=True),
    )


class Stop(Part):
    """How anyone stops this chair."""

    driver: Words | None = key(
        Privacy.DEVICE,
        "how the driver stops it, in words that follow the client's name",
        "takes the head off the rear pad",
    )
    stop_switch: Words | None = key(
        Privacy.DEVICE, "where the stop switch is; a switch that also drives is none", "left cheek"
    )
    has_switch: bool | None = key(
        Privacy.DEVICE, "whether there is a stop switch besides the power switch; false where there is none", True
    )
    stop_switch_by: ReachedBy | None = key(Privacy.DEVICE, "who reaches the stop switch", "both")
    stop_switch_site: OnChair | None = key(
        Privacy.DEVICE, "place of the stop switch on the chair, for the drawing", "head_left"
    )
    helper_switch: Words | None = key(
        Privacy.DEVICE, "where the attendant stop switch is, if it is not the driver's", "red box on the push handle"
    )
    helper_switch_site: OnChair | None = key(
        Privacy.DEVICE, "place of the attendant stop switch on the chair, for the drawing", "push_handle_right"
    )
    helper_stops_by: Literal["own_switch", "power_switch"] | None = key(
        Privacy.DEVICE, "with what a helper stops it: a stop switch of their own, or the power switch", "own_switch"
    )
    power_off: Words | None = key(Privacy.DEVICE, "where the power switch is", "red switch, right armrest, front end")
    power_off_by: ReachedBy | None = key(Privacy.DEVICE, "who reaches the power switch", "helper")
    power_off_site: OnChair | None = key(
        Privacy.DEVICE, "place of the power switch on the chair, for the drawing", "armrest_right"
    )
    off_sign: Words | None = key(
        Privacy.DEVICE, "which way the power switch is off, and how one sees it", "pushed down; its light is out"
    )
    off_toggles: bool | None = key(
        Privacy.DEVICE, "whether the push that turns the power off turns it on again when it is off already", True
    )
    stop_looks: StopLooks | None = key(
        Privacy.DEVICE, "what the stop switch that a helper presses is, for the drawing", "button"
    )
    set_back_by: SetBack | None = key(
        Privacy.DEVICE, "how the hand sets that stop switch back, for the drawing", "turned_right"
    )
    off_looks: OffLooks | None = key(
        Privacy.DEVICE, "what the power switch is and how it stands when it is off, for the drawing", "rocker_down"
    )
    helper: Words | None = key(Privacy.DEVICE, "what a helper can do", "press the stop box on the push handle")
    set_back: Words | None = key(
        Privacy.DEVICE, "how the stop switch is set back, where it waits then", "Turn the button until it pops out."
    )
    again: Words | None = key(
        Privacy.DEVICE,
        "what makes it drive again after the stop switch",
        "With no puff or sip, hold the cheek switch for two seconds.",
    )
    after_stop: AfterStop | None = key(
        Privacy.DEVICE,
        "after the stop switch: only in standby, and a command wakes it; set back under a command, starts or waits",
        "waits",
    )
    held_press: Literal["stays", "drives"] | None = key(
        Privacy.DEVICE,
        "the driver's stop switch held on after it has stopped the chair: it stays stopped, or is set back to drive",
        "stays",
    )
    held_press_on: date | None = key(Privacy.DEVICE, "date the held press was tried", date(2026, 3, 6))
    held_press_by: Id | None = key(Privacy.DEVICE, "who tried it", "evaluator")
    holds_seat: bool | None = key(
        Privacy.DEVICE, "whether the stop switch, pressed, holds the seat too, until it is let out", False
    )
    more_presses: Words | None = key(
        Privacy.DEVICE,
        "what quick presses right after the one that stops do, where presses are counted, and how that was tried",
        "Three quick presses leave it in standby: tried five times.",
    )
    told_apart: Words | None = key(
        Privacy.DEVICE,
        "how a signal that stops the chair is told apart from the same one as a command, and what stops that command",
        "A sip that stopped it backs nothing up. While it backs up, the end of the sip stops it.",
    )
    told_apart_test: Words | None = key(
        Privacy.DEVICE,
        "what a test of that signal shows, where it is not that the chair stands and nothing starts",
        "A hard sip at full speed ends the drive; held on for two seconds more, it backs the chair up.",
    )
    passed_on: date | None = key(
        Privacy.DEVICE, "date every stop of the delivered chair was last tried and passed", date(2026, 8, 3)
    )
    drive_off: Words | None = key(
        Privacy.DEVICE,
        "what turns the drive off and leaves the seat working, if there is anything",
        "green lever on the back of the chair, turned to the left",
    )
    drive_off_site: OnChair | None = key(
        Privacy.DEVICE, "place of what turns the drive off, for the drawing", "back_left"
    )
    backing: Words | None = key(
        Privacy.DEVICE,
        "how the driver stops it while it backs up, and when that was tried",
        "Lifts the toes and leans the foot out. Tried ten times, 2026-03-06.",
    )
    brakes: Words | None = key(
        Privacy.DEVICE,
        "what the brakes do when the power is off or cut, and whether that was tried on a slope",
        "They lock by themselves. Not tried on a slope.",
    )
    drive_off_looks: LockLooks | None = key(
        Privacy.DEVICE, "where what shuts off driving points, seen from behind, for the drawing", "lever_left"
    )
    other_way: Words | None = key(
        Privacy.DEVICE,
        "another way to cut the power, when neither switch stops it",
        "pull the battery plug behind the seat",
    )
    other_way_by: ReachedBy | None = key(Privacy.DEVICE, "who reaches that other way", "helper")
    other_way_looks: OtherLooks | None = key(
        Privacy.DEVICE, "what that other way is, and how the hand brings it to off, for the drawing", "plug"
    )
    other_way_site: OnChair | None = key(
        Privacy.DEVICE, "place of that other way on the chair, for the drawing", "low_back_middle"
    )
    switch_pressed_m_s: float | None = _pressed("driver's own stop or mode switch")
    helper_pressed_m_s: float | None = _pressed("attendant stop switch")
    power_pressed_m_s: float | None = _pressed("power switch")
    arm_reaches_power: bool | None = key(
        Privacy.DEVICE, "whether an arm that moves by itself was seen to strike the power switch", False
    )
    freewheel: Words | None = key(
        Privacy.DEVICE, "where the brake release levers are", "two levers under the seat, both sides"
    )
    levers_roll: Literal["down", "up"] | None = key(
        Privacy.DEVICE, "which way the brake release levers point when they are set to roll", "down"
    )
    freewheel_site: OnChair | None = key(
        Privacy.DEVICE, "place of the brake release levers on the chair, for the drawing", "behind_seat"
    )

    @property
    def is_behind(self) -> bool:
        """Whether the switch that a helper stops the chair with is behind it: on a way up, below it."""
        return (self.at_hand[1] or "").startswith(("push_handle", "back_", "behind_", "low_back"))

    @property
    def at_hand(self) -> tuple[str | None, str | None]:
        """The stop switch that a helper presses, and its place: one of their own if there is one.

        A switch that only puts the control in standby, from which a signal wakes it, is none, nor is one that the
        driver alone reaches. The power switch is told as that: pressed as both, it would switch the chair on again.
        """
        if self.helpers_own:
            return self.helpers_own, self.helper_switch_site
        if self.after_stop == "rests" or self.stop_switch_by == "driver":
            return None, None
        if self.power_is_helpers_stop and self.stop_switch_by is None:
            return None, None
        return self.stop_switch, self.stop_switch_site

    @property
    def power_side(self) -> str:
        """The side of the chair that the power switch is on, "left" or "right"; empty where it is at none."""
        last = (self.power_off_site or "").rpartition("_")[2]
        return last if last in ("left", "right") else ""

    @property
    def helpers_own(self) -> str | None:
        """Where a stop switch of a helper's own is; None where what is recorded as that is the power switch."""
        return None if self.power_is_helpers_stop else self.helper_switch

    @property
    def power_for_helpers(self) -> str | None:
        """Where the power switch is, for whoever helps; None where it is recorded as one that the driver alone
        reaches."""
        return None if self.power_off_by == "driver" else self.power_off

    @property
    def power_is_helpers_stop(self) -> bool:
        """Whether a helper's stop is the power switch: pressed as both, it would switch the chair on again."""
        return self.helper_stops_by == "power_switch"

    @property
    def drivers_own(self) -> tuple[str | None, str | None]:
        """The driver's stop switch and its place, where a helper has another or does not reach it; else nothing."""
        stop, site = self.stop_switch, self.stop_switch_site
        if self.helpers_own is not None:
            is_drivers = self.stop_switch_by in ("driver", "both")
        else:
            is_drivers = self.stops and self.at_hand[0] is None
        return (stop, site) if is_drivers else (None, None)

    @property
    def second(self) -> tuple[str | None, str | None]:
        """A stop switch besides the helper's that is not known to be the driver's, and its place; else nothing."""
        is_second = self.helpers_own is not None and self.stop_switch_by in ("helper", None) and self.stops
        return (self.stop_switch, self.stop_switch_site) if is_second else (None, None)

    @property
    def stops(self) -> bool:
        """Whether there is a stop switch, and not one that only puts the control in standby."""
        return bool(self.stop_switch) and self.after_stop != "rests"

    @property
    def is_power_alone(self) -> bool:
        """Whether a helper is known to stop it by the power switch alone."""
        known = self.has_switch is False or self.after_stop == "rests" or self.power_is_helpers_stop
        return self.at_hand[0] is None and (known or self.drivers_own[0] is not None)
