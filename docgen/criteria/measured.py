"""The measured keys that a case records, each with the range in which it usually lies for this client."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from docgen.case.base import Part, is_number
from docgen.case.change import VALUE_OF, Change
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.profile import Profile
from docgen.case.usual import Usual
from docgen.criteria.doubt import entries
from docgen.criteria.growth import usual_height, usual_weight

Measured = tuple[Part, KeyPath, str, float, Usual]  # a key that is recorded: table, path, dotted name, value, range


def measured(case: Case) -> Iterator[Measured]:
    """Each measured key that is recorded: its table, path, dotted name, value and usual range."""
    for part, path, dotted in entries(case):
        for key in _numbers_of(type(part)):
            value = getattr(part, key)
            if isinstance(value, bool) or not isinstance(value, (int, float)):
                continue
            name = f"{dotted}.{key}" if dotted else key
            if usual := _usual(case, part, key, name):
                yield part, (*path, key), name, value, usual


@cache
def _numbers_of(kind: type[Part]) -> tuple[str, ...]:
    """Keys of a table that may hold a number with a usual range; of a changed setting that range is the setting's."""
    return tuple(
        name
        for name, field in kind.model_fields.items()
        if (issubclass(kind, Change) or kind.usual_of(name)) and is_number(field)
    )


def _usual(case: Case, part: Part, key: str, name: str) -> Usual | None:
    """The range of a key; of height and weight that of the client's age, of a changed setting that of the setting."""
    if isinstance(part, Change) and part.setting in VALUE_OF:
        return Profile.usual_of(VALUE_OF[part.setting])
    own = type(part).usual_of(key)
    if name == "client.height_mm":
        return usual_height(case) or own
    return (usual_weight(case) or own) if name == "client.weight_kg" else own


def key_with_unit(part: Part, name: str) -> str:
    """The key whose name tells the unit."""
    return VALUE_OF[part.setting] if isinstance(part, Change) else name.rpartition(".")[2]


def outside(case: Case) -> frozenset[tuple[str, float]]:
    """Dotted name and value of each measured key that lies outside its range."""
    return frozenset((name, value) for _, _, name, value, usual in measured(case) if not usual.holds(value))
