"""What is said against a control that was driven was counted with the requested control too.

Asks: Whether a reason that rules out a driven control by something that rows can count (spasms, unintended commands,
    collisions, fatigue, stiffness, pain) has that count in the rows of the control and of the one asked for.
Why a payer asks: A reason that was counted on one side alone tells two controls apart by where somebody looked.
What settles it: The column of the trial (spasms, unintended, contacts, fatigue_after, tone_after, pain_after) filled in
    for both controls, from the video where there is one; or the reason taken back.
Source: like is compared with like; which words tell of which count is common use, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.model import Case
from docgen.case.tried import Alternative
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import listed

HEADING = "alternatives"
CLAIM = "What is said against a control was counted with the requested control too"
SHOWN_IN = ("letter: Alternatives Considered and Ruled Out",)
IN_LIMITS = True
QUIET = True
SETTINGS: dict[str, object] = {}

# column of the rows -> its words on a page, and the words of a reason that it counts
_COUNTED = {
    "spasms": ("spasms", re.compile(r"\bspasms?\b", re.IGNORECASE)),
    "unintended": ("unintended activations", re.compile(r"\bunintended|\binvoluntar|\bby itself\b", re.IGNORECASE)),
    "contacts": ("collisions", re.compile(r"\bcollisions?\b|\bcollides?\b", re.IGNORECASE)),
    "fatigue_after": ("fatigue", re.compile(r"\bfatigued?\b|\btire[ds]\b|\btiring\b", re.IGNORECASE)),
    "tone_after": ("stiffness", re.compile(r"\bstiff(?:er|ness)?\b|\brigid\b", re.IGNORECASE)),
    "pain_after": ("pain", re.compile(r"\bpain(?:ful)?\b|\bhurts?\b", re.IGNORECASE)),
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.alternatives:
        return cannot_tell(
            "No alternative is recorded.", ("alternatives",), mend=add_entry("alternatives", tail=", simplest first")
        )
    claims = [*_claims(case)]
    if not claims:
        return does_not_apply("No reason against a driven control is one that rows count.", ("alternatives",))
    asked = case.configuration.method
    for at, device, column in claims:
        sides = [_is_counted(case, method, column) for method in (device.method, asked)]
        if all(sides):
            continue
        speaks = f"The reason against {device.name} speaks of {_COUNTED[column][0]}, counted"
        where = (("alternatives", at, "reason"), ("trial", "rows"))
        mend = f"Fill in {column} in the rows of both controls, from the video, or take the reason back."
        if not any(sides):
            return cannot_tell(
                f"{speaks} neither in the drives with it nor in those with the requested control.", *where, mend=mend
            )
        there, lacking = ("it", "the requested control") if sides[0] else ("the requested control", "it")
        return not_met(f"{speaks} in the drives with {there} and not in those with {lacking}.", *where, mend=mend)
    names = listed(dict.fromkeys(device.name for _, device, _ in claims))
    return met(
        f"What is said against {names} was counted with the requested control too: "
        f"{listed(dict.fromkeys(_COUNTED[column][0] for _, _, column in claims))}.",
        *dict.fromkeys(("alternatives", at, "reason") for at, _, _ in claims),
        ("trial", "rows"),
    )


def _claims(case: Case) -> Iterator[tuple[int, Alternative, str]]:
    """Each driven control that its reason rules out by something countable, with its place and the column of that."""
    driven = {row.method for row in case.tried} - {case.configuration.method}
    for at, device in enumerate(case.alternatives):
        if device.method in driven and device.ruled_out_by not in ("nothing", "refusal", "not_a_fair_try"):
            for column, (_, words) in _COUNTED.items():
                if words.search(device.reason or ""):
                    yield at, device, column


def _is_counted(case: Case, method: str | None, column: str) -> bool:
    """Whether some row of a control holds the count, which may stand once for its day."""
    return any(getattr(row, column) is not None for row in case.tried if row.method == method)
