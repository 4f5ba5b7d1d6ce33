"""A small case of each condition, from tests/conditions/cases: as it is recognised, and with its answers and page."""

from __future__ import annotations

import tomllib
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from docgen.case.emergency import Accepted
from docgen.case.model import Case
from docgen.case.read import CaseFile, frozen
from docgen.criteria.criterion import Answer, Grounds, criteria
from docgen.criteria.payer import load
from docgen.evidence.gather import evidence
from docgen.fit.condition import rows
from docgen.fit.match import fit
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees

FOLDER = Path(__file__).parent / "cases"
NAMES = sorted(path.stem for path in FOLDER.glob("*.toml"))
SEEN: dict[str, Any] = {"by": "nurse", "on": date(2026, 3, 3)}
_FORMS: dict[type, str] = {bool: "yes", int: "number", date: "day", list: "who", str: "says"}
_BASE: dict[str, Any] = {
    "format": "docgen case 1",
    "id": "robin-example",
    "client": {"name": "Robin Example", "called": "Robin", "pronouns": "she", "born_on": date(1990, 1, 31)},
    "people": [
        {"id": "nurse", "role": "other", "name": "Nim Example"},
        {"id": "aunt", "role": "caregiver", "name": "Aud Example"},
    ],
    "dates": {"written_on": date(2026, 4, 14)},
    "transport": {"rides_in_chair": False},
    "training": {"coach": "aunt"},
}
_PAGE: dict[str, Any] = {
    "calls": [
        {"name": "nurse line", "phone": "555-0100", "answers": "day and night", "at_once": "no better in 5 minutes"}
    ],
    "consent": {"given_by": "Robin", "on": date(2026, 3, 3), "names_condition": False, "may_hang": "on the chair"},
}


@cache
def expected(name: str) -> dict[str, Any]:
    """What a file of the folder says: the case, and what is asked and printed."""
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def case_of(*names: str, answered: bool = True, **emergency: Any) -> Case:
    """A case with these conditions; without answers and page where it is not `answered`.

    emergency  keys of the page that take the place of those of the files
    """
    raw: dict[str, Any] = {**_BASE, "client": dict(_BASE["client"])}
    page: dict[str, Any] = {}
    accepted: list[str] = []
    for name in names:
        told = expected(name)
        raw["diagnoses"] = raw.get("diagnoses", []) + told["case"]["diagnoses"]
        raw["configuration"] = {"features": [{"id": one, "because": []} for one in told["case"].get("features", ())]}
        raw["client"] |= {"born_on": told["case"]["born_on"]} if "born_on" in told["case"] else {}
        if answered:
            raw["conditions"] = raw.get("conditions", []) + [
                _entry(*one) for one in told["case"].get("answers", {}).items()
            ]
            page = _joined(page, told["case"].get("emergency", {}))
            accepted += told.get("accepted", [])
    if page:
        by_someone = {"signs", "steps", "settled"}
        page = {**_PAGE, **page, **emergency}
        page = {key: [_by(entry) for entry in value] if key in by_someone else value for key, value in page.items()}
        raw["emergency"] = page
    case = Case.model_validate(frozen(raw))
    return case.with_accepted(
        tuple(
            Accepted(row=row, prints=rows()[row].prints, by="Nim Example, RN", on=date(2026, 3, 4)) for row in accepted
        )
    )


def _joined(page: dict[str, Any], more: dict[str, Any]) -> dict[str, Any]:
    """Two pages as one: one list of steps, the drive off once."""
    steps = [*page.get("steps", []), *(s for s in more.get("steps", []) if s not in page.get("steps", []))]
    signs = [*page.get("signs", []), *more.get("signs", [])]
    return {**page, **more, **({"steps": steps} if steps else {}), **({"signs": signs} if signs else {})}


def _by(entry: dict[str, Any]) -> dict[str, Any]:
    return entry if "row" in entry else {**entry, **SEEN}


def _entry(condition: str, answers: dict[str, Any]) -> dict[str, Any]:
    level = {"level": answers["level"]} if "level" in answers else {}
    given = [{"ask": ask, _FORMS[type(value)]: value, **SEEN} for ask, value in answers.items() if ask != "level"]
    return {"id": condition, **level, "answers": given}


def grounds_of(case: Case) -> Grounds:
    """All that an answer may rest on."""
    return Grounds(case, evidence(case), fit(case, lambda *path: "case.toml:1"))


def ask(criterion: str, case: Case) -> Answer:
    """The answer of one criterion."""
    return criteria()[criterion].ask(grounds_of(case), **criteria()[criterion].settings)


def pages(case: Case, only: tuple[str, ...] = ()) -> dict[str, str]:
    """Each document of a case as words."""
    grounds = grounds_of(case)
    file = CaseFile(case, Path("robin-example"), {}, "")
    assessed = Assessed(file, grounds.evidence, grounds, load("general", ""), ())
    return {name: tree.plain() for name, tree in trees(assessed, only).items()}
