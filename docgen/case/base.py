"""What every part of a case shares: strict frozen models, clean text, plain ids, said once.

A field's description is its label in words: the gap "not recorded: the client's weight", the schema,
the starter case and the error messages all use it. Its first example feeds the starter case.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, StringConstraints

from docgen.case.files import refused_character

MAX_TEXT = 4000

_INVISIBLE = re.compile("[\u00ad\u200b\u2060\ufeff]")


def clean_text(text: str) -> str:
    """The text in NFC without invisible characters or outer white space.

    Raises ValueError when nothing is left, or for a character that no page can show.
    """
    if told := refused_character(text):
        raise ValueError(told)
    text = unicodedata.normalize("NFC", _INVISIBLE.sub("", text)).strip()
    if not text:
        raise ValueError("is empty; write it, or leave the key out so that it shows as not recorded")
    return text


Words = Annotated[str, StringConstraints(max_length=MAX_TEXT), AfterValidator(clean_text)]
Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,39}$")]
CaseId = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,59}$")]
Millimetres = Annotated[float, Field(ge=0, le=20_000, allow_inf_nan=False)]
Degrees = Annotated[float, Field(ge=-180, le=180, allow_inf_nan=False)]
Seconds = Annotated[float, Field(ge=0, le=3600, allow_inf_nan=False)]
Minutes = Annotated[float, Field(ge=0, le=1440, allow_inf_nan=False)]


class Part(BaseModel):
    """A part of a case: frozen, strict about types, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


def key(label: str, example: Any = None, default: Any = None, **limits: Any) -> Any:
    """An optional key: its label in words and one example of its form."""
    return Field(default=default, description=label, examples=[] if example is None else [example], **limits)


def must(label: str, example: Any, **limits: Any) -> Any:
    """A key that its table cannot do without."""
    return Field(description=label, examples=[example], **limits)


def many(label: str) -> Any:
    """A list of tables, written as [[...]] in the case; empty when none is recorded."""
    return Field(default=(), description=label, max_length=200)
