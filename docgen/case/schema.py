"""The JSON Schema of a case, for editors: the models are its only source."""

from __future__ import annotations

from typing import Any

from docgen.case.model import Case


def schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of case.toml."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema"} | Case.model_json_schema() | {"title": "docgen case 1"}
