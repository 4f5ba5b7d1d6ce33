"""One device as it would be set up for one client: what would be used, what is left that can hurt, what it meets.

What may be set up or left off is: a feature that a device can have is used unless a finding of this client
contraindicates it, or unless it is what another feature must not go without.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache, cached_property

from msgspec import Struct

from docgen.fit.alternatives import kinds
from docgen.shelf.client import Client, Table
from docgen.shelf.device import Device, Stated
from docgen.shelf.order import Grades

AGAINST, OPEN, HELPED, MET = range(4)


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


@cache
def depends_on(kind: str, sites: tuple[str, ...]) -> frozenset[str]:
    """Sites of the body that a device of this kind depends on; one at the chin needs the head as well."""
    simpler = kinds().get(kind) if kind != "other_control" else None
    return frozenset(sites).union(simpler.sites if simpler else ())


def set_up(
    client: Client, device: Device, stated: Stated, has: Iterable[str] = (), can_have: Iterable[str] = ()
) -> SetUp:
    """The device with what it always has and the best use of what it can have.

    has, can_have  features taken to be there always, or when wanted, besides those that are stated
    """
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
