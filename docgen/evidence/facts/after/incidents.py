"""What happened in the lessons: collisions, near misses, what was not intended, and the stop rules that were met."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.evidence.fact import Fact
from docgen.evidence.facts.after.of_rows import count, sum_of
from docgen.evidence.facts.after.windows import WINDOWS
from docgen.evidence.training import at_stage_now, stops_met


def facts_of_incidents(case: Case, rows: Sequence[SessionRow]) -> Iterator[Fact]:
    """since.n_<column>, of all lessons and at the stage reached, since.stops_met and since.stops_broken."""
    for column, label in (
        ("contacts", "collisions"),
        ("person_contacts", "collisions with a person"),
        ("near_misses", "near misses"),
    ):
        yield from sum_of(column, rows, f"since.n_{column}", f"{label} since delivery", gaps=True)
    for suffix, part in (("", rows), ("_now", at_stage_now(case))):
        for column, label in (
            ("contacts", "collisions"),
            ("unintended", "unintended activations"),
            ("missed", "touches that did nothing"),
        ):
            if suffix or column != "contacts":
                yield from sum_of(column, part, f"since.n_{column}{suffix}", f"{label}, {WINDOWS[suffix]}")
    met = stops_met(case)
    went_on = [stopped.went_on for stopped in met if stopped.went_on is not None]
    yield count(
        "since.stops_met",
        "stop rules met since delivery",
        len(met),
        len(rows),
        tuple(stopped.line for stopped in met),
        "injury, collision with a person, two stops missed in a session, pain over 4 or up by 2, stiffness up by 2, "
        "fatigue 8, a skin mark",
        source="common practice, no source",
    )
    yield count(
        "since.stops_broken",
        "stop rules after which driving went on without clearance",
        len(went_on),
        len(met),
        tuple(went_on),
        "an attempt follows before cleared_by is filled",
        source="common practice, no source",
    )
