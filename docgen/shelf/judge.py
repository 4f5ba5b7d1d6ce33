"""One device held against the findings of one client: what harms, what contraindicates it, what it meets.

What may be set up or left off is: a feature that a device can have is used unless a finding of this client
contraindicates it, or unless it is what another feature must not go without. What is not known is tried both ways.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache, cached_property
from itertools import compress, product
from typing import Literal

from msgspec import Struct

from docgen.fit.alternatives import kinds
from docgen.shelf.client import Client, Movement, Table, cautions, movement
from docgen.shelf.device import Device, Stated
from docgen.shelf.order import Grades, Range

AGAINST, OPEN, HELPED, MET = range(4)
_MOST_TRIED = 4  # features unknown that both help and harm, tried in each combination; of more a wider range is given

Standing = Literal["harms", "against", "guarded", "meets", "uses", "helps", "leaves_alone", "open", "unknown"]
Stage = Literal["harm", "harm_unknown", "movement", "layered"]


class Harm(Struct, frozen=True):
    """Something that can hurt this client: a feature (None: the site of its kind), why, and the finding of it.

    lacks  features of which the device would need one, where it is that it goes without
    """

    feature: str | None
    finding: str | None
    risk: str
    lacks: tuple[str, ...] = ()


class Guard(Struct, frozen=True):
    """A harm that the device as set up has an answer to: the feature, why, its finding, and what answers it.

    by  features in use that answer it; none where the answer is one that the case records
    """

    feature: str
    finding: str
    risk: str
    by: tuple[str, ...]


class SetUp(Struct, frozen=True, dict=True):
    """A device as it would be set up for this client.

    on       features that would be used
    harms    what is left that can hurt
    met      findings that something which it has meets by itself
    """

    client: Client
    device: Device
    table: Table
    on: frozenset[str]
    harms: tuple[Harm, ...]
    met: frozenset[str]

    @cached_property
    def helped(self) -> frozenset[str]:
        """Findings that call for something which it has, those that are met among them."""
        called = self.table.called
        return frozenset().union(*(called[name] for name in self.on if name in called))

    @cached_property
    def sites(self) -> frozenset[str]:
        """Sites of the body that it depends on."""
        return depends_on(self.device.kind, self.device.sites)

    @cached_property
    def guards(self) -> tuple[Guard, ...]:
        """Harms of the findings that what is in use brings with it, and that something in use answers."""
        return tuple(dict.fromkeys(_guards(self.client, self.on)))

    @cached_property
    def left_off(self) -> tuple[Harm, ...]:
        """Ways of reverse that can hurt and are left off, where that leaves none: reverse is reached another way."""
        lost = [name for choice in self.device.choices if self.on.isdisjoint(choice) for name in choice]
        return tuple(
            Harm(name, risk.finding, risk.risk)
            for name in lost
            if name in self.table.unsafe
            for risk in self.table.risks[name]
            if risk.safety
        )

    @cached_property
    def spoken(self) -> frozenset[str]:
        """Findings that speak against it; those of a harm that has an answer are among them."""
        return frozenset(by for _, by, _ in _spoken(self.client, self.device, self.table, self.on))

    def value(self, finding: str) -> int:
        """The grade on one finding: something speaks against it, a need is left open, helped and no more, or the rest.

        A movement that is not the one used leaves no need open, and neither does a site that the device leaves alone.
        """
        if finding in self.spoken:
            return AGAINST
        if finding in self.met or finding in self.client.able or finding not in self.client.callable:
            return MET
        site = self.client.site[finding]
        if site is not None and site not in self.sites:
            return MET
        return HELPED if finding in self.helped else OPEN

    def reached(self, finding: str) -> int:
        """How far a finding is met by what it has, whatever speaks against it."""
        return MET if finding in self.met else HELPED if finding in self.helped else OPEN

    @cached_property
    def grades(self) -> Grades:
        """A grade for each concern: that of its weakest finding."""
        return tuple(min(map(self.value, concern.findings)) for concern in self.client.concerns)

    def meets(self, finding: str) -> tuple[str, ...]:
        """Features in use that a finding calls for."""
        return tuple(name for name in sorted(self.on) if finding in self.table.called.get(name, ()))

    def called_by(self, feature: str) -> tuple[str, ...]:
        """Findings that call for a feature, in their order; none for one that is not in use."""
        calling = self.table.called.get(feature, frozenset()) if feature in self.on else frozenset()
        return tuple(finding for finding in self.client.findings if finding in calling)

    def against(self, finding: str) -> tuple[tuple[str | None, str], ...]:
        """What speaks against it by a finding: the feature (None: its site), and what could go wrong."""
        return tuple(
            (name, risk) for name, by, risk in _spoken(self.client, self.device, self.table, self.on) if by == finding
        )


class Answered(Struct, frozen=True):
    """A device as it would be set up under the answers that leave it lowest, and under those that leave it highest.

    all_tried  whether these are all there are; else the features in doubt were left off all together, and all there,
               and for the lowest each that must not go without another was there by itself
    """

    worst: tuple[SetUp, ...]
    highest: tuple[SetUp, ...]
    all_tried: bool


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


@cache
def depends_on(kind: str, sites: tuple[str, ...]) -> frozenset[str]:
    """Sites of the body that a device of this kind depends on; one at the chin needs the head as well."""
    simpler = kinds().get(kind) if kind != "other_control" else None
    return frozenset(sites).union(simpler.sites if simpler else ())


def judged(client: Client, device: Device, stated: Stated, *, driven: bool = False) -> Judged:
    """The device held against the findings; pure, and the same whatever the order of anything.

    driven  whether this client has driven it, so that a movement for it was seen whatever is recorded
    """
    best = _set_up(client, device, stated, can_have=_bearing(client, device, stated))
    moved, moved_by = movement(client, device)
    return Judged(client, device, stated, moved, moved_by, driven, best)


def asked_of(device: Judged) -> tuple[str, ...]:
    """Features of which nobody has said whether the device has them and on which its stage or its grades depend."""
    client, stated = device.client, device.stated
    unknown = _bearing(client, device.device, stated)

    def outcome(has: Iterable[str] = (), can_have: Iterable[str] = ()) -> tuple[bool, Grades]:
        setup = _set_up(client, device.device, stated, has, can_have)
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
    table, unknown = client.table(stated.sites), _bearing(client, device, stated)
    if not unknown:
        return Answered((best,), (best,), all_tried=True)
    ill = [name for name in unknown if name in table.risks or name in table.must or name in table.should]
    answers = _answers(device, stated, table)
    # what must not go without something brings that along, and its good with it
    both = [name for name in ill if name in table.called or name in answers or name in table.must]
    only_ill = [name for name in ill if name not in both]
    helps = [name for name in unknown if name not in ill]
    all_tried = len(both) <= _MOST_TRIED
    combined = product((False, True), repeat=len(both)) if all_tried else [(False,) * len(both), (True,) * len(both)]
    there = [[*compress(both, each)] for each in combined]
    # between none and all there, a feature without what it must not go without can hurt
    alone = [] if all_tried else [[name] for name in both if name in table.must]
    return Answered(
        tuple(_set_up(client, device, stated, has=[*only_ill, *names]) for names in (*there, *alone)),
        tuple(_set_up(client, device, stated, has=names, can_have=helps) for names in there),
        all_tried,
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


def _set_up(
    client: Client, device: Device, stated: Stated, has: Iterable[str] = (), can_have: Iterable[str] = ()
) -> SetUp:
    """The device with what it always has and the best use of what it can have."""
    table, always = client.table(stated.sites), stated.always.union(has)
    unsafe = _unanswered(table, device)
    usable = stated.optional.union(can_have) - unsafe - always
    choices = [[name for name in choice if name not in unsafe] for choice in device.choices]
    while True:  # what must not go without something that cannot be had falls away
        pool = always.union(usable, *choices)
        fallen = {name for name in table.must if name in pool and name not in always and _lacks(table, name, pool)}
        if not fallen:
            break
        usable -= fallen
        choices = [[name for name in choice if name not in fallen] for choice in choices]
    on = _used(table, always, usable, stated, choices)
    harms = tuple(dict.fromkeys(_harms(client, device, table, always & (unsafe | table.must.keys()), choices, pool)))
    met = frozenset().union(*(table.meeting[name] for name in on if name in table.meeting))
    return SetUp(client, device, table, on, harms, met)


def _unanswered(table: Table, device: Device) -> frozenset[str]:
    """Features that can hurt and whose harm the device does not answer itself."""
    if not device.answers:
        return table.unsafe
    return frozenset(
        name
        for name in table.unsafe
        if any(risk.safety and risk.finding not in device.answers for risk in table.risks[name])
    )


def _used(
    table: Table, always: frozenset[str], usable: frozenset[str], stated: Stated, choices: list[list[str]]
) -> frozenset[str]:
    """Features that would be used: always there, clean ones that can be had, and what those must not go without.

    Of several that answer a need at a price, the one that the feature names first is used, a stated one before others.
    """
    on = always | (usable - table.risks.keys())
    for choice in choices:
        clean = {name for name in choice if name not in table.risks and not _lacks(table, name, on.union(choice))}
        on |= clean or {*choice}
    while True:
        lacking = (need for name in table.must if name in on for need in table.must[name] if on.isdisjoint(need.any_of))
        answers = [
            sorted((name for name in need.any_of if name in usable), key=lambda name: name not in stated.optional)
            for need in lacking
        ]
        if not any(answers):
            return on
        on |= {answer[0] for answer in answers if answer}


def _lacks(table: Table, name: str, pool: frozenset[str]) -> bool:
    """Whether a feature must not go without something that is not there."""
    return any(pool.isdisjoint(need.any_of) for need in table.must.get(name, ()))


def _harms(
    client: Client,
    device: Device,
    table: Table,
    always: Iterable[str],
    choices: list[list[str]],
    pool: frozenset[str],
) -> Iterator[Harm]:
    """What can hurt and has no answer: of what is always there, and of a choice of which nothing is left.

    A way of reverse is left off instead: reverse can be reached another way.
    """
    lost = [
        name
        for left, choice in zip(choices, device.choices, strict=True)
        if not left
        for name in choice
        if client.known[name].part != "reverse"
    ]
    for name in (*sorted(always), *lost):
        for risk in table.risks.get(name, ()):
            if risk.safety and risk.finding not in device.answers and name not in client.answered:
                yield Harm(name, risk.finding, risk.risk)
        for need in table.must.get(name, ()):
            if pool.isdisjoint(need.any_of):
                present = [finding for finding in need.when if finding in client.site]
                yield from (Harm(name, finding, need.risk, need.any_of) for finding in present or (None,))
    for risk in client.against_kind(device):
        if risk.safety and risk.finding not in device.answers:
            yield Harm(None, risk.finding, risk.risk)


def _guards(client: Client, on: frozenset[str]) -> Iterator[Guard]:
    """Safety needs of what is in use, brought by a finding, that something in use or a recorded answer meets."""
    for name in sorted(on):
        for need in client.known[name].needs:
            by = tuple(other for other in need.any_of if other in on)
            if need.safety and (by or name in client.answered):
                yield from (Guard(name, finding, need.risk, by) for finding in need.when if finding in client.site)


def _spoken(client: Client, device: Device, table: Table, on: frozenset[str]) -> Iterator[tuple[str | None, str, str]]:
    """What speaks against the device as set up, harms with an answer among it: feature, finding, what can go wrong."""
    for name in sorted(on):
        yield from ((name, risk.finding, risk.risk) for risk in table.risks.get(name, ()))
        for need in table.should.get(name, ()):
            if on.isdisjoint(need.any_of):
                yield from ((name, finding, need.risk) for finding in need.when if finding in client.site)
    yield from ((None, risk.finding, risk.risk) for risk in client.against_kind(device))
