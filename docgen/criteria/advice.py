"""The shortest way to ready: the fewest keys that settle every blocking finding.

Only what was seen to settle a finding is offered, as a key with its form; a stand-in is never shown. What no key
settles is told in the criterion's own words.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Grounds
from docgen.criteria.forms import form
from docgen.criteria.run import Verdict
from docgen.criteria.settle import Trial, all_settled, needed_keys

_Key = TypeVar("_Key")


class Step(Struct, frozen=True):
    """One thing to do.

    kind     "fill" a key, "add" a table with keys, or "do" something that no key settles
    table    path of the table it belongs to; for "do", the place the finding names
    keys     key and its form, such as ("license", '"<license number>"')
    says     what to do in the criterion's words: for "do", and where the keys are not all there is to do
    settles  ids of the requirements that need it
    where    places that the words are about
    """

    kind: str
    table: KeyPath
    keys: tuple[tuple[str, str], ...] = ()
    says: str = ""
    settles: tuple[str, ...] = ()
    where: tuple[KeyPath, ...] = ()


def shortest_way(grounds: Grounds, verdicts: Iterable[Verdict]) -> tuple[Step, ...]:
    """The steps that settle every blocking finding; keys that several need stand once.

    What no key settles comes first: a decision can change what is requested, and so which keys are needed.
    It holds if what is filled in bears the claim out; a key filled in against the facts settles nothing.
    """
    keyed: dict[KeyPath, Step] = {}
    work: dict[tuple[KeyPath, str], Step] = {}
    for verdict, trial in all_settled(grounds, verdicts):
        mend, where = verdict.answer.mend, verdict.answer.where
        if trial is None:
            place, says = where[0] if where else (), verdict.answer.to_settle
            _join(work, (place, says), Step("do", place, says=says, where=where), verdict)
            continue
        says = mend.say if mend and mend.work else ""
        for shared, step in _steps(trial, says):
            _join(keyed, shared, step, verdict)
    return (*work.values(), *keyed.values())


def _steps(trial: Trial, says: str) -> Iterable[tuple[KeyPath, Step]]:
    """The entries to add and the keys to fill of what settles a finding, each under the path that findings share."""
    for entry, fixed in trial.added:
        inside = [str(path[-1]) for path in trial.fills if path[: len(entry)] == entry]
        keys = dict.fromkeys([*needed_keys(entry, fixed), *inside])
        forms = tuple((key, form((*entry, key))) for key in keys)
        yield trial.shared(entry), Step("add", entry[:-1], (*fixed, *forms), says)
    for path in trial.fills:
        if trial.shared(path) == path:  # one inside a new entry stands with it
            yield path, Step("fill", path[:-1], ((str(path[-1]), form(path)),), says)


def _join(steps: dict[_Key, Step], key: _Key, step: Step, verdict: Verdict) -> None:
    """Put a step in, or add its keys to the one that is there; either way this finding needs it."""
    before = steps.get(key, step)
    steps[key] = replace(
        before,
        keys=tuple(dict([*before.keys, *step.keys]).items()),
        says=before.says or step.says,
        settles=tuple(dict.fromkeys([*before.settles, verdict.requirement.id])),
    )
