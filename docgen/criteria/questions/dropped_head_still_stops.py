"""A head that drops and does not come back leaves a stop elsewhere.

Asks: Where the head drives and a condition lets it drop, whether it comes back by itself, and if not, whether the
    driver reaches a stop that is not at the head.
Why a payer asks: A payer does not. A head that hangs on a pad, or off all of them, can press no stop.
What settles it: the answer to neck_recovers in [[conditions.answers]]; stop_switch_by and stop_switch_site under
    [configuration.stop].
Source: by inference; docgen/conditions, row C1-33.
"""

from __future__ import annotations

from docgen.case.stop import Stop
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import capital
from docgen.fit.condition import answer_to
from docgen.fit.condition_asked import asked_of

HEADING = "safety"
CLAIM = "If the head drops, a stop is reached elsewhere"
DANGER = True
SETTINGS: dict[str, object] = {}
_QUESTION = "neck_recovers"


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.configuration.features:
        return cannot_tell(
            "The features of the control are not recorded.",
            ("configuration", "features"),
            mend=add_entry("configuration.features"),
        )
    asked = [condition for condition, question in asked_of(case) if question.id == _QUESTION]
    if not asked:
        return does_not_apply("No head drives that a condition lets drop.", ("configuration", "features"))
    answers = [answer_to(case, condition.id, _QUESTION) for condition in asked]
    comes_back = [answer.yes for answer in answers if answer is not None and answer.yes is not None]
    if comes_back and all(comes_back):  # of two answers that differ, the one that can hurt counts
        return met("A head that drops comes back by itself, as recorded.", ("conditions",))
    if not comes_back:
        return cannot_tell(
            f"{capital(asked[0].name)}: whether a head that drops comes back by itself is not recorded.",
            ("conditions",),
            mend=f"Answer {asked[0].id}.{_QUESTION} in [[conditions.answers]].",
            danger=True,
        )
    return _elsewhere_than_the_head(case.configuration.stop)


def _elsewhere_than_the_head(stop: Stop) -> Answer:
    """Whether the driver reaches a stop that is not at the head, and it is known to stop the chair."""
    at = ("configuration", "stop")
    by_driver = (stop.stops or stop.helpers_own is not None) and stop.stop_switch_by in ("driver", "both")
    if by_driver and stop.stop_switch_site is None:
        return cannot_tell(
            "Where the driver's stop switch is mounted is not recorded.",
            at,
            mend=fill_in({"configuration.stop.stop_switch_site": "<place on the chair>"}),
            danger=True,
        )
    if not by_driver or (stop.stop_switch_site or "").startswith("head"):
        return not_met(
            "The head can drop and not come back, and the driver has no stop but at the head.",
            at,
            mend="Add a stop that the driver reaches with something else than the head, and try it.",
        )
    if stop.helpers_own is None and stop.after_stop is None:
        return cannot_tell(
            "Whether the driver's stop switch stops the chair, or only puts the control in standby, is not recorded.",
            (*at, "after_stop"),
            mend=fill_in({"configuration.stop.after_stop": '"waits", "starts" or "rests"'}),
            danger=True,
        )
    return met("The driver has a stop that is not at the head.", at)
