"""A document's view of the facts: only what its front matter lists exists, everything else does not.

    project(everything, shows)   nested tables of which only the listed keys are left

A missing value becomes a Gap that names it; a number of the evidence arrives as a Number. Deny is the
default: a key added to the case stays invisible until a template's front matter lists it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import date
from typing import Any

from pydantic import BaseModel

from docgen.case.base import fields_of
from docgen.case.privacy import Privacy
from docgen.case.usual import unit_of
from docgen.documents.classed import Classed
from docgen.documents.made_from import ALL
from docgen.rendering.template import Gap, Number, Place, Shown

_PRINTED = (str, bool, int, float, date, Number, Gap, Place)  # what a template can print or compare as it is
_PLAIN = frozenset(_PRINTED)


def project(
    everything: Mapping[str, Any],
    shows: Mapping[str, tuple[str, ...]],
    not_recorded: str,
    labels: Mapping[str, str] | None = None,
    may_see: Collection[Privacy] = (),
) -> dict[str, Any]:
    """The tables named in `shows` with the keys listed there, as a template sees them.

    everything    table name -> model, mapping, or tuple of them; dotted names lead into tables
    shows         dotted table name -> keys; "*" stands for every key of a mapping of numbers
    not_recorded  pattern of a gap's words, with {label}
    labels        label of a key as the model has it -> the same in the language of the document
    may_see       classes of privacy that the reader may see: of a value with classes of its own, what stands for it to
                  this reader is shown; where nothing does, "*" leaves it out
    Raises KeyError for a table or key that does not exist, naming it.
    """

    def missing(label: str) -> str:
        return not_recorded.format(label=(labels or {}).get(label, label))

    shown: dict[str, Any] = {}
    for name, keys in shows.items():
        value: Any = everything
        *above, last = name.split(".")
        target = shown
        for part in above:
            value = _part(value, part, name)
            target = target.setdefault(part, {})
        target[last] = _table(_part(value, last, name), keys, name, missing, may_see)
    return {name: _wrapped(value) for name, value in shown.items()}


def _wrapped(value: Any) -> Any:
    return Shown({k: _wrapped(v) for k, v in value.items()}) if isinstance(value, dict) else value


def _part(value: Any, key: str, table: str) -> Any:
    """What the tables above one have under a part of its name. Raises KeyError, saying which table is lacking."""
    keys = _keys_of(value)
    if key not in keys:
        raise KeyError(f"there is no table '{table}'")
    return keys[key]


def _keys_of(value: Any) -> Mapping[str, Any]:
    """The keys of a table or a part of the case, with what each holds; none where it is no table."""
    if isinstance(value, BaseModel):  # asked first: whether something is a Mapping takes far longer to tell
        return value.__dict__
    return value if isinstance(value, (dict, Mapping)) else {}


def _table(
    value: Any,
    keys: tuple[str, ...],
    name: str,
    missing: Callable[[str], str],
    may_see: Collection[Privacy],
) -> Any:
    if isinstance(value, tuple):
        rows = (_table(row, keys, f"{name}.{i}", missing, may_see) for i, row in enumerate(value))
        return tuple(Shown(row) if isinstance(row, dict) else row for row in rows)
    shows_all, shown, values = keys == (ALL,), dict[str, Any](), _keys_of(value)
    for key in values if shows_all else keys:
        if key not in values:
            raise KeyError(f"there is no key '{key}' in '{name}'")
        leaf = values[key]
        if type(leaf) in _PLAIN or (type(leaf) is tuple and _PLAIN.issuperset(map(type, leaf))):
            shown[key] = leaf
            continue
        if isinstance(leaf, Classed):
            leaf = leaf.shown_to(may_see)
            if leaf is None and shows_all:
                continue
            if leaf is None:
                raise KeyError(f"the reader may not see '{key}' in '{name}'")
        is_whole = isinstance(leaf, _PRINTED)
        shown[key] = leaf if is_whole else _leaf(leaf, f"{name}.{key}", _label(value, key), missing)
    return shown


def _label(value: Any, key: str) -> str:
    if isinstance(value, BaseModel):
        return fields_of(type(value))[key].description or key
    label = value.get("_labels", {}).get(key) if isinstance(value, (dict, Mapping)) else None
    return label or _in_words(key)


def _in_words(key: str) -> str:
    """A key as words, without the unit that it ends with: no page prints the name of a key."""
    unit = unit_of(key)
    bare = key if unit is None else key.rpartition("_")[0] or key
    return bare.replace("_", " ")


def _leaf(value: Any, name: str, label: str, missing: Callable[[str], str]) -> Any:
    if value is None:
        return Gap(name, missing(label))
    if isinstance(value, _PRINTED):
        return value
    if isinstance(value, tuple):
        return tuple(_leaf(entry, f"{name}.{i}", label, missing) for i, entry in enumerate(value))
    raise KeyError(f"'{name}' is a table of its own; list its keys under [shows]")
