"""The library as a program of someone else's uses it: each result has a type of its own, and none is Any.

`.ci/run` has mypy read it under --strict and --disallow-any-expr, which finds the types by docgen/py.typed;
test_library.py runs it.
"""

from __future__ import annotations

from pathlib import Path
from typing import assert_type

import docgen
from docgen.criteria.run import Verdict
from docgen.evidence.fact import Fact
from docgen.fit.alternatives import Weighed


def claims_open(case: str | Path) -> list[str]:
    """What a payer would still ask of a case."""
    check = assert_type(docgen.check_case(case), docgen.CaseCheck)
    open_points = assert_type(check.open, tuple[Verdict, ...])
    return [verdict.criterion.claim for verdict in open_points]


def intervals(case: str | Path) -> dict[str, tuple[float, float]]:
    """Every interval that a record supports."""
    facts = assert_type(docgen.evidence_of(case).facts, tuple[Fact, ...])
    return {fact.id: (fact.low, fact.high) for fact in facts if fact.low is not None and fact.high is not None}


def simpler_devices(case: str | Path) -> list[str]:
    """Devices that the record prefers to what is requested."""
    alternatives = assert_type(docgen.fit_of(case).alternatives, tuple[Weighed, ...])
    return [weighed.alternative.id for weighed in alternatives if weighed.preferred]


def letter_of(case: str | Path, out: str | Path) -> Path:
    """The letter of a case as a PDF."""
    packet = assert_type(docgen.build_packet(case, out, formats=["pdf"], only=["letter"]), docgen.Packet)
    return packet.folder / "letter.pdf"


def approved_by(case: str | Path, by: str) -> str:
    """What came of an approval, in words."""
    try:
        approval = assert_type(docgen.approve_case(case, by), docgen.Approval)
    except docgen.NotReady as refusal:
        return f"{len(refusal.open)} points are open"
    except docgen.UserError as failure:
        return str(failure.problems[0])
    return f"{approval.by}, {approval.on}"
