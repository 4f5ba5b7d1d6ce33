"""Cognition, judgment, vision and seizures are screened, with the result written down.

Asks: Whether each limit that could defeat the equipment was looked for, including an explicit "none found".
Why a payer asks: A limit that was not looked for can make the equipment unsafe or useless.
What settles it: One entry in [[limits]] for each, with what was seen and, once it is known, found = true or false; one
    more for attacks that the answers to a condition tell of, with attacks, driving_seen and physician_says.
Source: US national coverage determination 280.3, question 2.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import get_args

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.need import Limit
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.screened import undecided
from docgen.criteria.sentences import capital, listed

HEADING = "safety"
CLAIM = "Limitations that could prevent safe use are screened"
SHOWN_IN = ("letter: Patient Information, Diagnosis and Functional Status",)
SETTINGS = {"kinds": ["cognition", "judgment", "vision", "seizures"]}
_ATTACKS = {"faints_on_sitting_up": "fainting", "dysreflexia_ever": "autonomic_dysreflexia"}  # told of by these answers
_SHORT = {"autonomic_dysreflexia": "dysreflexia"}  # never as a diagnosis is named, which not all who read this may see
CHOICES = {"kinds": get_args(Limit.model_fields["kind"].annotation)}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    limits = grounds.case.limits
    missing = [kind for kind in kinds if kind not in {limit.kind for limit in limits}]
    if missing:
        return cannot_tell(
            f"No screening is recorded for {listed(missing)}.",
            ("limits",),
            mend=_add(missing),
        )
    silent = [(i, limit) for i, limit in enumerate(limits) if limit.kind in kinds and not limit.says]
    if silent:
        return cannot_tell(
            f"What was seen is not recorded for {listed(limit.kind for _, limit in silent)}.",
            *(("limits", i) for i, _ in silent),
            mend=fill_in({"says": "<what was seen>"}, " in [[limits]]"),
        )
    if unknown := undecided(limits, kinds):
        return unknown
    return _screened(grounds.case, kinds)


def _screened(case: Case, kinds: list[str]) -> Answer:
    """What all the screenings together told, and what nobody saw or screened."""
    present = [limit for limit in case.limits if limit.found]
    open_ = "".join(_left_open(case, [limit for limit in case.limits if limit.found is not False]))
    return met(
        f"{capital(listed(kinds))} were screened{_deficits(present)}{open_}",
        ("limits",),
        bare=f"{capital(listed(kinds))} were screened.",
        limit="in_part" if open_ else "",
    )


def _deficits(present: Sequence[Limit]) -> str:
    """What was found of these limits, by area and besides, and that all of it is made up for where it is; goes on with
    a sentence that says what was screened."""
    if not present:
        return ", and no deficit was found."
    named = [limit.kind for limit in present if limit.kind != "other"]
    others = [seen for limit in present if (seen := _seen(limit))]
    mitigated = _mitigated(present) if all(limit.answer for limit in present) else ""
    return f"{f'; a deficit was found in {listed(named)}.' if named else '.'}{_besides(others)}{mitigated}"


def _mitigated(present: Sequence[Limit]) -> str:
    """A sentence on what the letter says against these limits: of attacks, what is done then makes up for nothing
    before the physician has answered, or while no drive has shown it."""
    if any(limit.driving_seen is False or (limit.attacks and not limit.physician_says) for limit in present):
        return " The letter says what whoever is near does."
    return " The letter says what makes up for it."


def _left_open(case: Case, limits: Sequence[Limit]) -> Iterator[str]:
    """Sentences on what nobody screened, saw in a drive or asked the physician, of limits that are not recorded as
    absent."""
    if unscreened := [*_attacks_left_out(case)]:
        yield f" Recorded elsewhere, and screened nowhere: {listed(unscreened)}."
    if unseen := [limit for limit in limits if limit.driving_seen is False]:
        yield f" Not seen in a drive: {listed(map(_area, unseen))}."
    if unasked := [limit for limit in limits if limit.attacks and not limit.physician_says]:
        yield f" What makes up for it waits for the physician's word on driving with {listed(map(_area, unasked))}."


def _attacks_left_out(case: Case) -> Iterator[str]:
    """What takes the driver's control away in attacks, by the answers to the conditions, and no screening names."""
    screened = {attack for limit in case.limits for attack in limit.attacks}
    had = {given.ask for condition in case.conditions if condition.present for given in condition.answers if given.yes}
    yield from (attack.replace("_", " ") for ask, attack in _ATTACKS.items() if ask in had and attack not in screened)


def _besides(others: Sequence[str]) -> str:
    """What else was found, in the words of the record, as a sentence after others; empty for nothing."""
    if not others:
        return ""
    return f" Found besides, and bearing on driving: {listed(f'“{seen}”' for seen in others)}."


def _area(limit: Limit) -> str:
    """What was screened: attacks by name; of another area, the first words of what was seen, which say what it is."""
    if limit.attacks:
        return listed(_SHORT.get(attack, attack) for attack in limit.attacks)
    return f"“{seen}”" if (seen := _seen(limit)) else limit.kind


def _seen(limit: Limit) -> str:
    """Of another area, the first words of what was seen, which say what it is; "" for a named area."""
    if limit.kind != "other":
        return ""
    until = r"[.:;]" if limit.attacks else r"[,.:;]"  # each attack is told, not the first of a list alone
    return re.split(until, limit.says or "")[0].strip() or "another area"


def _add(kinds: list[str]) -> Mend:
    """The entries of these kinds, to be added."""
    first = add_entry("limits", "found", "says", kind=kinds[0])
    more = f"; likewise {listed(kinds[1:])}." if kinds[1:] else "."
    return replace(
        first,
        say=f"{first.say.rstrip('.')}{more}",
        add=tuple(entry for kind in kinds for entry in add_entry("limits", "found", "says", kind=kind).add),
    )
