"""Who can settle an open answer: the keys that its mend asks for, and whose they are."""

from __future__ import annotations

from docgen.case.keys import entries_at, keys_at, table_at
from docgen.case.lines import dotted
from docgen.case.respondents import FIRST_ASKED, respondent_of
from docgen.criteria.criterion import Answer


def keys_asked(answer: Answer) -> tuple[str, ...]:
    """Paths of the keys and tables that would settle it, with dots and without places in lists."""
    if answer.mend is None:
        return ()
    keys = [key for key in answer.mend.fill if "." in key]
    bare = [key for key in answer.mend.fill if "." not in key]
    for place in answer.where if bare else ():
        table = place if entries_at(place) or table_at(place) else place[:-1]
        known_keys = keys_at((*table, 0) if entries_at(table) else table)
        keys += [dotted((*table, key)) for key in bare if key in known_keys]
    for entry in answer.mend.add:
        keys += [f"{entry.table}.{key}" for key in entry.keys] or [entry.table]
    return tuple(dict.fromkeys(keys))


def asked_of(answer: Answer) -> tuple[str, ...]:
    """Ids of those who can answer, most keys first; the therapist for what no key settles."""
    whose = [respondent_of(key) for key in keys_asked(answer)] or [FIRST_ASKED]
    return tuple(sorted(dict.fromkeys(whose), key=lambda who: (-whose.count(who), whose.index(who))))
