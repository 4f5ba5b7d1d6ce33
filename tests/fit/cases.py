"""Small cases that hold nothing but findings and what is requested."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from docgen.case.model import Case
from docgen.fit.match import Fit, fit


def case_of(
    findings: Iterable[str] = (), asked: Iterable[str] | Mapping[str, Iterable[str]] = (), **tables: Any
) -> Case:
    """A case with these findings and requested features; a mapping gives each feature its reasons."""
    reasons = dict(asked) if isinstance(asked, Mapping) else {name: () for name in asked}
    configuration = tables.pop("configuration", {})
    return Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "robin-example",
            "findings": tuple({"id": one, "says": f"Seen: {one}."} for one in dict.fromkeys(findings)),
            "configuration": configuration
            | {"features": tuple({"id": one, "because": tuple(why)} for one, why in reasons.items())},
            **tables,
        },
        strict=False,
    )


def where(*path: Any) -> str:
    """Place of a key, as a reader would give it."""
    return "case.toml:" + ".".join(map(str, path))


def fit_of(findings: Iterable[str] = (), asked: Iterable[str] | Mapping[str, Iterable[str]] = (), **tables: Any) -> Fit:
    """The fit of such a case."""
    return fit(case_of(findings, asked, **tables), where)
