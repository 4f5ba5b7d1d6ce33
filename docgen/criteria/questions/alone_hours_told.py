"""Of hours alone it is told from when to when, who comes by, and what an unanswered call leads to.

Asks: Where the client is alone: from when until when and on which days; what the client does when nobody answers the
    call; whether whoever comes by meanwhile was taught what they do there.
Why a payer asks: A payer does not. A neighbor whom nobody has shown anything empties no bag, and a call that only one
    person answers is none when that person is away.
What settles it: hours, or longest_min where there are no fixed ones, looks_in and no_answer of each place in
    [[supervision]] at level "on_call" or "alone", and [[taught]].
Source: common practice, no source; no published guidance on hours alone was found.
"""

from __future__ import annotations

from docgen.criteria.alone import none_alone, places_alone
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import capital, listed

HEADING = "safety"
CLAIM = "Hours alone have their times, and a call that is not answered its way"
SETTINGS: dict[str, object] = {}
_OR_LONGEST = "; where there are no fixed hours, longest_min in place of hours"
_WORDS = {"hours": "from when until when", "no_answer": "what an unanswered call leads to"}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if nothing_to_ask := none_alone(case):
        return nothing_to_ask
    alone = places_alone(case)
    shown = {entry.who for entry in case.taught}
    for at, place in alone:
        if untaught := [entry.who for entry in place.looks_in if entry.who not in shown]:
            return not_met(
                f"{capital(place.place)}: {listed(untaught)} comes by, and was taught nothing on record.",
                ("supervision", at, "looks_in"),
                ("taught",),
                mend="Teach whoever comes by what they do there, and record it in [[taught]].",
            )
        not_asked = {"hours"} if place.longest_min else set()  # up to two hours on any day has no hours to tell
        if missing := [name for name in _WORDS if name not in not_asked and not getattr(place, name)]:
            return cannot_tell(
                f"{capital(place.place)}: not recorded is {listed(_WORDS[name] for name in missing)}.",
                *(("supervision", at, name) for name in missing),
                mend=fill_in(
                    {name: "" for name in missing},
                    f" of the place in [[supervision]]{_OR_LONGEST * ('hours' in missing)}",
                ),
            )
    return met(
        "Hours alone have their times, and an unanswered call its way.", *(("supervision", at) for at, _ in alone)
    )
