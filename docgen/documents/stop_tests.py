"""What a technician holds a stop against: of each profile how soon the chair brakes and in what distance it stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.made_from import made_from
from docgen.documents.phrase import InWords
from docgen.evidence.fact import Evidence
from docgen.rendering.template import Gap, Number

MADE_FROM = {
    "stop_tests": made_from(
        "configuration.profiles",
        "configuration.chair.electronics_delay_s",
        "configuration.chair.deceleration_m_s2",
    )
}


class StopTestRow(TypedDict):
    """The stop of one profile at its speed, on the level, from the end of the input.

    speed_m_s   None where it is not recorded
    delay_s     longest delay until braking begins; None where it was not measured
    stands      distance to standing still, worked out; None where a measure for it is lacking
    """

    profile: str
    speed_m_s: float | None
    delay_s: float | None
    stands: Number | Gap | None
    _labels: dict[str, str]


def stop_tests(case: Case, evidence: Evidence, shown: InWords) -> Iterator[StopTestRow]:
    """Each profile, in the order of the case."""
    for profile in case.configuration.profiles:
        yield {
            "profile": profile.name,
            "speed_m_s": profile.speed_m_s,
            "delay_s": case.configuration.chair.electronics_delay_s,
            "stands": shown(evidence.of("braking", profile.id)),
            "_labels": {
                "speed_m_s": f"speed of the {profile.name} profile",
                "delay_s": "delay of the electronics",
                "stands": "delay, deceleration and speed that give it",
            },
        }
