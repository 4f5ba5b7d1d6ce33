"""The shortest way to ready: the fewest keys that settle every blocking finding, found by trying them.

A criterion says in its mend which keys it lacks. Stand-ins of the right form are put into a copy of the case, the
criterion is asked again, and every key it can do without is dropped. Only what was seen to settle a finding is
offered, as a key with its form; a stand-in is never shown. What no key settles is told in the criterion's own words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds
from docgen.criteria.forms import entries_at, form, stand_ins, table_at, value_at, with_value
from docgen.criteria.run import Verdict
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.gather import evidence
from docgen.fit.match import fit

_ROUNDS = 8
_WORD = re.compile(r"[a-z][a-z0-9_]*(?:\.[a-z][a-z0-9_]*)*")
_FIXED = re.compile(r"\b([a-z][a-z0-9_]*) = (\"[^\"]*\"|true|false)")
_Fixed = tuple[tuple[str, str], ...]  # keys and values that a mend gives itself
_OPEN = ("not_met", "cannot_tell")
_PLAIN = (
    "Fill in",
    "Add",
    "Measure and fill in",
    "Record",
    "Mark",
)  # a mend that begins otherwise offers another way first


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do.

    kind     "fill" a key, "add" a table with keys, or "do" something that no key settles
    table    path of the table it belongs to; for "do", the place the finding names
    keys     key and its form, such as ("license", '"<license number>"')
    says     what to do in the criterion's words: for "do", and where a key is only one of the ways it names
    settles  ids of the requirements that need it
    """

    kind: str
    table: KeyPath
    keys: tuple[tuple[str, str], ...] = ()
    says: str = ""
    settles: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Trial:
    """A case with stand-ins: the tables added so far, each with the keys its mend fixes, and the keys filled."""

    case: Case
    added: tuple[tuple[KeyPath, _Fixed], ...] = ()
    fills: tuple[KeyPath, ...] = ()

    @cached_property
    def wider(self) -> Case:
        """The case with the new tables, before any key is filled."""
        case = self.case
        for entry, fixed in self.added:
            case = with_value(case, entry[:-1], (*value_at(case, entry[:-1]), _entry(case, entry, fixed)))
        return case

    @cached_property
    def choices(self) -> dict[KeyPath, tuple[Any, ...]]:
        """Key to fill -> its stand-ins."""
        return {path: stand_ins(self.wider, path) for path in self.fills}

    def grounds(self, variant: int = 0) -> Grounds:
        """Grounds in which each key holds its stand-in of this number, or its last."""
        case = self.wider
        for path, values in self.choices.items():
            case = with_value(case, path, values[min(variant, len(values) - 1)])
        return Grounds(case, _WhenAsked(case), fit(case, lambda *path: ""))


class _WhenAsked(Evidence):
    """Evidence that is worked out only when a criterion looks at it."""

    def __init__(self, case: Case) -> None:
        self._case = case

    @cached_property
    def _facts(self) -> dict[str, Fact]:  # type: ignore[override]
        return dict(evidence(self._case))


def shortest_way(grounds: Grounds, verdicts: Iterable[Verdict]) -> tuple[Step, ...]:
    """The steps that settle every blocking finding; keys that several need stand once.

    What no key settles comes first: a decision can change what is asked for, and so which keys are needed.
    It holds if what is filled in bears the claim out; a key filled in against the facts settles nothing.
    """
    steps: dict[KeyPath, Step] = {}
    done: dict[tuple[KeyPath, str], Step] = {}
    for verdict, found in _all_settled(grounds, verdicts):
        mend, at = verdict.answer.mend, verdict.answer.where[0] if verdict.answer.where else ()
        if found is None:
            _join(done, (at, mend), Step("do", at, says=mend), verdict)
            continue
        says = "" if mend.startswith(_PLAIN) else mend
        for entry, fixed in found.added:
            inside = [str(path[-1]) for path in found.fills if path[: len(entry)] == entry]
            keys = dict.fromkeys([*_needed(entry, fixed), *inside])
            _join(
                steps,
                _shared(entry, found),
                Step("add", entry[:-1], (*fixed, *((key, form((*entry, key))) for key in keys)), says),
                verdict,
            )
        for path in found.fills:
            if _shared(path, found) == path:
                _join(steps, path, Step("fill", path[:-1], ((str(path[-1]), form(path)),), says), verdict)
    return (*done.values(), *steps.values())


def _all_settled(grounds: Grounds, verdicts: Iterable[Verdict]) -> list[tuple[Verdict, _Trial | None]]:
    """Every blocking finding with what settles it; a table that any entry will do for is one that another finding needs anyway."""
    chosen: set[KeyPath] = set()
    found: list[tuple[Verdict, _Trial | None]] = []
    for verdict in verdicts:
        if verdict.blocks:
            trial = _settled(grounds, verdict, chosen)
            chosen |= {_shared(path, trial) for path in trial.fills} if trial else set()
            found.append((verdict, trial))
    hosts = {
        entry[:-1]: (entry, fixed, trial)
        for _, trial in reversed(found)
        if trial
        for entry, fixed in reversed(trial.added)
        if fixed
    }
    return [(verdict, _onto(verdict, trial, hosts) if trial else None) for verdict, trial in found]


def _onto(verdict: Verdict, trial: _Trial, hosts: Mapping[KeyPath, tuple[KeyPath, _Fixed, _Trial]]) -> _Trial:
    """The trial with its nondescript new entries turned into ones that another finding needs, where that settles it too."""
    for place, (entry, fixed) in enumerate(trial.added):
        if fixed or entry[:-1] not in hosts:
            continue
        host, words, other = hosts[entry[:-1]]
        theirs = [(*entry, path[-1]) for path in other.fills if path[: len(host)] == host]
        joined = replace(
            trial,
            added=(*trial.added[:place], (entry, words), *trial.added[place + 1 :]),
            fills=tuple(dict.fromkeys([*trial.fills, *theirs])),
        )
        if _is_met(_ask(verdict, joined)):
            trial = _fewest(verdict, joined, {_shared(path, joined) for path in theirs})
    return trial


def _join(steps: dict[Any, Step], key: Any, step: Step, verdict: Verdict) -> None:
    """Put a step in, or add its keys to the one that is there; either way this finding needs it."""
    before = steps.get(key, step)
    steps[key] = replace(
        before,
        keys=tuple(dict([*before.keys, *step.keys]).items()),
        says=before.says or step.says,
        settles=tuple(dict.fromkeys([*before.settles, verdict.requirement.id])),
    )


def _shared(path: KeyPath, found: _Trial) -> KeyPath:
    """A new entry by what it fixes instead of by its number, so that findings that need the same one share it."""
    for entry, fixed in found.added:
        if path[: len(entry)] == entry:
            return (*entry[:-1], "+" + " ".join(f"{key} = {value}" for key, value in fixed), *path[len(entry) :])
    return path


def _settled(grounds: Grounds, verdict: Verdict, chosen: set[KeyPath]) -> _Trial | None:
    """The fewest stand-ins with which this finding is met, or None when the keys of its mends do not settle it."""
    trial, answer = _Trial(grounds.case), verdict.answer
    for _ in range(_ROUNDS):
        if _is_met(answer):
            return _fewest(verdict, trial, chosen)
        for more in _asked_for(trial, answer):
            now = _ask(verdict, more)
            if now is not None and now != answer:
                trial, answer = more, now
                break
        else:
            return None
    return None


def _is_met(answer: Answer | None) -> bool:
    return answer is not None and answer.status not in _OPEN


def _ask(verdict: Verdict, trial: _Trial) -> Answer | None:
    """The best answer that any of the stand-ins gives: met if one does."""
    best = None
    for variant in range(max(map(len, trial.choices.values()), default=1)):
        try:
            answer = verdict.criterion.ask(
                trial.grounds(variant), **{**verdict.criterion.settings, **verdict.requirement.settings}
            )
        except (LookupError, ValueError, ArithmeticError):  # stand-ins that do not go together
            continue
        if _is_met(answer):
            return answer
        best = best if best and best.status == "cannot_tell" else answer
    return best


def _fewest(verdict: Verdict, trial: _Trial, chosen: set[KeyPath]) -> _Trial:
    """The trial without the keys it can do without; keys that another finding needs anyway are kept if any are."""
    for path in sorted(trial.fills, key=lambda path: _shared(path, trial) in chosen):
        less = replace(trial, fills=tuple(one for one in trial.fills if one != path))
        if _is_met(_ask(verdict, less)):
            trial = less
    return trial


def _asked_for(trial: _Trial, answer: Answer) -> Iterator[_Trial]:
    """What the answer asks for: its keys in the tables that are there, else a new entry of the lists it names."""
    case = trial.grounds().case
    words = _WORD.findall(_without_values(answer.mend))
    if more := [path for path in _unset(case, answer, words) if path not in trial.fills]:
        yield replace(trial, fills=(*trial.fills, *more))
    fixed = tuple(_FIXED.findall(answer.mend))
    entries = [(*table, len(value_at(case, table))) for table in _lists(case, answer)]
    if entries:  # a key that refers to an entry of an empty list has no stand-in yet
        added = tuple(
            (entry, tuple(pair for pair in fixed if pair[0] in table_at(entry).model_fields)) for entry in entries
        )
        keys = [
            (*entry, word)
            for entry, held in added
            for word in dict.fromkeys([*_needed(entry, held), *words])
            if word in table_at(entry).model_fields and word not in dict(held) and word != "id"
        ]
        if all(stand_ins(case, (*entry, word)) for entry, held in added for word in _needed(entry, held)):
            yield replace(
                trial,
                added=(*trial.added, *added),
                fills=(*trial.fills, *(key for key in keys if stand_ins(case, key))),
            )


def _unset(case: Case, answer: Answer, words: list[str]) -> list[KeyPath]:
    """Keys that the mend names and the case lacks: with their table, or in the tables that the answer points to."""
    paths: list[KeyPath] = [tuple(word.split(".")) for word in words if "." in word]
    for place in answer.where:
        if entries_at(place):
            tables: list[KeyPath] = [(*place, index) for index in range(len(value_at(case, place)))]
        else:
            tables = [place if table_at(place) else place[:-1]]
        paths += [(*table, word) for table in tables for word in words if "." not in word]
    return [
        path for path in dict.fromkeys(paths) if value_at(case, path, default=0) in (None, ()) and stand_ins(case, path)
    ]


def _lists(case: Case, answer: Answer) -> list[KeyPath]:
    """Lists of tables to add to: those the mend says to add, else the empty ones that the answer points to."""
    pointed = [place for place in answer.where if entries_at(place)]
    if re.search(r"\b[Aa]dd\b", answer.mend):
        named = [tuple(name.split(".")) for name in re.findall(r"\[\[([a-z_.]+)\]\]", answer.mend)]
        return [path for path in dict.fromkeys(named) if entries_at(path)] or pointed[:1]
    return [place for place in pointed if not value_at(case, place)][:1]


def _needed(entry: KeyPath, fixed: _Fixed) -> list[str]:
    """Keys that an entry cannot do without, less those fixed."""
    return [name for name, one in table_at(entry).model_fields.items() if one.is_required() and name not in dict(fixed)]


def _without_values(mend: str) -> str:
    """The mend without quoted values and forms, in which a word names no key."""
    return re.sub(r"\"[^\"]*\"|<[^>]*>|\[\[[^\]]*\]\]", " ", mend)


def _entry(case: Case, path: KeyPath, fixed: _Fixed) -> Any:
    """A new entry that holds its fixed keys, and a stand-in for each that it cannot do without."""
    held = {key: value == "true" if value in ("true", "false") else value.strip('"') for key, value in fixed}
    held |= {name: stand_ins(case, (*path, name))[0] for name in _needed(path, fixed)}
    return table_at(path)(**held)
