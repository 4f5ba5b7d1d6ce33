"""A case in another language: its texts by the phrases beside it, its features by the language's own words.

`es.toml` beside case.toml gives texts of the case in Spanish, each under the words as they stand in the case:

    "red button on the push handle, right side" = "botón rojo en la manija, lado derecho"

So a text that is changed in the case loses its translation, and an old one never stands for new words. A text
without one is shown as it stands, marked as such. Names of people, phone numbers and sizes are no text.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import replace
from pydantic import AfterValidator, BaseModel

from docgen.case.base import clean_text
from docgen.case.emergency import Accepted
from docgen.case.files import leads_out, text_of
from docgen.case.model import Case
from docgen.case.toml import read_toml
from docgen.case.who import Client, Person
from docgen.errors import Problem, UserError
from docgen.fit.match import Chosen
from docgen.packet.assess import Assessed
from docgen.packet.wording import Wording
from docgen.rendering.fonts import glyph_name, missing_glyphs

_MOST_BYTES = 512_000
_AS_WRITTEN = frozenset(
    ("called", "phone", "email", "license", "credential", "organisation", "member_id", "payer_name", "size_mm")
    + ("given_by",)
)
_NAMED = (Client, Person)  # whose name is a person's
_Path = tuple[str | int, ...]


class Translated(Struct, frozen=True):
    """A case in another language.

    originals  each text left as it stands, as it is shown, and where it stands
    unused     where phrases stand that are for no text of the case
    """

    assessed: Assessed
    originals: Mapping[str, str]
    unused: tuple[str, ...]


def has_phrases(assessed: Assessed, lang: str) -> bool:
    """Whether there are phrases of the language beside the case."""
    return os.path.lexists(assessed.file.folder / f"{lang}.toml")


def translated(assessed: Assessed, worded: Wording) -> Translated:
    """The case in the language of the wording. Raises UserError with every mistake in its phrases."""
    phrases, places = _phrases(assessed, worded.lang)
    originals: dict[str, str] = {}
    used: set[str] = set()

    def marked(text: str, where: str) -> str:
        shown: str = worded.words["original"].format(text=text)
        originals.setdefault(shown, where)
        return shown

    def translation(path: _Path, text: str) -> str:
        plain = _folded(text)
        used.add(plain)
        return phrases[plain] if plain in phrases else marked(text, assessed.file.where(*path))

    def feature(chosen: Chosen) -> Chosen:
        own, words = chosen.feature, worded.features.get(chosen.feature.id)
        plain_words = words or {"plain": marked(own.plain or own.name, own.where), "care": marked(own.care, own.where)}
        return replace(chosen, feature=own.model_copy(update=plain_words))

    case = _retold(assessed.file.case, translation)
    rows = (
        row.model_copy(update={"in_language": translation(("emergency", "steps"), row.prints)})
        for row in _accepted(assessed.file.case)
    )
    case = case.with_accepted(tuple(rows))
    fit = replace(assessed.grounds.fit, chosen=tuple(map(feature, assessed.grounds.fit.chosen)))
    in_language = replace(
        assessed, file=replace(assessed.file, case=case), grounds=replace(assessed.grounds, case=case, fit=fit)
    )
    return Translated(in_language, originals, tuple(places[text] for text in phrases if text not in used))


def texts(case: Case) -> Iterator[tuple[_Path, str]]:
    """Every text of a case that a language changes, with its key path."""
    noted: list[tuple[_Path, str]] = []

    def note(path: _Path, text: str) -> str:
        noted.append((path, text))
        return text

    _retold(case, note)
    yield from noted
    yield from ((("emergency", "steps"), row.prints) for row in _accepted(case))


def _accepted(case: Case) -> tuple[Accepted, ...]:
    """The rows accepted by the clinic that the emergency page of this case has."""
    wanted = {step.row for step in case.emergency.steps}
    return tuple(row for row in case.accepted if row.row in wanted)


def _retold(node: Any, translation: Callable[[_Path, str], str], path: _Path = ()) -> Any:
    """The part of a case with each of its texts told anew."""
    if isinstance(node, tuple):
        return tuple(_retold(child, translation, (*path, at)) for at, child in enumerate(node))
    if not isinstance(node, BaseModel):
        return node
    changed: dict[str, Any] = {}
    for name, field in type(node).model_fields.items():
        value = getattr(node, name)
        if isinstance(value, str):
            if _is_text(node, name, field.metadata, field.annotation):
                changed[name] = translation((*path, name), value)
        elif isinstance(value, tuple) and value and isinstance(value[0], str):
            if _is_text(node, name, field.metadata, field.annotation):
                changed[name] = tuple(translation((*path, name, at), text) for at, text in enumerate(value))
        elif value:
            changed[name] = _retold(value, translation, (*path, name))
    return node.model_copy(update=changed)


def _is_text(node: BaseModel, name: str, metadata: Any, annotation: Any) -> bool:
    """Whether a key holds words of the writer's own: not a code, a date, a number or a name of someone."""
    kinds = (
        *metadata,
        *(part for kind_of in getattr(annotation, "__args__", ()) for part in getattr(kind_of, "__metadata__", ())),
    )
    free = any(isinstance(kind, AfterValidator) and kind.func is clean_text for kind in kinds)
    return free and name not in _AS_WRITTEN and not (name == "name" and isinstance(node, _NAMED))


def _phrases(assessed: Assessed, lang: str) -> tuple[dict[str, str], dict[str, str]]:
    """Text of the case -> the same in the language, and where it stands; nothing when there is no such file."""
    folder = assessed.file.folder
    path = folder / f"{lang}.toml"
    if not has_phrases(assessed, lang):
        return {}, {}
    if leads_out(path, folder):
        raise UserError(
            [Problem(str(path), "is a link that leads out of the case folder", "Put the file itself there.")]
        )
    read = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    phrases, places, problems = {}, {}, []
    for text, value in read.tables.items():
        try:
            if not isinstance(value, str):
                raise ValueError("is no text in quotes")
            if missing := missing_glyphs(value):
                raise ValueError(f"holds {glyph_name(missing[0])}, which the page fonts cannot show")
            phrases[_folded(text)], places[_folded(text)] = clean_text(value), read.where(text)
        except ValueError as failure:
            problems.append(
                Problem(
                    read.where(text),
                    f"the phrase {failure}",
                    'Its form: "words of the case" = "the same words in the language".',
                )
            )
    if problems:
        raise UserError(problems)
    return phrases, places


def _folded(text: str) -> str:
    return " ".join(clean_text(text).split())
