"""The four faces the PDF embeds: what they can print, where they lie, their names in reportlab."""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache
from pathlib import Path

FOLDER = Path(__file__).parent / "fonts"
# by (bold, italic); the name in reportlab is the name of the file
FACES = {
    (False, False): "Arimo-Regular",
    (True, False): "Arimo-Bold",
    (False, True): "Arimo-Italic",
    (True, True): "Arimo-BoldItalic",
}
# no-break spaces keep their width and their meaning; U+2007 is the space as wide as a figure
_WHITE_SPACE = re.compile("[^\\S\u00a0\u2007\u202f]+")
# soft hyphen, zero-width space, word joiner, byte order mark: they only steer line breaking
_INVISIBLE = dict.fromkeys((0x00AD, 0x200B, 0x2060, 0xFEFF))


class MissingGlyphError(ValueError):
    """Text holds characters that no face can print; `missing` lists them."""

    def __init__(self, missing: tuple[str, ...], text: str) -> None:
        self.missing = missing
        named = ", ".join(glyph_name(char) for char in missing)
        super().__init__(f"the PDF's typeface lacks {named}, in {text[:60]!r}")


def glyph_name(char: str) -> str:
    """A character for a message: itself if it can be shown, its code point and its Unicode name."""
    shown = f"'{char}' " if char.isprintable() else ""
    return f"{shown}U+{ord(char):04X} {unicodedata.name(char, 'without a name')}"


def printed(text: str) -> str:
    """The text as it stands on the page: NFC, each run of white space one space, nothing invisible."""
    if text.isascii() and "  " not in text and text.isprintable():
        return text
    return _WHITE_SPACE.sub(" ", unicodedata.normalize("NFC", text.translate(_INVISIBLE)))


def missing_glyphs(text: str) -> tuple[str, ...]:
    """The characters of the text, as printed, that the faces lack: each once, in order of appearance."""
    shown, held = printed(text), coverage()
    return () if held.issuperset(shown) else tuple(char for char in dict.fromkeys(shown) if char not in held)


@lru_cache(maxsize=20_000)  # the same words are measured, broken and painted, in several documents
def printable(text: str) -> str:
    """The text as it stands on the page. Raises MissingGlyphError rather than print an empty box."""
    if missing := missing_glyphs(text):
        raise MissingGlyphError(missing, text)
    return printed(text)


@cache
def coverage() -> frozenset[str]:
    """Every character that all four faces hold, from the table beside them."""
    chars: set[str] = set()
    for line in (FOLDER / "coverage.txt").read_text(encoding="ascii").split():
        first, _, last = line.partition("-")
        chars.update(map(chr, range(int(first, 16), int(last, 16) + 1)))
    return frozenset(chars)


@cache
def register() -> None:
    """Make the faces known to reportlab; later calls cost nothing."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    for name in FACES.values():
        registerFont(TTFont(name, str(FOLDER / f"{name}.ttf"), shapable=False))
