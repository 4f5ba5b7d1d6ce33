"""How the chair is stopped while it backs up, and what holds it once it is off, are recorded.

Asks: What the brakes do when the power is off or cut, and whether that was tried on a slope; where the control has
    reverse, by which movement the driver stops it while it backs up.
Why a payer asks: A payer does not. Bystanders who fear that a stopped chair rolls hold it or grab its levers; and a
    movement that ends reverse may cross the one that drives forward.
What settles it: brakes and backing under [configuration.stop].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "Stopping in reverse, and what holds the chair then, are recorded"
SETTINGS: dict[str, object] = {}
_WORDS = {
    "brakes": "what the brakes do when the power is off or cut",
    "backing": "how the driver stops it while it backs up",
}
_IF_BACKS = ", where it does"  # nothing says that it cannot


def answer(grounds: Grounds) -> Answer:
    configuration = grounds.case.configuration
    wanted = {"brakes": _WORDS["brakes"]} if configuration.backs is False else _WORDS
    if_backs = _IF_BACKS if configuration.backs is None and configuration.stop.backing is None else ""
    if missing := [name for name in wanted if getattr(configuration.stop, name) is None]:
        return cannot_tell(
            f"Not recorded is {listed(wanted[name] for name in missing)}{if_backs}.",
            *(("configuration", "stop", name) for name in missing),
            mend=fill_in({f"configuration.stop.{name}": "" for name in missing}),
        )
    return met(f"Recorded is {listed(wanted.values())}.", *(("configuration", "stop", name) for name in wanted))
