"""A shelf held against one client: what is set apart and why, the rest in layers, what is open, and the reasons.

No score and no count of needs. Stages first: what can harm without an answer, what may, what nothing recorded drives;
then a partial order over the concerns of this client. What a trial showed outweighs what was expected.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from msgspec import Struct

from docgen.shelf.client import Client, Concern
from docgen.shelf.device import Shelf
from docgen.shelf.judge import Judged, asked_of, judged
from docgen.shelf.order import Grades, Places, is_above, layers, places
from docgen.shelf.set_up import MET


class Match(Struct, frozen=True):
    """Every device of a shelf against one client.

    devices     every device, by id, in the order of the shelf
    leads       stand first whatever the answers
    may_lead    could stand first under some answers, those that may yet be set apart among them
    layers      those that are not set apart, first layer first, with every unknown taken as not there; within a layer
                simplest first, the order of proof that a payer asks for
    layers_if_good  the same with every unknown taken as a good answer, without those that may harm
    open_needs  findings that call for a feature and that nothing on the shelf that is free of harm meets by itself
    questions   device -> features to ask its lender about, for the answers could change who stands first
    seen_better pairs of devices of which a trial showed the first to be better
    """

    client: Client
    shelf: Shelf
    devices: Mapping[str, Judged]
    leads: tuple[str, ...]
    may_lead: tuple[str, ...]
    layers: tuple[tuple[str, ...], ...]
    layers_if_good: tuple[tuple[str, ...], ...]
    open_needs: tuple[str, ...]
    questions: Mapping[str, tuple[str, ...]]
    seen_better: frozenset[tuple[str, str]]

    def apart(self, stage: str) -> tuple[Judged, ...]:
        """The devices of a stage, in the order of the shelf."""
        return tuple(device for device in self.devices.values() if device.stage == stage)

    def parted_by(self) -> tuple[Concern, ...]:
        """The concerns on which the devices in the layers differ; what all have alike drops out."""
        ranges = [device.grades for device in self.devices.values() if device.grades is not None]
        return tuple(
            concern
            for at, concern in enumerate(self.client.concerns)
            if len({grades[at] for own in ranges for grades in (*own.best, *own.worst)}) > 1
        )


class Reason(Struct, frozen=True):
    """Why one device stands better than another on one concern: a finding of it, and how each stands to it."""

    concern: Concern
    finding: str


class Why(Struct, frozen=True):
    """Two devices held against each other.

    for_first, for_second  concerns on which each is better, with every unknown taken as not there
    above       "first", "second", "seen_first", "seen_second" (by the trial), "equal" or "neither"
    """

    first: Judged
    second: Judged
    for_first: tuple[Reason, ...]
    for_second: tuple[Reason, ...]
    above: str


def match(
    client: Client, shelf: Shelf, seen_better: Collection[tuple[str, str]] = (), tried: Collection[str] = ()
) -> Match:
    """The shelf against the findings of one client.

    seen_better  pairs of ids of devices of which a trial showed the first to be clearly better
    tried        ids of devices that were driven in the trial: a movement for them, and for others of their kind at the
                 same sites, was seen whatever is recorded
    """
    moved = {(device.kind, device.sites) for device in shelf.devices.values() if device.id in tried}
    devices = {
        device.id: judged(client, device, shelf.stands[device.id], driven=(device.kind, device.sites) in moved)
        for device in shelf.devices.values()
    }
    ranged = [device for device in devices.values() if device.grades is not None]
    at = {device.device.id: index for index, device in enumerate(ranged)}
    pairs = frozenset(pair for pair in seen_better if all(name in at for name in pair))
    by_place = frozenset((at[better], at[worse]) for better, worse in pairs)
    ranges = [device.grades for device in ranged if device.grades is not None]
    first = places(ranges, by_place)
    in_layers = [device for device in ranged if device.stage == "layered"]
    return Match(
        client,
        shelf,
        devices,
        _simplest_first(ranged[index] for index in first.leads),
        _simplest_first(ranged[index] for index in first.may_lead),
        _layers(in_layers, [own.cautious for own in in_layers], pairs),
        _layers(in_layers, [own.best.grades for own in in_layers], pairs),
        _open_needs(client, devices),
        _questions(ranged, first),
        pairs,
    )


def _questions(ranged: Sequence[Judged], first: Places) -> dict[str, tuple[str, ...]]:
    """What to ask of the devices that could stand first, but not whatever the answers, or not before another."""
    asked = [
        ranged[index]
        for index in sorted(first.may_lead)
        if index not in first.leads or any(index in first.may_stand_above[other] for other in first.may_lead)
    ]
    return {device.device.id: asks for device in asked if (asks := asked_of(device))}


def why(result: Match, first: str, second: str) -> Why:
    """One device rather than another: the concerns on which each is better. KeyError for one that is not there."""
    pair = (result.devices[first], result.devices[second])
    client, low = result.client, [device.cautious for device in pair]
    better = _reasons(client, pair[0], pair[1], low[0], low[1])
    worse = _reasons(client, pair[1], pair[0], low[1], low[0])
    return Why(*pair, better, worse, _above(result, pair, low))


def _above(result: Match, pair: tuple[Judged, Judged], low: list[Grades]) -> str:
    names = (pair[0].device.id, pair[1].device.id)
    if names in result.seen_better:
        return "seen_first"
    if names[::-1] in result.seen_better:
        return "seen_second"
    standing = [device.stage == "layered" for device in pair]
    if standing != [True, True]:
        return "first" if standing == [True, False] else "second" if standing == [False, True] else "neither"
    if is_above(*low):
        return "first"
    return "second" if is_above(low[1], low[0]) else "equal" if low[0] == low[1] else "neither"


def _reasons(client: Client, better: Judged, worse: Judged, high: Grades, low: Grades) -> tuple[Reason, ...]:
    """The findings of each concern by which one falls behind another."""
    return tuple(
        Reason(concern, finding)
        for at, concern in enumerate(client.concerns)
        if high[at] > low[at]
        for finding in concern.findings
        if min(setup.value(finding) for setup in worse.worst) == low[at]
    )


def _layers(
    devices: list[Judged], grades: list[Grades], pairs: Collection[tuple[str, str]]
) -> tuple[tuple[str, ...], ...]:
    at = {device.device.id: index for index, device in enumerate(devices)}
    seen = [(at[better], at[worse]) for better, worse in pairs if better in at and worse in at]
    return tuple(_simplest_first(devices[index] for index in layer) for layer in layers(grades, seen))


def _simplest_first(devices: Iterable[Judged]) -> tuple[str, ...]:
    ordered = sorted(devices, key=lambda device: (device.device.order_of_proof, device.device.id))
    return tuple(device.device.id for device in ordered)


def _open_needs(client: Client, devices: Mapping[str, Judged]) -> tuple[str, ...]:
    """Needs, and movements, that some feature would answer and no device answers that is not set apart for harm; not
    those that no device alone meets."""
    safe = [device for device in devices.values() if not device.best.harms]

    def is_answered(finding: str) -> bool:
        if finding in client.able:
            return any(finding in device.best.helped for device in safe)
        return any(device.best.value(finding) == MET for device in safe)

    to_answer = (f for f in client.findings if f in client.callable and f not in client.not_by_device)
    return tuple(f for f in to_answer if not is_answered(f))
