"""Text made safe inside XML and HTML."""

from __future__ import annotations

import re

# what XML 1.0 cannot hold at all (production Char), plus DEL, which no font shows
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
# a bare carriage return would be read back as a new line, so it goes as a reference
_MARKUP = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;", "\r": "&#13;"})


def escaped(text: str) -> str:
    """The text for an XML or HTML element or quoted attribute, character for character.

    Raises ValueError naming the code point of a character that cannot be printed.
    """
    if unprintable := _UNPRINTABLE.search(text):
        raise ValueError(f"character U+{ord(unprintable[0]):04X} cannot be printed, in {text[:40]!r}")
    return text.translate(_MARKUP)


def followable(target: str) -> bool:
    """Whether a link target may become a live link: a web, mail or telephone address or an anchor."""
    return target.startswith(("http://", "https://", "mailto:", "tel:", "#"))
