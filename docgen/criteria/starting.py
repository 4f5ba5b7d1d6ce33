"""What a new case has to hold: the keys that its payer's rules ask for, and those that its documents print."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from docgen.case.lines import dotted
from docgen.case.model import Case
from docgen.case.starter import Asked, Fixed
from docgen.criteria.asked_of import keys_asked
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import Payer
from docgen.criteria.run import verdicts
from docgen.criteria.settle import all_settled
from docgen.evidence.gather import evidence
from docgen.fit.feature import features
from docgen.fit.match import fit


def asked(payer: Payer, kind: str | None, control: str | None) -> Asked:
    """The keys of a request under the rules of a payer, and the entries that it will have.

    kind     "new_chair" and the like, as of the request; None while it is open
    control  id of the feature that is the control to be requested; None while it is open
    """
    request = {"payer": payer.id, **({"kind": kind} if kind else {})}
    case = Case.model_validate({"format": "docgen case 2", "id": "new", "request": request})
    grounds = Grounds(case, evidence(case), fit(case, lambda *path: ""))
    answers = [verdict for verdict in verdicts(grounds, payer, payer.reviewed_on) if verdict.open]
    paths = {key for verdict in answers if verdict.bound or verdict.blocks for key in keys_asked(verdict.answer)}
    entries: dict[str, list[Fixed]] = {}
    for _, trial in all_settled(grounds, answers):
        for entry, fixed in trial.added if trial else ():
            _add(entries, dotted(entry), dict(fixed))
        paths |= {dotted(path) for path in (trial.fills if trial else ())}
    usual = _usual()
    paths |= {*usual["always"], *usual.get(kind or "", ())}
    paths = {path for path in paths if not path.startswith(tuple(usual["later"]))}
    paths |= {f"people.{key}" for keys in usual["people"].values() for key in keys}
    entries["people"] = [
        {"id": f'"{role}"', "role": f'"{role}"', **dict.fromkeys(keys, "")} for role, keys in usual["people"].items()
    ]
    if control:
        feature = features()[control]
        _add(entries, "configuration.features", {"id": f'"{control}"'})
        for finding in feature.called_for_by:
            _add(entries, "findings", {"id": f'"{finding}"'})
        for site in feature.sites:
            _add(entries, "configuration.mounting", {"id": f'"{site}"', "site": f'"{site}"'})
    return Asked(
        frozenset(paths),
        {"request": {key: f'"{word}"' for key, word in request.items()}},
        {table: tuple(listed) for table, listed in entries.items()},
    )


def _add(entries: dict[str, list[Fixed]], table: str, fixed: Fixed) -> None:
    if fixed and fixed not in entries.setdefault(table, []):
        entries[table].append(fixed)


@cache
def _usual() -> dict[str, Any]:
    with Path(__file__).with_name("starting.toml").open("rb") as file:
        return tomllib.load(file)
