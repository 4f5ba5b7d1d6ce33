"""A whole submission for a case, all of it invented: numbers that check, codes of the form that X12 has."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from support import run

from docgen.case.read import CaseFile, read_case
from docgen.request.claim import Request, request
from docgen.request.guide import GUIDES
from docgen.request.npi import is_npi
from docgen.request.parties import care_team
from docgen.request.submission import read_submission
from docgen.resources import folder

# more than is needed: so that everything a request can hold is in one
EVERYTHING = {
    "request__trace": '"R-0001"',
    "request__sender": '"9012345678"',
    "x12__transmission": '"ZZ"',
    "x12__relationship": '"ZZ"',
    "coverage__group": '"G-0001"',
    "coverage__plan": '"P-0001"',
    "client__address": '{ line = ["1 Example Way"], city = "Example Bay", state = "CA", postal_code = "90001" }',
}


class Done(NamedTuple):
    exit_code: int
    output: str


def command(*words: object) -> Done:
    """A command in this process: its status, and all that it printed."""
    status, told, errors = run(*words)
    return Done(status, told + errors)


def npi(nth: int) -> str:
    """The nth number with a true check digit."""
    stem = f"{123456000 + nth}"
    return next(f"{stem}{digit}" for digit in range(10) if is_npi(f"{stem}{digit}"))


def filled(file: CaseFile, **other: str) -> str:
    """submission.toml of a case; `other` gives other values, in TOML, to keys by their path with `__` for a dot."""
    case = file.case
    words = (case.client.name or "Robin Example").split()
    tables: dict[str, dict[str, str]] = {
        "request": {
            "by": '"supplier"',
            "priority": '"normal"',
            "place_of_service": '"12"',
            "units": '"units"',
        },
        "client": {"family": json.dumps(words[-1]), "given": json.dumps(words[:-1]), "gender": '"unknown"'},
        "coverage": {
            "relationship": '"self"',
            "member_system": '"https://payer.example/members"',
            "payer_id": '"00098"',
            "payer_id_kind": '"payer"',
            "payer_id_system": '"https://clearinghouse.example/payers"',
        },
        "x12": {"request_type": '"ZZ"', "certification": '"Z"', "category": '"ZZ"', "report": '"ZZ"'},
    }
    for path, value in other.items():
        *table, key = path.split("__")
        tables.setdefault(".".join(table), {})[key] = value
    lines = ['format = "docgen submission 1"']
    for name, keys in tables.items():
        lines += [f"[{name}]", *(f"{key} = {value}" for key, value in keys.items() if value)]
    people = [*care_team(case), *([supplier] if (supplier := case.person("supplier")) else [])]
    for nth, person in enumerate(people):
        family = (person.name or "Example").split()[-1]
        lines += ["[[people]]", f'id = "{person.id}"', f'family = "{family}"', 'given = ["Jo"]', f'npi = "{npi(nth)}"']
        lines += [f'organisation_npi = "{npi(50 + nth)}"'] if person.id == "supplier" else []
    return "\n".join(lines) + "\n"


@cache
def requested(demo: str, version: str, *, draft: bool = False, **other: str) -> Request:
    """The request of a demo with a whole submission. To be read alone."""
    source = folder("cases") / demo
    file = read_case(source)
    with TemporaryDirectory() as beside:
        with_submission(Path(beside), file, **other)
        submission = read_submission(Path(beside))
    return request(file, submission, GUIDES[version], {"packet.pdf": b"%PDF-1.7 of a demo"}, draft)


def with_submission(folder: Path, file: CaseFile, **other: str) -> None:
    """Write it beside a case."""
    (folder / "submission.toml").write_text(filled(file, **other), encoding="utf-8")
