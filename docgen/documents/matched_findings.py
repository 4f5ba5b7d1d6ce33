"""Findings of a client and how the devices of a shelf stand to each, in words; what no device gives alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.criteria.sentences import capital, listed
from docgen.documents.matched import numbers
from docgen.fit.feature import features
from docgen.fit.finding import finding_name
from docgen.shelf.client import met_by
from docgen.shelf.match import Match

_STANDINGS = {
    "harms": "can do harm",
    "against": "against it",
    "guarded": "can do harm, and has an answer",
    "meets": "meets it",
    "uses": "uses it",
    "helps": "helps, and does not meet it alone",
    "leaves_alone": "does not depend on it",
    "open": "does not help",
    "unknown": "not known",
}


class FindingRow(TypedDict):
    """A finding of the client and how every device of the shelf stands to it."""

    finding: str
    says: str
    standings: tuple[str, ...]


class MarkRow(TypedDict):
    """A finding and the numbers of the devices by how they stand to it; empty where none does."""

    finding: str
    harms: str
    guarded: str
    against: str
    meets: str
    helps: str
    unknown: str


def beside_rows(matched: Match) -> Iterator[dict[str, str]]:
    """What a finding takes beside any device, whether one meets it at all, and what of those in the layers helps."""
    known = met_by()
    for finding in matched.client.findings:
        if finding in known:
            alone = finding in matched.client.not_by_device
            helps = {name for judged in matched.apart("layered") for name in judged.best.meets(finding)}
            yield {
                "finding": capital(finding_name(finding)),
                "takes": known[finding].beside,
                "alone": "yes" * alone,
                "helps": listed(features()[name].name for name in sorted(helps)) if alone else "",
            }


def finding_rows(case: Case, matched: Match, *, by_id: bool = False) -> Iterator[FindingRow]:
    """Each finding, and the devices by how they stand to it, by name or by id."""
    says = {finding.id: finding.says for finding in case.findings}

    def named(names: list[str]) -> str:
        return "all" if len(names) == len(matched.devices) else (", " if by_id else "; ").join(names)

    for finding in matched.client.findings:
        by_standing: dict[str, list[str]] = {}
        for judged in matched.devices.values():
            device = judged.device
            by_standing.setdefault(judged.standing(finding), []).append(device.id if by_id else device.name)
        yield {
            "finding": finding_name(finding),
            "says": says.get(finding, ""),
            "standings": tuple(
                f"{capital(_STANDINGS[standing])}: {named(by_standing[standing])}."
                for standing in _STANDINGS
                if standing in by_standing
            ),
        }


def mark_rows(matched: Match) -> tuple[list[MarkRow], list[str]]:
    """The findings that part the devices; and those to which all stand alike, each with how, as clauses."""
    number = numbers(matched)
    rows: list[MarkRow] = []
    alike: list[str] = []
    for finding in matched.client.findings:
        by_standing: dict[str, list[int]] = {}
        for name, judged in matched.devices.items():
            by_standing.setdefault(judged.standing(finding), []).append(number[name])

        def marks(*standings: str, at: dict[str, list[int]] = by_standing) -> str:
            return ", ".join(map(str, sorted(n for standing in standings for n in at.get(standing, ()))))

        if len(by_standing) == 1:
            alike.append(f"{finding_name(finding)} ({_STANDINGS[next(iter(by_standing))]})")
            continue
        rows.append(
            {
                "finding": capital(finding_name(finding)),
                "harms": marks("harms"),
                "guarded": marks("guarded"),
                "against": marks("against"),
                "meets": marks("meets", "uses"),
                "helps": marks("helps"),
                "unknown": marks("unknown"),
            }
        )
    return rows, alike
