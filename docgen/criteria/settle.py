"""What settles an open finding: the fewest keys and entries with which its criterion is met, found by trying them.

The mend of an answer says which keys to fill in and which entries to add. Stand-ins of the right form are put into a
copy of the case, the criterion is asked again, and every key that it can do without is dropped.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.keys import entries_at, keys_at, table_at, value_at, with_value
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.asked_of import keys_of_entry, keys_to_fill
from docgen.criteria.criterion import Answer, Grounds
from docgen.criteria.forms import stand_ins
from docgen.criteria.mend import NewEntry
from docgen.criteria.run import OPEN, Verdict
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.gather import evidence
from docgen.evidence.stopping_rule import Stopping, stopping
from docgen.fit.match import fit

_ROUNDS = 8  # answers one after another that a finding may need, such as an entry and then a key in it
Fixed = tuple[tuple[str, str], ...]  # keys with the values that a mend gives them


class Trial(Struct, frozen=True, dict=True):
    """A case with stand-ins: the entries added so far, each with its fixed keys, and the keys filled."""

    case: Case
    added: tuple[tuple[KeyPath, Fixed], ...] = ()
    fills: tuple[KeyPath, ...] = ()

    @cached_property
    def wider(self) -> Case:
        """The case with the new entries, before any key is filled."""
        case = self.case
        for entry, fixed in self.added:
            case = with_value(case, entry[:-1], (*value_at(case, entry[:-1]), _new_entry(case, entry, fixed)))
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

    def shared(self, path: KeyPath) -> KeyPath:
        """A new entry by what it fixes instead of by its number, so that findings that need the same one share it."""
        for entry, fixed in self.added:
            if path[: len(entry)] == entry:
                words = "+" + " ".join(f"{key} = {value}" for key, value in fixed)
                return (*entry[:-1], words, *path[len(entry) :])
        return path


class _WhenAsked(Evidence):
    """Evidence that is worked out only when a criterion looks at it."""

    def __init__(self, case: Case) -> None:
        self._case = case

    @cached_property
    def _facts(self) -> dict[str, Fact]:  # type: ignore[override]
        return dict(evidence(self._case))

    @cached_property
    def stopping(self) -> Stopping:  # type: ignore[override]
        """The rule behind the facts of stopping."""
        return stopping(self._case)


def all_settled(grounds: Grounds, verdicts: Iterable[Verdict]) -> list[tuple[Verdict, Trial | None]]:
    """Every blocking finding with what settles it, or None where no key does.

    A new entry of which nothing is fixed becomes one that another finding needs anyway, where that settles it too.
    """
    chosen: set[KeyPath] = set()
    settled: list[tuple[Verdict, Trial | None]] = []
    for verdict in verdicts:
        if verdict.blocks:
            trial = _settled(grounds, verdict, chosen)
            chosen |= {trial.shared(path) for path in trial.fills} if trial else set()
            settled.append((verdict, trial))
    hosts = {
        entry[:-1]: (entry, fixed, trial)
        for _, trial in reversed(settled)
        if trial
        for entry, fixed in reversed(trial.added)
        if fixed
    }
    return [(verdict, _onto(verdict, trial, hosts) if trial else None) for verdict, trial in settled]


def _onto(verdict: Verdict, trial: Trial, hosts: Mapping[KeyPath, tuple[KeyPath, Fixed, Trial]]) -> Trial:
    """The trial with its nondescript new entries turned into those of other findings, where that settles it too."""
    for place, (entry, fixed) in enumerate(trial.added):
        if fixed or entry[:-1] not in hosts:
            continue
        host, words, other = hosts[entry[:-1]]
        fills_of_host = [(*entry, path[-1]) for path in other.fills if path[: len(host)] == host]
        joined = replace(
            trial,
            added=(*trial.added[:place], (entry, words), *trial.added[place + 1 :]),
            fills=tuple(dict.fromkeys([*trial.fills, *fills_of_host])),
        )
        if _is_met(_ask(verdict, joined)):
            trial = _fewest(verdict, joined, {joined.shared(path) for path in fills_of_host})
    return trial


def _settled(grounds: Grounds, verdict: Verdict, chosen: set[KeyPath]) -> Trial | None:
    """The fewest stand-ins with which this finding is met, or None when the keys of its mends do not settle it."""
    trial, answer = Trial(grounds.case), verdict.answer
    for _ in range(_ROUNDS):
        if _is_met(answer):
            return _fewest(verdict, trial, chosen)
        for wider in _asked_for(trial, answer):
            again = _ask(verdict, wider)
            if again is not None and again != answer:
                trial, answer = wider, again
                break
        else:
            return None
    return None


def _is_met(answer: Answer | None) -> bool:
    return answer is not None and answer.status not in OPEN


def _ask(verdict: Verdict, trial: Trial) -> Answer | None:
    """The best answer that any of the stand-ins gives: met if one does."""
    best: Answer | None = None
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


def _fewest(verdict: Verdict, trial: Trial, chosen: set[KeyPath]) -> Trial:
    """The trial without the keys it can do without; keys that another finding needs anyway are kept if any are."""
    for path in sorted(trial.fills, key=lambda path: trial.shared(path) in chosen):
        fewer = replace(trial, fills=tuple(other for other in trial.fills if other != path))
        if _is_met(_ask(verdict, fewer)):
            trial = fewer
    return trial


def _asked_for(trial: Trial, answer: Answer) -> Iterator[Trial]:
    """What the mend asks for: first its keys in the tables that are there, then its new entries."""
    if answer.mend is None:
        return
    case = trial.grounds().case
    unset = [path for path in unset_keys(case, answer.where, answer.mend.fill) if path not in trial.fills]
    if unset:
        yield replace(trial, fills=(*trial.fills, *unset))
    entries = answer.mend.add or _first_entry(case, answer.where, answer.mend.fill)
    if not entries:
        return
    added: list[tuple[KeyPath, Fixed]] = []
    fills: list[KeyPath] = []
    for new in entries:
        table: KeyPath = tuple(new.table.split("."))
        before = sum(other[:-1] == table for other, _ in added)  # new entries of the same list go one after another
        entry: KeyPath = (*table, len(value_at(case, table)) + before)
        needed = needed_keys(entry, new.fixed)
        if not all(stand_ins(case, (*entry, key)) for key in needed):
            return  # such as a key that names an entry of a list that is still empty
        added.append((entry, new.fixed))
        fills += [(*entry, key) for key in keys_of_entry(entry, new) if stand_ins(case, (*entry, key))]
    yield replace(trial, added=(*trial.added, *added), fills=(*trial.fills, *fills))


def unset_keys(case: Case, where: Iterable[KeyPath], keys: Iterable[str]) -> list[KeyPath]:
    """Those of the keys that the case lacks: at their own path, or in the tables that the answer points to."""
    paths = keys_to_fill(where, keys, lambda table: len(value_at(case, table)))
    return [path for path in paths if value_at(case, path, default=0) in (None, ()) and stand_ins(case, path)]


def _first_entry(case: Case, where: Iterable[KeyPath], keys: tuple[str, ...]) -> tuple[NewEntry, ...]:
    """Where an empty list is pointed to and keys belong into its entries, its first entry."""
    empty = [".".join(map(str, place)) for place in where if entries_at(place) and not value_at(case, place)]
    return tuple(NewEntry(table, keys) for table in empty[:1] if keys)


def needed_keys(entry: KeyPath, fixed: Fixed) -> list[str]:
    """Keys that an entry cannot do without, less those fixed."""
    return [name for name, field in keys_at(entry).items() if field.is_required() and name not in dict(fixed)]


def _new_entry(case: Case, path: KeyPath, fixed: Fixed) -> Any:
    """A new entry that holds its fixed keys, and a stand-in for each that it cannot do without."""
    model = table_at(path)
    if model is None:
        raise ValueError(f"{path} is no table")
    values: dict[str, Any] = {
        key: value == "true" if value in ("true", "false") else value.strip('"') for key, value in fixed
    }
    values |= {name: stand_ins(case, (*path, name))[0] for name in needed_keys(path, fixed)}
    return model(**values)
