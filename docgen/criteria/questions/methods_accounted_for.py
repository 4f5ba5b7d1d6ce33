"""Each control that was tried is requested or ruled out.

Asks: Whether every control of the trial with an attempt is the one asked for or stands among the alternatives, with why
    it was not chosen; the same control set otherwise is another one,
    and in other footwear the same.
Why a payer asks: A control that did well in the table and is named nowhere else looks like one that was left out.
What settles it: An entry in [[alternatives]] with method and reason.
Source: common practice, no source: whoever compares devices says why each was not chosen.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.case.tried import Method
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import counted, k_of_n, listed

HEADING = "alternatives"
CLAIM = "Each control that was tried is requested or ruled out"
SHOWN_IN = ("letter: Alternatives Considered and Ruled Out",)
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case, evidence = grounds.case, grounds.evidence
    tried = {row.method for row in case.tried}
    if not tried:
        return cannot_tell("No attempt is recorded.", ("trial", "rows"), mend="Add the rows of the trial.")
    if case.configuration.method is None:
        return does_not_apply("No control of the trial is requested.", ("configuration", "method"))
    named = {device.method for device in case.alternatives} | {case.configuration.method}
    in_other_shoes = _in_other_shoes(case)
    silent = [
        (at, m)
        for at, m in enumerate(case.trial.methods)
        if m.id in tried and m.id not in named and m not in in_other_shoes
    ]
    if silent:
        facts = tuple(f"success.{m.id}" for _, m in silent)
        return cannot_tell(
            "Tried, and neither requested nor among the alternatives: "
            f"{listed(f'{m.name} ({k_of_n(evidence[fact])})' for (_, m), fact in zip(silent, facts, strict=True))}.",
            *(("trial", "methods", at) for at, _ in silent),
            ("alternatives",),
            facts=facts,
            mend=add_entry("alternatives", "kind", "name", "reason", "ruled_out_by", method=silent[0][1].id),
        )
    return met(f"{counted(len(tried), 'control that was tried is', 'controls that were tried are')} told.", ("trial",))


def _in_other_shoes(case: Case) -> list[Method]:
    """The control asked for as it was driven with something else on the foot."""
    requested = case.requested_method
    if requested is None or not requested.features:
        return []
    return [
        method
        for method in case.trial.methods
        if method.footwear and method.footwear != requested.footwear and method.features == requested.features
    ]
