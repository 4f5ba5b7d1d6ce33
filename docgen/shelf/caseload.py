"""A shelf held against a caseload: how often each device stood first and which needs nothing met. No person is told."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from msgspec import Struct

from docgen.shelf.device import Shelf
from docgen.shelf.match import Match


class OfDevice(Struct, frozen=True):
    """How often a device stood first whatever the answers, could have, was set apart for harm, and was tried.

    alone  of the times it was first, how often nothing else was
    """

    leads: int
    alone: int
    may_lead: int
    harm: int


class Caseload(Struct, frozen=True):
    """What a clinic should have on its shelf, by counts alone.

    n           clients held against it; `n_none` of them had nothing that could stand first
    devices     device -> how often
    open_needs  finding -> in how many clients nothing on the shelf met it
    """

    n: int
    n_none: int
    devices: dict[str, OfDevice]
    open_needs: dict[str, int]


def caseload(shelf: Shelf, matches: Iterable[Match]) -> Caseload:
    """The counts over the matches of one shelf, each taken once and let go."""
    n = n_none = 0
    leads, alone, may_lead, harm, open_needs = (Counter[str]() for _ in range(5))
    for each in matches:
        n += 1
        n_none += not each.may_lead
        leads.update(each.leads)
        alone.update(each.leads if len(each.may_lead) == 1 else ())
        may_lead.update(set(each.may_lead) - set(each.leads))
        harm.update(judged.device.id for judged in each.apart("harm"))
        open_needs.update(each.open_needs)
    return Caseload(
        n,
        n_none,
        {name: OfDevice(leads[name], alone[name], may_lead[name], harm[name]) for name in shelf.devices},
        dict(sorted(open_needs.items(), key=lambda entry: (-entry[1], entry[0]))),
    )
