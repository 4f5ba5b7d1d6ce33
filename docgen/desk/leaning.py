"""Where an entry of a case is named by others, which then cannot be without it."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.base import Part, fields_of, is_free_text, part_of
from docgen.case.keys import value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.desk.picked import choices_at

ROWS: KeyPath = ("trial", "rows")
# list -> column that names its entries
_OF_ROWS: dict[KeyPath, str] = {
    ("trial", "methods"): "method",
    ("trial", "tasks"): "task",
}  # list -> column that names its entries


def named_at(case: Case, entry: KeyPath) -> tuple[KeyPath, ...]:
    """Keys outside an entry that name it, in the order of the case; last `ROWS` where rows of the trial do."""
    of_list, name = entry[:-1], getattr(value_at(case, entry), "id", None)
    if not isinstance(name, str):
        return ()
    ids = {other.id for other in value_at(case, of_list)}
    keys = [
        path
        for path, names in _names_in(case, ())
        if name in names
        and path[: len(entry)] != entry
        and _may_be_of(case, path, ids)
        and not _follows_visit(case, path, name)
    ]
    column = _OF_ROWS.get(of_list)
    in_rows = column and any(getattr(row, column) == name for row in (*case.records, *case.totals))
    return (*keys, *([ROWS] if in_rows else []))


def _follows_visit(case: Case, path: KeyPath, name: str) -> bool:
    """Whether a key has its person from the visit of its entry, which is told by itself."""
    visit = value_at(case, (*path[:-1], "visit"))
    return path[-1] == "by" and any(day.id == visit and day.by == name for day in case.visits)


def _names_in(part: Part, path: KeyPath) -> Iterator[tuple[KeyPath, tuple[str, ...]]]:
    """Each key of a part that may name an entry, and the names in it."""
    for key, info in fields_of(type(part)).items():
        value = getattr(part, key)
        if part_of(info.annotation):
            inner = value if isinstance(value, tuple) else [value]
            places = [(*path, key, at) if isinstance(value, tuple) else (*path, key) for at in range(len(inner))]
            for place, below in zip(places, inner, strict=True):
                if isinstance(below, Part):
                    yield from _names_in(below, place)
        elif key != "id" and not is_free_text(info) and isinstance(value, (str, tuple)):
            yield (*path, key), (value,) if isinstance(value, str) else tuple(map(str, value))


def _may_be_of(case: Case, path: KeyPath, ids: set[str]) -> bool:
    """Whether a key names entries of the list that has these ids, as far as is known of it."""
    choices = choices_at(case, path)
    return not choices or {id_ for id_, _ in choices} == ids
