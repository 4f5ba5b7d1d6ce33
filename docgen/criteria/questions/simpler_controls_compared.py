"""Every simpler control that was tried does worse than the one asked for.

Asks: Whether each control listed before the one asked for did worse in the trial, on the same measures, and whether
    the days show it on which both were driven; how it comes out with help before the start counted as help.
Why a payer asks: The least complex control that works is the one that is paid for.
What settles it: Trial rows for the simpler control and the one asked for; where they cannot be told apart, more rows or
    the simpler control.
Source: the order of questions in US national coverage determination 280.3 applied to controls; an inference, not a
    published rule.
"""

from __future__ import annotations

from collections.abc import Sequence

from docgen.case.tried import Method
from docgen.criteria.attendant import caregiver_drives
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.ruled_out import (
    ELSE,
    TRAIN_INSTEAD,
    equals,
    no_fair_try,
    on_shared_days,
    percent,
    too_small,
    worked,
)
from docgen.criteria.sentences import capital, k_of_n, listed, points
from docgen.evidence.difference import RARE, fisher_exact
from docgen.fit.alternatives import WORSE

HEADING = "alternatives"
CLAIM = "Simpler controls that were tried performed less well"
SHOWN_IN = (
    "letter: Equipment Trial and Results",
    "letter: Alternatives Considered and Ruled Out",
)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case, evidence = grounds.case, grounds.evidence
    if caregiver_drives(case):
        return does_not_apply(
            "A caregiver drives, and no control for the client is requested.", ("attendant", "drives")
        )
    ids = [method.id for method in case.trial.methods]
    asked = case.configuration.method
    if asked is None or asked not in ids:
        return cannot_tell(
            "The case does not say which control of the trial is requested.",
            ("configuration", "method"),
            mend=fill_in({"configuration.method": "<id of a trial method>"}),
        )
    simpler = case.trial.methods[: ids.index(asked)]
    if not simpler:
        return does_not_apply("No simpler control is listed in the trial.", ("trial", "methods"))
    if not evidence.of("success", asked):
        return cannot_tell(
            "The trial has no rows with the requested control.", ("trial", "rows"), mend="Add its rows to the CSV file."
        )
    ids_simpler = {method.id for method in simpler}
    tried = [(i, device) for i, device in enumerate(case.alternatives) if device.method in ids_simpler]
    by_reason = [method for method in simpler if _rests_on_its_reason(grounds, method)]
    compared = [method for method in simpler if method not in by_reason]
    return (
        no_fair_try(tried)
        or _not_worse(grounds, compared, asked)
        or _too_few_to_tell(grounds, compared)
        or _worse(grounds, compared, by_reason)
    )


def _rests_on_its_reason(grounds: Grounds, method: Method) -> bool:
    """Whether the record rules a control out by something else than its trial, which does not tell the two apart."""
    difference = grounds.evidence.of("difference", method.id)
    given = any(d.alternative.method == method.id and d.by_its_reason for d in grounds.weighed)
    if not given or difference is None:
        return False
    return difference.verdict == "not_told_apart" or (
        difference.verdict in WORSE and bool(too_small(grounds, method.id))
    )


def _not_worse(grounds: Grounds, simpler: Sequence[Method], asked: str) -> Answer | None:
    """The first simpler control without rows, or not worse than the one asked for; None where all were worse."""
    evidence = grounds.evidence
    preferred = {device.alternative.method for device in grounds.weighed if device.preferred}
    for index, method in enumerate(simpler):
        difference = evidence.of("difference", method.id)
        if difference is None:
            return cannot_tell(
                f"The trial has no rows with the {method.name}.",
                ("trial", "methods", index),
                mend="Add its rows to the CSV file, or take the method out of the trial.",
            )
        if difference.verdict not in WORSE:
            meets = (
                (
                    " By its features it meets every need that the requested control meets, so the record "
                    "supports the simpler control."
                )
                if method.id in preferred
                else ""
            )
            or_else = f"; or, {ELSE}" if difference.verdict == "not_told_apart" else ""
            return not_met(
                f"{capital(method.name)}: {k_of_n(evidence[f'success.{method.id}'])} done, requested control: "
                f"{k_of_n(evidence[f'success.{asked}'])}; the difference is {points(difference)}.{meets}",
                ("trial", "methods", index),
                facts=(difference.id,),
                mend=(
                    "Request the simpler control, or add attempts with both until they can be told "
                    f"apart{_about(grounds, method.id)}{or_else}."
                )
                if worked(grounds, method.id)
                else TRAIN_INSTEAD,
            )
    return None


def _too_few_to_tell(grounds: Grounds, simpler: Sequence[Method]) -> Answer | None:
    """The first simpler control whose trial is too small to tell; None where each is large enough."""
    for index, method in enumerate(simpler):
        if open_ := too_small(grounds, method.id):
            return cannot_tell(
                f"{capital(method.name)}: {open_}",
                ("trial", "methods", index),
                facts=(f"difference.{method.id}", f"by_chance.{method.id}"),
                mend=f"Add attempts with both until they can be told apart{_about(grounds, method.id)}; or, {ELSE}.",
            )
    return None


def _worse(grounds: Grounds, simpler: Sequence[Method], by_reason: Sequence[Method]) -> Answer:
    """Met: each simpler control was worse, or is ruled out by its reason; in part where the trial, or the days that a
    control shares with the requested one, do not show it."""
    case, evidence = grounds.case, grounds.evidence
    asked = k_of_n(evidence[f"success.{case.configuration.method}"])
    apart = [on_shared_days(grounds, method) for method in simpler]
    counted, holds = _with_help_counted(grounds, simpler)
    sentences = [
        _did_worse(grounds, simpler, asked),
        *(sentence for sentence, _ in apart),
        _by_their_reason(grounds, by_reason, asked),
        f"{_others(grounds, [*simpler, *by_reason])}{counted}".strip(),
    ]
    return met(
        " ".join(filter(None, sentences)),
        ("trial", "methods"),
        facts=tuple(f"difference.{m.id}" for m in (*simpler, *by_reason)),
        limit="" if all(shows for _, shows in apart) and holds and not by_reason else "in_part",
    )


def _did_worse(grounds: Grounds, simpler: Sequence[Method], asked: str) -> str:
    """What the simpler controls that did worse did, and how far that is known, as a sentence; empty for none."""
    evidence = grounds.evidence
    so_far = [m.name for m in simpler if evidence[f"difference.{m.id}"].verdict == "worse_so_far"]
    did = listed(
        f"{m.name} ({k_of_n(evidence[f'success.{m.id}'])}{equals(grounds, m.id) if m.name in so_far else ''})"
        for m in simpler
    )
    about = "" if len(so_far) == len(simpler) else f"for {listed(so_far)} "
    open_ = f"; {about}this is the finding so far, which a longer or more balanced trial could still change"
    return f"{capital(did)} did worse than the requested control ({asked}){open_ if so_far else ''}." if simpler else ""


def _by_their_reason(grounds: Grounds, methods: Sequence[Method], asked: str) -> str:
    """Controls that the trial does not tell from the one asked for and a reason rules out, as a sentence; empty
    for none."""
    names = listed(f"{m.name} ({k_of_n(grounds.evidence[f'success.{m.id}'])})" for m in methods)
    are, whose, results = ("is", "its", "result") if len(methods) == 1 else ("are", "their", "results")
    return (
        f"{capital(names)} and the requested control ({asked}) are too close to tell apart by this trial; "
        f"the former {are} ruled out by {whose} reason, not by {whose} {results}."
        if methods
        else ""
    )


def _with_help_counted(grounds: Grounds, simpler: Sequence[Method]) -> tuple[str, bool]:
    """How each comparison comes out where a control set again before the start counts as help, as a sentence after
    others, and whether each simpler control still did worse; no sentence where none was set again."""
    case = grounds.case
    done = {m.id: _less_helped(grounds, m) for m in case.trial.methods if grounds.evidence.of("success", m.id)}
    asked = recorded(case.requested_method)
    if not any(m.help_before_start for m in case.trial.methods if m.id in done):
        return "", True
    chances = {m.name: fisher_exact(*done[asked.id], *done[m.id]).two_sided for m in case.trial.methods if m.id in done}
    in_words = listed(
        f"{percent(chances[m.name])} for the {m.name} ({done[m.id][0]} of {done[m.id][1]})"
        for m in case.trial.methods
        if m.id in done and m is not asked
    )
    untold = [m.name for m in case.trial.methods if m.id in done and m.help_before_start is None]
    of_these = f"; of the {listed(untold)} it is not recorded whether it was set again" if untold else ""
    return (
        f" With a control set again before the start counted as help, the requested one did {done[asked.id][0]} of "
        f"{done[asked.id][1]}; chance alone would then bring so large a difference in {in_words} of such "
        f"trials{of_these}.",
        all(chances[m.name] < RARE for m in simpler if m.id in done),
    )


def _less_helped(grounds: Grounds, method: Method) -> tuple[int, int]:
    """Attempts done without help before the start, and all attempts."""
    fact = grounds.evidence[f"success.{method.id}"]
    k, n = int(recorded(fact.k)), int(recorded(fact.n))
    return max(0, k - (method.help_before_start or 0)), n


def _others(grounds: Grounds, simpler: Sequence[Method]) -> str:
    """Controls that were tried and are listed after the one asked for, as a sentence after others; empty for none."""
    case, evidence = grounds.case, grounds.evidence
    others = [m for m in case.trial.methods if m not in simpler and m.id != case.configuration.method]
    driven = [(m, fact) for m in others if (fact := evidence.of("success", m.id))]
    tried = [f"{m.name} ({k_of_n(fact)})" for m, fact in driven]
    shared = "".join(f" {on_shared_days(grounds, m)[0]}" for m, _ in driven if evidence.of("shared", m.id))
    return f" Tried besides: {listed(tried)}.{shared}" if tried else ""


def _about(grounds: Grounds, method: str) -> str:
    """How many attempts that may take, at the shares seen so far."""
    further = grounds.evidence.of("further", method)
    return (
        ""
        if further is None or further.value is None
        else f" (at the shares seen so far, about {further.k:.0f} more with each)"
    )
