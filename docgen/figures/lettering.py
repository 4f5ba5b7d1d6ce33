"""Words on a drawing: case text of any length, kept inside its place."""

from __future__ import annotations


def two_lines(text: str, most: int) -> list[str]:
    """The text in at most two lines of `most` characters, broken at a space where there is one; the rest is cut."""
    if len(text) <= most:
        return [text]
    cut = text.rfind(" ", 0, most + 1)
    cut = cut if cut > 0 else most
    rest = text[cut:].strip()
    return [text[:cut].strip(), rest if len(rest) <= most else rest[: most - 1].strip() + "\u2026"]


def wrapped(text: str, most: int) -> list[str]:
    """The text in lines of at most `most` characters, broken at spaces; a longer word is broken inside."""
    lines: list[str] = []
    for word in text.split():
        if lines and len(lines[-1]) + 1 + len(word) <= most:
            lines[-1] += f" {word}"
        else:
            lines += [word[at : at + most] for at in range(0, len(word), most)]
    return lines
