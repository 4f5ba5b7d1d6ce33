"""Whether simpler devices of the record are ruled out with a reason: what every question of that kind asks of them."""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.model import Case
from docgen.case.tried import Alternative, Method
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import capital, k_of_n, listed, points
from docgen.evidence.difference import RARE
from docgen.fit.alternatives import WORSE, did_worse
from docgen.grammar import with_verb

Placed = tuple[int, Alternative]


def of_kinds(case: Case, kinds: Sequence[str]) -> list[Placed]:
    """The devices of these kinds with their places, kind by kind."""
    return [(i, device) for kind in kinds for i, device in enumerate(case.alternatives) if device.kind == kind]


def kinds_lacking(devices: Sequence[Placed], kinds: Sequence[str]) -> list[str]:
    """The kinds of which no device is recorded."""
    recorded = {device.kind for _, device in devices}
    return [kind for kind in kinds if kind not in recorded]


def too_small(grounds: Grounds, method: str | None) -> str:
    """What a trial leaves open that saw a control do worse and is too small to tell; "" where it tells, or saw no such
    thing."""
    case, evidence = grounds.case, grounds.evidence
    difference = evidence.of("difference", method)
    if difference is None or difference.verdict not in WORSE or did_worse(case, evidence, method):
        return ""
    done, asked = (recorded(evidence.of("success", tried)) for tried in (method, case.configuration.method))
    return (
        f"{k_of_n(done)} attempts successful, requested control {k_of_n(asked)}: a difference of {points(difference)}, "
        f"which is too small a trial to tell. {luck(grounds, method)}"
    )


def luck(grounds: Grounds, method: str | None) -> str:
    """How often two equal controls would differ as much, as a sentence; "" where the two were not compared."""
    chance = grounds.evidence.of("by_chance", method)
    if chance is None:
        return ""
    return (
        f"By Fisher's exact test, two equal controls would differ as much in {percent(recorded(chance.value))} of "
        "trials of this size, if their attempts were independent."
    )


def equals(grounds: Grounds, method: str) -> str:
    """The same, to follow the counts of a control in their brackets."""
    chance = grounds.evidence.of("by_chance", method)
    if chance is None:
        return ""
    share = percent(recorded(chance.value))
    return (
        f"; chance alone would bring so large a difference in {share} of such trials, were their attempts independent"
    )


def on_shared_days(grounds: Grounds, method: Method) -> tuple[str, bool]:
    """What the days show on which a control and the one asked for were both driven, and whether they show it to be
    worse; no sentence where those are all the days."""
    evidence = grounds.evidence
    if any(
        fact.id.startswith(f"unfair.{method.id}.") and fact.verdict == "no_shared_day" for fact in evidence.values()
    ):
        return f"{capital(method.name)} was never driven on a day of the requested control.", False
    shared, asked = evidence.of("shared", method.id), evidence.of("shared_asked", method.id)
    if shared is None or asked is None:
        return "", True
    chance = evidence.of("same_day_by_chance", method.id)
    shows = chance is not None and recorded(chance.value) < RARE
    could = "" if shows else ", which chance alone could still bring"
    return (
        f"On days that both were driven, the {method.name} did {k_of_n(shared)} and the requested control "
        f"{k_of_n(asked)}{could}.",
        shows,
    )


def percent(chance: float) -> str:
    """A chance as pages tell it."""
    return f"{chance:.0%}" if chance >= 0.01 else "less than 1%"


LEAST_SHARE_WORKS = 0.5  # common practice, no source: done less often than not, nobody would call it working
TRAIN_INSTEAD = (
    "It did not work either, and asking for it settles nothing: train, change the setup, try other controls, "
    "or have a caregiver drive."
)


def worked(grounds: Grounds, method: str | None) -> bool:
    """Whether at least half of the attempts with a control were done: what did not work is never advised."""
    done = grounds.evidence.of("success", method)
    return done is not None and recorded(done.value) >= LEAST_SHARE_WORKS


def nothing_recorded(about: str, kind: str) -> Answer:
    """Cannot be told, where a kind of device is not recorded."""
    return cannot_tell(
        f"Nothing is recorded about {about}.",
        ("alternatives",),
        mend=add_entry("alternatives", "ruled_out_by", "reason", kind=kind),
    )


ELSE = (
    'where something else rules it out, write that: ruled_out_by = "condition" or "refusal" with its reason, or '
    '"feature" with its reason and measure'
)
FAIR_TRY = (
    "Try it again in its best setup, with the same tasks, as many attempts and the same rests as the requested control"
)


def no_fair_try(devices: Sequence[Placed]) -> Answer | None:
    """Cannot be told, where a device was tried and the record says that this was not a fair try; None where none is."""
    unfair = [(i, device) for i, device in devices if device.had_no_fair_try]
    if not unfair:
        return None
    names = listed(device.name for _, device in unfair)
    return cannot_tell(
        f"{capital(with_verb(names, 'was'))} tried, and that was not a fair try: how the client would do is not known.",
        *(("alternatives", i) for i, _ in unfair),
        mend=f"{FAIR_TRY}; or, {ELSE}.",
    )


def not_ruled_out(devices: Sequence[Placed]) -> Answer | None:
    """Not met where a device is recorded as not ruled out, cannot be told where a ground is missing; else None."""
    if kept := [(i, device) for i, device in devices if device.ruled_out_by == "nothing"]:
        return not_met(
            f"{capital(with_verb(listed(device.name for _, device in kept), 'is'))} recorded as not ruled out.",
            *(("alternatives", i) for i, _ in kept),
            mend="If it will do, ask for it; if not, record why.",
        )
    if unfair := no_fair_try(devices):
        return unfair
    if bare := [(i, device) for i, device in devices if not device.ruled_out_by or not device.reason]:
        return cannot_tell(
            f"The record does not say why {listed(device.name for _, device in bare)} will not do.",
            *(("alternatives", i) for i, _ in bare),
            mend=fill_in({"ruled_out_by": "", "reason": "<one sentence about this client>"}, " in [[alternatives]]"),
        )
    return None
