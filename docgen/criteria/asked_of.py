"""What an open answer asks for: the keys that its mend names, and who can answer for them.

What settles an answer, the questions on a sheet and the keys of a new case all follow these rules.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from docgen.case.awaited import respondent_at
from docgen.case.emergency import EmergencyStep
from docgen.case.keys import entries_at, keys_at, table_at, value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.model import Case
from docgen.case.respondents import FIRST_ASKED, Respondent, respondents
from docgen.criteria.criterion import Answer
from docgen.criteria.mend import NewEntry


def keys_to_fill(
    where: Iterable[KeyPath], keys: Iterable[str], n_entries: Callable[[KeyPath], int] = lambda table: 1
) -> list[KeyPath]:
    """The paths of keys to fill in: a key with dots at its own, that of an entry with its place, such as
    "spaces.2.floor"; another in each table that the answer points to.

    n_entries  how many entries a list has; without it one stands for all
    """
    keys = list(keys)
    paths: list[KeyPath] = [
        tuple(int(part) if part.isdigit() else part for part in key.split(".")) for key in keys if "." in key
    ]
    for place in where:
        if entries_at(place):
            tables: list[KeyPath] = [(*place, index) for index in range(n_entries(place))]
        else:
            tables = [place if table_at(place) else place[:-1]]
        paths += [(*table, key) for table in tables for key in keys if key in keys_at(table)]
    return list(dict.fromkeys(paths))


def keys_of_entry(entry: KeyPath, new: NewEntry) -> list[str]:
    """The keys to fill in of an entry that is added: those it cannot do without, and those its mend names."""
    known = keys_at(entry)
    needed = [name for name, field in known.items() if field.is_required()]
    return [key for key in dict.fromkeys([*needed, *new.keys]) if key in known and key not in ("id", *dict(new.fixed))]


def keys_asked(answer: Answer) -> tuple[str, ...]:
    """Paths of the keys and tables that would settle it, with dots and without places in lists."""
    if answer.mend is None:
        return ()
    keys = [dotted(path) for path in keys_to_fill(answer.where, answer.mend.fill)]
    for new in answer.mend.add:
        entry: KeyPath = (*new.table.split("."), 0)
        keys += [dotted((*entry, key)) for key in keys_of_entry(entry, new)] or [new.table]
    return tuple(dict.fromkeys(keys))


def asked_of(answer: Answer, case: Case) -> tuple[str, ...]:
    """Ids of those of this case who can answer, most keys first; of steps that no key settles whoever gave them, else
    the therapist."""
    if answer.of:
        return answer.of
    whose = [*_whose_keys(answer, case)]
    whose = whose or _givers(answer, case) or [FIRST_ASKED]
    return tuple(sorted(dict.fromkeys(whose), key=lambda who: (-whose.count(who), whose.index(who))))


def _whose_keys(answer: Answer, case: Case) -> Iterator[str]:
    """Who can answer for each key that would settle it; the therapist for an entry of which they could answer half."""
    if answer.mend is None:
        return
    paths = keys_to_fill(answer.where, answer.mend.fill, lambda table: len(value_at(case, table, ())))
    yield from (who for _, who in dict.fromkeys((dotted(path), respondent_at(case, path)) for path in paths))
    for new in answer.mend.add:
        entry: KeyPath = (*new.table.split("."), 0)
        keys = [*dict(new.fixed), *keys_of_entry(entry, new)]
        needed = [key for key in keys if keys_at(entry)[key].is_required()]
        able = {name for name, who in respondents().items() if _answers_all(who, case, entry, needed)}
        whose = [respondent_at(case, (*new.table.split("."), key)) for key in keys_of_entry(entry, new)]
        yield from (who if who in able else FIRST_ASKED for who in whose or [respondent_at(case, entry[:-1])])


def _answers_all(who: Respondent, case: Case, entry: KeyPath, keys: Iterable[str]) -> bool:
    """Whether one can answer for each of these keys of an entry: half an entry cannot be read."""
    return all(respondent_at(case, (*entry, key)) in who.answers_for for key in keys)


def _givers(answer: Answer, case: Case) -> list[str]:
    """Who gave the steps of the emergency page that an answer points to, where they are one who can be asked."""
    steps = [step for place in answer.where if place[:2] == ("emergency", "steps") for step in _steps_at(case, place)]
    roles = {person.id: person.role for person in case.people}
    return [role for step in steps if (role := roles.get(step.by or "", "")) in respondents()]


def _steps_at(case: Case, place: KeyPath) -> tuple[EmergencyStep, ...]:
    """The step that a place names, or all of them where it names the list."""
    steps = case.emergency.steps
    return steps[place[2] :][:1] if len(place) > 2 and isinstance(place[2], int) else steps
