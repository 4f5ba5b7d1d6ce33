"""The findings of one client as the table of features reads them: calls for a feature, and contraindications to it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from functools import cache, cached_property
from pathlib import Path
from typing import Literal

from msgspec import Struct

from docgen.case.model import Case
from docgen.fit.alternatives import kinds
from docgen.fit.feature import Against, Feature, Need
from docgen.fit.finding import finding_name, is_ability
from docgen.fit.match import against, features_of, site_of
from docgen.shelf.device import Device, sites_of
from docgen.shipped import tables_of


class Concern(Struct, frozen=True):
    """What several findings are about; they make one criterion."""

    id: str
    name: str
    findings: tuple[str, ...]


class Table(Struct, frozen=True):
    """What the table of features says of this client and of devices that these sites drive.

    risks    feature -> what speaks against it; features with nothing against them are left out, here and below
    unsafe   features with a contraindication that can hurt, whatever answers it
    called   feature -> findings that call for it; a movement only where it is one of these sites
    meeting  feature -> those of them that it meets by itself; with the others it only helps
    must     feature -> what it must not go without, or someone can be hurt
    should   feature -> what else it must not go without
    """

    risks: Mapping[str, tuple[Against, ...]]
    unsafe: frozenset[str]
    called: Mapping[str, frozenset[str]]
    meeting: Mapping[str, frozenset[str]]
    must: Mapping[str, tuple[Need, ...]]
    should: Mapping[str, tuple[Need, ...]]


class Client(Struct, frozen=True, dict=True):
    """The findings, and what the table of features says of each.

    known     every feature, with what findings of the therapist's own bring
    called    feature -> findings of this client that call for it
    callable  findings that call for some feature at all
    answered  features for which the case records how their contraindications are answered
    own       findings of the therapist's own
    """

    findings: tuple[str, ...]
    known: Mapping[str, Feature]
    called: Mapping[str, frozenset[str]]
    callable: frozenset[str]
    answered: frozenset[str]
    own: frozenset[str]

    @cached_property
    def able(self) -> frozenset[str]:
        """Findings that are movements to use."""
        return frozenset(filter(is_ability, self.findings))

    @cached_property
    def site(self) -> Mapping[str, str | None]:
        """Finding -> the site of the body it is about; None for the whole person."""
        return {finding: site_of(finding) for finding in self.findings}

    def table(self, sites: frozenset[str]) -> Table:
        """What holds of devices driven by these sites, worked out once."""
        tables: dict[frozenset[str], Table] = self.__dict__.setdefault("_tables", {})
        if sites not in tables:
            tables[sites] = self._table(sites)
        return tables[sites]

    def _table(self, sites: frozenset[str]) -> Table:
        present = frozenset(self.findings)
        elsewhere = frozenset(finding for finding in self.able if self.site[finding] not in sites)
        risks = {
            name: risks_of for name, feature in self.known.items() if (risks_of := against(feature, present, sites))
        }
        unsafe = {name for name, each in risks.items() if any(risk.safety for risk in each)}
        called = {name: calling - elsewhere for name, calling in self.called.items() if calling - elsewhere}
        meeting = {name: calling - self.only_helped.get(name, frozenset()) for name, calling in called.items()}
        return Table(
            risks,
            frozenset(unsafe - self.answered),
            called,
            {name: calling for name, calling in meeting.items() if calling},
            self._needs(present, safety=True),
            self._needs(present, safety=False),
        )

    def _needs(self, present: frozenset[str], *, safety: bool) -> dict[str, tuple[Need, ...]]:
        """What features must not go without for this client: where someone can be hurt, or the rest."""
        needs = {
            name: tuple(
                need
                for need in feature.needs
                if bool(need.safety) is safety and (not need.when or present.intersection(need.when))
            )
            for name, feature in self.known.items()
            if name not in self.answered
        }
        return {name: each for name, each in needs.items() if each}

    @cached_property
    def only_helped(self) -> Mapping[str, frozenset[str]]:
        """Feature -> findings that call for it and that it does not meet by itself."""
        known = met_by()
        partly = [finding for finding in self.findings if finding in known]
        helped = {
            name: frozenset(f for f in partly if f in calling and name not in known[f].features)
            for name, calling in self.called.items()
        }
        return {name: findings for name, findings in helped.items() if findings}

    @cached_property
    def not_by_device(self) -> tuple[str, ...]:
        """Findings that no feature meets by itself: a device only helps."""
        known = met_by()
        return tuple(finding for finding in self.findings if finding in known and not known[finding].features)

    def against_kind(self, device: Device) -> tuple[Against, ...]:
        """What speaks against the site of a kind of control, whatever its features."""
        kind = kinds().get(device.kind)
        return tuple(risk for risk in kind.spoken_against_by if risk.finding in self.site) if kind else ()

    @cached_property
    def concerns(self) -> tuple[Concern, ...]:
        """The concerns that this client has, in their order; a finding of none is one by itself."""
        listed = all_concerns()
        placed = {finding for concern in listed for finding in concern.findings}
        present = [
            Concern(concern.id, concern.name, tuple(f for f in self.findings if f in concern.findings))
            for concern in listed
        ]
        alone = [
            Concern(finding, finding_name(finding), (finding,)) for finding in self.findings if finding not in placed
        ]
        return tuple(concern for concern in (*present, *alone) if concern.findings)


class Caution(Struct, frozen=True):
    """What is told of every control at one of the sites to a client with one of the findings."""

    sites: frozenset[str]
    findings: frozenset[str]
    says: str


@cache
def cautions() -> tuple[Caution, ...]:
    """What is told of controls by their site alone."""
    text = Path(__file__).with_name("cautions.toml").read_text(encoding="utf-8")
    return tuple(
        Caution(frozenset(table["sites"]), frozenset(table["findings"]), table["says"])
        for table in tables_of(text).values()
    )


class MetBy(Struct, frozen=True):
    """The features that meet a finding by themselves, and what it takes beside a device, in words."""

    features: frozenset[str]
    beside: str


@cache
def met_by() -> Mapping[str, MetBy]:
    """Findings that not every feature which they call for meets by itself."""
    text = Path(__file__).with_name("met_by.toml").read_text(encoding="utf-8")
    return {key: MetBy(frozenset(table["features"]), table["beside"]) for key, table in tables_of(text).items()}


@cache
def all_concerns() -> tuple[Concern, ...]:
    """Every concern, in the order in which a therapist asks."""
    text = Path(__file__).with_name("concerns.toml").read_text(encoding="utf-8")
    return tuple(Concern(key, table["name"], tuple(table["findings"])) for key, table in tables_of(text).items())


def client_of(case: Case) -> Client:
    """The client of a case. Findings alone are read: no choice, and no trial."""
    known = features_of(case)
    answered = frozenset(wanted.id for wanted in case.configuration.features if wanted.answer)
    own = frozenset(finding.id for finding in case.findings if finding.own)
    return client(tuple(finding.id for finding in case.findings), known, answered, own)


def client(
    findings: tuple[str, ...],
    known: Mapping[str, Feature],
    answered: frozenset[str] = frozenset(),
    own: frozenset[str] = frozenset(),
) -> Client:
    """A client with these findings, each once; the order of findings matters nowhere but on the page."""
    present = frozenset(findings)
    called = {name: present.intersection(feature.called_for_by) for name, feature in known.items()}
    return Client(
        findings=tuple(dict.fromkeys(findings)),
        known=known,
        called={name: calling for name, calling in called.items() if calling},
        callable=frozenset().union(*called.values()),
        answered=answered,
        own=own,
    )


_EFFORT, _DAYS_DIFFER = "effort", "fluctuates"  # a concern, and a finding


def tires(client: Client) -> tuple[str, ...]:
    """Findings of a client who needs a rest between two controls: force, fatigue, pain, tone, or days that differ."""
    effort = {finding for concern in client.concerns if concern.id == _EFFORT for finding in concern.findings}
    return tuple(finding for finding in client.findings if finding in effort or finding == _DAYS_DIFFER)


Movement = Literal["recorded", "none", "not_recorded"]


def movement(client: Client, device: Device) -> tuple[Movement, tuple[str, ...]]:
    """Whether a movement is recorded with which the device would be driven, and the findings that say so.

    A movement is a finding about a site of the device: one that can be used, or one that calls for a stick or for a
    control placed there, as a hand that tires on a joystick moves one. Each site needs one, and one of them has to call
    for something that drives the device. "none" where the record says that the site does not move.
    """
    drives = device.drives or ()
    if own := tuple(
        f for f in client.findings if f in client.own and any(f in client.called.get(d, ()) for d in drives)
    ):
        return "recorded", own
    if absent := tuple(f for f in client.findings if f.endswith("_none") and client.site[f] in device.sites):
        return "none", absent
    at_sites = [_at_site(client, drives, site) for site in device.sites]
    if not all(findings for findings, _ in at_sites):
        return "not_recorded", ()
    moves = dict.fromkeys(finding for findings, _ in at_sites for finding in findings)
    return ("recorded", tuple(moves)) if any(drive for _, drive in at_sites) else ("not_recorded", ())


def _at_site(client: Client, drives: Collection[str], site: str) -> tuple[list[str], bool]:
    """Findings of a movement at one site of a device, and whether one of them calls for something that drives it."""
    placed = [d for d in drives if "stick" in client.known[d].kinds or site in sites_of(client.known[d])]

    def calls_for(finding: str, names: Collection[str]) -> bool:
        return any(finding in client.called.get(name, ()) for name in names)

    findings = [
        finding
        for finding in client.findings
        if client.site[finding] == site and (finding in client.able or calls_for(finding, placed))
    ]
    return findings, any(calls_for(finding, drives if finding in client.able else placed) for finding in findings)
