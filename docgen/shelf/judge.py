"""One device held against the findings of one client: where it stands, and what its grades can be.

What is not known of a device is tried both ways: `set_up.py` sets it up under each of the answers.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from itertools import compress, product
from typing import Literal

from msgspec import Struct

from docgen.shelf.client import Client, Movement, Table, cautions, movement
from docgen.shelf.device import Device, Stated
from docgen.shelf.order import Grades, Range
from docgen.shelf.set_up import AGAINST, Harm, SetUp, set_up

_MOST_TRIED = 4  # features unknown that both help and harm, tried in each combination; of more a wider range is given

Standing = Literal["harms", "against", "guarded", "meets", "uses", "helps", "leaves_alone", "open", "unknown"]
Stage = Literal["harm", "harm_unknown", "movement", "layered"]


class Answered(Struct, frozen=True):
    """A device as it would be set up under the answers that leave it lowest, and under those that leave it highest.

    all_tried  whether these are all there are; else the features in doubt were left off all together, and all there,
               and for the lowest each that must not go without another was there by itself
    """

    worst: tuple[SetUp, ...]
    highest: tuple[SetUp, ...]
    all_tried: bool


class InDoubt(Struct, frozen=True):
    """Features that bear on this client and of which nobody has said whether the device has them, by what they do."""

    helps: tuple[str, ...]
    harms: tuple[str, ...]
    both: tuple[str, ...]


class Judged(Struct, frozen=True, dict=True):
    """A device and one client.

    movement  whether a movement is recorded for it, and `moved_by` the findings that say so
    driven    whether this client has driven it
    best      as it would be set up if every answer is a good one
    """

    client: Client
    device: Device
    stated: Stated
    movement: Movement
    moved_by: tuple[str, ...]
    driven: bool
    best: SetUp

    @cached_property
    def stage(self) -> Stage:
        """ "movement": nothing recorded drives it; "harm": can hurt, without an answer; "harm_unknown": nobody knows;
        "layered": it stands in the layers. What the record says does not move comes before harm: it cannot be used."""
        if self.movement == "none" and not self.driven:
            return "movement"
        if self.best.harms:
            return "harm"
        if self.device.drives is None:
            return "harm_unknown"
        if self.movement != "recorded" and not self.driven:
            return "movement"
        return "harm_unknown" if self.may_harm else "layered"

    @cached_property
    def worst(self) -> tuple[SetUp, ...]:
        """As it would be set up under the answers that leave it lowest."""
        return self._answered.worst

    @cached_property
    def grades(self) -> Range | None:
        """What its grades can be; None where it is set apart for good."""
        if self.stage not in ("layered", "harm_unknown"):
            return None
        answers = self._answered
        low = [setup.grades for setup in answers.worst if not setup.harms] or [self.best.grades]
        high = [setup.grades for setup in (self.best, *answers.highest) if not setup.harms]
        if not answers.all_tried:
            low, high = [tuple(map(min, zip(*low, strict=True)))], [_at_most(self.client, *answers.highest)]
        return Range(tuple(dict.fromkeys(high)), tuple(dict.fromkeys(low)), self.stage == "layered")

    @property
    def cautious(self) -> Grades:
        """The lowest that any answer leaves, concern by concern."""
        return tuple(map(min, zip(*(setup.grades for setup in self.worst), strict=True)))

    @property
    def may_harm(self) -> tuple[Harm, ...]:
        """What can hurt under some answers."""
        return tuple(dict.fromkeys(harm for setup in self.worst for harm in setup.harms))

    @property
    def cautions(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What is told of it by its site, whatever its stage, each with the findings of this client that make it so."""
        at_sites = [caution for caution in cautions() if caution.sites.intersection(self.device.sites)]
        causes = [tuple(f for f in self.client.findings if f in caution.findings) for caution in at_sites]
        return tuple((caution.says, by) for caution, by in zip(at_sites, causes, strict=True) if by)

    @cached_property
    def _answered(self) -> Answered:
        return _answered(self.client, self.device, self.stated, self.best)

    def standing(self, finding: str) -> Standing:
        """How the device stands to one finding."""
        if any(harm.finding == finding for harm in self.best.harms):
            return "harms"
        low = min(setup.value(finding) for setup in self.worst)
        high = max(setup.value(finding) for setup in (self.best, *self._answered.highest))
        if low != high or any(harm.finding == finding for harm in self.may_harm):
            return "unknown"
        if high == AGAINST:
            return "against"
        if finding in self.client.able:
            return "uses" if finding in self.best.helped else "open"
        if self.client.site[finding] not in (None, *self.best.sites):
            return "leaves_alone"
        if any(guard.finding == finding for guard in self.best.guards):
            return "guarded"
        if finding in self.best.met:
            return "meets"
        return "helps" if finding in self.best.helped else "open"


def judged(client: Client, device: Device, stated: Stated, *, driven: bool = False) -> Judged:
    """The device held against the findings; pure, and the same whatever the order of anything.

    driven  whether this client has driven it, so that a movement for it was seen whatever is recorded
    """
    best = set_up(client, device, stated, can_have=_bearing(client, device, stated))
    moved, moved_by = movement(client, device)
    return Judged(client, device, stated, moved, moved_by, driven, best)


def asked_of(device: Judged) -> tuple[str, ...]:
    """Features of which nobody has said whether the device has them and on which its stage or its grades depend."""
    client, stated = device.client, device.stated
    unknown = _bearing(client, device.device, stated)

    def outcome(has: Iterable[str] = (), can_have: Iterable[str] = ()) -> tuple[bool, Grades]:
        setup = set_up(client, device.device, stated, has, can_have)
        return bool(setup.harms), setup.grades

    def matters(name: str) -> bool:
        others = [other for other in unknown if other != name]
        return len({outcome((), others), outcome((), unknown), outcome([name], others)}) > 1 or (
            len({outcome(), outcome((), [name]), outcome([name])}) > 1
        )

    return tuple(filter(matters, unknown))


def _answered(client: Client, device: Device, stated: Stated, best: SetUp) -> Answered:
    """A feature that only helps is lowest when it is not there, one that only harms when it always is; those that do
    both are tried in each combination."""
    unknown = _bearing(client, device, stated)
    if not unknown:
        return Answered((best,), (best,), all_tried=True)
    table = client.table(stated.sites)
    doubt = _in_doubt(unknown, device, stated, table)
    all_tried = len(doubt.both) <= _MOST_TRIED
    there = _combinations(doubt.both) if all_tried else [(), doubt.both]
    # between none and all there, a feature without what it must not go without can hurt
    alone = [] if all_tried else [(name,) for name in doubt.both if name in table.must]
    return Answered(
        tuple(set_up(client, device, stated, has=[*doubt.harms, *names]) for names in (*there, *alone)),
        tuple(set_up(client, device, stated, has=names, can_have=doubt.helps) for names in there),
        all_tried,
    )


def _combinations(names: tuple[str, ...]) -> list[tuple[str, ...]]:
    return [tuple(compress(names, chosen)) for chosen in product((False, True), repeat=len(names))]


def _in_doubt(unknown: tuple[str, ...], device: Device, stated: Stated, table: Table) -> InDoubt:
    """What must not go without something brings that along, and its good with it: it does both."""
    answers = _answers(device, stated, table)
    ill = [name for name in unknown if name in table.risks or name in table.must or name in table.should]
    both = [name for name in ill if name in table.called or name in answers or name in table.must]
    return InDoubt(
        helps=tuple(name for name in unknown if name not in ill),
        harms=tuple(name for name in ill if name not in both),
        both=tuple(both),
    )


def _at_most(client: Client, without: SetUp, with_all: SetUp) -> Grades:
    """Grades that no answers exceed: of each finding the higher of both, and met where something may meet it."""

    def value(finding: str) -> int:
        high = max(without.value(finding), with_all.value(finding))
        return high if high == AGAINST else max(high, with_all.reached(finding))

    return tuple(min(map(value, concern.findings)) for concern in client.concerns)


def _answers(device: Device, stated: Stated, table: Table) -> frozenset[str]:
    """Features that something of the device, stated or unknown, must not go without."""
    named = stated.always.union(stated.optional, stated.unknown, *device.choices)
    needs = (need for each in (table.must, table.should) for name in each if name in named for need in each[name])
    return frozenset(name for need in needs for name in need.any_of)


def _bearing(client: Client, device: Device, stated: Stated) -> tuple[str, ...]:
    """Those of the unknown features that bear on this client: called for, spoken against, or of a need."""
    if not stated.unknown:
        return ()
    table = client.table(stated.sites)
    bears = {*table.called, *table.risks, *table.must, *table.should} | _answers(device, stated, table)
    return tuple(name for name in stated.unknown if name in bears)
