"""What the last screen of a case offers, and what a new case is asked."""

from __future__ import annotations

from typing import Any, get_args

from docgen.case.keys import bare_kind
from docgen.case.respondents import respondents
from docgen.case.who import Request
from docgen.criteria.asked_of import asked_of
from docgen.criteria.payer import payers
from docgen.documents.document import called_for
from docgen.fit.feature import feature_entries, features
from docgen.packet.wording import wording
from docgen.results import CaseCheck


def papers_of(check: CaseCheck) -> tuple[str, ...]:
    """Names of the documents that the packet of this case holds."""
    return tuple(called_for(wording().documents, check.case))


def askers_of(check: CaseCheck) -> tuple[tuple[str, str, int], ...]:
    """Who can be sent a sheet of questions: id, name, and how many points are open for them."""
    open_for = [name for verdict in check.verdicts if verdict.open for name in asked_of(verdict.answer)]
    return tuple(
        (id_, who.name, open_for.count(id_)) for id_, who in respondents().items() if who.may_see and id_ in open_for
    )


def new_questions() -> dict[str, Any]:
    """The three questions of a new case, each with its choices and their words."""
    kinds = get_args(bare_kind(Request.model_fields["kind"].annotation))
    controls = (entry for entry in feature_entries() if features()[entry.id].part == "control")
    return {
        "payers": tuple((payer.id, payer.name) for payer in payers()),
        "kinds": tuple((kind, kind.replace("_", " ")) for kind in kinds),
        "controls": tuple((entry.id, f"{entry.name}: {entry.meaning}") for entry in controls),
    }
