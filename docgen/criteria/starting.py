"""What a new case has to hold: the keys that its payer's rules ask for, and those that its documents print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import tomli

from docgen.case.lines import dotted
from docgen.case.model import Case
from docgen.case.starter import Asked
from docgen.case.starter_lines import Fixed
from docgen.criteria.asked_of import keys_asked
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import Payer
from docgen.criteria.run import Verdict, verdicts
from docgen.criteria.sentences import listed
from docgen.criteria.settle import all_settled
from docgen.evidence.gather import evidence
from docgen.fit.feature import Feature, features
from docgen.fit.match import fit


def asked(payers: Sequence[Payer], kind: str | None, control: str | None) -> Asked:
    """The keys of a request under the rules of its payers, and the entries that it will have.

    payers   in the order in which they are asked, the first at least
    kind     "new_chair" and the like, as of the request; None while it is open
    control  id of the feature that is the control to be requested; None while it is open
    """
    request = {"payer": payers[0].id, **({"kind": kind} if kind else {})}
    case = Case.model_validate({"format": "docgen case 2", "id": "new", "request": request})
    grounds = Grounds(case, evidence(case), fit(case, lambda *path: ""))
    answers = [verdict for payer in payers for verdict in verdicts(grounds, payer, payer.reviewed_on) if verdict.open]
    entries: dict[str, list[Fixed]] = {}
    paths = _asked_by_payer(answers) | _that_settles(grounds, answers, entries)
    usual = _usual()
    paths |= {*usual["always"], *usual.get(kind or "", ())}
    paths = {path for path in paths if not path.startswith(tuple(usual["later"]))}
    paths |= {also for path in paths for also in usual["brings"].get(path, ())}
    paths |= {f"people.{key}" for keys in usual["people"].values() for key in keys}
    entries["people"] = [
        {"id": f'"{role}"', "role": f'"{role}"', **dict.fromkeys(keys, "")} for role, keys in usual["people"].items()
    ]
    filled: dict[str, Fixed] = {"request": {key: f'"{word}"' for key, word in request.items()}}
    if later := payers[1:]:
        filled["request.later_payers"] = {}
        paths |= {"request.later_payers.payer_name", "request.later_payers.member_id"}
        entries["request.later_payers"] = [{"payer": f'"{payer.id}"'} for payer in later]
    if control:
        _add_control(entries, control)
        paths |= {"findings.says", "findings.measure"}
    return Asked(
        frozenset(paths),
        filled,
        {table: tuple(listed) for table, listed in entries.items()},
        _told_first(_hints(features()[control]) if control else {}, usual["hints"]),
        {table: tuple(keys) for table, keys in usual["each"].items()},
    )


def _told_first(hints: Mapping[str, str], usual: Mapping[str, str]) -> dict[str, str]:
    """The hints of a control before those that hold of every case."""
    return {**usual, **{table: "; ".join(filter(None, (hint, usual.get(table)))) for table, hint in hints.items()}}


def _hints(control: Feature) -> dict[str, str]:
    """What is known of a control before anything of the client is: named above the list it belongs to, never filled
    in."""
    hints = {}
    if len(control.called_for_by) > 1:  # each fits some, so none is asked of all
        hints["findings"] = f"what calls for {control.id}, if the client has it: {', '.join(control.called_for_by)}"
    if control.needs:
        hints["configuration.features"] = f"what {control.id} must not go without: " + "; ".join(
            listed(need.any_of, "or") + (f" where there is {listed(need.when, 'or')}" if need.when else "")
            for need in control.needs
        )
    if control.codes:
        hints["configuration.items"] = (
            f"{control.id} usually rests in {listed(control.codes, 'or')}, written as "
            f"{control.codes[0]} = {{ why = ... }}; which is right is for the supplier and the payer to say"
        )
    return hints


def _asked_by_payer(answers: list[Verdict]) -> set[str]:
    """Keys that open answers ask for where a row of the payer binds them or they block."""
    return {key for verdict in answers if verdict.bound or verdict.blocks for key in keys_asked(verdict.answer)}


def _that_settles(grounds: Grounds, answers: list[Verdict], entries: dict[str, list[Fixed]]) -> set[str]:
    """Keys that settle open answers, as found by trying; the entries that do are added to `entries`."""
    paths: set[str] = set()
    for _, trial in all_settled(grounds, answers):
        if trial is None:
            continue
        paths |= {dotted(path) for path in trial.fills}
        for entry, fixed in trial.added:
            _add(entries, dotted(entry), dict(fixed))
    return paths


def _add_control(entries: dict[str, list[Fixed]], control: str) -> None:
    """Add what a control brings into a case: itself, the findings that call for it, a part at each of its sites."""
    feature = features()[control]
    _add(entries, "configuration.features", {"id": f'"{control}"'})
    if len(feature.called_for_by) == 1:
        _add(entries, "findings", {"id": f'"{feature.called_for_by[0]}"'})
    for site in feature.sites:
        _add(entries, "configuration.mounting", {"id": f'"{site}"', "site": f'"{site}"'})


def _add(entries: dict[str, list[Fixed]], table: str, fixed: Fixed) -> None:
    if fixed and fixed not in entries.setdefault(table, []):
        entries[table].append(fixed)


@cache
def _usual() -> dict[str, Any]:
    with Path(__file__).with_name("starting.toml").open("rb") as file:
        return tomli.load(file)
