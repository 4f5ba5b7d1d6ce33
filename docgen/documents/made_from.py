"""What a table is made from, and so which classes of privacy its keys carry.

Each module that lays out tables declares them beside its functions:

    MADE_FROM = {"lesser": made_from("alternatives", "trial.methods")}

A source is a dotted key or table of the case, or a class itself where less is told than the key holds. A table that
nothing declares, or a key that has no source, does not load.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache, lru_cache

from msgspec import Struct, field

from docgen.case.base import Part, part_of, parts_in
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.who import Person, Role

Source = str | Privacy
Classes = frozenset[Privacy]
ALL = "*"  # every key of a table


class MadeFrom(Struct, frozen=True):
    """The classes of a table: those that every key of it carries, and those of single keys besides."""

    shared: Classes
    keys: Mapping[str, Classes] = field(default_factory=dict)

    def classes(self, key: str) -> Classes:
        """The classes of one key, or of all for "*"; none for a key that has no source."""
        of_keys = self.keys.values() if key == ALL else [self.keys.get(key, frozenset())]
        return self.shared.union(*of_keys)


def made_from(*sources: Source, **keys: Source | tuple[Source, ...]) -> MadeFrom:
    """A table whose keys are all made from `sources`, and single ones from what stands beside their name too.

    Raises KeyError for a source that is no key of the case.
    """
    of_keys = {key: _classes(source if isinstance(source, tuple) else (source,)) for key, source in keys.items()}
    return MadeFrom(_classes(sources), of_keys)


def of_people(*roles: Role, also: Source | None = None) -> MadeFrom:
    """A table of people with one of these roles, whose keys carry the classes they have for any of them; what a person
    holds in a table of its own carries those of that table, whatever the role."""
    people, inner = [Person(id="someone", role=role) for role in roles], parts_in(Person)
    keys = {name: _of_part(part) for name, part in inner.items()}
    keys |= {name: frozenset([part.privacy_of(name)]) for part in inner.values() for name in part.model_fields}
    keys |= {name: frozenset(each.privacy(name) for each in people) for name in Person.model_fields.keys() - inner}
    return MadeFrom(_classes([also] if also else []), keys)


@lru_cache(2_000)  # facts of a case name the same few keys
def classes_of_key(path: str) -> Classes:
    """The classes of a dotted key of the case; of a table those of all its keys. KeyError for another name.

    A place in a list may be named, as in goals.0.level.
    """
    model: type[Part] | None = Case
    classes: Classes = frozenset()
    for name in path.split("."):
        if name.isdigit() and not classes:
            continue
        if model is None or name not in model.model_fields:
            raise KeyError(path)
        inner = part_of(model.model_fields[name].annotation)
        classes = frozenset() if inner else frozenset([model.privacy_of(name)])
        model = inner
    return classes or _of_part(model or Case)


@cache
def _of_part(model: type[Part]) -> Classes:
    inner = {name: part_of(entry.annotation) for name, entry in model.model_fields.items()}
    own = frozenset(model.privacy_of(name) for name, part in inner.items() if part is None)
    return own.union(*(_of_part(part) for part in inner.values() if part is not None))


def _classes(sources: Iterable[Source]) -> Classes:
    return frozenset[Privacy]().union(
        *([source] if isinstance(source, Privacy) else classes_of_key(source) for source in sources)
    )
