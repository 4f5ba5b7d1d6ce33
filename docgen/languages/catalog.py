"""The texts of a language as a PO file, which every program for translators reads, and back.

A file of the GNU gettext form: each English text with its file and line, what it is about, and the translation. How
many forms a language has for a number of things comes from the Unicode CLDR, through Babel (`pip install
'docgen[languages]'`).
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from docgen.errors import Problem, UserError
from docgen.languages.texts import Text

if TYPE_CHECKING:
    from babel.messages.catalog import Catalog, Message

_HEADER = """# The pages of docgen for family and aides.
# Keep every tag in {% %}, {{ }} and { }, every number and the marks at the head of a line. An entry marked fuzzy is
# taken as not translated. Whoever signs as Last-Translator says that a qualified translator has read every text."""


class Translated(Struct, frozen=True):
    """What a PO file holds.

    translation          file and English text -> the text in the language
    plural_forms  its rule for a number of things, as the header has it; "" where it has none
    n_forms       how many forms that rule tells apart
    signed_by     Last-Translator, with the day of the last revision; "" while nobody has signed
    lines         file and English text -> line of the PO file
    """

    translation: dict[tuple[str, str], str]
    plural_forms: str
    n_forms: int
    signed_by: str
    lines: dict[tuple[str, str], int]


def po_of(tag: str, texts: tuple[Text, ...], translation: dict[tuple[str, str], str]) -> bytes:
    """A PO file of these texts, with the translations there are. Raises UserError when Babel is not installed."""
    catalog = _catalog(tag)
    for text in texts:
        catalog.add(
            text.english,
            translation.get((text.file, text.english), ""),
            locations=[(text.file, int(text.place) if text.place.isdigit() else 1)],
            auto_comments=[text.about] if text.place.isdigit() else [text.about, text.place],
            context=text.file,
        )
    from babel.messages.pofile import write_po

    written = io.BytesIO()
    write_po(written, catalog, width=0, omit_header=False, include_lineno=True)
    return written.getvalue()


def read_po(path: Path) -> Translated:
    """What a PO file holds; entries marked fuzzy and empty ones are not translated. Raises UserError for a file that
    cannot be read."""
    _babel()
    from babel.messages.pofile import PoFileError, read_po

    try:
        with path.open("rb") as file:
            catalog = read_po(file, abort_invalid=True)
    except (PoFileError, UnicodeDecodeError, ValueError) as failure:
        line = f":{failure.lineno}" if isinstance(failure, PoFileError) else ""
        raise UserError([Problem(f"{path}{line}", f"is no PO file: {failure}", "Write it anew from a copy.")]) from None
    messages = [message for message in catalog if message.id and message.context]
    by = str(catalog.last_translator or "")
    return Translated(
        {_key(message): str(message.string) for message in messages if message.string and not message.fuzzy},
        str(catalog.plural_forms),
        int(catalog.num_plurals),
        "" if "FULL NAME" in by or not by.strip() else f"{by}, {catalog.revision_date}",
        {_key(message): message.lineno or 1 for message in messages},
    )


def _key(message: Message) -> tuple[str, str]:
    return str(message.context), str(message.id)


def _catalog(tag: str) -> Catalog:
    _babel()
    from babel import Locale, UnknownLocaleError
    from babel.messages.catalog import Catalog

    try:
        locale = Locale.parse(tag, sep="-")
    except (UnknownLocaleError, ValueError):
        locale = None
    return Catalog(locale, project="docgen", fuzzy=False, header_comment=_HEADER)


def _babel() -> None:
    try:
        import babel  # noqa: F401
    except ImportError:
        what = "needs the library Babel, for PO files and the plural rules of the Unicode CLDR"
        raise UserError([Problem("--language", what, "Install it: pip install 'docgen[languages]'.")]) from None
