"""Devices and controls not asked for: why each will not do, and how it did beside the one asked for where it was
tried."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.tried import Alternative
from docgen.documents.made_from import made_from
from docgen.documents.phrase import InWords, Words
from docgen.documents.telling import measured
from docgen.evidence.difference import RARE
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.alternatives import kinds
from docgen.rendering.template import Gap, Number

MADE_FROM = {
    "lesser": made_from("alternatives", "trial.methods"),
    "signs": made_from("alternatives", "trial.methods"),
}

# of a reason that begins with the refusal itself
_REFUSES = re.compile(
    r"^\W*(?:\w+\W+){0,4}?(?:refuse[sd]?|declines?d?|(?:does|did|will) not|won't|wants? no)\b", re.IGNORECASE
)
_APART = ("clearly_worse", "worse_so_far", "better_so_far", "clearly_better")


class OnSharedDays(TypedDict):
    """How an alternative did beside the control asked for on the days that both were driven.

    shared, shared_asked  successful attempts on these days, with it and with the control asked for, where those are
               not all the days
    shared_days      how many days those are
    shared_by_chance  how often two equal controls would differ as much on them
    shared_explained  the same, in a word
    """

    shared: Number | Gap | None
    shared_asked: Number | Gap | None
    shared_days: int
    shared_by_chance: Number | Gap | None
    shared_explained: Literal["seldom", "often", ""]


class BesideAsked(OnSharedDays):
    """How an alternative did beside the control asked for.

    verdict    how it did; empty where that was not worked out
    by_chance  how often two equal controls would differ as much over all days
    explained  how often chance alone would bring such a difference, in a word; empty where the two are too close to
               tell apart
    caution    signs that something other than the control may explain the difference, each as it follows "because" and
               the requested control
    """

    difference: Number | Gap | None
    verdict: str
    by_chance: Number | Gap | None
    explained: Literal["seldom", "often", ""]
    caution: tuple[str, ...]


class SimplerDevice(BesideAsked):
    """One alternative.

    account    why it will not do, with its measure and day
    tried      whether the trial has attempts with it
    tries      how many tries were made that are no rows of the trial; 0 for none
    tries_done  of how many of these it is kept that they were done, as "3 of 10"; empty where it was not kept
    untried    it is a drive control, and no attempt with it is recorded
    kept       it is recorded as not ruled out
    unfair     it was tried, and the record says that this was not a fair try
    ground     what rules it out; None where that is not recorded, or is a trial without an attempt
    refused    whether the client will not have it, where its reason does not say so itself
    """

    name: str
    kind: str
    ruled_out_by: str
    reason: str | None
    measure: str
    setup: str
    account: str | None
    days: Number | Gap | None
    on: date | None
    tried: bool
    tries: int
    tries_done: str
    untried: bool
    kept: bool
    unfair: bool
    ground: str | None
    success: Number | Gap | None
    method: str
    refused: bool
    _labels: dict[str, str]


def simpler_device(
    case: Case,
    alternative: Alternative,
    evidence: Evidence,
    shown: InWords,
    words: Words,
) -> SimplerDevice:
    """The alternative, with what the trial shows of it."""
    method = next((m for m in case.trial.methods if m.id == alternative.method), None)
    key = alternative.method or ""
    reason = alternative.reason
    tried = evidence.of("success", key) is not None
    return {
        **_beside_asked(key, evidence, shown, words),
        "name": alternative.name,
        "kind": alternative.kind,
        "ruled_out_by": alternative.ruled_out_by or "",
        "reason": reason,
        "measure": alternative.measure or "",
        "setup": alternative.setup or "",
        "account": measured(case, alternative, reason, alternative.measure, words) if reason else None,
        "days": shown(evidence.of("days", key)),
        "on": alternative.on,
        "tried": tried,
        "tries": alternative.tries or 0,
        "tries_done": _tries_done(alternative),
        "untried": not tried and not alternative.tries and alternative.kind in kinds(),
        "kept": alternative.ruled_out_by == "nothing",
        "unfair": alternative.had_no_fair_try,
        "ground": None if alternative.ruled_out_by == "trial" and not tried else alternative.ruled_out_by,
        "success": shown(evidence.of("success", key)),
        "method": method.name if method else "",
        "refused": alternative.ruled_out_by == "refusal" and not _REFUSES.search(reason or ""),
        "_labels": {
            "reason": f"why {alternative.name} will not do",
            "ground": f"what rules out {alternative.name}",
            "account": f"what happened when {alternative.name} was tried"
            if alternative.had_no_fair_try
            else f"why {alternative.name} will not do",
            "on": f"date {alternative.name} was considered",
        },
    }


def _tries_done(alternative: Alternative) -> str:
    done, n = alternative.tries_done, alternative.tries
    return "" if done is None or n is None else f"{done} of {n}"


def _beside_asked(method: str, evidence: Evidence, shown: InWords, words: Words) -> BesideAsked:
    difference, by_chance = evidence.of("difference", method), evidence.of("by_chance", method)
    return {
        **_on_shared_days(method, evidence, shown),
        "difference": shown(difference),
        "verdict": difference.verdict if difference else "",
        "by_chance": shown(by_chance),
        "explained": explained(by_chance) if difference and difference.verdict in _APART else "",
        "caution": tuple(_caution(method, evidence, words)) if difference else (),
    }


def _on_shared_days(method: str, evidence: Evidence, shown: InWords) -> OnSharedDays:
    days, by_chance = evidence.of("shared_days", method), evidence.of("same_day_by_chance", method)
    return {
        "shared": shown(evidence.of("shared", method)),
        "shared_asked": shown(evidence.of("shared_asked", method)),
        "shared_days": int(days.value or 0) if days else 0,
        "shared_by_chance": shown(by_chance),
        "shared_explained": explained(by_chance),
    }


class SignRow(TypedDict):
    """A sign that something other than the control may explain a difference, and the devices, by name, of whose
    comparisons it holds; none where it holds of each."""

    says: str
    beside: tuple[str, ...]


def signs(devices: Iterable[SimplerDevice]) -> Iterator[SignRow]:
    """Each sign once for all comparisons; those of every one come first."""
    compared = [device for device in devices if device["tried"] and device["caution"]]
    rows = [
        (says, tuple(device["method"] or device["name"] for device in compared if says in device["caution"]))
        for says in dict.fromkeys(says for device in compared for says in device["caution"])
    ]
    for says, beside in sorted(rows, key=lambda row: len(row[1]) < len(compared)):
        yield {"says": says, "beside": () if len(beside) == len(compared) else beside}


def _caution(method: str, evidence: Evidence, words: Words) -> Iterator[str]:
    shared = evidence.of("shared_days", method)
    days = words["shared_days"]["one" if shared and shared.value == 1 else "several"]
    for fact in evidence.values():
        if fact.id.startswith(f"unfair.{method}.") and fact.verdict != "none":
            yield words["read_with_caution"][fact.verdict].format(days=days)


def explained(chance: Fact | None) -> Literal["seldom", "often", ""]:
    """How often chance alone would bring a difference, by the test that is named beside it; "" where none is given."""
    if chance is None or chance.value is None:
        return ""
    return "seldom" if chance.value < RARE else "often"
