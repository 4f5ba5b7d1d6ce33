"""Words that stand where something is still to be written: they count as nothing, wherever they stand."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import Any

from docgen.case.base import Part, is_free_text, part_of
from docgen.case.lines import KeyPath
from docgen.case.privacy import Privacy

# Reviewed by hand: none of these says anything by itself in any free text of a case. "None" and "unknown" do.
_PLACEHOLDERS = frozenset(
    words.strip()
    for words in """
    x | tbd | tba | tbc | tbs | todo | to do | to be done | to be determined | to be decided | to be confirmed
    to be completed | to be added | to be announced | to be filled in | to be written | to fill in | to follow
    fill in | fill in later | fill me in | later | pending | wip | draft | n a | not applicable | nil | none yet
    not yet | nothing yet | not known yet | not yet known | not decided yet | see above | same as above | as above
    ditto | etc | test | testing | dummy | placeholder | sample text | example text | lorem ipsum | asdf | qwerty
    foo | bar | blah | abc
    """.replace("\n", "|").split("|")
    if words.strip()
)
_LONGEST = 80  # characters; a longer text is refused or says something
_TEXTS_KEPT = 2_000  # a case is read in several states, in its short forms and written out
_FORM = re.compile(r"<[^<>]*>|\[[^\[\]]*\]|\{[^{}]*\}")  # <one sentence>, as a starter case has it


@lru_cache(_TEXTS_KEPT)
def is_placeholder(text: str) -> bool:
    """Whether a text only keeps a place: a word of the list, marks alone, a form in brackets, one token repeated."""
    if len(text) > _LONGEST:
        return False
    if _FORM.fullmatch(text.strip()):
        return True
    tokens = re.findall(r"[^\W_]+", text.casefold())
    if not tokens:
        return True  # ?, ..., ---, ___
    plain = " ".join(tokens)
    if plain in _PLACEHOLDERS or text.strip() in ("na", "NA"):
        return True
    repeated = len(tokens) > 1 and len(set(tokens)) == 1 and tokens[0].isalpha()
    return repeated or (len(plain) > 1 and plain.isalpha() and len(set(plain)) == 1)  # xxx


def _is_private(model: type[Part], name: str) -> bool:
    return model.privacy_of(name) is Privacy.PRIVATE


def without_placeholders(raw: Mapping[str, Any], model: type[Part]) -> tuple[dict[str, Any], tuple[KeyPath, ...]]:
    """The data of a case without its placeholders, and where they stood.

    A key that its table cannot do without keeps its placeholder, and is named all the same.
    """
    stood: list[KeyPath] = []
    return _cleaned(raw, model, (), stood), tuple(stood)


def _cleaned(raw: Mapping[str, Any], model: type[Part], at: KeyPath, stood: list[KeyPath]) -> dict[str, Any]:
    kept = dict(raw)
    parts, free_texts, required = _keys_of(model)
    for name, value in raw.items():
        if isinstance(value, str):  # asked first: most values are texts
            if name in free_texts and is_placeholder(value) and value.strip():
                stood.append((*at, name))
                if name not in required:
                    del kept[name]
        elif (inner := parts.get(name)) and isinstance(value, (dict, Mapping)):
            kept[name] = _cleaned(value, inner, (*at, name), stood)
        elif inner and isinstance(value, Sequence):
            kept[name] = tuple(
                _cleaned(entry, inner, (*at, name, index), stood) if isinstance(entry, (dict, Mapping)) else entry
                for index, entry in enumerate(value)
            )
    return kept


@cache
def _keys_of(model: type[Part]) -> tuple[Mapping[str, type[Part]], frozenset[str], frozenset[str]]:
    """Of a table: the part that each table in it is, the keys of free text, and the keys it cannot do without.

    A private note stands on no page, and away from this machine it is masked: it is left as it is.
    """
    fields = model.model_fields
    parts = {name: inner for name, field in fields.items() if (inner := part_of(field.annotation))}
    free_texts = frozenset(
        name for name, field in fields.items() if is_free_text(field) and not _is_private(model, name)
    )
    return parts, free_texts, frozenset(name for name, field in fields.items() if field.is_required())
