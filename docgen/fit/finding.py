"""The vocabulary of findings: what each means in one plain sentence, and what to record for it."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field

from docgen.case.model import Case
from docgen.errors import Problem, did_you_mean
from docgen.fit.feature import Where

# A finding that the vocabulary has no word for; no feature is called for by it, an item may still answer it.
OWN = "own_"


class Meaning(BaseModel):
    """What a finding means, and what to measure or count for it; `able` marks a movement to use, not a need to meet."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    says: str = Field(min_length=1)
    record: str = Field(min_length=1)
    able: bool = False


@cache
def vocabulary() -> dict[str, Meaning]:
    """Every finding by id, by part of the body and then by what surrounds the person."""
    text = (Path(__file__).parent / "findings.toml").read_text(encoding="utf-8")
    return {name: Meaning(**table) for name, table in tomllib.loads(text).items()}


def is_ability(finding: str) -> bool:
    """Whether a finding is a movement that can be used, and not a need."""
    return finding in vocabulary() and vocabulary()[finding].able


def unknown_findings(case: Case, where: Where) -> list[Problem]:
    """A problem for each finding of the case that the vocabulary does not hold, with the nearest that it does."""
    known = vocabulary()
    return [
        Problem(
            where("findings", index, "id"),
            f"unknown finding '{finding.id}'",
            did_you_mean(finding.id, known) or f"Name it {OWN}{finding.id} if no word of the vocabulary fits.",
        )
        for index, finding in enumerate(case.findings)
        if finding.id not in known and not finding.id.startswith(OWN)
    ]
