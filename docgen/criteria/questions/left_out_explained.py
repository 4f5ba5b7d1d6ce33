"""What was asked for and is not requested stands with who asked for it and why it is left out.

Asks: Whether each thing that the client, the family, a school or somebody else asked for, and the request leaves out,
    has who asked for it and the reason.
Why a payer asks: What is asked for later, or stands in another's report, looks forgotten where the letter is silent.
What settles it: asked_by and why_not of each entry of [[left_out]].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "alternatives"
CLAIM = "What was asked for and is not requested has its reason"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
QUIET = True
SETTINGS: dict[str, object] = {}
_KEYS = {"asked_by": "<who asked for it>", "why_not": "<why it is not requested>"}


def answer(grounds: Grounds) -> Answer:
    left_out = grounds.case.left_out
    if not left_out:
        return does_not_apply("Nothing is recorded that somebody asked for and is not requested.", ("left_out",))
    bare = [(i, entry) for i, entry in enumerate(left_out) if not (entry.asked_by and entry.why_not)]
    if bare:
        missing = {key: form for key, form in _KEYS.items() if any(not getattr(entry, key) for _, entry in bare)}
        return cannot_tell(
            f"Not recorded is who asked for it, or why it is not requested: {listed(entry.what for _, entry in bare)}.",
            *(("left_out", i) for i, _ in bare),
            mend=fill_in(missing, " in [[left_out]]; what nobody asked for is no entry there"),
        )
    return met(f"Left out, each with its reason: {listed(entry.what for entry in left_out)}.", ("left_out",))
