"""No entry of the record is a placeholder.

Asks: Whether a text of the case is a placeholder: x, tbd, ?, n/a, none yet, one token repeated.
Why a payer asks: A packet with "tbd" in it was not read by the one who signed it.
What settles it: The words themselves, or the key left out, which then shows as not recorded.
Source: the list is our own, reviewed by hand; common practice, no source.
"""

from __future__ import annotations

from docgen.case.lines import dotted
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, listed

HEADING = "record"
CLAIM = "No entry of the record is a placeholder"
HOLDS = True
SETTINGS: dict[str, object] = {}
_MOST = 6  # keys that a sentence names


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if stood := case.placeholders:
        keys = list(dict.fromkeys(dotted(path) for path in stood))
        more = f" and {len(keys) - _MOST} more" if len(keys) > _MOST else ""
        return not_met(
            f"{counted(len(stood), 'text only keeps', 'texts only keep')} a place: "
            f"{listed(keys[:_MOST]) if not more else ', '.join(keys[:_MOST]) + more}.",
            *stood,
            mend="Write what is so, or take the key out.",
            bare=f"{counted(len(stood), 'text only keeps', 'texts only keep')} a place.",
        )
    if not (case.client.name or case.people or case.findings or case.configuration.items):
        return cannot_tell("Nothing is written yet.", ("client",), mend=fill_in({"client.name": "<name>"}))
    return met("No text is a placeholder.", ("client",))
