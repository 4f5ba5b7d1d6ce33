"""The four faces the PDF embeds: what they can print, where they lie, their names in reportlab."""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache
from itertools import groupby
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
# what nobody sees: it steers line breaking, joins letters of other scripts or chooses a form of the one before
_INVISIBLE = dict.fromkeys(
    (0x00AD, 0x034F, 0x061C, 0x180E, *range(0x200B, 0x2010), *range(0x2060, 0x2065), *range(0xFE00, 0xFE10), 0xFEFF)
    + (*range(0xE0000, 0xE0080), *range(0xE0100, 0xE01F0))
)


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
    shown, covered = printed(text), coverage()
    return () if covered.issuperset(shown) else tuple(char for char in dict.fromkeys(shown) if char not in covered)


@lru_cache(maxsize=20_000)  # the same words are measured, broken and painted, in several documents
def printable(text: str) -> str:
    """The text as it stands on the page; a character that the faces lack as its code point, never as an empty box."""
    if not missing_glyphs(text):
        return printed(text)
    covered = coverage()
    return "".join(
        "".join(chars) if known else f"[{' '.join(f'U+{ord(char):04X}' for char in chars)}]"
        for known, chars in groupby(printed(text), covered.__contains__)
    )


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
