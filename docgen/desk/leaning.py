"""Where an entry of a case is named by others, which then cannot be without it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.consistency import references
from docgen.case.keys import value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.model import Case
from docgen.fit.finding import vocabulary

ROWS: KeyPath = ("trial", "rows")
COLUMN_OF: dict[KeyPath, str] = {
    ("trial", "methods"): "method",
    ("trial", "tasks"): "task",
}  # list -> column of the rows that names its entries
# lists whose entries have a name of their own; others are known by a word of a vocabulary
_NAMED: tuple[KeyPath, ...] = (
    *((name,) for name in ("people", "visits", "findings", "spaces", "alternatives", "activities", "goals", "photos")),
    *(("trial", name) for name in ("methods", "tasks")),
    *(("configuration", name) for name in ("items", "mounting", "profiles")),
)


def name_in_file(case: Case, entry: KeyPath) -> str:
    """The name of an entry that can be changed; "" for one that has none of its own."""
    name = getattr(value_at(case, entry), "id", "") if entry[:-1] in _NAMED else ""
    return "" if entry[0] == "findings" and name in vocabulary() else str(name or "")


def named_at(case: Case, entry: KeyPath) -> tuple[KeyPath, ...]:
    """Keys outside an entry that name it, in the order in which they are checked; last `ROWS` where rows of the trial
    do."""
    name = getattr(value_at(case, entry), "id", None)
    if not isinstance(name, str):
        return ()
    keys = [path for path in keys_that_name(case, entry[:-1], name) if path[: len(entry)] != entry]
    keys = [path for path in keys if not _follows_visit(case, path, name)]
    return (*keys, *([ROWS] if in_rows(case, entry[:-1], name) else []))


def keys_that_name(case: Case, of_list: KeyPath, name: str) -> Iterator[KeyPath]:
    """Every key that names the entry of a list which has this id."""
    for path, value, target in (*references(case), *_among_others(case)):
        if target == dotted(of_list) and name in ((value,) if isinstance(value, str) else value or ()):
            yield path


def in_rows(case: Case, of_list: KeyPath, name: str) -> bool:
    """Whether rows of the trial, or totals of a day, name an entry of this list."""
    column = COLUMN_OF.get(of_list)
    return bool(column) and any(getattr(row, str(column)) == name for row in (*case.records, *case.totals))


def _among_others(case: Case) -> Iterator[tuple[KeyPath, str | tuple[str, ...] | None, str]]:
    """Keys that may name an entry of a list or a word of a vocabulary."""
    for at, place in enumerate(case.supervision):
        yield ("supervision", at, "covers"), place.covers, "spaces"
    for at, entry in enumerate(case.configuration.settings):
        yield ("configuration", "settings", at, "profile"), entry.profile, "configuration.profiles"
    yield ("trial", "plan", "methods"), case.trial.plan.methods, "trial.methods"


def _follows_visit(case: Case, path: KeyPath, name: str) -> bool:
    """Whether a key has its person from the visit of its entry, which is told by itself."""
    visit = value_at(case, (*path[:-1], "visit"))
    return path[-1] == "by" and any(day.id == visit and day.by == name for day in case.visits)
