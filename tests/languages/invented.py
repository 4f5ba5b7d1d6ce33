"""Two languages that nobody speaks: one of long words, one whose script runs from right to left.

Each is made from the English texts letter by letter, so that a page in it can be read back and compared.
"""

from __future__ import annotations

import re
from pathlib import Path

from babel.messages.pofile import read_po, write_po

LONG, TO_LEFT = "qaa", "qaa-Hebr"  # tags that BCP 47 keeps for private use
_CODE = re.compile(r"(\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}|\{[a-z_0-9]*(?:![rsa])?(?::[^}]*)?\}|\]\([^)]*\)|\[!\w+\])")
_WORDS_IN_TAGS = re.compile(r'(gap\("[^"]*",\s*"|plural\("|,\s*")([^"]*[^\W\d_][^"]*)(")')
_LETTERS = "אבגדהוזחטיכלמנסעפצקרשת"


def long_words(text: str) -> str:
    """Each word of four letters or more half as long again, as compound words make it."""
    return re.sub(r"[A-Za-z]{4,}", lambda word: word[0] + word[0][len(word[0]) // 2 :].lower(), text)


def right_to_left(text: str) -> str:
    """Each letter as one of a script that runs from right to left."""
    return re.sub(r"[A-Za-z]", lambda letter: _LETTERS[(ord(letter[0].lower()) - ord("a")) % len(_LETTERS)], text)


TURNS = {LONG: long_words, TO_LEFT: right_to_left}


def translation_of(text: str, turn) -> str:
    """A text in an invented language, its tags as they are but for the words in them."""
    parts = []
    for part in _CODE.split(text):
        if not _CODE.fullmatch(part):
            parts.append(turn(part))
        elif part.startswith(("{%", "{{")) and ("gap(" in part or "plural(" in part):
            parts.append(_WORDS_IN_TAGS.sub(lambda found: found[1] + turn(found[2]) + found[3], part))
        else:
            parts.append(part)
    return "".join(parts)


def translate(path: Path, turn, but: tuple[str, ...] = ()) -> None:
    """Fill in a PO file, but for these English texts."""
    with path.open("rb") as file:
        catalog = read_po(file)
    for message in catalog:
        if message.id and message.id not in but:
            message.string = translation_of(message.id, turn)
    with path.open("wb") as file:
        write_po(file, catalog, width=0)
