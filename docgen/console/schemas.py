"""The JSON Schema (draft 2020-12) of each file that goes in or comes out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from docgen.case.record import TRIAL
from docgen.case.schema import schema_of_row
from docgen.case.session import SESSIONS
from docgen.case.totals import TOTALS
from docgen.documents.order_file import order_schema
from docgen.errors import Problem, UserError, brief, did_you_mean
from docgen.packet.manifest import manifest_schema
from docgen.request.submission import Submission
from docgen.vocabulary import schema

_DRAFT = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
_SCHEMAS: dict[str, Callable[[], dict[str, Any]]] = {
    "case": schema,
    "trial": lambda: _DRAFT | schema_of_row("trial.csv", TRIAL),
    "totals": lambda: _DRAFT | schema_of_row("totals.csv", TOTALS),
    "sessions": lambda: _DRAFT | schema_of_row("sessions.csv", SESSIONS),
    "submission": lambda: _DRAFT | Submission.model_json_schema() | {"title": "docgen submission 1"},
    "order": order_schema,
    "manifest": manifest_schema,
}


def schema_of(name: str) -> dict[str, Any]:
    """The schema of a file by its name. Raises UserError for a name that is none."""
    if name not in _SCHEMAS:
        raise UserError([Problem("--of", f"'{brief(name)}' is no file with a schema", did_you_mean(name, _SCHEMAS))])
    return _SCHEMAS[name]()
