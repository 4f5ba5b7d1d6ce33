"""No item is mainly for leisure.

Asks: Whether the purpose of a line is play, sport or another leisure.
Why a payer asks: An item mainly for leisure or recreation is not covered, whatever else it could do.
What settles it: purpose of the line, in words of what it is mainly for; a line without one needs at least its why.
Source: Article A52504 (read); which words mean leisure is our reading.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import ITEMS, named, no_codes, places, tells
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "No item is mainly for leisure"
QUIET = True
SETTINGS = {
    "words": [
        "leisure",
        "recreation",
        "recreational",
        "hobby",
        "hobbies",
        "sport",
        "gaming",
        "video game",
        "fishing",
        "hunting",
    ]
}


def answer(grounds: Grounds, words: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    items = list(enumerate(case.configuration.items))
    if idle := [(i, item) for i, item in items if item.purpose and tells(item.model_copy(update={"name": ""}), words)]:
        return not_met(
            f"{named(idle)}: {listed((item.purpose or '').rstrip('.') for _, item in idle)}.",
            *places(idle, "purpose"),
            mend="Write in purpose <what it is mainly for in daily life>, or take the line out.",
        )
    if bare := [(i, item) for i, item in items if not item.purpose and not item.why]:
        return cannot_tell(
            f"What it is for is not recorded of {listed(item.name for _, item in bare)}.",
            *((*ITEMS, i) for i, _ in bare),
            mend=fill_in({"why": "<why it is needed, in one line>"}, " of the item"),
        )
    return met(f"{counted(len(items), 'line was', 'lines were')} read, and none names leisure as its purpose.", ITEMS)
