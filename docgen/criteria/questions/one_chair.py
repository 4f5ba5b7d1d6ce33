"""One wheelchair is paid for at a time.

Asks: Which chair the client has now, why it will not do, and whether another one is kept.
Why a payer asks: A second chair as a backup is denied.
What settles it: chair_now and keeps_other_chair under [request].
Source: L33789, miscellaneous part.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "This is the only wheelchair requested"
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    request = grounds.case.request
    at = (("request", "keeps_other_chair"), ("request", "chair_now"))
    if request.keeps_other_chair:
        return not_met(
            "A second wheelchair paid for by the payer is kept.",
            at[0],
            mend=(
                "Write in request.chair_now <what becomes of the other chair>, and correct request.keeps_other_chair "
                "once it is not kept."
            ),
        )
    missing = [key for key in ("keeps_other_chair", "chair_now") if getattr(request, key) is None]
    if missing:
        words = {"keeps_other_chair": "whether another wheelchair is kept", "chair_now": "the chair in use now"}
        forms = {"keeps_other_chair": "<true or false>", "chair_now": "<the chair in use, and what becomes of it>"}
        return cannot_tell(
            f"Not recorded: {listed(words[key] for key in missing)}.",
            *at,
            mend=fill_in({f"request.{key}": forms[key] for key in missing}),
        )
    return met("No second wheelchair is kept, and the chair in use now is recorded.", *at)
