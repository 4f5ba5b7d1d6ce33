"""The chair in use now has a cushion and back while it stays on and its own have moved to the new one.

Asks: Where cushion and back are reused, and the chair in use now is kept for some time after delivery, on what cushion
    and back it is used then.
Why a payer asks: One seat cannot stand in two chairs: whoever still rides in the old one has no support and no
    protection of the skin.
What settles it: chair_now_stays and chair_now_seat under [request]; cushion_reused under [configuration.chair].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in

HEADING = "record"
CLAIM = "The chair in use now has a seat for as long as it stays on"
SHOWN_IN = ("letter: Mobility Limitation and MRADLs in the Home",)
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    request, chair = grounds.case.request, grounds.case.configuration.chair
    if chair.cushion_reused is False or (chair.cushion_reused is None and chair.cushion is None):
        return does_not_apply("No cushion or back is reused.", ("configuration", "chair", "cushion_reused"))
    if request.chair_now_stays is False:
        return does_not_apply("The chair in use now does not stay on after delivery.", ("request", "chair_now_stays"))
    recorded = {
        "configuration.chair.cushion_reused": chair.cushion_reused,
        "request.chair_now_stays": request.chair_now_stays,
    }
    if keys := [name for name, known in recorded.items() if known is None]:
        return cannot_tell(
            "Whether the chair in use now stays on after delivery while its cushion and back move to the new one is "
            "not recorded.",
            *(tuple(name.split(".")) for name in keys),
            mend=fill_in(dict.fromkeys(keys, "<true or false>")),
        )
    at = ("request", "chair_now_seat")
    if request.chair_now_seat is None:
        return cannot_tell(
            "The chair in use now stays on after delivery, and its cushion and back move to the new chair: on what it "
            "is used until then is not recorded.",
            at,
            mend=fill_in({"request.chair_now_seat": "<the cushion and back in it from the day of delivery>"}),
        )
    return met("While the chair in use now stays on, it is recorded on what cushion and back it is used.", at)
