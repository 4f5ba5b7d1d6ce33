"""The chair in use now has a cushion and back while it stays on and its own have moved to the new one.

Asks: Where cushion and back are reused, and the chair in use now is kept for some time after delivery, on what cushion
    and back it is used then.
Why a payer asks: One seat cannot stand in two chairs: whoever still rides in the old one has no support and no
    protection of the skin.
What settles it: chair_now_seat under [request]; or the words on the chair in use now, where it goes back at delivery.
Source: common practice, no source.
"""

from __future__ import annotations

import re

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.questions.moved_over_parts_fit import MOVES
from docgen.criteria.sentences import sentences_of

HEADING = "record"
CLAIM = "The chair in use now has a seat for as long as it stays on"
SHOWN_IN = ("letter: Mobility Limitation and MRADLs in the Home",)
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}

# the letter prints the words on the chair in use now: they say whether it stays on after delivery
_STAYS = re.compile(
    r"\b(?:keeps?|kept|stays?|remains?|goes back|returned|collects?|collected)\b[^.;]*?"
    r"\b(?:until|once|when|as soon as|after)\b(?! (?:the )?(?:delivery|fitting|new chair (?:is|has been) delivered))",
    re.IGNORECASE,
)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not MOVES.search(case.configuration.chair.cushion or ""):
        return does_not_apply("No cushion or back is reused.", ("configuration", "chair", "cushion"))
    stays = _stays_on(case)
    if not stays:
        return does_not_apply(
            "Nothing says that the chair in use now stays on after delivery.", ("request", "chair_now")
        )
    at = ("request", "chair_now_seat")
    if case.request.chair_now_seat is None:
        return cannot_tell(
            f"“{stays.rstrip('. ')}”, and its cushion and back move to the new chair: on what it is used until then is "
            "not recorded.",
            at,
            mend=fill_in({"request.chair_now_seat": "<the cushion and back in it from the day of delivery>"}),
            bare="The chair in use now stays on without its cushion and back, and on what it is used is not recorded.",
        )
    return met("While the chair in use now stays on, it is recorded on what cushion and back it is used.", at)


def _stays_on(case: Case) -> str:
    """The sentence that has the chair in use now stay on after delivery; empty where there is none."""
    texts = (*sentences_of(case.request.chair_now), *sentences_of(case.request.chair_now_history))
    return next((sentence for sentence in texts if _STAYS.search(sentence)), "")
