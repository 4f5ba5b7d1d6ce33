"""What to ask about a shelf itself: checks that are old or lacking, and features unknown that decide something."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Literal

from msgspec import Struct

from docgen.fit.feature import features
from docgen.shelf.device import Device, Shelf

OLD = timedelta(days=365)

Doubted = Literal["old", "not_checked", "not_yet", "not_lent", "drives_unknown", "harm", "parts"]


class Doubt(Struct, frozen=True):
    """One thing to ask about a device.

    about     "old": checked over a year ago; "not_checked"; "not_yet": checked on a day to come; "not_lent": nobody is
              named who lends it; "drives_unknown"; "harm": a feature unknown that could hurt somebody, there or not
              there; "parts": one that parts it from another device of the shelf
    features  those it is about
    """

    device: Device
    about: Doubted
    features: tuple[str, ...] = ()


def doubts(shelf: Shelf, today: date) -> Iterator[Doubt]:
    """What to ask, device by device, in the order of the shelf."""
    for device in shelf.devices.values():
        if device.checked_on is None:
            yield Doubt(device, "not_checked")
        elif device.checked_on > today:
            yield Doubt(device, "not_yet")
        elif today - device.checked_on > OLD:
            yield Doubt(device, "old")
        if device.lent_by is None:
            yield Doubt(device, "not_lent")
        if device.drives is None:
            yield Doubt(device, "drives_unknown")
        harm = tuple(name for name in shelf.stands[device.id].unknown if _can_hurt(shelf, device, name))
        parts = tuple(
            name for name in shelf.stands[device.id].unknown if name not in harm and _parts(shelf, device, name)
        )
        if harm:
            yield Doubt(device, "harm", harm)
        if parts:
            yield Doubt(device, "parts", parts)


def _can_hurt(shelf: Shelf, device: Device, name: str) -> bool:
    """Whether a feature can hurt somebody, or something of the device can that must not go without it."""
    named = shelf.stands[device.id]
    without = (need for other in named.always | named.optional for need in features()[other].needs if need.safety)
    return any(name in need.any_of for need in without) or any(
        risk.safety for risk in features()[name].spoken_against_by
    )


def _parts(shelf: Shelf, device: Device, name: str) -> bool:
    """Whether another device of the shelf says that it has the feature, or has it not."""
    return any(
        name in {feature for _, feature in other.stated()} for other in shelf.devices.values() if other is not device
    )
