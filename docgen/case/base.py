"""What every part of a case shares: strict frozen models, clean text, plain ids, said once.

A field's description is its label in words: the gap "not recorded: the client's weight", the schema,
the starter case and the error messages all use it. Its first example feeds the starter case.

Modules of models do without `from __future__ import annotations`: pydantic would compile each annotation from its text.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache
from typing import Annotated, Any, Self, get_args, get_origin

from msgspec import to_builtins
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, GetCoreSchemaHandler, StringConstraints
from pydantic.fields import FieldInfo
from pydantic_core.core_schema import CoreSchema, no_info_after_validator_function, str_schema

from docgen.case.files import forbidden_name, refused_character
from docgen.case.privacy import Privacy
from docgen.case.usual import Source, Usual, unit_of

MAX_TEXT = 4000
_PRIVACY = "x-privacy"  # name of the class in the schema
_USUAL = "x-usual"

_INVISIBLE = re.compile("[\u00ad\u200b\u2060\ufeff]")


def clean_text(text: str) -> str:
    """The text in NFC without invisible characters or outer white space.

    Raises ValueError when nothing is left, or for a character that no page can show.
    """
    if text.isascii() and text.isprintable() and (plain := text.strip()):
        return plain  # most texts: nothing in them is refused, invisible or written in two ways
    if refusal := refused_character(text):
        raise ValueError(refusal)
    text = unicodedata.normalize("NFC", _INVISIBLE.sub("", text)).strip()
    if not text:
        raise ValueError("is empty; write it, or leave the key out so that it shows as not recorded")
    return text


def _named_anywhere(name: str) -> str:
    """The name. Raises ValueError when a system forbids it for a folder."""
    if refusal := forbidden_name(name):
        raise ValueError(f"cannot be used: {refusal}")
    return name


_WORDS = no_info_after_validator_function(clean_text, str_schema(max_length=MAX_TEXT))


class _CleanText(AfterValidator):
    """The form of the commonest value, made once: out of constraints pydantic would make it anew for every key."""

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        return _WORDS


Words = Annotated[str, _CleanText(clean_text)]
Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,39}$")]
FeatureId = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,39}(\.[a-z][a-z0-9_]{0,39})?$")]  # id.value
DiagnosisCode = Annotated[str, StringConstraints(pattern=r"^[A-Z][0-9A-Z]{2}(\.[0-9A-Z]{1,4})?$")]
Modifiers = Annotated[str, StringConstraints(pattern=r"^[A-Z0-9]{2}( [A-Z0-9]{2})*$")]
Language = Annotated[str, StringConstraints(pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$")]  # its tag, as es or zh-Hant
CaseId = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,59}$"), AfterValidator(_named_anywhere)]
Millimetres = Annotated[float, Field(ge=0, le=20_000, allow_inf_nan=False)]
Offset = Annotated[float, Field(ge=-5_000, le=5_000, allow_inf_nan=False)]  # in mm, either way from zero
Degrees = Annotated[float, Field(ge=-180, le=180, allow_inf_nan=False)]
Seconds = Annotated[float, Field(ge=0, le=3600, allow_inf_nan=False)]
Minutes = Annotated[float, Field(ge=0, le=1440, allow_inf_nan=False)]


class _Once:
    """The form of a kind of value, made for the first key that holds it; made for each key anew, the form of a case
    takes a third longer."""

    def __init__(self) -> None:
        self._forms: dict[int, tuple[object, CoreSchema]] = {}  # by identity: typing makes each kind once

    def __get_pydantic_core_schema__(self, kind: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        if any(map(part_of, get_args(kind))):  # its form refers to others of the same case
            return handler(kind)
        if id(kind) not in self._forms:
            self._forms[id(kind)] = kind, handler(kind)
        return self._forms[id(kind)][1]


_ONCE = _Once()


class _Key(FieldInfo):  # type: ignore[misc]  # marked final for checkers; pydantic keeps fields of other classes
    """A key, which its table takes as it is. Of a field of pydantic's own class two copies are made, since it could
    stand in several places."""

    __slots__ = ()

    def _copy(self) -> Self:
        return self


class Part(BaseModel):
    """A part of a case: frozen, strict about types, no unknown keys, each key with its class of privacy."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, defer_build=True)

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        """Raises TypeError, at import, for a key without a class, and for a measured one without its usual range."""
        for name, field in cls.model_fields.items():
            if is_number(field) and unit_of(name) and _USUAL not in _extra(field):
                raise TypeError(f"{cls.__name__}.{name} is measured and has no usual range: write key(..., usual=...)")
            if part_of(field.annotation) is not None:
                continue
            if not isinstance(_extra(field).get(_PRIVACY), Privacy):
                raise TypeError(
                    f"{cls.__name__}.{name} has no class of privacy: write key(Privacy.<class>, <label>, ...)"
                )
            if not field.metadata:
                field.metadata.append(_ONCE)

    @classmethod
    def privacy_of(cls, name: str) -> Privacy:
        """The class of one key, which is no table; KeyError when there is no such key."""
        return _privacy_of(cls, name)

    @classmethod
    def usual_of(cls, name: str) -> Usual | None:
        """The range in which one key usually lies; None for what is no measure."""
        return _usual_of(cls, name)

    def privacy(self, name: str) -> Privacy:
        """The class of one key of this very entry."""
        return self.privacy_of(name)

    @property
    def is_empty(self) -> bool:
        """Whether it holds nothing but defaults."""
        return self == _empty(type(self))


def part_of(kind: Any) -> type[Part] | None:
    """The part of a case that a key holds, or holds a list of; None for a key with a value of its own."""
    if get_origin(kind) is tuple:
        return part_of(get_args(kind)[0])
    return kind if isinstance(kind, type) and Part in kind.__mro__ else None  # issubclass asks every part of a case


@cache
def parts_in(kind: type[Part]) -> dict[str, type[Part]]:
    """Keys of a part that hold a part of a case, or a list of them, each with what it holds. To be read alone."""
    return {name: inner for name, field in kind.model_fields.items() if (inner := part_of(field.annotation))}


def is_free_text(field: FieldInfo) -> bool:
    """Whether a key holds words of the therapist's own, and no id, code or choice."""
    return any(kind is Words for kind in get_args(field.annotation)) or any(
        isinstance(validator, AfterValidator) and validator.func is clean_text for validator in field.metadata
    )


def usual_of(field: FieldInfo) -> Usual | None:
    """The range in which a key usually lies; None for what is no measure."""
    usual = _extra(field).get(_USUAL)
    return Usual(**{**usual, "source": Source(**usual["source"])}) if isinstance(usual, dict) else None


@cache
def fields_of(kind: type[BaseModel]) -> dict[str, FieldInfo]:
    """The fields of a model by key, to be read alone; its own `model_fields` takes ten times as long to give them."""
    return kind.model_fields


@cache
def _empty(kind: type[Part]) -> Part:
    return kind.model_construct()  # needs no check, so no schema of this part alone


@cache
def _privacy_of(kind: type[Part], name: str) -> Privacy:
    return Privacy(_extra(kind.model_fields[name])[_PRIVACY])


@cache
def _usual_of(kind: type[Part], name: str) -> Usual | None:
    return usual_of(kind.model_fields[name])


def is_number(field: FieldInfo) -> bool:
    """Whether a key holds a number."""
    kind: Any = field.annotation
    return _has_number(kind)


@cache
def _has_number(kind: Any) -> bool:
    return kind in (int, float) or any(map(_has_number, get_args(kind)))


def _extra(field: FieldInfo) -> dict[str, Any]:
    return field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}


def key(
    privacy: Privacy,
    label: str,
    example: Any = None,
    default: Any = None,
    *,
    usual: Usual | None = None,
    **limits: Any,
) -> Any:
    """An optional key: its class of privacy, its label in words, one example of its form; of what is measured the
    range in which it usually lies."""
    examples = [] if example is None else [example]
    return _Key(
        default=default, description=label, examples=examples, json_schema_extra=_extras(privacy, usual), **limits
    )


def must(privacy: Privacy, label: str, example: Any, *, usual: Usual | None = None, **limits: Any) -> Any:
    """A key that its table cannot do without."""
    return _Key(description=label, examples=[example], json_schema_extra=_extras(privacy, usual), **limits)


def _extras(privacy: Privacy, usual: Usual | None) -> dict[str, Any]:
    """What a key carries besides its form."""
    return {_PRIVACY: privacy} | ({_USUAL: to_builtins(usual)} if usual else {})


def part(label: str, kind: type[Part]) -> Any:
    """A table of its own, empty where none is recorded; its keys carry the classes."""
    return _Key(default=kind.model_construct(), description=label)  # an empty one needs no check, nor its model made


def many(label: str, at_most: int = 200) -> Any:
    """A list of tables, written as [[...]] in the case; empty when none is recorded."""
    return _Key(default=(), description=label, max_length=at_most)
