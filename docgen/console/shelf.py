"""What `docgen shelf` prints: each device, and what to ask about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from docgen.console.features import wrapped
from docgen.criteria.sentences import capital, counted, day, listed
from docgen.documents.matched import from_words, stated_besides
from docgen.fit.feature import features
from docgen.shelf.device import Device, Shelf
from docgen.shelf.doubts import Doubt, doubts


def shelf_text(shelf: Shelf, today: date) -> str:
    """The devices of a shelf in its order, simplest question last."""
    asked = list(doubts(shelf, today))
    lines = [f"{capital(shelf.name)}: {counted(len(shelf.devices), 'device', 'devices')}"]
    for device in shelf.devices.values():
        lines += ["", *_device(shelf, device)]
        lines += [line for doubt in asked if doubt.device is device for line in wrapped(f"? {_asks(doubt)}", 4)]
    if not asked:
        lines += ["", "Nothing is unknown that decides something, and each was checked within a year."]
    lines += ["", "Hold it against a client: docgen fit CASE --shelf FILE"]
    return "\n".join(lines)


def _device(shelf: Shelf, device: Device) -> Iterator[str]:
    yield from wrapped(f"{device.id}: {device.name}", 2)
    states = shelf.stands[device.id]
    yield from wrapped(f"driven by: {listed(device.sites)}; {_names(device.drives or ())}", 4)
    yield from wrapped(f"has: {_names(device.has)}", 4) if device.has else ()
    for choice in device.choices:
        yield from wrapped(f"one of: {_names(choice, 'or')}", 4)
    yield from wrapped(f"can have: {_names(sorted(states.optional - set(shelf.with_any)))}", 4)
    if measures := [words for words in _measures(device) if words]:
        yield from wrapped("; ".join(measures), 4)
    for words in (*device.limits, *stated_besides(device)):
        yield from wrapped(words, 4)
    yield from wrapped(f"from: {from_words(device)}", 4)


def _measures(device: Device) -> Iterator[str]:
    yield f"{device.force_g:g} g to act" if device.force_g is not None else ""
    yield f"{device.travel_mm:g} mm of travel" if device.travel_mm is not None else ""
    yield f"senses at {device.sensing_mm:g} mm" if device.sensing_mm is not None else ""
    yield f"{device.range_deg:g} degrees" if device.range_deg is not None else ""
    yield counted(device.switches, "switch", "switches") if device.switches is not None else ""
    yield counted(device.parts, "part", "parts") if device.parts is not None else ""
    yield f"adds {device.adds_width_mm:g} mm to the width" if device.adds_width_mm is not None else ""


def _names(ids: Iterable[str], last: str = "and") -> str:
    return listed((features()[name].name for name in ids), last)


def _asks(doubt: Doubt) -> str:
    if doubt.about == "old":
        return f"Checked more than a year ago, on {day(doubt.device.checked_on)}." if doubt.device.checked_on else ""
    return {
        "not_checked": "Not checked, or not stated when: checked_on.",
        "not_yet": "Checked on a day that is still to come.",
        "not_lent": "Nobody is named who lends it: lent_by.",
        "drives_unknown": "What drives it is not stated: drives.",
        "harm": f"Not known, and it can hurt somebody: {_names(doubt.features)}.",
        "parts": f"Not known, and it parts it from another: {_names(doubt.features)}.",
    }[doubt.about]
